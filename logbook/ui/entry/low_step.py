"""A low: the sugar first, then the check after 15 minutes, which stays here until it is answered.

Nothing about it is kept in the window: `domain.low_course` tells from the log how it stands, after
a restart as before it. The person's own written plan stands above the usual steps.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLayout, QVBoxLayout, QWidget

from logbook.domain.fasting_month import is_fasting_month
from logbook.domain.glucose import Glucose
from logbook.domain.low_course import LowCourse
from logbook.domain.moments import Moment
from logbook.domain.states import State, state_of
from logbook.domain.ticks import About
from logbook.domain.visits import Contact
from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.marks import StateMark
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP, NUMBER, ROW_FROM_PERCENT, TITLE
from logbook.wording import _, cautions
from logbook.wording.cautions import CautionFacts
from logbook.wording.emergency import emergency_word
from logbook.wording.low_course import course_text
from logbook.wording.numbers import glucose_text

# The first steps are what to do now; the rest can be read after the sugar.
_STEPS = 6
_LARGE_STEPS = 3
# What to do now is read from afar; in large text everything is.
_DO_NOW = 28
_NO_LIMIT = 16_777_215


@dataclass(frozen=True, slots=True)
class LowNews:
    """What the page of a low shows.

    `glucose` is None for a low without a number; `doubt` is one quiet line, `meant` the value that
    may have been meant.
    """

    course: LowCourse
    glucose: Glucose | None
    contact: Contact | None
    can_ring: bool
    doubt: str = ""
    meant: Glucose | None = None


class _WideWords(Words):
    """Sentences as long as the page is wide: nothing of a low may lie below the window."""

    def restyle(self) -> None:
        super().restyle()
        self.setMaximumWidth(_NO_LIMIT)


class LowStep(Step):
    """Tells what the person decided; the page writes it down."""

    recheck_wanted = Signal()
    will_not_check = Signal()
    meant_other = Signal()
    another_wanted = Signal()
    something_happened = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        look = desk.look
        self.column.setSpacing(GAP)
        self.news: LowNews | None = None
        self.number = Words(look, role="number")
        self.mark = StateMark(look, NUMBER - 16)
        shape_and_number = QHBoxLayout()
        shape_and_number.setSpacing(2 * GAP)
        shape_and_number.addWidget(self.mark)
        shape_and_number.addWidget(self.number)
        shape_and_number.addStretch(1)
        self._head = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._head.setSpacing(2 * GAP)
        self._head.addLayout(shape_and_number)
        self._head.addWidget(self.title, 100)
        self.column.insertLayout(0, self._head)
        self.own_plan = _WideWords(look, role="heading")
        self.column.addWidget(self.own_plan)
        self.steps = [
            _WideWords(look, role="heading" if place < _LARGE_STEPS else "body")
            for place in range(_STEPS)
        ]
        for words in self.steps:
            self.column.addWidget(words)
        self._add_help()
        self._add_doubt()
        self._add_buttons()
        look.changed.connect(self.restyle)
        self.restyle()

    def _add_help(self) -> None:
        """Whom to phone and, beside it, what a helper must know."""
        look = self.desk.look
        self.phone_name = Words(look, role="heading")
        self.phone = Words(look, role="number")
        self._phone_box, self.helper_box = QFrame(), QFrame()
        phone = QVBoxLayout(self._phone_box)
        phone.addWidget(self.phone_name)
        phone.addWidget(self.phone)
        phone.addStretch(1)
        self.helper = Words(look)
        inside = QVBoxLayout(self.helper_box)
        inside.addWidget(Words(look, _("For someone who helps"), "heading"))
        inside.addWidget(self.helper)
        inside.addStretch(1)
        for layout in (phone, inside):
            layout.setContentsMargins(0, 0, 0, 0)
            layout.setSpacing(0)
        self._is_help_first = False
        self._help = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._help.setSpacing(4 * GAP)
        self._help.addWidget(self._phone_box)
        self._help.addWidget(self.helper_box, 100)
        self.column.addLayout(self._help)

    def _add_doubt(self) -> None:
        look = self.desk.look
        self.doubt = Words(look, role="quiet")
        self.change = BigButton(look, "", ButtonKind.OTHER)
        self.change.clicked.connect(self.meant_other)
        beside = QHBoxLayout()
        beside.addWidget(self.doubt, 100)
        beside.addWidget(self.change)
        self.column.addLayout(beside)

    def _add_buttons(self) -> None:
        look = self.desk.look
        self.no_check = BigButton(look, _("I will not check again"), ButtonKind.OTHER)
        self.no_check.clicked.connect(self.will_not_check)
        self.another = BigButton(look, _("An earlier reading"), ButtonKind.OTHER)
        self.another.describe(_("The low waits and comes back"))
        self.another.clicked.connect(self.another_wanted)
        self.happened = BigButton(look, _("Something happened"), ButtonKind.OTHER)
        self.happened.clicked.connect(self.something_happened)
        row = EvenGrid(3)
        for button in (self.no_check, self.another, self.happened):
            row.addWidget(button)
        self.column.addStretch(1)
        self.column.addLayout(row)

    def back_text(self) -> str:
        return ""

    def restyle(self) -> None:
        """In large text numbers need not be larger still: the sugar must stay in sight."""
        percent = self.desk.look.theme.percent
        is_large, sides = percent >= ROW_FROM_PERCENT, QBoxLayout.Direction
        for number in (self.number, self.phone):
            number.points = NUMBER // 2 if is_large else NUMBER
            number.restyle()
        self.title.points = TITLE if is_large else _DO_NOW
        self.title.restyle()
        self.title.setMaximumWidth(_NO_LIMIT)
        is_narrow = percent > ROW_FROM_PERCENT
        self._head.setDirection(sides.TopToBottom if is_narrow else sides.LeftToRight)
        self._help.setDirection(sides.TopToBottom if is_large else sides.LeftToRight)

    def main_text(self) -> str:
        return _("I checked again")

    def main(self) -> None:
        self.recheck_wanted.emit()

    def show_news(self, news: LowNews) -> None:
        """Show this low as it stands now."""
        self.news = news
        settings, glucose = self.desk.book.settings, news.glucose
        state = State.LOW if glucose is None else state_of(glucose)
        self.number.say("" if glucose is None else glucose_text(glucose))
        self.mark.show_state(state)
        self.own_plan.say(
            _("Your plan: {plan}").format(plan=settings.low_plan) if settings.low_plan else ""
        )
        self.helper.setText(cautions.for_a_helper(self._emergency()))
        self.doubt.say(news.doubt)
        self.change.setVisible(news.meant is not None)
        if news.meant is not None:
            self.change.setText(_("It was {value}").format(value=glucose_text(news.meant)))
        self.beat(self.desk.now())

    def beat(self, now: Moment) -> None:
        news = self.news
        if news is None:
            return
        contact, course = news.contact, news.course
        name = "" if contact is None else contact.name
        ticks, day = self.desk.book.ticks(), self.desk.today()
        text = course_text(
            course,
            now,
            CautionFacts(emergency=self._emergency(), contact=name),
            only_glucose=ticks.may_hold(About.SLOWS_SUGAR, day),
            can_ring=news.can_ring,
            fasts=is_fasting_month(self.desk.book.spells(), day),
        )
        self.title.setText(text.title)
        for place, words in enumerate(self.steps):
            words.say(text.steps[place] if place < len(text.steps) else "")
        self.helper_box.setVisible(
            course.is_very_low or course.helped or course.is_unanswered or course.needs_emergency
        )
        self._show_phone(contact, course)

    def _show_phone(self, contact: Contact | None, course: LowCourse) -> None:
        """Whom to call, so large that it is read without glasses; only when it may be needed."""
        is_wanted = course.is_unanswered or course.is_very_low
        name, number = "", ""
        if course.needs_emergency:
            number = self._emergency()
        elif is_wanted and contact is not None:
            name, number = contact.name, contact.phone
        # Where no number is known, the words that stand for it were said above.
        has_number = any(character.isdigit() for character in number)
        self.phone_name.say(name if has_number else "")
        self.phone.say(number if has_number else "")
        self._place_help(is_first=course.is_unanswered or course.needs_emergency)
        self._phone_box.setVisible(has_number)

    def _place_help(self, *, is_first: bool) -> None:
        """Whom to call comes before the steps once that matters most, so that it is in sight."""
        if is_first is not self._is_help_first:
            self._is_help_first = is_first
            self.column.removeItem(self._help)
            after: QLayout | QWidget = self._head if is_first else self.steps[-1]
            self.column.insertLayout(_place_of(self.column, after) + 1, self._help)

    def _emergency(self) -> str:
        settings = self.desk.book.settings
        return emergency_word(settings.country, settings.emergency_number)


def _place_of(column: QVBoxLayout, part: QLayout | QWidget) -> int:
    items = [column.itemAt(place) for place in range(column.count())]
    return next(
        place
        for place, item in enumerate(items)
        if item is not None and part in (item.widget(), item.layout())
    )
