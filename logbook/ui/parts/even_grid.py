"""Buttons of one width in rows, in as many columns as their words have room for."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QMargins, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem

from logbook.ui.theme import GAP


class EvenGrid(QLayout):
    """At most `most` columns; fewer when the words would not fit on one line of each.

    With `may_wrap` only the longest word has to fit.
    """

    def __init__(self, most: int, *, may_wrap: bool = False) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []
        self._most, self._may_wrap = most, may_wrap
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
        boxes = self._boxes(QRect(0, 0, width, 0))
        return max((box.bottom() + 1 for _item, box in boxes), default=0)

    def sizeHint(self) -> QSize:
        columns = min(self._most, max(1, len(self._shown())))
        width = columns * self._wanted() + (columns - 1) * GAP
        return QSize(width, self.heightForWidth(width))

    def minimumSize(self) -> QSize:
        sizes = [item.minimumSize() for item in self._shown()]
        return QSize(
            max((size.width() for size in sizes), default=0),
            max((size.height() for size in sizes), default=0),
        )

    def setGeometry(self, area: QRect) -> None:
        super().setGeometry(area)
        for item, box in list(self._boxes(area)):
            item.setGeometry(box)

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _wanted(self) -> int:
        if self._may_wrap:
            return self.minimumSize().width()
        return max((item.sizeHint().width() for item in self._shown()), default=0)

    def _columns_at(self, width: int) -> int:
        wanted = self._wanted()
        return max(1, min(self._most, (width + GAP) // (wanted + GAP)))

    def _boxes(self, area: QRect) -> Iterator[tuple[QLayoutItem, QRect]]:
        shown = self._shown()
        columns = self._columns_at(area.width())
        width = (area.width() - (columns - 1) * GAP) // columns
        top = area.top()
        for start in range(0, len(shown), columns):
            row = shown[start : start + columns]
            height = max(
                item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height()
                for item in row
            )
            for column, item in enumerate(row):
                left = area.left() + column * (width + GAP)
                yield item, QRect(left, top, width, height)
            top += height + GAP
