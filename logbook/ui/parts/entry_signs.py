"""Small drawn signs beside an entry: a pencil for corrected, a clock for written down later."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from logbook.ui.parts.marks import Sign
from logbook.ui.theme import BODY, Look


def draw_pencil(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A pencil, its point at the lower left."""
    painter.setPen(_pen(box, colour))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    corners = ((0.08, 0.92), (0.16, 0.64), (0.72, 0.08), (0.92, 0.28), (0.36, 0.84))
    painter.drawPolygon(QPolygonF([_at(box, x, y) for x, y in corners]))
    painter.drawLine(QLineF(_at(box, 0.16, 0.64), _at(box, 0.36, 0.84)))


def draw_clock(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A clock at four."""
    painter.setPen(_pen(box, colour))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(box.center(), box.width() * 0.42, box.width() * 0.42)
    painter.drawPolyline(QPolygonF([_at(box, 0.5, 0.22), _at(box, 0.5, 0.52), _at(box, 0.7, 0.64)]))


def _pen(box: QRectF, colour: QColor) -> QPen:
    pen = QPen(colour, max(2.0, box.width() / 10))
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    return pen


def _at(box: QRectF, x: float, y: float) -> QPointF:
    return QPointF(box.left() + box.width() * x, box.top() + box.height() * y)


class EntrySign(QWidget):
    """One sign, a little lower than the words beside it, which say the same."""

    def __init__(self, look: Look, sign: Sign, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._sign = look, sign
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        side = round(self._look.theme.pixels(BODY) * 0.85)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._sign(painter, QRectF(self.rect()).adjusted(2, 2, -2, -2), self._look.colour("ink"))
        painter.end()
