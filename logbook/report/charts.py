"""The picture of the day: readings on one axis of 24 hours, targets, middle value and middle half.

Drawn marks that read the same in grey. What is in the picture is decided by
`logbook.domain.day_picture`.
"""

from __future__ import annotations

from collections.abc import Iterable
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
from logbook.domain.states import State
from logbook.domain.summary import SlotSummary
from logbook.report.contents import Contents
from logbook.report.document import DARK, Document, Page
from logbook.report.marks import STATE_MARKS
from logbook.report.options import LEADING
from logbook.report.text import Block
from logbook.wording import _, mark
from logbook.wording.dates import clock_text
from logbook.wording.numbers import number_text, readings_text, steps_text

# Lower and upper end of the scale when no reading lies beyond, and where lines stand, in steps.
_SCALE = {Unit.MG_DL: (40, 250, 50), Unit.MMOL_L: (22, 140, 30)}
_LINES = {
    Unit.MG_DL: (100, 200, 300, 400, 500),
    Unit.MMOL_L: (60, 120, 180, 240, 300),
}
_BAND_GREY, _MARK_GREY = 0.88, 0.3
# Shorter than elsewhere, so that they stand in one line under the picture.
_LEGEND = {
    State.VERY_LOW: mark("very low"),
    State.LOW: mark("low"),
    State.BELOW_TARGET: mark("below target"),
    State.IN_TARGET: mark("in target"),
    State.ABOVE_TARGET: mark("above"),
    State.VERY_HIGH: mark("very high"),
    State.NOT_JUDGED: mark("no target"),
}


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

    def __init__(self, document: Document, contents: Contents, width: float) -> None:
        data, unit = contents.data, contents.unit
        settings = data.settings
        self._document = document
        self._contents = contents
        self._width = width
        self._marks, count = picture_marks(data.series, data.period, settings, data.targets)
        self._usual = contents.grid.usual_minutes
        self._bands = target_bands(
            self._usual, data.targets, data.period.last, unit, settings.very_high_above
        )
        self._legend = _legend_rows(document, self._marks, count, width)

    def block(self, height: float) -> Block:
        """The picture with its legend; `height` is that of the picture, its axes included."""
        size = self._document.print.table_size
        unit = self._contents.unit

        def draw(page: Page, x: float, top: float) -> None:
            label_room = self._document.faces.width("0000", size) + 4
            least, most = _scale(self._marks, unit)
            low, high = top - height + size * 1.5, top - 0.45 * size
            plot = _Plot(x + label_room, x + self._width, low, high, least, most)
            _draw_bands(page, plot, self._bands)
            _draw_axes(page, plot, unit, self._contents.data.settings.day_starts_at, size)
            _draw_marks(page, plot, self._marks, unit)
            _draw_boxes(page, plot, self._contents.summary.slots, self._usual)
            for number, row in enumerate(self._legend):
                row.draw(page, x, top - height - number * size * LEADING)

        return Block(height + len(self._legend) * size * LEADING, draw)


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


def _draw_boxes(
    page: Page, plot: _Plot, slots: Iterable[SlotSummary], usual: dict[Slot, int]
) -> None:
    half = 7.0
    for summary in slots:
        figures = summary.figures
        # Fewer than four readings have no middle half, and each of them can be seen.
        if summary.slot not in usual or figures.median is None or figures.count < 4:
            continue
        scale = figures.unit.steps_per_one
        x = min(max(plot.x(usual[summary.slot]), plot.left + half + 1), plot.right - half - 1)
        if figures.q1 is not None and figures.q3 is not None:
            low, high = plot.y(figures.q1 * scale), plot.y(figures.q3 * scale)
            page.box(x - half, low, 2 * half, high - low, line=1.4)
        middle = plot.y(figures.median * scale)
        page.path(((x - half, middle), (x + half, middle)), line=2.6)


def _legend_rows(
    document: Document, marks: list[PictureMark], count: int, width: float
) -> list[Block]:
    """What the marks mean, only those that occur, in as many rows as it takes."""
    size = document.print.table_size
    seen = {one.state for one in marks}
    entries: list[tuple[State | None, str]] = [
        (state, _(_LEGEND[state])) for state in _LEGEND if state in seen
    ]
    entries.append((None, _("box: middle half")))
    if count > len(marks):
        entries.append(
            (
                None,
                _("{shown} of {all} shown, every recent low among them").format(
                    shown=number_text(len(marks)), all=readings_text(count)
                ),
            )
        )
    rows: list[list[tuple[State | None, str]]] = [[]]
    used = 0.0
    for state, text in entries:
        wide = document.faces.width(text, size) + (size * 1.5 if state else 0) + size * 0.7
        if rows[-1] and used + wide - size * 0.7 > width:
            rows.append([])
            used = 0.0
        rows[-1].append((state, text))
        used += wide
    return [_legend_row(document, row, size) for row in rows]


def _legend_row(document: Document, row: list[tuple[State | None, str]], size: float) -> Block:
    def draw(page: Page, x: float, top: float) -> None:
        baseline = top - size * 1.1
        for state, text in row:
            if state is not None:
                radius = size * 0.27
                at = x + size * 0.7
                page.operators.append(
                    f"q 0.8 w {STATE_MARKS[state](at, baseline + size * 0.32, radius)} Q"
                )
                x += size * 1.5
            page.text(x, baseline, text, size)
            x += document.faces.width(text, size) + size * 0.7

    return Block(size * LEADING, draw)
