"""Parts side by side for as long as there is room, then on the next line: nothing is ever cut."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

from logbook.ui.theme import GAP


class Flow(QLayout):
    """Items keep their wanted width; one wider than a whole line gets the line."""

    def __init__(self, parent: QWidget | None = None, gap: int = GAP) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
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
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return max(
            (box.bottom() + 1 for _item, box in self._boxes(QRect(0, 0, width, 0))), default=0
        )

    def sizeHint(self) -> QSize:
        sizes = [item.sizeHint() for item in self._shown()]
        width = sum(size.width() for size in sizes) + self._gap * max(0, len(sizes) - 1)
        return QSize(width, max((size.height() for size in sizes), default=0))

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

    def _boxes(self, area: QRect) -> Iterator[tuple[QLayoutItem, QRect]]:
        line: list[tuple[QLayoutItem, QSize]] = []
        used, top = 0, area.top()
        for item in self._shown():
            wanted = item.sizeHint()
            width = min(wanted.width(), max(area.width(), item.minimumSize().width()))
            height = item.heightForWidth(width) if item.hasHeightForWidth() else wanted.height()
            if line and used + self._gap + width > area.width():
                yield from self._place(line, area.left(), top)
                top += max(size.height() for _item, size in line) + self._gap
                line, used = [], 0
            used += width + (self._gap if line else 0)
            line.append((item, QSize(width, height)))
        yield from self._place(line, area.left(), top)

    def _place(
        self, line: list[tuple[QLayoutItem, QSize]], left: int, top: int
    ) -> Iterator[tuple[QLayoutItem, QRect]]:
        height = max((size.height() for _item, size in line), default=0)
        for item, size in line:
            yield item, QRect(QPoint(left, top), QSize(size.width(), height))
            left += size.width() + self._gap
