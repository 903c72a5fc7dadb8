"""Typing one row after the other: which day and time come next, and where the keyboard goes.

From a meter's memory rows go back in time. From a sheet they may go down a column instead: the day
is told by the row before, the time by what is usual, and only the number is typed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, timedelta

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.catch_up import From, Row, day_below, new_row, put_right, time_below
from logbook.domain.errors import BadMoment
from logbook.domain.slots import Slot
from logbook.ui.desk import Desk
from logbook.ui.pages.catch_up_entry import EntryLine
from logbook.ui.pages.catch_up_log import LogNear
from logbook.ui.pages.catch_up_sheet import SheetOrder
from logbook.ui.pages.catch_up_source import RowSource
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.sentence import Sentence
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.catch_up import about_note, column_told_text, offset_text, there_text
from logbook.wording.dates import day_text, weekday_day_text


class RowTyping(QWidget):
    """The order of the rows, and the line that is typed.

    Emits `finished` when a row is to be taken, `moved` when the rows to be shown are those of
    another day or column, `changed` when its own parts are others. `oldest` tells what the oldest
    row that was typed shows.
    """

    finished = Signal()
    moved = Signal()
    changed = Signal()

    def __init__(
        self,
        desk: Desk,
        log: LogNear,
        source: RowSource,
        scrolled: ScrollPage,
        oldest: Callable[[], datetime | None],
    ) -> None:
        super().__init__()
        self._desk, self._log, self._source = desk, log, source
        self._scrolled, self._oldest = scrolled, oldest
        self._is_changing = False
        self.order = SheetOrder(desk.look)
        self.order.changed.connect(self._take_order)
        self.told = Sentence(desk.look)
        self.entry = EntryLine(desk.look, desk.book.settings.unit, log.now.wall.date())
        self.entry.finished.connect(self._finish)
        self.entry.edited.connect(self._edited)
        self.entry.slot_told.connect(self.changed)
        self.entry.slot_chosen.connect(self._take_column)
        self.entry.moved.connect(self._show_typed)
        self._parts_in_turn = self.entry.parts_in_turn
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for part in (self.order, self.told, self.entry):
            column.addWidget(part)

    @property
    def typed_day(self) -> date:
        """The day of the row that is typed; today where none can be read."""
        try:
            return self.entry.typed_day()
        except BadMoment:
            return self._desk.today()

    # --- which row is next -----------------------------------------------------------------------

    def begin(self) -> None:
        """Begin the next row."""
        self._is_changing = False
        column = self.order.column
        if column is not None:
            day = self.order.next_day(self._log.now)
            self.entry.begin(day, self.order.clock_on(day).at, column.slot)
        else:
            above, now = self._oldest(), self._log.now.wall
            clock = time_below(above, self._log.times, now)
            day = (above or now).date() if clock is None else day_below(above, clock, now)
            self.entry.begin(day, clock)
        self._edited()

    def change(self, row: Row) -> None:
        """Take a row up again; a column goes on afterwards where it was."""
        self._is_changing = True
        self.entry.fill(row)

    def has_taken(self, row: Row) -> None:
        """Go on to the row after this one."""
        if not self._is_changing:
            self.order.take_row(row.shown.date())
        self.begin()

    def take_keyboard(self) -> None:
        """Put the keyboard where a row begins: in a column only its number is missing."""
        if self.order.lacks_column:
            self.entry.ask_column()
        elif self.order.column is None:
            self.entry.take_time()
        elif self.order.column.first is None:
            self.entry.take_day()  # where a sheet begins only the person knows
        else:
            self.entry.take_number()

    def take_source(self) -> None:
        """Another source: only a sheet has columns, and only a meter a clock."""
        is_paper = self._source.origin is From.PAPER
        if not is_paper and self.order.is_by_column:
            self.order.begin_anew()
            self._begin_again()
            self.entry.take_time()
        self.order.setVisible(is_paper)
        self.told.say(offset_text(self._source.clock_ahead))

    def show_soon(self, parts_in_turn: Callable[[], list[QWidget]]) -> None:
        """Bring these parts in sight, the last one for certain, once the page has its new size.

        A press lower down, a longer table or larger text may have them out of sight.
        """
        self._parts_in_turn = parts_in_turn
        # Every part asks for its new size first, and the page then for its own.
        QTimer.singleShot(0, self, self._show_later)

    def _show_typed(self) -> None:
        self.show_soon(self.entry.parts_in_turn)

    def _show_later(self) -> None:
        QTimer.singleShot(0, self, self._show)

    def _show(self) -> None:
        self._scrolled.settle()
        for part in self._parts_in_turn():
            self._scrolled.show_part(part)

    def _take_order(self) -> None:
        self.told.say("")
        if not self.order.lacks_column:
            self._begin_again()
        self.moved.emit()
        self.take_keyboard()

    def _take_column(self, slot: Slot) -> None:
        """The person said what it was for; in a column that is the column."""
        if not self.order.is_by_column or self._is_changing:
            return
        self.order.take_column(slot)
        self._begin_again()
        self.moved.emit()
        self.take_keyboard()

    def _begin_again(self) -> None:
        """Begin the row anew; a number that was typed stays."""
        number = self.entry.number.text()
        self.begin()
        self.entry.number.setText(number)

    # --- while it is typed -----------------------------------------------------------------------

    def _edited(self) -> None:
        if self.order.column is not None:
            self._column_edited(self.order.column.slot)
        else:
            self._memory_edited()

    def _memory_edited(self) -> None:
        """The day goes back by itself, and the clock tells what it was likely for."""
        try:
            clock = self.entry.typed_time()
        except BadMoment:
            return
        if not self.entry.is_day_told:
            day = day_below(self._oldest(), clock, self._log.now.wall)
            if self.entry.day.text() != day_text(day):
                self.entry.show_day(day)
                return  # which is heard of in turn
        try:
            shown = datetime.combine(self.entry.typed_day(), clock)
        except BadMoment:
            return
        at = put_right(shown, self._source.clock_ahead, self._desk.zone())
        self.entry.show_slot(self._log.times.slot_at(at) or Slot.OTHER)

    def _column_edited(self, slot: Slot) -> None:
        """Another day may have had another plan, and the log may have its number."""
        try:
            day = self.entry.typed_day()
            usual = self.order.clock_on(day)
            if self.entry.is_about:
                self.entry.show_clock(usual.at)
            shown = datetime.combine(day, self.entry.typed_time())
        except BadMoment:
            return
        if not self._log.reaches(day):
            self.moved.emit()
        at = put_right(shown, timedelta(0), self._desk.zone())
        there = self._log.written_for(slot, at)
        self.told.say(column_told_text(usual.told_by))
        self.entry.show_there(there_text([one.glucose for one in there]))

    # --- taking it -------------------------------------------------------------------------------

    def _finish(self) -> None:
        self._desk.say("")
        if self.order.lacks_column:
            self._desk.say(_("Say which column it is first."))
            self.entry.ask_column()
        elif self.entry.is_blank_box:
            self._pass_over()
        else:
            self.finished.emit()

    def _pass_over(self) -> None:
        """The sheet has an empty box there."""
        day = self.typed_day
        self.order.take_row(day)
        self.begin()
        self.moved.emit()
        self._desk.say(_("{day}: no number. Passed over.").format(day=weekday_day_text(day)))
        self.take_keyboard()

    def read_row(self) -> Row | None:
        """The row as it is typed; None after what is wrong was said beside its field."""
        typed = self.entry.read()
        if typed is None:
            return None
        shown, glucose = typed
        row = new_row(shown, glucose, self._source.clock_ahead, self._desk.zone(), self._log.times)
        row = replace(row, slot=self.entry.slot or row.slot)
        if self.entry.is_about:
            row = replace(row, is_about=True, note=about_note())
        if row.at.instant > self._desk.now().instant:
            self.entry.time.show_problem(
                _("That time has not come yet. Look at the day and the clock once more.")
            )
            self.entry.take_time()
            return None
        return row
