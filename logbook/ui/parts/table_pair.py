"""Two tables to read, side by side or, where text is large, below each other."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QBoxLayout, QWidget

from logbook.ui.parts.table import ReadTable
from logbook.ui.theme import GAP, Look


class TablePair(QWidget):
    """`first` and `second`, each with its name; below each other from `stacked_from` percent on."""

    def __init__(
        self,
        look: Look,
        first: str,
        second: str,
        *,
        stacked_from: int,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._look, self._stacked_from = look, stacked_from
        self.first, self.second = ReadTable(look, first), ReadTable(look, second)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(2 * GAP)
        for table in (self.first, self.second):
            self._row.addWidget(table, 1, Qt.AlignmentFlag.AlignTop)
        look.changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Lie as the size of text asks."""
        is_stacked = self._look.theme.percent >= self._stacked_from
        directions = QBoxLayout.Direction
        self._row.setDirection(directions.TopToBottom if is_stacked else directions.LeftToRight)
        for table in (self.first, self.second):
            top = Qt.AlignmentFlag(0) if is_stacked else Qt.AlignmentFlag.AlignTop
            self._row.setAlignment(table, top)
