"""A low: the sugar first, then the check after 15 minutes, which stays here until it is answered.

Nothing about it is kept in the window: `domain.recheck` tells from the log what is due, after a
restart as before it. The person's own written plan stands above the usual steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QVBoxLayout

from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment
from logbook.domain.recheck import RecheckDue
from logbook.domain.states import State, state_of
from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.marks import StateMark
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP, NUMBER, ROW_FROM_PERCENT
from logbook.wording import _, cautions
from logbook.wording.dates import clock_text
from logbook.wording.emergency import emergency_word
from logbook.wording.numbers import glucose_text

# After the third treatment that did not help, help is called (hypoglycaemia study group on
# treatment, in a secondary copy).
_MOST_TREATMENTS = 3
# How long a due recheck waits before the page calls out.
UNANSWERED_AFTER = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class LowNews:
    """What the low page shows.

    `glucose` is None for a low without a number; `doubt` is one quiet line, `meant` the value that
    may have been meant.
    """

    due: RecheckDue
    glucose: Glucose | None
    phone_name: str
    phone: str
    doubt: str = ""
    meant: Glucose | None = None


class LowStep(Step):
    """Tells what the person decided; the page writes it down."""

    recheck_wanted = Signal()
    will_not_check = Signal()
    meant_other = Signal()
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
        look.changed.connect(self.restyle)
        self.restyle()
        self.own_plan = Words(look, role="heading")
        self.column.addWidget(self.own_plan)
        self.steps = [Words(look, role="heading"), Words(look, role="heading"), Words(look)]
        self.very_low = Words(look, role="heading")
        self.column.addWidget(self.very_low)
        for words in self.steps:
            self.column.addWidget(words)
        self.ring = Words(look)
        self.column.addWidget(self.ring)
        self.phone = Words(look, role="number")
        self.column.addWidget(self.phone)
        self.helper = Words(look)
        box = QFrame()
        inside = QVBoxLayout(box)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(Words(look, _("For someone who helps"), "heading"))
        inside.addWidget(self.helper)
        self.helper_box = box
        self.column.addWidget(box)
        self._add_buttons()

    def _add_buttons(self) -> None:
        look = self.desk.look
        self.doubt = Words(look, role="quiet")
        self.change = BigButton(look, "", ButtonKind.OTHER)
        self.change.clicked.connect(self.meant_other)
        self.column.addWidget(self.doubt)
        beside = QHBoxLayout()
        beside.addWidget(self.change)
        beside.addStretch(1)
        self.column.addLayout(beside)
        self.no_check = BigButton(look, _("I will not check again"), ButtonKind.OTHER)
        self.no_check.clicked.connect(self.will_not_check)
        self.happened = BigButton(look, _("Something happened"), ButtonKind.OTHER)
        self.happened.clicked.connect(self.something_happened)
        row = EvenGrid(2)
        row.addWidget(self.no_check)
        row.addWidget(self.happened)
        self.column.addLayout(row)
        self.column.addStretch(1)

    def back_text(self) -> str:
        return ""

    def restyle(self) -> None:
        """Large text has no room beside the number."""
        is_large = self.desk.look.theme.percent >= ROW_FROM_PERCENT
        sides = QBoxLayout.Direction
        self._head.setDirection(sides.TopToBottom if is_large else sides.LeftToRight)

    def main_text(self) -> str:
        return _("I checked again")

    def main(self) -> None:
        self.recheck_wanted.emit()

    def show_news(self, news: LowNews) -> None:
        """Show this low as it stands now."""
        self.news = news
        settings = self.desk.book.settings
        state = State.LOW if news.glucose is None else state_of(news.glucose)
        self.number.say("" if news.glucose is None else glucose_text(news.glucose))
        self.mark.show_state(state)
        self.own_plan.say(
            _("Your plan: {plan}").format(plan=settings.low_plan) if settings.low_plan else ""
        )
        emergency = emergency_word(settings.country, settings.emergency_number)
        is_very_low = state is State.VERY_LOW
        self.very_low.say(cautions.very_low(news.phone_name) if is_very_low else "")
        self.helper.setText(cautions.for_a_helper(emergency))
        self.helper_box.setVisible(is_very_low)
        self.doubt.say(news.doubt)
        self.change.setVisible(news.meant is not None)
        if news.meant is not None:
            self.change.setText(_("It was {value}").format(value=glucose_text(news.meant)))
        self.beat(self.desk.now())

    def beat(self, now: Moment) -> None:
        if self.news is None:
            return
        due, zone = self.news.due, self.desk.zone()
        at = Moment.at(due.due_at, zone)
        is_over = due.is_overdue(now.instant)
        treatments = due.times_low - 1
        settings = self.desk.book.settings
        emergency = emergency_word(settings.country, settings.emergency_number)
        steps = cautions.low_first_steps(at.wall)
        if treatments >= _MOST_TREATMENTS:
            steps = [cautions.still_low_after_three(emergency), "", cautions.recheck(at.wall)]
        elif treatments > 0:
            steps = [cautions.still_low(treatments, at.wall), steps[1], ""]
        elif self.very_low.text():
            # That it is low was said above, in stronger words.
            steps = [_("Sit down. Do not drive."), *steps[1:]]
        for words, text in zip(self.steps, steps, strict=True):
            words.say(text)
        if is_over:
            self.title.setText(_("Check again now."))
        else:
            self.title.setText(_("Check again at {time}.").format(time=clock_text(at)))
        # There is no sound yet, and silence must not be taken for a promise.
        self.ring.say(self.cannot_ring())
        calls_out = now.instant - due.due_at >= UNANSWERED_AFTER
        self.ring.setVisible(not is_over)
        self.phone.say(self.news.phone if calls_out else "")

    @staticmethod
    def cannot_ring() -> str:
        """What is said beside every low, and before the window closes during one."""
        return _("This computer cannot ring. Set your kitchen timer for 15 minutes.")
