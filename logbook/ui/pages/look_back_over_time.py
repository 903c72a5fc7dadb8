"""A view of *Look back*: the readings over time as a picture, as a table, and one by one."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from uuid import UUID

from PySide6.QtWidgets import QWidget

from logbook.ui.pages.look_back_entry_words import reading_name, told_name
from logbook.ui.pages.look_back_list import ReadingList, rows_at
from logbook.ui.pages.look_back_looking import Looked, Looking, Shows, find_told
from logbook.ui.pages.look_back_picture import PicturePart, StretchTable
from logbook.ui.pages.look_back_ways import WaysView
from logbook.ui.parts.tab_order import follow
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.numbers import number_text
from logbook.wording.terms import target_kind_text

# Rows at small and at large text.
_LIST_ROWS = (5, 4)
_TABLE_ROWS = (7, 4)


class OverTimeView(WaysView):
    """Three ways to show the readings of the days that were chosen, all or of one time of day.

    With `Looking.only` the list keeps to the records of one finding, and Back leads there.
    """

    name = "time"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page, looking)
        self.picture = PicturePart(self.look)
        self.table = StretchTable(self.look)
        self.list = ReadingList(self.look)
        self.list.wants.connect(self._do)
        self.add_way(Shows.PICTURE, _("Picture"), self.picture)
        self.add_way(Shows.TABLE, _("As a table"), self.table)
        self.add_way(Shows.LIST, _("Each reading"), self.list)
        self.kind_button = self.add_tile("", _("Which times of day are shown"))
        self.kind_button.clicked.connect(self._ask_kind)
        self.lay_out_ways()
        self.back = looking.only_from or "main"

    def title(self) -> str:
        rows = self.rows_in_all
        if rows <= self.rows_shown:
            if self.looking.only:
                return self.looking.only_title
            if self.way == Shows.LIST:
                return _("Each reading, newest first")
            return _("How have your readings been?")
        first, last = self.start + 1, min(self.start + self.rows_shown, rows)
        if self.way == Shows.TABLE:
            form = _("Rows {first} to {last} of {total}, newest first")
        elif self.looked is not None and self.looked.has_others_listed:
            form = _("Readings and what happened: {first} to {last} of {total}, newest first")
        else:
            form = _("Readings {first} to {last} of {total}, newest first")
        return form.format(
            first=number_text(first), last=number_text(last), total=number_text(rows)
        )

    # --- showing ------------------------------------------------------------------------------

    def read(self) -> Looked:
        looking = self.looking
        self.kind_button.setText(
            _("One time of day") if looking.kind is None else target_kind_text(looking.kind)
        )
        self.ways_row.setVisible(not looking.only)
        return looking.look(self.desk.book, self.desk.today(), is_narrowed=True)

    def empty_text(self, way: str) -> str:
        assert self.looked is not None
        if self.looked.listed if way == Shows.LIST else self.looked.marks.indices:
            return ""
        if self.looking.kind is not None:
            return _("There are no readings for this time of day in these days.")
        return _("There are no readings in these days.")

    def fill(self, way: str) -> None:
        looked = self.looked
        assert looked is not None
        if way == Shows.PICTURE:
            self.picture.show_looked(looked)
        elif way == Shows.TABLE:
            self.table.show_rows(looked, self.start, self.rows_shown)
        else:
            book = self.desk.book
            self.list.show_rows(looked, self.start, self.rows_shown, book, self.desk.now())
        self._set_tab_order()

    def _set_tab_order(self) -> None:
        """Down the page: tiles, chart and rows are made at different times."""
        stops: list[QWidget] = [*self.ways.values(), self.kind_button]
        if self.picture.chart is not None:
            stops.append(self.picture.chart)
        stops += [self.table.table, *self.list.stops()]
        follow(stops[0], stops[1:])

    def _ask_kind(self) -> None:
        self.page.turn_to("kind")

    # --- a screenful at a time ----------------------------------------------------------------

    @property
    def way(self) -> str:
        return Shows.LIST if self.looking.only else super().way

    @property
    def start(self) -> int:
        return self.looking.start

    @start.setter
    def start(self, row: int) -> None:
        self.looking.start = row

    @property
    def rows_shown(self) -> int:
        wanted = _LIST_ROWS if self.way == Shows.LIST else _TABLE_ROWS
        return rows_at(self.look.theme.percent, wanted)

    def rows_of(self, way: str) -> int:
        assert self.looked is not None
        if way == Shows.LIST:
            return len(self.looked.listed)
        return len(self.looked.stretches) if way == Shows.TABLE else 0

    # --- doing --------------------------------------------------------------------------------

    @property
    def _starts_at(self) -> time:
        return self.desk.book.settings.day_starts_at

    def _do(self, what: str, record_id: UUID) -> None:
        if what in ("cross_out_told", "bring_back_told"):
            self._turn_told(record_id, is_crossed_out=what == "cross_out_told")
            return
        self.looking.subject = record_id
        if what != "bring_back":
            self.page.turn_to(what)
            return
        reading = self.desk.book.reading(record_id)
        if self.desk.write(self.desk.book.bring_back, record_id) is not None:
            name = reading_name(reading, self._starts_at)
            self.desk.say(_("Brought back: {reading}.").format(reading=name))

    def _turn_told(self, told_id: UUID, *, is_crossed_out: bool) -> None:
        """Cross it out, or bring it back; nothing has to be asked, since either can be undone."""
        told = find_told(self.desk.book, told_id)
        if told is None or told.counts is not is_crossed_out:
            return
        at = self.desk.now().instant if is_crossed_out else None
        if self.desk.write(self.desk.book.replace, replace(told, crossed_out_at=at)) is not None:
            form = _("Crossed out: {what}.") if is_crossed_out else _("Brought back: {what}.")
            self.desk.say(form.format(what=told_name(told, self._starts_at)))
