"""The picture of the day: every reading on one axis of 24 hours, a box for each time of day.

A box holds the middle half of the values of one time of day, a thick line in it the middle value.
Where a quartile rests on a LO or HI the box is open to that end. With few values there is no box.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import time

from PySide6.QtWidgets import QWidget

from logbook.domain.day_boxes import SlotBox
from logbook.domain.day_picture import Band, minute_of_day
from logbook.domain.glucose import Unit
from logbook.domain.moments import MINUTES_A_DAY
from logbook.domain.picture import Marks
from logbook.domain.picture_scale import ValueScale, placed_marks, value_scale
from logbook.ui.parts.chart_frame import ChartFrame
from logbook.ui.parts.chart_labels import Label
from logbook.ui.parts.chart_readings import PLACE
from logbook.ui.theme import Look
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.numbers import unit_text
from logbook.wording.terms import slot_column

# In pixels at the text size of 100 %.
_BOX = 34
_BETWEEN_BOXES = 4
_HOURS = (3, 6, 12)


@dataclass(frozen=True, slots=True)
class DayDrawing:
    """All that is drawn; minutes are counted since the person's day began."""

    day_starts_at: time
    unit: Unit
    marks: Marks
    boxes: Sequence[SlotBox]
    bands: Sequence[Band] = ()


class DayChart(ChartFrame):
    """`show_day` draws; `most_in_one` readings may share a mark after that."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        self._drawing: DayDrawing | None = None
        self.most_in_one = 1
        super().__init__(look, _("Picture of the readings over the day"), parent)

    def show_day(self, drawing: DayDrawing) -> None:
        """Draw this day."""
        self._drawing = drawing
        self.draw()

    def paint(self) -> None:
        drawing = self._drawing
        if drawing is None:
            return
        scale = value_scale(drawing.marks.steps, drawing.unit, self.most_ticks())
        width = self.plot_width()
        minutes_a_pixel = MINUTES_A_DAY / width
        room = self.mark_side() * minutes_a_pixel
        first, end = -room, MINUTES_A_DAY + room
        self.use_range(first, end, scale)
        self.labels.use_room(self.plot_left(), width, first, end)
        for band in drawing.bands:
            lowest, highest = scale.place(band.lowest), scale.place(band.highest)
            self.draw_band(band.first_minute, band.last_minute, lowest, highest)
        self.draw_value_lines(scale, drawing.unit, drawing.marks.steps, first, end)
        side = self.mark_side()
        place = max(1.0, side * PLACE)
        placed = placed_marks(
            drawing.marks,
            scale,
            (0, MINUTES_A_DAY),
            int(width / place),
            int(self.plot_height() / place),
        )
        self.most_in_one = max((each.most_in_one for each in placed), default=1)
        self.draw_marks(placed, side)
        self._draw_boxes(drawing, scale, minutes_a_pixel)
        self._set_hours(drawing, width)

    def _draw_boxes(self, drawing: DayDrawing, scale: ValueScale, minutes_a_pixel: float) -> None:
        half = self.mark_side() / 13 * _BOX / 2 * minutes_a_pixel
        apart = 2 * half + _BETWEEN_BOXES * minutes_a_pixel
        labels = []
        free_from = -float(MINUTES_A_DAY)
        for box in drawing.boxes:
            # Two times of day that are usual at nearly one hour stand beside each other.
            middle = max(float(box.minute), free_from)
            free_from = middle + apart
            text = " ".join(filter(None, slot_column(box.slot)))
            labels.append(Label(middle, middle, text, is_centred=True))
            if box.is_enough:
                self._draw_box(box, scale, middle - half, middle + half)
        self.labels.show_labels(unit_text(drawing.unit), labels)

    def _draw_box(self, box: SlotBox, scale: ValueScale, left: float, right: float) -> None:
        figures, steps = box.figures, box.figures.unit.steps_per_one
        lower = scale.least if figures.q1 is None else figures.q1 * steps
        upper = scale.most if figures.q3 is None else figures.q3 * steps
        self.add_rectangle(left, right, lower, upper, "other_back", -8)
        for x in (left, right):
            self.add_line((x, lower), (x, upper), "ink", 2, 3)
        for quartile, y in ((figures.q1, lower), (figures.q3, upper)):
            if quartile is not None:
                self.add_line((left, y), (right, y), "ink", 2, 3)
        if figures.median is not None:
            y = figures.median * steps
            self.add_line((left, y), (right, y), "ink", 6, 4)

    def _set_hours(self, drawing: DayDrawing, width: int) -> None:
        wide = self.tick_text_width(clock_text(time(12))) + 18
        every = next((hours for hours in _HOURS if 24 // hours * wide <= width), _HOURS[-1])
        ticks = [
            (float(minute_of_day(time(hour), drawing.day_starts_at)), clock_text(time(hour)))
            for hour in range(0, 24, every)
        ]
        self.bottom_axis.setTicks([sorted(ticks)])
