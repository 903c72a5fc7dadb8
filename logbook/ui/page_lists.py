"""What stands beside or above every page: the list of pages, or what the simple page has instead.

At the left in small text, in a row above in large text; the name of the person on top where several
keep logs here. Which page is shown is the window's.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout

from logbook.ui.desk import Desk
from logbook.ui.parts.marks import Sign
from logbook.ui.parts.page_list import PageList
from logbook.ui.parts.simple_row import PersonStrip, SimpleRow
from logbook.ui.theme import ROW_FROM_PERCENT
from logbook.wording import _


class PageLists:
    """Their widgets; `arrange` shows those that are wanted now."""

    def __init__(self, desk: Desk, entries: Sequence[tuple[str, str, Sign | None]]) -> None:
        self._desk = desk
        self.side = PageList(desk.look, entries, is_row=False)
        # For large text: one button that opens the list as a page of its own.
        self.row = PageList(desk.look, [("pages", _("Pages"), None)], is_row=True)
        self.simple, self.person = SimpleRow(desk.look), PersonStrip(desk.look)
        self.both = (self.side, self.row)

    def add_above(self, column: QVBoxLayout) -> None:
        """Put what stands above the page into its column."""
        for part in (self.person, self.row, self.simple):
            column.addWidget(part)

    def show_chosen(self, name: str) -> None:
        """Mark the page that is shown."""
        for each in self.both:
            each.show_chosen(name)

    def show_waiting(self, text: str) -> None:
        """Name what waits for the person; empty for nothing."""
        for each in (*self.both, self.simple):
            each.show_waiting(text)

    def arrange(self, *, is_alone: bool) -> None:
        """Show what is wanted at this text size; nothing of it where a page fills the screen."""
        is_row = self._desk.look.theme.percent >= ROW_FROM_PERCENT
        is_simple = self._desk.is_simple
        self.side.setVisible(not (is_row or is_simple or is_alone))
        self.row.setVisible(is_row and not (is_simple or is_alone))
        self.simple.setVisible(is_simple and not is_alone)
        self.person.show_person(self._desk.person_in_sight)
