"""The picture of the day: readings on one axis of 24 hours, targets, middle value and middle half.

Drawn marks that read the same in grey. What is in the picture is decided by
`logbook.domain.day_picture`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import time

from logbook.domain.day_picture import (
    Band,
    PictureMark,
    minute_of_day,
    picture_marks,
    target_bands,
)
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit, converted_steps
from logbook.domain.levels import HIGH_ABOVE, LOW_BELOW
from logbook.domain.moments import MINUTES_A_DAY
from logbook.domain.slots import Slot
from logbook.domain.summary import SlotSummary
from logbook.report.contents import Contents
from logbook.report.document import DARK, Document, Page
from logbook.report.marks import STATE_MARKS
from logbook.report.options import LEADING
from logbook.report.picture_legend import free_start, legend_rows, note_of_boxes
from logbook.report.text import Block
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.numbers import number_text, readings_text, steps_text, unit_text

# Lower and upper end of the scale when no reading lies beyond, and where lines stand, in steps.
_SCALE = {Unit.MG_DL: (40, 250, 50), Unit.MMOL_L: (22, 140, 30)}
_LINES = {
    Unit.MG_DL: (100, 200, 300, 400, 500),
    Unit.MMOL_L: (60, 120, 180, 240, 300),
}
_BAND_GREY, _MARK_GREY = 0.88, 0.3

# The note in the picture keeps this far from marks beside it.
_NOTE_REACH = 9.0


@dataclass(frozen=True, slots=True)
class _Plot:
    """Where the picture's hours and values lie on the page."""

    left: float
    right: float
    low: float
    high: float
    least: int
    most: int

    def x(self, minute: float) -> float:
        return self.left + (self.right - self.left) * minute / MINUTES_A_DAY

    def y(self, steps: float) -> float:
        share = (min(max(steps, self.least), self.most) - self.least) / (self.most - self.least)
        return self.low + (self.high - self.low) * share


class DayPicture:
    """The picture of a period; what is in it is found once, whatever height it is drawn at."""

    def __init__(
        self, document: Document, contents: Contents, width: float, leading: float = LEADING
    ) -> None:
        data, unit = contents.data, contents.unit
        settings = data.settings
        self._document = document
        self._contents = contents
        self._width = width
        self._leading = leading * document.print.table_size
        self._marks, count = picture_marks(data.series, data.period, settings, data.targets)
        self._usual = contents.grid.usual_minutes
        self._bands = target_bands(
            self._usual, data.targets, data.period.last, unit, settings.very_high_above
        )
        notes = []
        if count > len(self._marks):
            notes.append(
                _("{shown} of {all} shown, every recent low among them").format(
                    shown=number_text(len(self._marks)), all=readings_text(count)
                )
            )
        seen = {one.state for one in self._marks}
        self._bare_legend = legend_rows(document, seen, notes, width)
        self._whole_legend = legend_rows(document, seen, (note_of_boxes(), *notes), width)

    def block(self, height: float) -> Block:
        """The picture; `height` takes in its axes and its legend."""
        size = self._document.print.table_size
        unit = self._contents.unit
        legend, note_x = self._placed_note(height)

        def draw(page: Page, x: float, top: float) -> None:
            plot = self._plot(x, top, height, len(legend))
            _draw_bands(page, plot, self._bands)
            _draw_axes(page, plot, unit, self._contents.data.settings.day_starts_at, size)
            _draw_marks(page, plot, self._marks, unit)
            _draw_boxes(page, self._boxes(plot))
            if note_x is not None:
                page.text(x + note_x, plot.high - size * 0.8, note_of_boxes(), size)
            for number, row in enumerate(legend):
                row.draw(page, x, top - height + (len(legend) - number) * self._leading)

        return Block(height, draw)

    def _plot(self, x: float, top: float, height: float, legend_lines: int) -> _Plot:
        size = self._document.print.table_size
        faces, unit = self._document.faces, unit_text(self._contents.unit)
        label_room = max(faces.width("0000", size), faces.width(unit, size)) + 4
        least, most = _scale(self._marks, self._contents.unit)
        low = top - height + legend_lines * self._leading + size * 1.5
        return _Plot(x + label_room, x + self._width, low, top - 0.45 * size, least, most)

    def _boxes(self, plot: _Plot) -> list[_Box]:
        return list(_boxes(plot, self._contents.summary.slots, self._usual))

    def _placed_note(self, height: float) -> tuple[list[Block], float | None]:
        """The legend, and how far right in the picture its note stands when it is not in it."""
        bare, whole = self._bare_legend, self._whole_legend
        size = self._document.print.table_size
        plot = self._plot(0.0, 0.0, height, len(bare))
        boxes = self._boxes(plot)
        if not boxes:
            return bare, None
        if len(whole) == len(bare):
            return whole, None
        under = plot.high - size * 1.2
        unit, reach = self._contents.unit, _NOTE_REACH
        taken = [(box.left - reach, box.right + reach) for box in boxes if box.highest > under - 3]
        taken.extend(
            (plot.x(one.minute) - reach, plot.x(one.minute) + reach)
            for one in self._marks
            if plot.y(_in_unit(one, unit)) > under - 3
        )
        taken.extend(
            (plot.x(band.first_minute), plot.x(band.last_minute))
            for band in self._bands
            if plot.y(band.highest) > under
        )
        wide = self._document.faces.width(note_of_boxes(), size)
        x = free_start(taken, plot.left + reach, plot.right, wide)
        return (whole, None) if x is None else (bare, x)


def _scale(marks: Iterable[PictureMark], unit: Unit) -> tuple[int, int]:
    least, most, step = _SCALE[unit]
    values = [_in_unit(one, unit) for one in marks]
    inside = [value for value in values if value not in (LO_STEPS, HI_STEPS)]
    highest = max(inside, default=most)
    while most < highest:
        most += step
    if HI_STEPS in values:
        most += step
    return min(least, *inside) if inside else least, most


def _in_unit(mark: PictureMark, unit: Unit) -> int:
    if mark.unit is unit or mark.steps in (LO_STEPS, HI_STEPS):
        return mark.steps
    return converted_steps(mark.steps, mark.unit, unit)


def _draw_bands(page: Page, plot: _Plot, bands: Iterable[Band]) -> None:
    for band in bands:
        lower, upper = plot.y(band.lowest), plot.y(band.highest)
        x1, x2 = plot.x(band.first_minute), plot.x(band.last_minute)
        page.box(x1, lower, x2 - x1, upper - lower, line=None, fill=_BAND_GREY)
        for y in (lower, upper):
            page.path(((x1, y), (x2, y)), line=0.7, grey=DARK, dash="3 2")


def _draw_axes(page: Page, plot: _Plot, unit: Unit, day_starts_at: time, size: float) -> None:
    page.path(((plot.left, plot.high), (plot.left, plot.low), (plot.right, plot.low)), line=0.8)
    low_limit = LOW_BELOW[unit]
    page.path(
        ((plot.left, plot.y(low_limit)), (plot.right, plot.y(low_limit))), line=1.0, dash="1 2"
    )
    taken: list[float] = []
    for steps in (low_limit, HIGH_ABOVE[unit], *_LINES[unit]):
        y = plot.y(steps)
        if not plot.least < steps <= plot.most or any(abs(y - t) < size * 1.1 for t in taken):
            continue
        taken.append(y)
        label = steps_text(steps, unit, with_unit=False)
        page.text_right(plot.left - 4, y - size * 0.34, label, size)
        page.rule(plot.left - 3, y, plot.left, line=0.8)
    # The unit stands with the numbers, above or between them; where they leave no room, below.
    places = (max(taken) + 1.15 * size, max(taken) - 1.15 * size, plot.low - size * 0.86)
    y = next(
        place
        for place in places
        if place == places[-1]
        or (place <= plot.high and all(abs(place - t) > 1.1 * size for t in taken))
    )
    page.text_right(plot.left - 4, y - size * 0.34, unit_text(unit), size)
    hours = sorted(range(0, 24, 3), key=lambda hour: minute_of_day(time(hour), day_starts_at))
    for hour in hours:
        x = plot.x(minute_of_day(time(hour), day_starts_at))
        page.path(((x, plot.low), (x, plot.low - 3)), line=0.8)
        label = clock_text(time(hour))
        half = page.faces.width(label, size) / 2
        middle = min(max(x, plot.left - 20 + half), plot.right - half)
        page.text_middle(middle, plot.low - size * 1.2, label, size)


def _draw_marks(page: Page, plot: _Plot, marks: list[PictureMark], unit: Unit) -> None:
    radius = 2.6 if len(marks) < 250 else (2.2 if len(marks) < 600 else 1.8)
    out = page.operators
    out.append(f"q 0.6 w {_MARK_GREY:g} G {_MARK_GREY:g} g")
    for one in marks:
        # Marks at the very edge keep clear of the lines beside them.
        x = min(max(plot.x(one.minute), plot.left + radius), plot.right - radius)
        y = min(max(plot.y(_in_unit(one, unit)), plot.low + radius), plot.high - radius)
        out.append(STATE_MARKS[one.state](x, y, radius))
    out.append("Q")


@dataclass(frozen=True, slots=True)
class _Box:
    """The middle half and the middle value of one time of day."""

    left: float
    right: float
    lowest: float
    highest: float
    middle: float


def _boxes(plot: _Plot, slots: Iterable[SlotSummary], usual: dict[Slot, int]) -> Iterator[_Box]:
    half = 7.0
    for summary in slots:
        figures = summary.figures
        # Fewer than four readings have no middle half, and each of them can be seen.
        if summary.slot not in usual or figures.median is None or figures.count < 4:
            continue
        scale = figures.unit.steps_per_one
        x = min(max(plot.x(usual[summary.slot]), plot.left + half + 1), plot.right - half - 1)
        middle = plot.y(figures.median * scale)
        has_half = figures.q1 is not None and figures.q3 is not None
        lowest = plot.y(figures.q1 * scale) if has_half and figures.q1 else middle
        highest = plot.y(figures.q3 * scale) if has_half and figures.q3 else middle
        yield _Box(x - half, x + half, lowest, highest, middle)


def _draw_boxes(page: Page, boxes: Iterable[_Box]) -> None:
    for box in boxes:
        if box.highest > box.lowest:
            page.box(box.left, box.lowest, box.right - box.left, box.highest - box.lowest, line=1.4)
        page.path(((box.left, box.middle), (box.right, box.middle)), line=2.6)
