"""What every picture of readings is drawn in: a scale of glucose, an axis below, words above.

Drawn by pyqtgraph, which is slow to import, so pages import the pictures when they first need them.
A picture takes no press, wheel or drag: there is no menu and no hidden gesture. Lines are straight,
opaque and drawn without smoothing: smoothed wide lines take seconds to paint.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pyqtgraph
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QGraphicsLineItem,
    QGraphicsRectItem,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.levels import LOW_BELOW
from logbook.domain.picture_scale import PlacedMarks, ValueScale
from logbook.ui.parts.chart_labels import ChartLabels
from logbook.ui.parts.marks import STATE_COLOURS
from logbook.ui.parts.state_paths import SOLID, state_path
from logbook.ui.theme import BODY, SMALL, Look
from logbook.wording import _
from logbook.wording.numbers import steps_text

# A mark at the text size of 100 %, in pixels.
MARK = 13
RIGHT_MARGIN = 18


class ChartFrame(QWidget):
    """`say` gives a screen reader the picture in words; a subclass tells in `paint` what is in it.

    `drawn` tells that it was drawn anew.
    """

    drawn = Signal()

    def __init__(self, look: Look, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.look = look
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.MinimumExpanding)
        self.labels = ChartLabels(look)
        self.view = pyqtgraph.GraphicsView(self, useOpenGL=False, background=None)
        self.view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.view.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.view.setAntialiasing(False)
        area = pyqtgraph.GraphicsLayout()
        area.setContentsMargins(4, 2, RIGHT_MARGIN, 2)
        area.setSpacing(0)
        self.view.setCentralItem(area)
        self._area = area
        self.box = pyqtgraph.ViewBox(enableMenu=False, enableMouse=False)
        self.box.setMouseEnabled(x=False, y=False)
        self.left_axis = pyqtgraph.AxisItem("left", maxTickLength=-6)
        self.bottom_axis = pyqtgraph.AxisItem("bottom", maxTickLength=-6)
        area.addItem(self.left_axis, row=0, col=0)
        area.addItem(self.box, row=0, col=1)
        area.addItem(self.bottom_axis, row=1, col=1)
        for axis in (self.left_axis, self.bottom_axis):
            axis.linkToView(self.box)
            # The ticks are ours; none is to be left out because two lie close.
            axis.setStyle(hideOverlappingLabels=False, autoExpandTextSpace=False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.labels)
        column.addWidget(self.view, 1)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.timeout.connect(self.draw)
        look.changed.connect(self.restyle)
        self.restyle()

    def paint(self) -> None:
        """Draw what is shown into `box`, which is empty; nothing when nothing is shown yet."""
        raise NotImplementedError

    def draw(self) -> None:
        """Draw it anew."""
        self.box.clear()
        self.paint()
        self.drawn.emit()

    def say(self, words: str) -> None:
        """The picture's content, for a screen reader."""
        self.setAccessibleDescription(words)

    def restyle(self) -> None:
        """Take colours and text size of the present theme."""
        self.view.setBackground(self.look.colour("sheet"))
        font = self.look.font(SMALL, figures=True)
        metrics = QFontMetrics(font)
        for axis in (self.left_axis, self.bottom_axis):
            axis.setPen(QPen(self.look.colour("edge"), 1))
            axis.setTextPen(self.look.colour("ink"))
            axis.setStyle(tickFont=font, tickTextOffset=4)
        self.left_axis.setWidth(metrics.horizontalAdvance(low_tick(Unit.MMOL_L)) + 16)
        self.bottom_axis.setHeight(metrics.height() + 10)
        self.updateGeometry()
        self.draw()

    def minimumSizeHint(self) -> QSize:
        body = self.look.theme.pixels(BODY)
        # However many lines of words stand above it, the picture itself stays high enough to read.
        return QSize(300, max(round(body * 8.5), self.labels.height() + round(body * 6)))

    def sizeHint(self) -> QSize:
        # It takes what the page has left; wanting more would make the page longer than the window.
        return self.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # A layout comes to rest in several steps; one drawing for all of them is enough.
        self._settle.start(0)

    # --- sizes --------------------------------------------------------------------------------

    def plot_left(self) -> int:
        """Where the picture begins, in pixels from the left."""
        return int(self.left_axis.width()) + 4

    def plot_width(self) -> int:
        """How wide the picture is between its axis and the right edge."""
        return max(1, self.width() - self.plot_left() - RIGHT_MARGIN)

    def plot_height(self) -> int:
        """How high the picture is above its lower axis."""
        height: float = self.view.height() - self.bottom_axis.height()
        return int(max(1.0, height))

    def mark_side(self) -> float:
        """How large a mark is at the present text size; it grows less than the text."""
        return MARK * (1 + (self.look.theme.percent / 100 - 1) * 0.6)

    def most_ticks(self) -> int:
        """How many numbers have room above one another."""
        return max(2, min(7, int(self.plot_height() / (1.05 * self._tick_height()))))

    def tick_text_width(self, text: str) -> int:
        """How wide words below the picture are."""
        return QFontMetrics(self.look.font(SMALL, figures=True)).horizontalAdvance(text)

    def _tick_height(self) -> int:
        return QFontMetrics(self.look.font(SMALL, figures=True)).height()

    # --- drawing ------------------------------------------------------------------------------

    def use_range(self, first: float, end: float, scale: ValueScale) -> None:
        """What the two axes show."""
        self.box.setRange(
            xRange=(first, end),
            yRange=(scale.least, scale.most),
            padding=0,
            disableAutoRange=True,
        )

    def draw_value_lines(
        self, scale: ValueScale, unit: Unit, steps: Iterable[int], first: float, end: float
    ) -> None:
        """The numbers at the left with a line for each, and the limit of low."""
        low, kept = LOW_BELOW[unit], set(steps)
        for value in scale.ticks:
            self.add_line((first, value), (end, value), "other_back", 1, -25)
        self.add_line((first, low), (end, low), "below", 1, -12)
        values = [(float(low), low_tick(unit))]
        values += [
            (scale.place(end_steps), steps_text(end_steps, unit))
            for end_steps in (LO_STEPS, HI_STEPS)
            if end_steps in kept
        ]
        # Words that would run into these are left out.
        near = (scale.most - scale.least) * self._tick_height() / self.plot_height()
        places = [place for place, _text in values]
        values += [
            (float(tick), steps_text(tick, unit, with_unit=False))
            for tick in scale.ticks
            if all(abs(tick - place) >= near for place in places)
        ]
        self.left_axis.setTicks([sorted(values)])

    def draw_marks(self, placed: Sequence[PlacedMarks], side: float) -> None:
        """Each mark in the shape of its state; what matters most lies on top."""
        for each in placed:
            colour = self.look.colour(STATE_COLOURS[each.state])
            symbols = pyqtgraph.ScatterPlotItem(
                x=each.x,
                y=each.y,
                symbol=state_path(each.state),
                size=side,
                pen=self.pen(STATE_COLOURS[each.state], 2),
                brush=colour if each.state in SOLID else None,
                pxMode=True,
                hoverable=False,
            )
            symbols.setZValue(2 if each.state.is_low else 1 if each.state in SOLID else 0)
            self.box.addItem(symbols, ignoreBounds=True)

    def draw_band(self, first: float, end: float, lowest: float, highest: float) -> None:
        """A target: its area with a dashed edge above and below."""
        self.add_rectangle(first, end, lowest, highest, "band", -20)
        for value in (lowest, highest):
            pen = self.pen("band_edge", 2)
            pen.setStyle(Qt.PenStyle.DashLine)
            self.add_line((first, value), (end, value), pen, 2, -15)

    def add_line(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        pen: QPen | str,
        width: int,
        z: int,
    ) -> None:
        """A straight line; `pen` may be the name of a colour of the theme."""
        line = QGraphicsLineItem(*start, *end)
        line.setPen(self.pen(pen, width) if isinstance(pen, str) else pen)
        line.setZValue(z)
        self.box.addItem(line, ignoreBounds=True)

    def add_rectangle(
        self,
        first: float,
        end: float,
        least: float,
        most: float,
        role: str,
        z: int,
        edge: QPen | None = None,
    ) -> None:
        """An area in a colour of the theme, without an edge if none is given."""
        rectangle = QGraphicsRectItem(QRectF(QPointF(first, least), QPointF(end, most)))
        rectangle.setPen(QPen(Qt.PenStyle.NoPen) if edge is None else edge)
        rectangle.setBrush(self.look.colour(role))
        rectangle.setZValue(z)
        self.box.addItem(rectangle, ignoreBounds=True)

    def pen(self, role: str, width: int) -> QPen:
        """A pen in a colour of the theme, as wide on screen at any scale."""
        pen = QPen(self.look.colour(role), width)
        pen.setCosmetic(True)
        return pen


def low_tick(unit: Unit) -> str:
    """The words beside the limit of low."""
    return _("low {value}").format(value=steps_text(LOW_BELOW[unit], unit, with_unit=False))
