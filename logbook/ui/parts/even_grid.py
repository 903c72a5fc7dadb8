"""Buttons of one width in rows, in as many columns as their words have room for."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize

from logbook.ui.parts.arranged import ArrangedLayout, Boxes, boxes_in_columns
from logbook.ui.theme import GAP


class EvenGrid(ArrangedLayout):
    """At most `most` columns; fewer when the words would not fit on one line of each.

    With `may_wrap` only the longest word has to fit.
    """

    def __init__(self, most: int, *, may_wrap: bool = False) -> None:
        super().__init__()
        self._most, self._may_wrap = most, may_wrap

    def sizeHint(self) -> QSize:
        columns = min(self._most, max(1, len(self._shown())))
        width = columns * self._wanted() + (columns - 1) * GAP
        return QSize(width, self.heightForWidth(width))

    def _wanted(self) -> int:
        if self._may_wrap:
            return self.minimumSize().width()
        return max((item.sizeHint().width() for item in self._shown()), default=0)

    def _columns_at(self, width: int) -> int:
        wanted = self._wanted()
        return max(1, min(self._most, (width + GAP) // (wanted + GAP)))

    def _boxes(self, area: QRect) -> Boxes:
        return boxes_in_columns(self._shown(), self._columns_at(area.width()), area)
