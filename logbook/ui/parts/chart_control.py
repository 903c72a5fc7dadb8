"""The picture of control tests: where each lies in the range that is printed on its strip pot.

The range is drawn as one band for all tests, so that pots with other ranges can be compared. It
takes no press; what it shows is told beside it in words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from logbook.domain.states import State
from logbook.ui.parts.marks import draw_state
from logbook.ui.theme import BODY, GAP, RADIUS, SMALL, Look
from logbook.wording import _

# How far beyond the range a mark is drawn at most, in heights of the range.
_ROOM = 0.45
_MARK = 17
_LEAST_COLUMN = 30


@dataclass(frozen=True, slots=True)
class PlacedTest:
    """One test: its day in a few letters, and its place (0 lowest, 1 highest of the range)."""

    day: str
    position: float


class ControlChart(QLabel):  # a label, so that a screen reader gives it a role
    """`show_tests` draws them, the oldest at the left; as many of the latest as have room."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._tests: tuple[PlacedTest, ...] = ()
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(_("Picture of the control tests in their range"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.restyle)

    def show_tests(self, tests: Sequence[PlacedTest], words: str) -> None:
        """Draw these; `words` tell a screen reader the same."""
        self._tests = tuple(tests)
        self.setAccessibleDescription(words)
        self.update()

    def restyle(self) -> None:
        """Take colours and text size of the present theme."""
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(300, self._look.theme.pixels(BODY) * 7 + 2 * GAP)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def shown(self) -> tuple[PlacedTest, ...]:
        """The tests that have room."""
        return self._tests[-max(1, int(self._plot().width() // _LEAST_COLUMN)) :]

    def _metrics(self) -> QFontMetrics:
        return QFontMetrics(self._look.font(SMALL, figures=True))

    def _ends(self) -> tuple[str, str]:
        return _("highest"), _("lowest")

    def _plot(self) -> QRectF:
        metrics = self._metrics()
        left = max(metrics.horizontalAdvance(text) for text in self._ends()) + 3 * GAP
        below = metrics.height() + GAP
        half = self._side() / 2  # marks at the edge stay whole and off the words
        return QRectF(self.rect()).adjusted(left, GAP + half, -2 * GAP, -below - half)

    def _side(self) -> float:
        """How large a mark is; it grows less than the text."""
        return _MARK * (1 + (self._look.theme.percent / 100 - 1) * 0.6)

    def _y(self, plot: QRectF, position: float) -> float:
        # A mark far outside stays in sight, at the edge.
        clamped = min(1 + _ROOM, max(-_ROOM, position))
        return plot.bottom() - (clamped + _ROOM) / (1 + 2 * _ROOM) * plot.height()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._look.font(SMALL, figures=True))
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.setBrush(self._look.colour("sheet"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        plot = self._plot()
        self._draw_range(painter, plot)
        self._draw_tests(painter, plot)
        painter.end()

    def _draw_range(self, painter: QPainter, plot: QRectF) -> None:
        highest, lowest = self._y(plot, 1), self._y(plot, 0)
        band = QRectF(plot.left(), highest, plot.width(), lowest - highest)
        painter.fillRect(band, self._look.colour("band"))
        pen = QPen(self._look.colour("band_edge"), 2, Qt.PenStyle.DashLine)
        height = self._metrics().height()
        for text, y in zip(self._ends(), (highest, lowest), strict=True):
            painter.setPen(pen)
            painter.drawLine(int(plot.left()), int(y), int(plot.right()), int(y))
            painter.setPen(self._look.colour("ink"))
            box = QRectF(GAP, y - height / 2, plot.left() - 2 * GAP, height)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)

    def _draw_tests(self, painter: QPainter, plot: QRectF) -> None:
        tests = self.shown()
        if not tests:
            return
        side = self._side()
        column = plot.width() / len(tests)
        metrics = self._metrics()
        free_from = plot.left() - column
        for place, test in enumerate(tests):
            middle = plot.left() + (place + 0.5) * column
            y = self._y(plot, test.position)
            box = QRectF(middle - side / 2, y - side / 2, side, side)
            if 0 <= test.position <= 1:
                draw_state(painter, box, self._look.colour("in_target"), State.IN_TARGET)
            elif test.position > 1:
                draw_state(painter, box, self._look.colour("above"), State.VERY_HIGH)
            else:
                draw_state(painter, box, self._look.colour("below"), State.LOW)
            width = metrics.horizontalAdvance(test.day)
            left = min(max(middle - width / 2, plot.left() - 2 * GAP), self.width() - width - GAP)
            if left > free_from:
                painter.setPen(self._look.colour("ink"))
                words = QRectF(left, plot.bottom() + side / 2 + 2, width + 2, metrics.height())
                painter.drawText(words, Qt.AlignmentFlag.AlignLeft, test.day)
                free_from = left + width + GAP
