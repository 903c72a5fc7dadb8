"""Signs drawn as paths: states, tick, arrows, the pages' own signs. Never characters of a font.

Each takes a painter, the square to draw in and a colour. What a state is called is said beside it.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from logbook.domain.states import State
from logbook.ui.theme import Look

Sign = Callable[[QPainter, QRectF, QColor], None]

STATE_COLOURS = {
    State.VERY_LOW: "below",
    State.LOW: "below",
    State.BELOW_TARGET: "below",
    State.IN_TARGET: "in_target",
    State.ABOVE_TARGET: "above",
    State.VERY_HIGH: "above",
    State.NOT_JUDGED: "quiet_ink",
}


def draw_state(painter: QPainter, box: QRectF, colour: QColor, state: State) -> None:
    """The shape of a state: solid and hollow triangles, a ring; nothing for "not judged"."""
    line = max(2.0, box.width() / 9)
    inner = box.adjusted(line, line, -line, -line)
    painter.save()
    painter.setPen(QPen(colour, line, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    match state:
        case State.VERY_LOW:
            painter.setBrush(colour)
            half = inner.height() / 2
            for top in (inner.top(), inner.top() + half):
                part = QRectF(inner.left(), top + line / 2, inner.width(), half - line)
                _draw_triangle(painter, part, points_down=True)
        case State.LOW:
            painter.setBrush(colour)
            _draw_triangle(painter, inner, points_down=True)
        case State.BELOW_TARGET:
            _draw_triangle(painter, inner, points_down=True)
        case State.IN_TARGET:
            painter.drawEllipse(inner)
        case State.ABOVE_TARGET:
            _draw_triangle(painter, inner, points_down=False)
        case State.VERY_HIGH:
            painter.setBrush(colour)
            _draw_triangle(painter, inner, points_down=False)
        case State.NOT_JUDGED:
            pass
    painter.restore()


def draw_tick(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A tick: this one is chosen."""
    _stroke(painter, colour, box.width() / 6, ((0.1, 0.55), (0.4, 0.85), (0.92, 0.15)), box)


def draw_up(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """An arrow up."""
    _stroke(painter, colour, box.width() / 7, ((0.12, 0.62), (0.5, 0.24), (0.88, 0.62)), box)


def draw_down(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """An arrow down."""
    _stroke(painter, colour, box.width() / 7, ((0.12, 0.38), (0.5, 0.76), (0.88, 0.38)), box)


def draw_drop(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A drop with a line under it: write down."""
    path = QPainterPath(_at(box, 0.5, 0.02))
    path.cubicTo(_at(box, 0.62, 0.28), _at(box, 0.82, 0.4), _at(box, 0.82, 0.58))
    path.cubicTo(_at(box, 0.82, 0.92), _at(box, 0.18, 0.92), _at(box, 0.18, 0.58))
    path.cubicTo(_at(box, 0.18, 0.4), _at(box, 0.38, 0.28), _at(box, 0.5, 0.02))
    _outline(painter, colour, box, path)
    _stroke(painter, colour, box.width() / 10, ((0.1, 1.0), (0.9, 1.0)), box)


def draw_fingers(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """Four fingertips: fingers."""
    path = QPainterPath()
    for left, top in ((0.02, 0.3), (0.27, 0.1), (0.52, 0.05), (0.77, 0.22)):
        path.moveTo(_at(box, left, 1.0))
        path.lineTo(_at(box, left, top + 0.1))
        path.cubicTo(
            _at(box, left, top - 0.05),
            _at(box, left + 0.2, top - 0.05),
            _at(box, left + 0.2, top + 0.1),
        )
        path.lineTo(_at(box, left + 0.2, 1.0))
    _outline(painter, colour, box, path)


def draw_readings(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """Points between two lines: look back."""
    _stroke(painter, colour, box.width() / 12, ((0.02, 0.98), (0.98, 0.98)), box)
    _stroke(painter, colour, box.width() / 12, ((0.02, 0.98), (0.02, 0.02)), box)
    painter.save()
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(colour)
    for x, y in ((0.22, 0.62), (0.44, 0.3), (0.66, 0.55), (0.88, 0.2)):
        painter.drawEllipse(_at(box, x, y), box.width() / 10, box.width() / 10)
    painter.restore()


def draw_sheet(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A sheet with lines: visit."""
    path = QPainterPath()
    path.addRoundedRect(QRectF(_at(box, 0.12, 0.02), _at(box, 0.88, 0.98)), 3, 3)
    for y in (0.28, 0.5, 0.72):
        path.moveTo(_at(box, 0.3, y))
        path.lineTo(_at(box, 0.7, y))
    _outline(painter, colour, box, path)


def draw_target(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A ring in a ring: my plan."""
    path = QPainterPath()
    path.addEllipse(box.center(), box.width() * 0.46, box.width() * 0.46)
    path.addEllipse(box.center(), box.width() * 0.2, box.width() * 0.2)
    _outline(painter, colour, box, path)


def draw_case(painter: QPainter, box: QRectF, colour: QColor) -> None:
    """A small case with a handle: the kit."""
    path = QPainterPath()
    body = QRectF(
        box.left() + box.width() * 0.06,
        box.top() + box.height() * 0.34,
        box.width() * 0.88,
        box.height() * 0.56,
    )
    path.addRoundedRect(body, box.width() * 0.1, box.width() * 0.1)
    middle = body.center().x()
    path.moveTo(middle - box.width() * 0.2, body.top())
    path.lineTo(middle - box.width() * 0.2, box.top() + box.height() * 0.14)
    path.lineTo(middle + box.width() * 0.2, box.top() + box.height() * 0.14)
    path.lineTo(middle + box.width() * 0.2, body.top())
    path.moveTo(body.left(), body.center().y())
    path.lineTo(body.right(), body.center().y())
    _outline(painter, colour, box, path)


class StateMark(QWidget):
    """The shape of one state, as high as the words beside it."""

    def __init__(self, look: Look, points: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._points, self._state = look, points, State.NOT_JUDGED
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.restyle)

    def show_state(self, state: State) -> None:
        """Show this state's shape; nothing for one that is not judged."""
        self._state = state
        self.setVisible(state is not State.NOT_JUDGED)
        self.update()

    def restyle(self) -> None:
        """Take the size and colour of the present theme."""
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        side = round(self._look.theme.pixels(self._points) * 1.1)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colour = self._look.colour(STATE_COLOURS[self._state])
        draw_state(painter, QRectF(self.rect()), colour, self._state)
        painter.end()


def _at(box: QRectF, x: float, y: float) -> QPointF:
    return QPointF(box.left() + box.width() * x, box.top() + box.height() * y)


def _draw_triangle(painter: QPainter, box: QRectF, *, points_down: bool) -> None:
    base, tip = (box.top(), box.bottom()) if points_down else (box.bottom(), box.top())
    corners = [
        QPointF(box.left(), base),
        QPointF(box.right(), base),
        QPointF(box.center().x(), tip),
    ]
    painter.drawPolygon(QPolygonF(corners))


def _stroke(
    painter: QPainter,
    colour: QColor,
    width: float,
    points: tuple[tuple[float, float], ...],
    box: QRectF,
) -> None:
    painter.save()
    pen = QPen(colour, max(2.0, width), Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.drawPolyline(QPolygonF([_at(box, x, y) for x, y in points]))
    painter.restore()


def _outline(painter: QPainter, colour: QColor, box: QRectF, path: QPainterPath) -> None:
    painter.save()
    pen = QPen(colour, max(2.0, box.width() / 12))
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path)
    painter.restore()
