"""What the views of *Look back* share: ways to show the same thing as tiles, a screenful at a time.

A picture is never the only way: the same stands in a table and in words, one press away.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtWidgets import QButtonGroup, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.ui.pages.look_back_list import rows_at
from logbook.ui.pages.look_back_looking import Looked, Looking
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.tiles import Tile, TileLayout
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.dates import period_text


class WaysView(View):
    """A row of tiles, what the chosen one shows, and words in its place when there is nothing.

    A subclass has a `name`, adds its ways with `add_way` and then calls `lay_out_ways`; it tells in
    `fill` what a way shows, and in `rows_of` how many rows a way has that is shown in screenfuls.
    """

    back = "main"
    name = ""
    # Whether it is said above what days these are.
    says_days = False
    # Rows at small and at large text.
    row_counts: Sequence[int] = (5, 4)

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        self.looked: Looked | None = None
        self.column.setSpacing(GAP)
        self.ways: dict[str, BigButton] = {}
        self.parts: dict[str, QWidget] = {}
        self._first_row = 0
        self._way_group = QButtonGroup(self)
        self.ways_row = QWidget()
        self._tiles = TileLayout(self.ways_row, most=6, lines=1)
        self.days = Sentence(self.look)
        self.days.hide()
        self.empty = Sentence(self.look)
        self._tries = 0
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.timeout.connect(self._bring_into_sight)

    # --- making -------------------------------------------------------------------------------

    def add_way(self, name: str, text: str, part: QWidget) -> None:
        """One way to show it, and the part that does."""
        button = Tile(self.look, text)
        button.setCheckable(True)
        button.describe(_("How it is shown"))
        self.ways[name], self.parts[name] = button, part
        self._way_group.addButton(button)
        self._tiles.addWidget(button)

    def add_tile(self, text: str, about: str) -> BigButton:
        """Another button at the end of the row."""
        button = Tile(self.look, text, ButtonKind.OTHER)
        button.describe(about)
        self._tiles.addWidget(button)
        return button

    def lay_out_ways(self) -> None:
        """Everything is added."""
        self._way_group.buttonClicked.connect(self._choose_way)
        self.column.addWidget(self.ways_row)
        self.column.addWidget(self.days, 0, Qt.AlignmentFlag.AlignTop)
        self.column.addWidget(self.empty, 0, Qt.AlignmentFlag.AlignTop)
        for part in self.parts.values():
            self.column.addWidget(part, 1)
        # It holds the rest when no part is shown.
        self.column.addStretch(0)
        self.look.changed.connect(self._restyled)

    # --- what a subclass tells ----------------------------------------------------------------

    def read(self) -> Looked:
        """What is looked at."""
        return self.looking.look(self.desk.book, self.desk.today())

    def has_way(self, way: str) -> bool:
        """Whether this way has anything to show, so that its tile is offered."""
        return True

    def empty_text(self, way: str) -> str:
        """Words in place of a way that has nothing to show; empty when it has."""
        return ""

    def fill(self, way: str) -> None:
        """Show what is looked at in this way."""
        raise NotImplementedError

    def rows_of(self, way: str) -> int:
        """How many rows there are; 0 for a way that is not shown in screenfuls."""
        return 0

    # --- showing ------------------------------------------------------------------------------

    @property
    def way(self) -> str:
        """The way that is chosen, the first one until another is."""
        chosen = self.looking.ways.get(self.name, "")
        is_there = chosen in self.ways and self.ways[chosen].isVisibleTo(self)
        return chosen if is_there else next(iter(self.ways))

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            self.looked = self.read()
            if self.says_days:
                self.days.say(period_text(self.looked.period, with_days=True))
            for name, button in self.ways.items():
                button.setVisible(self.has_way(name))
            self.show_way()
        except LogbookError as error:
            self.desk.told(error)

    def show_way(self) -> None:
        """Show the chosen way, or words in its place."""
        way = self.way
        for name, button in self.ways.items():
            button.setChecked(name == way)
        words = self.empty_text(way)
        self.empty.say(words)
        for name, part in self.parts.items():
            part.setVisible(name == way and not words)
        self._turn_to_row(self.start)
        if not words:
            self.fill(way)

    def turn_to_way(self, way: str) -> None:
        """Choose a way, as a press on its tile does."""
        self.looking.ways[self.name] = way
        self.start = 0
        self.refresh(None)
        self.page.update_head()
        self.desk.say("")
        self.settle_soon()

    def _choose_way(self, button: BigButton) -> None:
        self.turn_to_way(next(name for name, each in self.ways.items() if each is button))

    def _restyled(self) -> None:
        # The rows are made for one text size.
        if self.isVisible() and self.looked is not None:
            self.show_way()
            self.page.update_head()

    # --- a screenful at a time ----------------------------------------------------------------

    @property
    def start(self) -> int:
        """The first row that is shown."""
        return self._first_row

    @start.setter
    def start(self, row: int) -> None:
        self._first_row = row

    @property
    def rows_shown(self) -> int:
        """How many rows are shown at once."""
        return rows_at(self.look.theme.percent, self.row_counts)

    @property
    def rows_in_all(self) -> int:
        """How many rows there are."""
        return 0 if self.looked is None else self.rows_of(self.way)

    @property
    def has_older(self) -> bool:
        """Whether there are rows after those that are shown."""
        return self.start + self.rows_shown < self.rows_in_all

    @property
    def has_newer(self) -> bool:
        """Whether there are rows before those that are shown."""
        return self.start > 0

    def turn_rows(self, direction: int) -> None:
        """Show the next or the previous screenful."""
        self.start += direction * self.rows_shown
        self.show_way()
        self.page.update_head()
        self.desk.say("")
        self.settle_soon()

    def _turn_to_row(self, start: int) -> None:
        last = max(0, (self.rows_in_all - 1) // self.rows_shown * self.rows_shown)
        self.start = max(0, min(start, last))

    # --- in sight -----------------------------------------------------------------------------

    def settle_soon(self) -> None:
        """Once the page is laid out anew, bring what was chosen in sight."""
        self._tries = 5
        self._settle.start(0)

    def _bring_into_sight(self) -> None:
        """With large text the tiles fill the window: after a choice show what was chosen."""
        part, area = self.parts[self.way], self.page.scrolled.area
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


class SaidLines(QWidget):
    """Sentences one below the other, as wide as the page."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)
        self._lines: list[Sentence] = []

    def say(self, lines: Sequence[str]) -> None:
        """Show these."""
        while len(self._lines) < len(lines):
            line = Sentence(self._look)
            self._lines.append(line)
            self._column.addWidget(line)
        for place, line in enumerate(self._lines):
            line.say(lines[place] if place < len(lines) else "")
