"""The first view of *Look back*: which days, shown in which way."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtWidgets import QButtonGroup, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.picture_periods import Span
from logbook.ui.pages.look_back_entry_words import happening_name, reading_name
from logbook.ui.pages.look_back_list import ReadingList, rows_at
from logbook.ui.pages.look_back_looking import Looked, Looking, Shows, look_at
from logbook.ui.pages.look_back_picture import PicturePart, StretchTable
from logbook.ui.pages.look_back_spans import ANY_DATES, SpanTiles
from logbook.ui.pages.look_back_times import TimesTable
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.tab_order import follow
from logbook.ui.parts.tiles import Tile, TileLayout
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, mark
from logbook.wording.numbers import number_text
from logbook.wording.terms import target_kind_text

_SHOWS = {
    Shows.PICTURE: mark("Picture"),
    Shows.TABLE: mark("As a table"),
    Shows.TIMES: mark("By time of day"),
    Shows.LIST: mark("Each reading"),
}
# Rows at small and at large text.
_LIST_ROWS = (4, 4)
_TABLE_ROWS = (5, 4)


class MainView(View):
    """Periods as tiles, four ways to show, and what is shown."""

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        self.looked: Looked | None = None
        self.column.setSpacing(GAP)
        self.periods = SpanTiles(self.look)
        self.periods.chosen.connect(self._choose_span)
        self.ways: dict[Shows, BigButton] = {}
        self._way_group = QButtonGroup(self)
        ways = QWidget()
        tiles = TileLayout(ways, most=len(_SHOWS) + 2, lines=1)
        for shows, text in _SHOWS.items():
            button = Tile(self.look, _(text))
            button.setCheckable(True)
            button.describe(_("How the readings are shown"))
            self.ways[shows] = button
            self._way_group.addButton(button)
            tiles.addWidget(button)
        self._way_group.buttonClicked.connect(self._choose_way)
        self.kind_button = Tile(self.look, "", ButtonKind.OTHER)
        self.kind_button.describe(_("Which times of day are shown"))
        self.kind_button.clicked.connect(self._ask_kind)
        tiles.addWidget(self.kind_button)
        self.repeats_button = Tile(self.look, _("What repeats"), ButtonKind.OTHER)
        self.repeats_button.describe(_("What came up again and again in these days"))
        self.repeats_button.clicked.connect(self._show_repeats)
        tiles.addWidget(self.repeats_button)
        self.empty = Sentence(self.look)
        self.picture = PicturePart(self.look)
        self.table = StretchTable(self.look)
        self.times = TimesTable(self.look)
        self.list = ReadingList(self.look)
        self.list.wants.connect(self._do)
        self._parts = {
            Shows.PICTURE: self.picture,
            Shows.TABLE: self.table,
            Shows.TIMES: self.times,
            Shows.LIST: self.list,
        }
        self._ways_row = ways
        self.column.addWidget(self.periods)
        self.column.addWidget(ways)
        self.column.addWidget(self.empty, 0, Qt.AlignmentFlag.AlignTop)
        for part in self._parts.values():
            self.column.addWidget(part, 1)
        self.look.changed.connect(self._restyled)
        self._tries = 0
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.timeout.connect(self._bring_into_sight)

    def title(self) -> str:
        rows = self.rows_in_all
        if rows <= self.rows_shown:
            return _("How have your readings been?")
        first, last = self.looking.start + 1, min(self.looking.start + self.rows_shown, rows)
        if self.looking.shows is Shows.TABLE:
            form = _("Rows {first} to {last} of {total}, newest first")
        elif self.looked is not None and self.looked.has_listed_happenings:
            form = _("Readings and what happened: {first} to {last} of {total}, newest first")
        else:
            form = _("Readings {first} to {last} of {total}, newest first")
        return form.format(
            first=number_text(first), last=number_text(last), total=number_text(rows)
        )

    # --- showing ------------------------------------------------------------------------------

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            self._read()
        except LogbookError as error:
            self.desk.told(error)

    def _read(self) -> None:
        book, looking = self.desk.book, self.looking
        has_any = self._has_any()
        self.periods.offer(book, self.desk.today(), looking)
        period = looking.period(book, self.desk.today())
        self.looked = look_at(book, period, looking.kind, looking.only)
        self.kind_button.setText(
            _("One time of day") if looking.kind is None else target_kind_text(looking.kind)
        )
        for shows, button in self.ways.items():
            button.setChecked(shows is looking.shows)
        self.periods.setVisible(has_any)
        self._ways_row.setVisible(has_any)
        self._show(has_any=has_any)

    def _has_any(self) -> bool:
        """Whether anything is written down at all."""
        book = self.desk.book
        return book.span() is not None or bool(book.happenings())

    def _show(self, *, has_any: bool) -> None:
        looked, shows = self.looked, self.looking.shows
        assert looked is not None
        has_listed = bool(looked.listed if shows is Shows.LIST else looked.marks.indices)
        self.empty.say("" if has_listed else self._empty_text(has_any=has_any))
        for each, part in self._parts.items():
            part.setVisible(each is shows and has_listed)
        self._turn_to_row(self.looking.start)
        if has_listed:
            self._fill(looked)
        self._set_tab_order()

    def _fill(self, looked: Looked) -> None:
        match self.looking.shows:
            case Shows.PICTURE:
                self.picture.show_looked(looked)
            case Shows.TABLE:
                self.table.show_rows(looked, self.looking.start, self.rows_shown)
            case Shows.TIMES:
                self.times.show_looked(looked, self.desk.book)
            case Shows.LIST:
                self.list.show_rows(
                    looked,
                    self.looking.start,
                    self.rows_shown,
                    self.desk.book.reading,
                    self.desk.now(),
                )

    def _set_tab_order(self) -> None:
        """Down the page: tiles, chart and rows are made at different times."""
        stops: list[QWidget] = [*self.periods.tiles.values(), *self.ways.values(), self.kind_button]
        stops.append(self.repeats_button)
        if self.picture.chart is not None:
            stops.append(self.picture.chart)
        stops += [self.table.table, self.times.table, *self.list.stops()]
        follow(stops[0], stops[1:])

    def _empty_text(self, *, has_any: bool) -> str:
        if not has_any:
            return _("Nothing is written down yet. Your readings will appear here.")
        if self.looking.kind is not None:
            return _("There are no readings for this time of day in these days.")
        return _("There are no readings in these days. Choose other days above.")

    # --- choosing -----------------------------------------------------------------------------

    def _choose_span(self, name: str) -> None:
        if name == ANY_DATES:
            self.page.turn_to("days")
            return
        self.looking.show_all()
        self.looking.span, self.looking.days, self.looking.start = Span(name), None, 0
        self.refresh(None)
        self.page.update_head()
        self.desk.say("")
        self._settle_soon()

    def _choose_way(self, button: BigButton) -> None:
        self.looking.show_all()
        self.looking.shows = next(shows for shows, each in self.ways.items() if each is button)
        self.looking.start = 0
        self.refresh(None)
        self.page.update_head()
        self.desk.say("")
        self._settle_soon()

    def _ask_kind(self) -> None:
        self.looking.show_all()
        self.page.turn_to("kind")

    def _show_repeats(self) -> None:
        self.looking.show_all()
        self.page.turn_to("repeats")

    # --- a screenful at a time ----------------------------------------------------------------

    @property
    def rows_shown(self) -> int:
        """How many rows of list or table are shown at once."""
        wanted = _LIST_ROWS if self.looking.shows is Shows.LIST else _TABLE_ROWS
        return rows_at(self.look.theme.percent, wanted)

    @property
    def rows_in_all(self) -> int:
        """How many rows there are."""
        if self.looked is None:
            return 0
        match self.looking.shows:
            case Shows.LIST:
                return len(self.looked.listed)
            case Shows.TABLE:
                return len(self.looked.stretches)
            case _:
                return 0

    @property
    def has_older(self) -> bool:
        """Whether there are rows after those that are shown."""
        return self.looking.start + self.rows_shown < self.rows_in_all

    @property
    def has_newer(self) -> bool:
        """Whether there are rows before those that are shown."""
        return self.looking.start > 0

    def turn_rows(self, direction: int) -> None:
        """Show the next or the previous screenful."""
        self.looking.start += direction * self.rows_shown
        self._show(has_any=True)
        self.page.update_head()
        self.desk.say("")
        self._settle_soon()

    def _settle_soon(self) -> None:
        self._tries = 5
        self._settle.start(0)

    def _bring_into_sight(self) -> None:
        """With large text the tiles fill the window: after a choice show what was chosen."""
        part, area = self._parts[self.looking.shows], self.page.scrolled.area
        top = part.mapTo(self.page.scrolled.content, QPoint(0, 0)).y()
        bar, room = area.verticalScrollBar(), area.viewport().height()
        if self._tries and bar.maximum() + room < self.page.scrolled.content.heightForWidth(
            area.viewport().width()
        ):
            self._tries -= 1  # the page is not laid out anew yet
            self._settle.start(0)
            return
        fits = top >= bar.value() and top + min(part.height(), room) <= bar.value() + room
        if part.isVisible() and not fits:
            bar.setValue(top)

    def _turn_to_row(self, start: int) -> None:
        last = max(0, (self.rows_in_all - 1) // self.rows_shown * self.rows_shown)
        self.looking.start = max(0, min(start, last))

    def _restyled(self) -> None:
        # The rows are made for one text size.
        if self.isVisible() and self.looked is not None:
            self._show(has_any=self._has_any())
            self.page.update_head()

    # --- doing --------------------------------------------------------------------------------

    def _do(self, what: str, record_id: UUID) -> None:
        if what in ("cross_out_happening", "bring_back_happening"):
            self._turn_happening(record_id, is_crossed_out=what == "cross_out_happening")
            return
        self.looking.subject = record_id
        if what != "bring_back":
            self.page.turn_to(what)
            return
        reading = self.desk.book.reading(record_id)
        if self.desk.write(self.desk.book.bring_back, record_id) is not None:
            self.desk.say(_("Brought back: {reading}.").format(reading=reading_name(reading)))

    def _turn_happening(self, happening_id: UUID, *, is_crossed_out: bool) -> None:
        """Cross it out, or bring it back; nothing has to be asked, since either can be undone."""
        book = self.desk.book
        happening = next((one for one in book.happenings() if one.id == happening_id), None)
        if happening is None or happening.counts is not is_crossed_out:
            return
        at = self.desk.now().instant if is_crossed_out else None
        if self.desk.write(book.replace, replace(happening, crossed_out_at=at)) is not None:
            form = _("Crossed out: {what}.") if is_crossed_out else _("Brought back: {what}.")
            self.desk.say(form.format(what=happening_name(happening)))
