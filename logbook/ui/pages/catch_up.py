"""*Catch up*: many readings at once, from the meter's memory or from a sheet of paper.

A line to type into above, the table below, the newest first. Rows that are in the log already are
grey. One Save writes all new rows as one action.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from uuid import UUID

from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.catch_up import (
    Row,
    put_right,
    readings_of,
)
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.levels import LOW_BELOW
from logbook.domain.plausibility import NOTHING_BEFORE, Before
from logbook.ui.catch_up_file import keep_rows, kept_rows, path_of
from logbook.ui.entry.doubts import doubt_about_row
from logbook.ui.entry.saving import meter_in_use
from logbook.ui.pages.catch_up_log import LogNear
from logbook.ui.pages.catch_up_question import RowQuestion
from logbook.ui.pages.catch_up_rows import RowTable, Shown
from logbook.ui.pages.catch_up_source import RowSource
from logbook.ui.pages.catch_up_typing import RowTyping
from logbook.ui.pages.look_back_list import rows_at
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.catch_up import (
    save_text,
    saved_text,
)
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
        self.log = LogNear(self.desk)
        self.source = RowSource(
            self.look, self.log.own_meters, meter_in_use(self.desk.book, self.log.now)
        )
        self.source.changed.connect(self._take_origin)
        self.typing = RowTyping(self.desk, self.log, self.source, page.scrolled, self._oldest_shown)
        self.typing.order.know(self.log.plans, self.log.times)
        self.typing.finished.connect(self._add)
        self.typing.moved.connect(self._show_oldest)
        self.typing.changed.connect(self.page.update_head)
        self.entry = self.typing.entry
        self.question = RowQuestion(self.look)
        self.question.answered.connect(self._take_answer)
        self.question.hide()
        self.count = Sentence(self.look)
        self.table = RowTable(self.look)
        self.table.wants.connect(self._want)
        for part in (
            self.source, self.typing, self.question, self.count,
            self.table,
        ):  # fmt: skip
            self.column.addWidget(part)
        self.column.addStretch(1)
        self._restore()
        self._take_origin()
        self.typing.begin()

    # --- what the page asks ----------------------------------------------------------------------

    def title(self) -> str:
        return _("What is not written yet?")

    def main_text(self) -> str:
        return "" if self.question.isVisibleTo(self) else save_text(len(self._new))

    @property
    def is_changed(self) -> bool:
        return bool(self._new) or not self.entry.is_empty

    def first_field(self) -> QWidget:
        return self.entry.time if self.typing.order.column is None else self.entry.number

    def came_up(self) -> None:
        self.typing.take_keyboard()
        if not self.rows:
            self.typing.show_soon(self._what_comes_first)

    def _what_comes_first(self) -> list[QWidget]:
        """Where the numbers stand is said before the first of them."""
        return [self.source]

    def refresh(self, changed: Changed | None) -> None:
        """Read the log again; what was typed stays."""
        try:
            self.log.read()
        except LogbookError as error:
            self.desk.told(error)
            return
        self.typing.order.know(self.log.plans, self.log.times)
        self._match()

    # --- the log ---------------------------------------------------------------------------------

    def _match(self) -> None:
        """Look up which rows the log has, and which of its readings lie between them."""
        is_column = self.typing.order.column is not None
        self.rows = self.log.match(self.rows, self.typing.typed_day if is_column else None)
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
        self.typing.take_source()
        self._match()
        self._keep()

    # --- taking rows -----------------------------------------------------------------------------

    def _oldest_shown(self) -> datetime | None:
        return min((row.shown for row in self.rows), default=None)

    def _add(self) -> None:
        row = self.typing.read_row()
        if row is None:
            return
        doubt = doubt_about_row(
            row.glucose,
            row.at,
            self.desk.now(),
            usual=self.log.usual,
            before=self._before(row.glucose),
            meter=self.source.meter,
        )
        if doubt is None:
            self._take(row)
            return
        self.question.ask(row, doubt)
        self.page.update_head()
        self.question.first_button().setFocus()
        self.typing.show_soon(self.question.parts_in_turn)

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
            self.entry.take_number()
            return
        self._take(row)

    def _take(self, row: Row) -> None:
        self.rows = (*self.rows, row)
        self._keep()
        self.typing.has_taken(row)
        self._match()
        self._show_around(row.id)
        added = next(one for one in self.rows if one.id == row.id)
        value = glucose_text(row.glucose)
        if added.is_new:
            self.desk.say(_("Added: {value}. Save writes all rows.").format(value=value))
        else:
            self.desk.say(_("{value} is in the log already.").format(value=value))
        self.typing.take_keyboard()

    def _want(self, what: str, row_id: UUID) -> None:
        row = next(one for one in self.rows if one.id == row_id)
        self.rows = tuple(one for one in self.rows if one.id != row_id)
        self._keep()
        self._match()
        value = glucose_text(row.glucose)
        if what == "change":
            self.typing.change(row)
            self.entry.take_number()
        else:
            self.desk.say(_("Taken out: {value}.").format(value=value))
            self.typing.begin()
            self.typing.take_keyboard()

    # --- showing ---------------------------------------------------------------------------------

    def _shown(self) -> list[Shown]:
        return self.log.shown(self.rows, self.typing.order.column, self.typing.typed_day)

    @property
    def _room(self) -> int:
        is_column = self.typing.order.is_by_column
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
        if self.typing.order.is_by_column:
            return _("No rows in this column yet. Type the day of the first one.")
        return _("No rows yet. Begin with the newest reading.")

    def _show_around(self, row_id: UUID | None) -> None:
        """Show the rows that end with this one; None for the oldest."""
        shown = self._shown()
        places = [place for place, one in enumerate(shown) if one.id == row_id]
        last = places[0] if places else len(shown) - 1
        self._first_shown = max(0, last - self._room + 1)
        self._show()

    def _show_oldest(self) -> None:
        """Another day or column is typed."""
        self._match()
        self._show_around(None)

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
            self.entry.take_number()
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
        self.typing.begin()
        self.page.saved_days = (readings[0].at, readings[-1].at)  # type: ignore[attr-defined]
        self.page.turn_to("tally", message=told)
