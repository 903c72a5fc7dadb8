"""The shapes of the states as paths around a middle, for many marks at once; one with its words.

The same shapes as in `marks`, in a form that can be drawn thousands of times. What has no target is
a small dot, so that a reading is never left out of a picture.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from logbook.domain.states import State
from logbook.ui.parts.marks import STATE_COLOURS
from logbook.ui.parts.texts import Words
from logbook.ui.theme import BODY, Look

SOLID = frozenset({State.VERY_LOW, State.LOW, State.VERY_HIGH, State.NOT_JUDGED})


def state_path(state: State) -> QPainterPath:
    """The shape in a square of side 1 around (0, 0)."""
    path = QPainterPath()
    match state:
        case State.VERY_LOW:
            _add_triangle(path, -0.5, 0.0)
            _add_triangle(path, 0.04, 0.54)
        case State.LOW | State.BELOW_TARGET:
            _add_triangle(path, -0.42, 0.46)
        case State.ABOVE_TARGET | State.VERY_HIGH:
            _add_triangle(path, 0.42, -0.46)
        case State.IN_TARGET:
            path.addEllipse(QPointF(0, 0), 0.42, 0.42)
        case State.NOT_JUDGED:
            path.addEllipse(QPointF(0, 0), 0.25, 0.25)
    return path


def _add_triangle(path: QPainterPath, base: float, tip: float) -> None:
    path.addPolygon(
        QPolygonF([QPointF(-0.5, base), QPointF(0.5, base), QPointF(0, tip), QPointF(-0.5, base)])
    )
    path.closeSubpath()


class StateShape(QWidget):
    """One shape, as high as the words beside it."""

    def __init__(self, look: Look, state: State, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._state = look, state
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        look.changed.connect(self.restyle)

    def restyle(self) -> None:
        """Take the size and colour of the present theme."""
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        side = round(self._look.theme.pixels(BODY) * 0.9)
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side = min(self.width(), self.height()) - 4
        colour = self._look.colour(STATE_COLOURS[self._state])
        painter.translate(QRectF(self.rect()).center())
        painter.scale(side, side)
        painter.setPen(QPen(colour, 2.2 / side))
        if self._state in SOLID:
            painter.setBrush(colour)
        painter.drawPath(state_path(self._state))
        painter.end()


class StateCount(QWidget):
    """A shape and what it means: "In target 84"."""

    def __init__(self, look: Look, state: State, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Words(look, text)
        self.words.setWordWrap(False)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 2, 0)
        row.setSpacing(6)
        row.addWidget(StateShape(look, state))
        row.addWidget(self.words)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
