"""What the layouts of this folder share: they keep items and put each into its box.

A layout says in `_boxes` where each item that is shown goes at a width; its height follows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QMargins, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

from logbook.ui.theme import GAP

Boxes = Iterator[tuple[QLayoutItem, QRect]]


class ArrangedLayout(QLayout):
    """The base of layouts whose height depends on their width."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
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

    def _boxes(self, area: QRect) -> Boxes:
        """Each item that is shown with its box in `area`, whose height may be 0."""
        raise NotImplementedError


def boxes_in_columns(shown: Sequence[QLayoutItem], columns: int, area: QRect) -> Boxes:
    """Boxes of one width, row by row; each row is as high as its highest item."""
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
