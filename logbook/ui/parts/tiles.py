"""Tiles of one width side by side, as many in a line as can show their words whole."""

from __future__ import annotations

from PySide6.QtCore import QMargins, QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

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


class TileLayout(QLayout):
    """At most `most` in a line; fewer when a word, or more than `lines` lines, would not fit."""

    def __init__(self, parent: QWidget | None = None, *, most: int, lines: int = 2) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._most, self._lines = most, lines
        self.setContentsMargins(QMargins(0, 0, 0, 0))

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    # Qt asks beyond the end, which is how it learns that there is no more.
    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation.Horizontal

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._arrange(QRect(0, 0, width, 0), is_moving=False)

    def minimumSize(self) -> QSize:
        sizes = [item.minimumSize() for item in self._shown()]
        return QSize(
            max((size.width() for size in sizes), default=0),
            max((size.height() for size in sizes), default=0),
        )

    def sizeHint(self) -> QSize:
        least = self.minimumSize()
        return QSize(least.width() * min(self._most, max(1, len(self._items))), least.height())

    def setGeometry(self, area: QRect) -> None:
        super().setGeometry(area)
        self._arrange(area, is_moving=True)

    def columns_for(self, width: int) -> int:
        """How many tiles stand in a line of this width."""
        least = max((self._wanted(item) for item in self._shown()), default=1)
        return max(1, min(self._most, (width + GAP) // (least + GAP)))

    def _wanted(self, item: QLayoutItem) -> int:
        widget = item.widget()
        if isinstance(widget, Tile):
            return widget.wanted_width(self._lines)
        return item.minimumSize().width()

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _arrange(self, area: QRect, *, is_moving: bool) -> int:
        shown = self._shown()
        columns = self.columns_for(area.width())
        width = (area.width() - GAP * (columns - 1)) // columns
        top = area.top()
        for start in range(0, len(shown), columns):
            line = shown[start : start + columns]
            height = max(
                item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height()
                for item in line
            )
            for place, item in enumerate(line):
                if is_moving:
                    left = area.left() + place * (width + GAP)
                    item.setGeometry(QRect(left, top, width, height))
            top += height + GAP
        return max(0, top - GAP - area.top())
