"""What stands beside or above every page: the list of pages, or what the simple page has instead.

At the left in small text, in a row above in large text; the name of the person in it where several
keep logs here. Which page is shown is the window's.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from logbook.ui.desk import Desk
from logbook.ui.parts.marks import Sign
from logbook.ui.parts.page_list import PageList, PersonButton
from logbook.ui.parts.simple_row import SimpleList
from logbook.ui.theme import ROW_FROM_PERCENT
from logbook.wording import _


class PageLists:
    """Their widgets; `arrange` shows those that are wanted now."""

    def __init__(self, desk: Desk, entries: Sequence[tuple[str, str, Sign | None]]) -> None:
        self._desk = desk
        self.side = PageList(desk.look, entries, is_row=False)
        # For large text: one button that opens the list as a page of its own.
        self.row = PageList(desk.look, [("pages", _("Pages"), None)], is_row=True)
        self.both = (self.side, self.row)
        self.simple = tuple(SimpleList(desk.look, is_row=is_row) for is_row in (False, True))

    @property
    def people(self) -> list[PersonButton]:
        """The name, wherever it stands."""
        return [*(each.person for each in self.both), *(each.person for each in self.simple)]

    def add_beside(self, row: QHBoxLayout) -> None:
        """Put what stands at the left of the page into its row."""
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for part in (self.side, self.simple[0]):
            column.addWidget(part)
        row.addLayout(column)

    def add_above(self, column: QVBoxLayout) -> None:
        """Put what stands above the page into its column."""
        for part in (self.row, self.simple[1]):
            column.addWidget(part)

    def show_chosen(self, name: str) -> None:
        """Mark the page that is shown."""
        for each in self.both:
            each.show_chosen(name)

    def show_waiting(self, text: str) -> None:
        """Name what waits for the person; empty for nothing."""
        for each in self.both:
            each.show_waiting(text)
        for simple in self.simple:
            simple.show_waiting(text)

    def arrange(self, *, is_alone: bool) -> None:
        """Show what is wanted at this text size; nothing of it where a page fills the screen."""
        percent, is_simple = self._desk.look.theme.percent, self._desk.is_simple
        name = self._desk.person_in_sight
        for is_above in (False, True):
            is_list_here = is_above is (percent >= ROW_FROM_PERCENT)
            # The simple list is narrow enough for the left in larger text too.
            is_simple_here = is_above is (percent > ROW_FROM_PERCENT)
            self.both[is_above].setVisible(is_list_here and not (is_simple or is_alone))
            self.simple[is_above].setVisible(is_simple_here and is_simple and not is_alone)
        for button in self.people:
            button.show_person(name)
