"""The picture of readings over time, against the target of each day.

The axis of time is wall time as it was recorded, in minutes, so the picture stays the same wherever
the computer is.
"""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QWidget

from logbook.domain.moments import Period
from logbook.domain.picture_scale import (
    ValueScale,
    day_ticks,
    minute_of_day_start,
    placed_marks,
    value_scale,
)
from logbook.ui.parts.chart_frame import MARK, ChartFrame
from logbook.ui.parts.chart_labels import Label
from logbook.ui.parts.chart_picture import Picture
from logbook.ui.theme import Look
from logbook.wording import _
from logbook.wording.dates import short_day_text
from logbook.wording.numbers import unit_text

# Places of marks that stand for several are so far apart that their shapes can be told.
PLACE = 1.05
_YEAR_SHOWN_FROM_DAYS = 330


class ReadingsChart(ChartFrame):
    """`show_picture` draws; `most_in_one` readings may share a mark after that."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        self._picture: Picture | None = None
        self.most_in_one = 1
        super().__init__(look, _("Picture of the readings over time"), parent)

    def show_picture(self, picture: Picture) -> None:
        """Draw these readings."""
        self._picture = picture
        self.draw()

    def paint(self) -> None:
        picture = self._picture
        if picture is None:
            return
        scale = value_scale(picture.marks.steps, picture.unit, self.most_ticks())
        first, end = picture.period.wall_minutes(picture.day_starts_at)
        width = self.plot_width()
        room = self._room(width) / width * (end - first)
        self.use_range(first - room, end + room, scale)
        self.labels.use_room(self.plot_left(), width, first - room, end + room)
        self._draw_shades(picture, scale)
        for step in picture.band:
            minutes = Period(step.first, step.last).wall_minutes(picture.day_starts_at)
            self.draw_band(*minutes, scale.place(step.lowest), scale.place(step.highest))
        span = end - first
        self.draw_value_lines(scale, picture.unit, picture.marks.steps, first - span, end + span)
        side = self.mark_side()
        place = max(1.0, side * PLACE)
        columns, rows = int(width / place), int(self.plot_height() / place)
        placed = placed_marks(picture.marks, scale, (first, end), columns, rows)
        self.most_in_one = max((each.most_in_one for each in placed), default=1)
        self.draw_marks(placed, side)
        self._set_days(picture, width)

    def _draw_shades(self, picture: Picture, scale: ValueScale) -> None:
        labels = []
        for shade in picture.shades:
            first, end = shade.period.wall_minutes(picture.day_starts_at)
            labels.append(Label(first, end, shade.text, is_shaded=True))
            self.add_rectangle(first, end, scale.least, scale.most, "other_back", -30)
            for minute in (first, end):
                # Seen where two lie over each other, and where the theme has one colour only.
                self.add_line((minute, scale.least), (minute, scale.most), "edge", 1, -24)
        for change in picture.changes:
            minute = minute_of_day_start(change.day, picture.day_starts_at)
            labels.append(Label(minute, minute, change.text))
            self.add_line((minute, scale.least), (minute, scale.most), "ink", 2, -5)
        labels.sort(key=lambda label: label.first)
        self.labels.show_labels(unit_text(picture.unit), labels)

    def _set_days(self, picture: Picture, width: int) -> None:
        has_years = picture.period.days > _YEAR_SHOWN_FROM_DAYS
        at_most = width // (self._day_width(has_years=has_years) + 18)
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

    def _day_width(self, *, has_years: bool) -> int:
        return self.tick_text_width(short_day_text(date(2000, 9, 30), with_year=has_years))

    def _room(self, width: int) -> float:
        """Pixels beside the days, for whole marks and for the words of the first tick."""
        assert self._picture is not None
        has_years = self._picture.period.days > _YEAR_SHOWN_FROM_DAYS
        # The axis draws words that reach up to 15 pixels over its end.
        return min(width * 0.2, max(MARK, self._day_width(has_years=has_years) / 2 - 12))
