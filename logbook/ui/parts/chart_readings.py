"""The picture of readings over time, against the target of each day.

Drawn by pyqtgraph, which is slow to import, so pages import this module when they first need it. It
takes no press, wheel or drag: there is no menu and no hidden gesture. The axis of time is wall time
as it was recorded, in minutes, so the picture stays the same wherever the computer is. Lines are
straight, opaque and drawn without smoothing: smoothed wide lines take seconds to paint.
"""

from __future__ import annotations

from datetime import date

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
from logbook.domain.moments import Period
from logbook.domain.picture_scale import (
    ValueScale,
    day_ticks,
    minute_of_day_start,
    placed_marks,
    value_scale,
)
from logbook.ui.parts.chart_labels import ChartLabels, Label
from logbook.ui.parts.chart_picture import Picture
from logbook.ui.parts.marks import STATE_COLOURS
from logbook.ui.parts.state_paths import SOLID, state_path
from logbook.ui.theme import BODY, SMALL, Look
from logbook.wording import _
from logbook.wording.dates import short_day_text
from logbook.wording.numbers import steps_text, unit_text

# A mark at the text size of 100 %, in pixels.
_MARK = 13
# Places of marks that stand for several are so far apart that their shapes can be told.
_PLACE = 1.05
_YEAR_SHOWN_FROM_DAYS = 330


class ReadingsChart(QWidget):
    """`show_picture` draws; `say` gives a screen reader the same in words.

    `drawn` tells that it was drawn anew: `most_in_one` readings may share a mark now.
    """

    drawn = Signal()

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._picture: Picture | None = None
        self._scale: ValueScale | None = None
        self.most_in_one = 1
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(_("Picture of the readings over time"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.MinimumExpanding)
        self.labels = ChartLabels(look)
        self.view = pyqtgraph.GraphicsView(self, useOpenGL=False, background=None)
        self.view.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.view.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.view.setAntialiasing(False)
        area = pyqtgraph.GraphicsLayout()
        area.setContentsMargins(4, 2, 18, 2)
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
        self._settle.timeout.connect(self._draw)
        look.changed.connect(self.restyle)
        self.restyle()

    def show_picture(self, picture: Picture) -> None:
        """Draw these readings."""
        self._picture = picture
        self._draw()

    def say(self, words: str) -> None:
        """The picture's content, for a screen reader."""
        self.setAccessibleDescription(words)

    def restyle(self) -> None:
        """Take colours and text size of the present theme."""
        self.view.setBackground(self._look.colour("sheet"))
        font = self._look.font(SMALL, figures=True)
        metrics = QFontMetrics(font)
        for axis in (self.left_axis, self.bottom_axis):
            axis.setPen(QPen(self._look.colour("edge"), 1))
            axis.setTextPen(self._look.colour("ink"))
            axis.setStyle(tickFont=font, tickTextOffset=4)
        self.left_axis.setWidth(metrics.horizontalAdvance(self._low_tick(Unit.MMOL_L)) + 16)
        self.bottom_axis.setHeight(metrics.height() + 10)
        self.updateGeometry()
        self._draw()

    def minimumSizeHint(self) -> QSize:
        body = self._look.theme.pixels(BODY)
        # However many lines of words stand above it, the picture itself stays high enough to read.
        return QSize(300, max(round(body * 8.5), self.labels.height() + round(body * 6)))

    def sizeHint(self) -> QSize:
        # It takes what the page has left; wanting more would make the page longer than the window.
        return self.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        # A layout comes to rest in several steps; one drawing for all of them is enough.
        self._settle.start(0)

    # --- drawing ------------------------------------------------------------------------------

    def _draw(self) -> None:
        picture = self._picture
        if picture is None:
            return
        self.box.clear()
        scale = self._scale = value_scale(picture.marks.steps, picture.unit, self._most_ticks())
        first, end = picture.period.wall_minutes(picture.day_starts_at)
        left = round(self.left_axis.width()) + 4
        width = self.width() - left - 18
        room = self._room(width) / max(1, width) * (end - first)
        self.box.setRange(
            xRange=(first - room, end + room),
            yRange=(scale.least, scale.most),
            padding=0,
            disableAutoRange=True,
        )
        self.labels.use_room(left, width, first - room, end + room)
        self._draw_shades(picture, scale)
        self._draw_band(picture, scale)
        self._draw_lines(picture, scale, first, end)
        self._draw_marks(picture, scale, width)
        self._set_ticks(picture, scale, width)
        self.drawn.emit()

    def _draw_shades(self, picture: Picture, scale: ValueScale) -> None:
        labels = []
        for shade in picture.shades:
            first, end = shade.period.wall_minutes(picture.day_starts_at)
            labels.append(Label(first, end, shade.text, is_shaded=True))
            self._add_rectangle(first, end, scale.least, scale.most, "other_back", -30)
            for minute in (first, end):
                # Seen where two lie over each other, and where the theme has one colour only.
                edge = QGraphicsLineItem(minute, scale.least, minute, scale.most)
                edge.setPen(self._pen("edge", 1))
                edge.setZValue(-24)
                self.box.addItem(edge, ignoreBounds=True)
        for change in picture.changes:
            minute = minute_of_day_start(change.day, picture.day_starts_at)
            labels.append(Label(minute, minute, change.text))
            line = QGraphicsLineItem(minute, scale.least, minute, scale.most)
            line.setPen(self._pen("ink", 2))
            line.setZValue(-5)
            self.box.addItem(line, ignoreBounds=True)
        labels.sort(key=lambda label: label.first)
        self.labels.show_labels(unit_text(picture.unit), labels)

    def _draw_band(self, picture: Picture, scale: ValueScale) -> None:
        for step in picture.band:
            first, end = Period(step.first, step.last).wall_minutes(picture.day_starts_at)
            lowest, highest = scale.place(step.lowest), scale.place(step.highest)
            self._add_rectangle(first, end, lowest, highest, "band", -20)
            for value in (lowest, highest):
                edge = QGraphicsLineItem(first, value, end, value)
                pen = self._pen("band_edge", 2)
                pen.setStyle(Qt.PenStyle.DashLine)
                edge.setPen(pen)
                edge.setZValue(-15)
                self.box.addItem(edge, ignoreBounds=True)

    def _draw_lines(self, picture: Picture, scale: ValueScale, first: int, end: int) -> None:
        low, span = LOW_BELOW[picture.unit], end - first
        for value in scale.ticks:
            line = QGraphicsLineItem(first - span, value, end + span, value)
            line.setPen(self._pen("other_back", 1))
            line.setZValue(-25)
            self.box.addItem(line, ignoreBounds=True)
        line = QGraphicsLineItem(first - span, low, end + span, low)
        line.setPen(self._pen("below", 1))
        line.setZValue(-12)
        self.box.addItem(line, ignoreBounds=True)

    def _draw_marks(self, picture: Picture, scale: ValueScale, width: int) -> None:
        side = _MARK * (1 + (self._look.theme.percent / 100 - 1) * 0.6)
        height = self._plot_height()
        place = max(1.0, side * _PLACE)
        period = picture.period.wall_minutes(picture.day_starts_at)
        placed = placed_marks(picture.marks, scale, period, int(width / place), int(height / place))
        self.most_in_one = max((each.most_in_one for each in placed), default=1)
        for each in placed:
            colour = self._look.colour(STATE_COLOURS[each.state])
            symbols = pyqtgraph.ScatterPlotItem(
                x=each.x,
                y=each.y,
                symbol=state_path(each.state),
                size=side,
                pen=self._pen(STATE_COLOURS[each.state], 2),
                brush=colour if each.state in SOLID else None,
                pxMode=True,
                hoverable=False,
            )
            # What matters most lies on top.
            symbols.setZValue(2 if each.state.is_low else 1 if each.state in SOLID else 0)
            self.box.addItem(symbols, ignoreBounds=True)

    def _set_ticks(self, picture: Picture, scale: ValueScale, width: int) -> None:
        low, unit = LOW_BELOW[picture.unit], picture.unit
        values = [(float(low), self._low_tick(unit))]
        values += [
            (scale.place(steps), steps_text(steps, unit))
            for steps in (LO_STEPS, HI_STEPS)
            if steps in picture.marks.steps
        ]
        # Words that would run into these are left out.
        near = (scale.most - scale.least) * self._tick_height() / self._plot_height()
        kept = [place for place, _text in values]
        values += [
            (float(tick), steps_text(tick, unit, with_unit=False))
            for tick in scale.ticks
            if all(abs(tick - place) >= near for place in kept)
        ]
        self.left_axis.setTicks([sorted(values)])
        has_years = picture.period.days > _YEAR_SHOWN_FROM_DAYS
        at_most = width // (self._tick_width(has_years=has_years) + 18)
        days = day_ticks(picture.period, at_most)
        is_yearly = has_years and all((day.month, day.day) == (1, 1) for day in days)
        self.bottom_axis.setTicks(
            [
                [
                    (
                        float(minute_of_day_start(day, picture.day_starts_at)),
                        str(day.year) if is_yearly else short_day_text(day, with_year=has_years),
                    )
                    for day in days
                ]
            ]
        )

    def _add_rectangle(
        self, first: float, end: float, least: float, most: float, role: str, z: int
    ) -> None:
        rectangle = QGraphicsRectItem(QRectF(QPointF(first, least), QPointF(end, most)))
        rectangle.setPen(QPen(Qt.PenStyle.NoPen))
        rectangle.setBrush(self._look.colour(role))
        rectangle.setZValue(z)
        self.box.addItem(rectangle, ignoreBounds=True)

    def _pen(self, role: str, width: int) -> QPen:
        pen = QPen(self._look.colour(role), width)
        pen.setCosmetic(True)
        return pen

    def _plot_height(self) -> int:
        height: int = self.view.height() - round(self.bottom_axis.height())
        return max(1, height)

    def _tick_height(self) -> int:
        return QFontMetrics(self._look.font(SMALL, figures=True)).height()

    def _most_ticks(self) -> int:
        """How many numbers have room above one another."""
        return max(2, min(7, int(self._plot_height() / (1.05 * self._tick_height()))))

    def _tick_width(self, *, has_years: bool) -> int:
        metrics = QFontMetrics(self._look.font(SMALL, figures=True))
        return metrics.horizontalAdvance(short_day_text(date(2000, 9, 30), with_year=has_years))

    def _room(self, width: int) -> float:
        """Pixels beside the days, for whole marks and for the words of the first tick."""
        assert self._picture is not None
        has_years = self._picture.period.days > _YEAR_SHOWN_FROM_DAYS
        # The axis draws words that reach up to 15 pixels over its end.
        return min(width * 0.2, max(_MARK, self._tick_width(has_years=has_years) / 2 - 12))

    @staticmethod
    def _low_tick(unit: Unit) -> str:
        return _("low {value}").format(value=steps_text(LOW_BELOW[unit], unit, with_unit=False))
