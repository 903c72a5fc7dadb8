"""One hand as a drawing: its outline, where its fingertips are, and a pad.

Palms up, as you look at your own hands. A pad carries the days of rest; the next one is filled and
thick-ringed, a sore or left-out one is hatched, one not in use has a dotted edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPainterPathStroker, QPen

from logbook.domain.sites import FINGERS, Hand, Place
from logbook.hand_shape import (
    CREASES,
    GROWN_FROM,
    PALM,
    PALM_ROUND,
    THICKNESS,
    TIPS,
    mirrored,
)
from logbook.ui.parts.marks import draw_tick
from logbook.ui.theme import Look


class PadLook(Enum):
    """How a pad is drawn."""

    RESTING = "resting"
    NEXT = "next"
    HATCHED = "hatched"  # sore or left out
    UNUSED = "unused"  # not among the fingers in use


@dataclass(frozen=True, slots=True)
class Pad:
    """What a pad shows: days of rest (None for never used), how it is drawn, and its words."""

    look: PadLook
    days: int | None = None
    words: str = ""
    is_chosen: bool = False


class HandOutline:
    """Where one hand lies in a box, as a path, and where its fingertips are."""

    def __init__(self, hand: Hand, left: float, top: float, side: float) -> None:
        self._hand, self._left, self._top, self._side = hand, left, top, side

    def at(self, x: float, y: float) -> QPointF:
        """A point of the left hand's square, in pixels of this hand."""
        return QPointF(
            self._left + mirrored(self._hand, x) * self._side, self._top + y * self._side
        )

    def tip(self, finger: Place) -> QPointF:
        """The middle of a fingertip's pad."""
        return self.at(*TIPS[finger])

    def path(self) -> QPainterPath:
        """Palm and five fingers as one outline."""
        palm = QPainterPath()
        left, top, width, height = PALM
        corners = QRectF(self.at(left, top), self.at(left + width, top + height)).normalized()
        palm.addRoundedRect(corners, self._side * PALM_ROUND, self._side * PALM_ROUND)
        for finger in FINGERS:
            bone = QPainterPath(self.at(*GROWN_FROM[finger]))
            bone.lineTo(self.tip(finger))
            stroker = QPainterPathStroker()
            stroker.setWidth(THICKNESS[finger] * self._side)
            stroker.setCapStyle(Qt.PenCapStyle.RoundCap)
            palm = palm.united(stroker.createStroke(bone))
        return palm.simplified()

    def creases(self) -> QPainterPath:
        """The lines of the palm."""
        path = QPainterPath()
        for start, bend, end in CREASES:
            path.moveTo(self.at(*start))
            path.quadTo(self.at(*bend), self.at(*end))
        return path


def draw_hand(painter: QPainter, look: Look, outline: HandOutline) -> None:
    """Skin, outline and creases."""
    width = look.theme.colours.edge_width
    painter.setPen(QPen(look.colour("edge"), width))
    painter.setBrush(look.colour("skin"))
    painter.drawPath(outline.path())
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(look.colour("edge"), 1))
    painter.drawPath(outline.creases())


def draw_pad(painter: QPainter, look: Look, box: QRectF, pad: Pad, points: float) -> None:
    """One fingertip's pad in a square box."""
    is_next = pad.look is PadLook.NEXT or pad.is_chosen
    width = 4.0 if is_next else float(look.theme.colours.edge_width)
    inner = box.adjusted(width / 2, width / 2, -width / 2, -width / 2)
    painter.setBrush(look.colour("chosen_back" if is_next else "sheet"))
    pen = QPen(look.colour("main_back" if is_next else "edge"), width)
    if pad.look is PadLook.UNUSED and not is_next:
        pen.setStyle(Qt.PenStyle.DotLine)
    painter.setPen(pen)
    painter.drawEllipse(inner)
    if pad.look is PadLook.HATCHED:
        painter.setPen(Qt.PenStyle.NoPen)
        hatch = look.colour("edge")
        painter.setBrush(hatch)
        brush = painter.brush()
        brush.setStyle(Qt.BrushStyle.BDiagPattern)
        painter.setBrush(brush)
        painter.drawEllipse(inner)
        return
    painter.setPen(look.colour("chosen_ink" if is_next else "ink"))
    if pad.is_chosen:
        side = box.width() * 0.45
        mark = QRectF(0, 0, side, side)
        mark.moveCenter(box.center())
        draw_tick(painter, mark, look.colour("chosen_ink"))
    elif pad.days is not None and pad.look is not PadLook.UNUSED:
        font = look.font(points, bold=True, figures=True)
        font.setPixelSize(min(font.pixelSize(), int(box.width() * 0.58)))
        painter.setFont(font)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(pad.days))
