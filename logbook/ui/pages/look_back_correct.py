"""Correcting a reading: number, day or time, what it was for. What it said before is kept."""

from __future__ import annotations

from datetime import time
from enum import StrEnum
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.errors import BadMoment, LogbookError, NoSuchRecord
from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment, wall_told
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.ui.pages.look_back_doubt import DoubtQuestion
from logbook.ui.pages.look_back_entry_words import reading_name, value_text, when_text
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.pages.look_back_number import NumberPart
from logbook.ui.parts.big_button import ButtonKind
from logbook.ui.parts.day_field import DayField, TimeField
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.tab_order import follow, last_inside
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, mark
from logbook.wording.problems import problem_text
from logbook.wording.terms import slot_text
from logbook.wording.typed_days import Toward

_STACKED_FROM_PERCENT = 150

_REASONS = (
    mark("Typed wrong"),
    mark("Read wrong"),
    mark("Wrong day or time"),
    mark("Another reason"),
)


class Wrong(StrEnum):
    """What was wrong."""

    NUMBER = "number"
    WHEN = "when"
    SLOT = "slot"


_WRONG = {
    Wrong.NUMBER: mark("The number"),
    Wrong.WHEN: mark("The day or the time"),
    Wrong.SLOT: mark("What it was for"),
}


class CorrectView(View):
    """At the left what is to be mended, at the right what was wrong and why."""

    back = "time"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        assert looking.subject is not None
        self.reading: Reading = self.desk.book.reading(looking.subject)
        self._meant: tuple[Moment, Slot] | None = None
        self.column.setSpacing(GAP)
        is_stacked = self.look.theme.percent >= _STACKED_FROM_PERCENT
        directions = QBoxLayout.Direction
        row = QBoxLayout(directions.TopToBottom if is_stacked else directions.LeftToRight)
        row.setSpacing(3 * GAP)
        told = QVBoxLayout()
        told.setSpacing(GAP)
        self._add_questions(told)
        self.number = NumberPart(self.desk, self.reading.glucose, is_stacked=is_stacked)
        self.number.edited.connect(self._edited)
        self._when_part = self._make_when_part()
        self.slots = Choice(
            self.look,
            _("What was it for?"),
            [(slot, slot_text(slot)) for slot in Slot],
            shows_label=False,
        )
        self.slots.choose(self.reading.slot)
        self.slots.chosen.connect(self._edited)
        self._parts: dict[Wrong, QWidget] = {
            Wrong.NUMBER: self.number,
            Wrong.WHEN: self._when_part,
            Wrong.SLOT: self.slots,
        }
        mended = QVBoxLayout()
        for part in self._parts.values():
            mended.addWidget(part)
        mended.addStretch(1)
        if is_stacked:
            # What is to be mended comes before why, or it would lie far below.
            row.addLayout(told)
            row.addLayout(mended)
            row.addWidget(self.reason)
        else:
            told.addWidget(self.reason)
            told.addStretch(1)
            row.addLayout(mended, 3)
            row.addLayout(told, 2)
        self._form = QWidget()
        self._form.setLayout(row)
        row.setContentsMargins(0, 0, 0, 0)
        self.column.addWidget(self._form)
        self.doubt = DoubtQuestion(self.desk)
        self.doubt.settled.connect(self._take_number)
        self.column.addWidget(self.doubt)
        self.column.addStretch(1)
        self._set_tab_order(is_stacked=is_stacked)
        self._show_part(Wrong.NUMBER)

    # --- building -----------------------------------------------------------------------------

    def _add_questions(self, told: QVBoxLayout) -> None:
        self.was = Words(self.look, self._was_text())
        self.wrong = Choice(
            self.look,
            _("What was wrong?"),
            [(wrong, _(text)) for wrong, text in _WRONG.items()],
            columns=1,
        )
        self.wrong.choose(Wrong.NUMBER)
        self.wrong.chosen.connect(self._show_part)
        self.reason = Choice(
            self.look,
            _("Why? (can be left out)"),
            [(_(reason), _(reason)) for reason in _REASONS],
            kind=ButtonKind.CHIP,
        )
        for part in (self.was, self.wrong):
            told.addWidget(part)

    def _make_when_part(self) -> QWidget:
        part = QWidget()
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2 * GAP)
        wall = self.reading.at.wall
        self.day = DayField(
            self.look,
            _("Which day?"),
            self.desk.today(),
            value=self.reading.at.day(self._day_starts_at),
            toward=Toward.PAST,
        )
        self.time = TimeField(self.look, _("At what time?"), wall.time())
        column.addWidget(self.day)
        column.addWidget(self.time.row)
        self.day.edited.connect(self._edited)
        self.time.textEdited.connect(self._edited)
        return part

    def _set_tab_order(self, *, is_stacked: bool) -> None:
        """In the order of the eyes: the parts are made in another one."""
        asked: list[QWidget] = [*self.wrong.buttons.values()]
        reasons: list[QWidget] = [*self.reason.buttons.values()]
        mended: list[QWidget] = [self.number.keypad.lo, self.number.keypad.hi]
        for part in (self._when_part, self.slots):
            mended += [
                each
                for each in part.findChildren(QWidget)
                if each.focusPolicy() & Qt.FocusPolicy.TabFocus and each.focusProxy() is None
            ]
        last_key = last_inside(self.number.keypad)
        if is_stacked:
            # The keypad has its own order and comes after what is asked.
            follow(self.wrong.buttons[Wrong.NUMBER], asked[1:])
            QWidget.setTabOrder(asked[-1], self.number.keypad.display)
            follow(last_key, [*mended, *reasons])
        else:
            follow(last_key, [*mended, *asked, *reasons])

    def _was_text(self) -> str:
        return _("Written down: {value}. {when}.").format(
            value=value_text(self.reading),
            when=when_text(self.reading, self.desk.now(), self._day_starts_at),
        )

    @property
    def _day_starts_at(self) -> time:
        return self.desk.book.settings.day_starts_at

    # --- what the page asks -------------------------------------------------------------------

    def title(self) -> str:
        return self.doubt.question or _("What should it say?")

    def main_text(self) -> str:
        return "" if self.is_asking else _("Save")

    @property
    def is_asking(self) -> bool:
        """Whether it is asked about the number before it is kept."""
        return bool(self.doubt.question)

    def step_back(self) -> bool:
        was_asking = self.is_asking
        self.doubt.close_question()
        self._show_form()
        return was_asking

    def first_field(self) -> QWidget:
        return self.number.keypad.display

    def refresh(self, changed: Changed | None) -> None:
        """Undo may have taken back the very reading that is corrected here, or a change of it."""
        try:
            self.reading = self.desk.book.reading(self.reading.id)
        except NoSuchRecord:
            QTimer.singleShot(0, self, self._leave)
        except LogbookError as error:
            self.desk.told(error)
        else:
            self.was.say(self._was_text())

    def _leave(self) -> None:
        if self.page.view is self:
            self.page.turn_to("time", message=_("This reading is not in the log any more."))

    def typed(self, event: QKeyEvent) -> bool:
        """Digits typed anywhere in the view go to the number."""
        return self.number.isVisible() and self.number.typed(event)

    def do_main(self) -> None:
        fields = (self.day, self.time)
        found = [(field, text) for field in fields if (text := field.problem())]
        try:
            glucose = self.number.glucose()
        except LogbookError as error:
            self.show_problems(fields, ())
            self._say_problem(problem_text(error), Wrong.NUMBER)
            return
        if not self.show_problems(fields, found):
            self._turn_to_part(Wrong.WHEN)
            return
        at = self._moment()
        if at is None:
            return
        slot = self.slots.value
        if (glucose, at, slot) == (self.reading.glucose, self.reading.at, self.reading.slot):
            self.desk.say(_("Nothing is different from what was written down."))
            return
        if self.doubt.asks(self.reading, glucose, at):
            self._meant = (at, slot)
            self._show_form()
            return
        self._save(glucose, at, slot)

    def _take_number(self, glucose: Glucose) -> None:
        assert self._meant is not None
        self._save(glucose, *self._meant)
        self._show_form()  # where it could not be kept, what was typed is still there

    def _show_form(self) -> None:
        """The form, or the question about its number in its place."""
        self._form.setVisible(not self.is_asking)
        if self.page.view is self:
            self.page.scrolled.to_top()
            self.page.update_head()

    def _save(self, glucose: Glucose, at: Moment, slot: Slot) -> None:
        book, reason = self.desk.book, self.reason.value or ""
        changed = self.desk.write(book.correct, self.reading.id, glucose, at, slot, reason)
        if changed is not None:
            corrected = book.reading(self.reading.id)
            name = reading_name(corrected, self._day_starts_at)
            self.page.turn_to("time", message=_("Corrected: {reading}.").format(reading=name))

    # --- day and time -------------------------------------------------------------------------

    def _moment(self) -> Moment | None:
        """The moment that is meant; None when it has not come yet, which is told."""
        day, clock = self.day.day(), self.time.time()
        assert day is not None
        was = self.reading.at
        if clock is None or (day, clock) == (
            was.day(self._day_starts_at),
            was.wall.time().replace(second=0, microsecond=0),
        ):
            clock = was.wall.time()
        wall = wall_told(day, clock, self._day_starts_at, self.desk.now().wall)
        if wall == was.wall:
            return was
        at = Moment.from_wall(wall, was.zone, zone_assumed=was.zone_assumed)
        if at.instant <= self.desk.clock():
            return at
        error = BadMoment(self.time.text() or self.day.field.text(), why="in_future")
        self._say_problem(problem_text(error), Wrong.WHEN)
        return None

    # --- what is in sight ---------------------------------------------------------------------

    def _show_part(self, wrong: Any) -> None:
        for each, part in self._parts.items():
            part.setVisible(each is wrong)

    def _turn_to_part(self, wrong: Wrong) -> None:
        self.wrong.choose(wrong)
        self._show_part(wrong)

    def _say_problem(self, text: str, wrong: Wrong) -> None:
        self._turn_to_part(wrong)
        self._problems.say(text)
        self.page.scrolled.to_top()
        self.desk.say(text)

    def _edited(self) -> None:
        self._problems.say("")
        self.desk.say("")
