"""Tiles of one width side by side, as many in a line as can show their words whole."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QLayoutItem, QWidget

from logbook.ui.parts.arranged import ArrangedLayout, Boxes, boxes_in_columns
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.marks import Sign
from logbook.ui.theme import GAP, Look


class Tile(BigButton):
    """A button that may be as narrow as its longest word and as low as one line."""

    def __init__(
        self, look: Look, text: str, kind: ButtonKind = ButtonKind.TILE, *, sign: Sign | None = None
    ) -> None:
        super().__init__(look, text, kind, sign=sign)

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self.least_height())

    def sizeHint(self) -> QSize:
        width = self.minimumSizeHint().width()
        return QSize(width, self.heightForWidth(max(width, self.width())))

    def wanted_width(self, lines: int) -> int:
        """The width at which the words stand on at most so many lines."""
        width = self.minimumSizeHint().width()
        most = super().sizeHint().width()
        height = QFontMetrics(self.font()).lineSpacing() * lines + 2 * GAP + 2
        while width < most and self.heightForWidth(width) > max(height, self.least_height()):
            width += GAP
        return width


class TileLayout(ArrangedLayout):
    """At most `most` in a line; fewer when a word, or more than `lines` lines, would not fit."""

    def __init__(self, parent: QWidget | None = None, *, most: int, lines: int = 2) -> None:
        super().__init__(parent)
        self._most, self._lines = most, lines

    def sizeHint(self) -> QSize:
        least = self.minimumSize()
        return QSize(least.width() * min(self._most, max(1, len(self._items))), least.height())

    def columns_for(self, width: int) -> int:
        """How many tiles stand in a line of this width."""
        least = max((self._wanted(item) for item in self._shown()), default=1)
        return max(1, min(self._most, (width + GAP) // (least + GAP)))

    def _wanted(self, item: QLayoutItem) -> int:
        widget = item.widget()
        if isinstance(widget, Tile):
            return widget.wanted_width(self._lines)
        return item.minimumSize().width()

    def _boxes(self, area: QRect) -> Boxes:
        return boxes_in_columns(self._shown(), self.columns_for(area.width()), area)
