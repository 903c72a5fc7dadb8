"""*Catch up*: many readings at once, from the meter's memory or from a sheet of paper.

A line to type into above, the table below, the newest first. Rows that are in the log already are
grey. One Save writes all new rows as one action.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from uuid import UUID

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.catch_up import (
    From,
    Row,
    day_below,
    new_row,
    put_right,
    readings_of,
    time_below,
)
from logbook.domain.errors import BadMoment, LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.levels import LOW_BELOW
from logbook.domain.plausibility import NOTHING_BEFORE, Before
from logbook.domain.slots import Slot
from logbook.ui.catch_up_file import keep_rows, kept_rows, path_of
from logbook.ui.entry.doubts import doubt_about_row
from logbook.ui.entry.saving import meter_in_use
from logbook.ui.pages.catch_up_entry import EntryLine
from logbook.ui.pages.catch_up_log import LogNear
from logbook.ui.pages.catch_up_question import RowQuestion
from logbook.ui.pages.catch_up_rows import RowTable, Shown
from logbook.ui.pages.catch_up_sheet import SheetOrder
from logbook.ui.pages.catch_up_source import RowSource
from logbook.ui.pages.look_back_list import rows_at
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.catch_up import (
    about_note,
    column_told_text,
    offset_text,
    save_text,
    saved_text,
    there_text,
)
from logbook.wording.dates import day_text, weekday_day_text
from logbook.wording.numbers import glucose_text
from logbook.wording.problems import problem_text

# So many rows are in sight below the line that is typed, at small and at large text.
_ROWS_SHOWN = (4, 3)
_COLUMN_ROWS_SHOWN = (3, 2)


class CatchUpView(View):
    """Keeps its rows while the window is open, and on disk until they are saved."""

    back = "main"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.setSpacing(GAP)
        self.rows: tuple[Row, ...] = ()
        self._first_shown = 0
        self._path = path_of(self.desk.state_folder, self.desk.book.path)
        self._is_changing = False
        self.order = SheetOrder(self.look)
        self.order.changed.connect(self._take_order)
        self.log = LogNear(self.desk)
        self.order.know(self.log.plans, self.log.times)
        self.source = RowSource(
            self.look, self.log.own_meters, meter_in_use(self.desk.book, self.log.now)
        )
        self.source.changed.connect(self._take_origin)
        self.told = Sentence(self.look)
        settings = self.desk.book.settings
        self.entry = EntryLine(self.look, settings.unit, self.log.now.wall.date())
        self.entry.finished.connect(self._add)
        self.entry.edited.connect(self._time_edited)
        self.entry.slot_told.connect(self.page.update_head)
        self.entry.slot_chosen.connect(self._take_column)
        self.question = RowQuestion(self.look)
        self.question.answered.connect(self._take_answer)
        self.question.hide()
        self.count = Sentence(self.look)
        self.table = RowTable(self.look)
        self.table.wants.connect(self._want)
        for part in (
            self.source, self.order, self.told, self.entry, self.question, self.count,
            self.table,
        ):  # fmt: skip
            self.column.addWidget(part)
        self.column.addStretch(1)
        self._restore()
        self._take_origin()
        self._begin_row()

    # --- what the page asks ----------------------------------------------------------------------

    def title(self) -> str:
        return _("Which readings are not written yet?")

    def main_text(self) -> str:
        return "" if self.question.isVisibleTo(self) else save_text(len(self._new))

    @property
    def is_changed(self) -> bool:
        return bool(self._new) or not self.entry.is_empty

    def first_field(self) -> QWidget:
        return self.entry.number if self.order.column is not None else self.entry.time

    def came_up(self) -> None:
        self._take_keyboard()

    def refresh(self, changed: Changed | None) -> None:
        """Read the log again; what was typed stays."""
        try:
            self._read_log()
        except LogbookError as error:
            self.desk.told(error)
            return
        self._match()

    # --- the log ---------------------------------------------------------------------------------

    def _read_log(self) -> None:
        self.log.read()
        self.order.know(self.log.plans, self.log.times)

    def _match(self) -> None:
        """Look up which rows the log has, and which of its readings lie between them."""
        is_column = self.order.column is not None
        self.rows = self.log.match(self.rows, self._typed_day() if is_column else None)
        self._show()

    @property
    def _new(self) -> list[Row]:
        return [row for row in self.rows if row.is_new]

    def _take_origin(self) -> None:
        """Another meter has another clock: every row is put right anew."""
        zone = self.desk.zone()
        self.rows = tuple(
            row
            if row.is_about
            else replace(row, at=put_right(row.shown, self.source.clock_ahead, zone))
            for row in self.rows
        )
        is_paper = self.source.origin is From.PAPER
        if not is_paper and self.order.is_by_column:
            self.order.begin_anew()
            self._begin_row()
            self.entry.take_time()
        self.order.setVisible(is_paper)
        self.told.say(offset_text(self.source.clock_ahead))
        self._match()
        self._keep()

    # --- typing ----------------------------------------------------------------------------------

    def _above(self) -> datetime | None:
        """What the oldest row that was typed shows."""
        return min((row.shown for row in self.rows), default=None)

    def _take_keyboard(self) -> None:
        """To where a row begins: in a column only its number is missing."""
        if self.order.is_by_column:
            QTimer.singleShot(0, self, self._show_typed_soon)
        if self.order.lacks_column:
            self.entry.ask_column()
        elif self.order.column is None:
            self.entry.take_time()
        elif self.order.column.first is None:
            self.entry.take_day()  # where a sheet begins only the person knows
        else:
            self.entry.take_number()

    def _show_typed_soon(self) -> None:
        # Every part asks for its new size first, and the page then for its own.
        QTimer.singleShot(0, self, self._show_typed)

    def _show_typed(self) -> None:
        """A press lower down, or a longer table, may have moved what is typed out of sight."""
        self.page.scrolled.settle()
        for part in self.entry.parts_in_turn():
            self.page.scrolled.show_part(part)

    def _take_order(self) -> None:
        """Another way of going through the sheet."""
        self.told.say("")
        if not self.order.lacks_column:
            self._begin_row()
        self._match()
        self._take_keyboard()

    def _take_column(self, slot: Slot) -> None:
        """The person said what it was for; in a column that is the column."""
        if not self.order.is_by_column or self._is_changing:
            return
        number = self.entry.number.text()
        self.order.take_column(slot)
        self._begin_row()
        self.entry.number.setText(number)
        self._match()
        self._show_around(None)
        self._take_keyboard()

    def _begin_row(self) -> None:
        self._is_changing = False
        if self.order.column is not None:
            day = self.order.next_day(self.log.now)
            self.entry.begin(day, self.order.clock_on(day).at, self.order.column.slot)
            self._time_edited()
            return
        above, now = self._above(), self.log.now.wall
        clock = time_below(above, self.log.times, now)
        day = (above or now).date() if clock is None else day_below(above, clock, now)
        self.entry.begin(day, clock)
        self._time_edited()

    def _time_edited(self) -> None:
        """The day goes back by itself, and the clock tells what it was likely for."""
        if self.order.column is not None:
            self._column_edited()
            return
        try:
            clock = self.entry.typed_time()
        except BadMoment:
            return
        if not self.entry.is_day_told:
            day = day_below(self._above(), clock, self.log.now.wall)
            if self.entry.day.text() != day_text(day):
                self.entry.show_day(day)
                return  # which is heard of in turn
        try:
            shown = datetime.combine(self.entry.typed_day(), clock)
        except BadMoment:
            return
        at = put_right(shown, self.source.clock_ahead, self.desk.zone())
        self.entry.show_slot(self.log.times.slot_at(at) or Slot.OTHER)

    def _typed_day(self) -> date:
        try:
            return self.entry.typed_day()
        except BadMoment:
            return self.desk.today()

    def _column_edited(self) -> None:
        """Another day may have had another plan, and the log may have its number."""
        assert self.order.column is not None
        try:
            day = self.entry.typed_day()
            usual = self.order.clock_on(day)
            if self.entry.is_about:
                self.entry.show_clock(usual.at)
            at = put_right(
                datetime.combine(day, self.entry.typed_time()), timedelta(0), self.desk.zone()
            )
        except BadMoment:
            return
        if not self.log.reaches(day):
            self._match()
        there = self.log.written_for(self.order.column.slot, at)
        self.told.say(column_told_text(usual.told_by))
        self.entry.show_there(there_text([one.glucose for one in there]))

    def _pass_over(self) -> None:
        """The sheet has an empty box there."""
        day = self._typed_day()
        self.order.take_row(day)
        self._begin_row()
        self._match()
        self._show_around(None)
        self.desk.say(_("{day}: no number. Passed over.").format(day=weekday_day_text(day)))
        self.entry.take_number()

    def _add(self) -> None:
        self.desk.say("")
        if self.order.lacks_column:
            self.desk.say(_("Say which column it is first."))
            self.entry.ask_column()
            return
        if self.entry.is_blank_box:
            self._pass_over()
            return
        typed = self.entry.read()
        if typed is None:
            return
        shown, glucose = typed
        now, zone = self.desk.now(), self.desk.zone()
        row = new_row(shown, glucose, self.source.clock_ahead, zone, self.log.times)
        row = replace(row, slot=self.entry.slot or row.slot)
        if self.entry.is_about:
            row = replace(row, is_about=True, note=about_note())
        if row.at.instant > now.instant:
            problem = _("That time has not come yet. Look at the day and the clock once more.")
            self.entry.time.show_problem(problem)
            self.entry.take_time()
            return
        doubt = doubt_about_row(
            glucose,
            row.at,
            now,
            usual=self.log.usual,
            before=self._before(glucose),
            meter=self.source.meter,
        )
        if doubt is None:
            self._take(row)
            return
        self.question.ask(row, doubt)
        self.page.update_head()
        self.question.first_button().setFocus()

    def _before(self, glucose: Glucose) -> Before:
        """The row that was typed last: what it stood out by is not asked again."""
        if not self.rows or self.rows[-1].glucose.unit is not glucose.unit:
            return NOTHING_BEFORE
        return Before((self.rows[-1].glucose.order_steps,), self.log.usual)

    def _take_answer(self, row: Row | None) -> None:
        """The row as it is to be taken, or None to change it."""
        self.question.hide()
        if row is None:
            self.page.update_head()
            self.entry.number.setFocus()
            self.entry.number.selectAll()
            return
        self._take(row)

    def _take(self, row: Row) -> None:
        self.rows = (*self.rows, row)
        self._keep()
        if not self._is_changing:
            self.order.take_row(row.shown.date())
        self._begin_row()
        self._match()
        self._show_around(row.id)
        added = next(one for one in self.rows if one.id == row.id)
        value = glucose_text(row.glucose)
        if added.is_new:
            self.desk.say(_("Added: {value}. Save writes all rows.").format(value=value))
        else:
            self.desk.say(_("{value} is in the log already.").format(value=value))
        self._take_keyboard()

    def _want(self, what: str, row_id: UUID) -> None:
        row = next(one for one in self.rows if one.id == row_id)
        self.rows = tuple(one for one in self.rows if one.id != row_id)
        self._keep()
        self._match()
        value = glucose_text(row.glucose)
        if what == "change":
            self._is_changing = True
            self.entry.fill(row)
            self.page.scrolled.to_top()
            self.entry.number.setFocus()
            self.entry.number.selectAll()
        else:
            self.desk.say(_("Taken out: {value}.").format(value=value))
            self._begin_row()
            self._take_keyboard()

    # --- showing ---------------------------------------------------------------------------------

    def _shown(self) -> list[Shown]:
        return self.log.shown(self.rows, self.order.column, self._typed_day())

    @property
    def _room(self) -> int:
        is_column = self.order.is_by_column
        return rows_at(self.look.theme.percent, _COLUMN_ROWS_SHOWN if is_column else _ROWS_SHOWN)

    def _show(self) -> None:
        shown = self._shown()
        last = max(0, len(shown) - self._room)
        self._first_shown = max(0, min(self._first_shown, last))
        until = self._first_shown + self._room
        self.table.show_lines(shown[self._first_shown : until], self.log.now)
        self.count.say("" if shown else self._no_rows_text())
        self.page.update_head()

    def _no_rows_text(self) -> str:
        if self.order.is_by_column:
            return _("No rows in this column yet. Type the day of the first one.")
        return _("No rows yet. Begin with the newest reading.")

    def _show_around(self, row_id: UUID | None) -> None:
        """Show the rows that end with this one; None for the oldest."""
        shown = self._shown()
        places = [place for place, one in enumerate(shown) if one.id == row_id]
        last = places[0] if places else len(shown) - 1
        self._first_shown = max(0, last - self._room + 1)
        self._show()

    @property
    def has_newer(self) -> bool:
        """Whether there are rows above those that are shown."""
        return self._first_shown > 0

    @property
    def has_older(self) -> bool:
        """Whether there are rows below those that are shown."""
        return self._first_shown + self._room < len(self._shown())

    def turn_rows(self, direction: int) -> None:
        """Show the rows below or above."""
        self._first_shown += direction * self._room
        self._show()

    # --- keeping and saving ----------------------------------------------------------------------

    def _keep(self) -> None:
        keep_rows(self._path, self.source.origin, self.rows)

    def _restore(self) -> None:
        kept = kept_rows(self._path)
        if kept is None:
            return
        unit = self.desk.book.settings.unit
        self.rows = tuple(row for row in kept.rows if row.glucose.unit is unit)
        self.source.choose(kept.origin)
        if self.rows:
            self.desk.say(_("The rows you typed before are still here."))

    def do_main(self) -> None:
        if not self.entry.is_empty:
            self.desk.say(_("One row is typed and not added yet. Add it or clear its number."))
            self.entry.number.setFocus()
            return
        try:
            readings = readings_of(
                self.rows, self.desk.now().instant, self.source.origin, self.source.meter
            )
        except LogbookError as error:
            self.desk.say(problem_text(error))
            return
        if not readings:
            return
        rows, self.rows = self.rows, ()
        if self.desk.write(self.desk.book.add, *readings) is None:
            self.rows = rows
            self._match()
            return
        self._keep()
        unit = self.desk.book.settings.unit
        lows = sum(one.glucose.order_steps < LOW_BELOW[unit] for one in readings)
        told = saved_text(len(readings), lows)
        self._first_shown = 0
        self._match()
        self._begin_row()
        self.page.saved_days = (readings[0].at, readings[-1].at)  # type: ignore[attr-defined]
        self.page.turn_to("tally", message=told)
