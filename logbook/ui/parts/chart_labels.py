"""The words above the picture of readings: the unit, what changed, and stretches that were unusual.

Where two would run into each other they take another line; where there is no line left, the mark in
the picture stays without words, and the table tells it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from logbook.ui.theme import SMALL, Look

_MOST_LINES = 3
_PADDING = 6


@dataclass(frozen=True, slots=True)
class Label:
    """Words over the minutes `first` to `end`; `is_shaded` as the stretch below them is.

    With `is_centred` they stand over the middle of them, and nothing leads down.
    """

    first: float
    end: float
    text: str
    is_shaded: bool = False
    is_centred: bool = False


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """Where a label came to lie: pixels from the left, its width, and on which line."""

    label: Label
    left: int
    width: int
    line: int


class ChartLabels(QWidget):
    """`show_labels` gives it the words, `use_room` tells it where the picture lies below it."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._unit = ""
        self._labels: tuple[Label, ...] = ()
        self._left, self._room, self._first, self._minutes = 0, 1, 0.0, 1.0
        self.placed: tuple[PlacedLabel, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_labels(self, unit: str, labels: Sequence[Label]) -> None:
        """The unit of the axis, and the labels in order of time."""
        self._unit, self._labels = unit, tuple(labels)
        self._place()

    def use_room(self, left: int, room: int, first: float, end: float) -> None:
        """The picture begins at `left` and is `room` pixels wide, from minute to minute."""
        self._left, self._room, self._first = left, max(1, room), first
        self._minutes = max(1.0, end - first)
        self._place()

    @property
    def without_words(self) -> int:
        """How many labels found no room."""
        return len(self._labels) - len(self.placed)

    def _place(self) -> None:
        metrics = QFontMetrics(self._look.font(SMALL))
        right = self._left + self._room
        free_from = [self._left - 1] * _MOST_LINES
        placed = []
        for label in self._labels:
            width = metrics.horizontalAdvance(label.text) + 2 * _PADDING
            left = min(self._wanted_left(label, width), right - width)
            line = next((n for n, end in enumerate(free_from) if left > end), None)
            if line is None or width > self._room:
                continue
            free_from[line] = left + width + 4
            placed.append(PlacedLabel(label, left, width, line))
        self.placed = tuple(placed)
        lines = max([1, *(each.line + 1 for each in placed)])
        self.setFixedHeight(lines * self._line_height() + 2)
        self.update()

    def _wanted_left(self, label: Label, width: int) -> int:
        if not label.is_centred:
            return self._pixel(label.first)
        middle = (self._pixel(label.first) + self._pixel(label.end)) // 2
        return max(self._left, middle - width // 2)

    def _pixel(self, minute: float) -> int:
        share = (max(minute, self._first) - self._first) / self._minutes
        return self._left + round(share * self._room)

    def _line_height(self) -> int:
        return QFontMetrics(self._look.font(SMALL)).height() + 4

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("sheet"))
        painter.setFont(self._look.font(SMALL))
        height = self._line_height()
        painter.setPen(self._look.colour("quiet_ink"))
        unit_box = QRectF(_PADDING, 0, self._left + self._room, height)
        painter.drawText(unit_box, Qt.AlignmentFlag.AlignVCenter, self._unit)
        lines = max([1, *(each.line + 1 for each in self.placed)])
        painter.setPen(QPen(self._look.colour("ink"), 1))
        for each in self.placed:
            if each.line and not each.label.is_shaded and not each.label.is_centred:
                # Down to its line in the picture, behind the words that lie between.
                x = self._pixel(each.label.first)
                painter.drawLine(x, (lines - each.line) * height - 2, x, self.height())
        for each in self.placed:
            box = QRectF(each.left, (lines - 1 - each.line) * height, each.width, height - 2)
            back = "other_back" if each.label.is_shaded else "sheet"
            painter.fillRect(box, self._look.colour(back))
            painter.setPen(self._look.colour("other_ink" if each.label.is_shaded else "ink"))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, each.label.text)
        painter.end()
