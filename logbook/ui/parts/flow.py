"""Parts side by side for as long as there is room, then on the next line: nothing is ever cut."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayoutItem, QWidget

from logbook.ui.parts.arranged import ArrangedLayout, Boxes
from logbook.ui.theme import GAP


class Flow(ArrangedLayout):
    """Items keep their wanted width; one wider than a whole line gets the line."""

    def __init__(self, parent: QWidget | None = None, gap: int = GAP) -> None:
        super().__init__(parent)
        self._gap = gap

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def sizeHint(self) -> QSize:
        sizes = [item.sizeHint() for item in self._shown()]
        width = sum(size.width() for size in sizes) + self._gap * max(0, len(sizes) - 1)
        return QSize(width, max((size.height() for size in sizes), default=0))

    def _boxes(self, area: QRect) -> Boxes:
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

    def _place(self, line: list[tuple[QLayoutItem, QSize]], left: int, top: int) -> Boxes:
        height = max((size.height() for _item, size in line), default=0)
        for item, size in line:
            yield item, QRect(QPoint(left, top), QSize(size.width(), height))
            left += size.width() + self._gap
