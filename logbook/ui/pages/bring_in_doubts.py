"""The part of the preview that names readings worth a second look: how many, and some at a time."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.ui.pages.look_back_list import rows_at
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.table import ReadTable
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.import_doubts import rows_shown_text

# At small and at large text.
_ROWS_SHOWN = (5, 3)


class DoubtList(QWidget):
    """A sentence, the first rows below it, and a button that leads through the others."""

    def __init__(self, look: Look, name: str) -> None:
        super().__init__()
        self._look = look
        self._facts: Sequence[Any] = ()
        self._cells: Callable[[Any], list[str]] | None = None
        self._heads: list[str] = []
        self._first = 0
        self.told = Sentence(look)
        self.table = ReadTable(look, name)
        self.place = Sentence(look)
        self.more = BigButton(look, "")
        self.more.clicked.connect(self._turn)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for part in (self.told, self.table, self.place, self.more):
            column.addWidget(part)
        self.hide()

    def show_facts(
        self,
        text: str,
        heads: list[str],
        facts: Sequence[Any],
        cells: Callable[[Any], list[str]],
    ) -> None:
        """Show these from the first on; without any, nothing is shown."""
        self._heads, self._facts, self._cells, self._first = heads, facts, cells, 0
        self.told.say(text)
        self._show()

    @property
    def _room(self) -> int:
        return rows_at(self._look.theme.percent, _ROWS_SHOWN)

    def _turn(self) -> None:
        self._first += self._room
        if self._first >= len(self._facts):
            self._first = 0
        self._show()

    def _show(self) -> None:
        self.setVisible(bool(self._facts))
        if not self._facts or self._cells is None:
            return
        shown = self._facts[self._first : self._first + self._room]
        self.table.show_rows(self._heads, [self._cells(fact) for fact in shown])
        last = self._first + len(shown)
        self.place.say(rows_shown_text(self._first + 1, last, len(self._facts)))
        is_last = last >= len(self._facts)
        self.more.setText(_("Show the first rows again") if is_last else _("Show more rows"))
        self.more.setVisible(len(self._facts) > self._room)
