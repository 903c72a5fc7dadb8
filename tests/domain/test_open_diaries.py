"""Figures of ten real diaries against a table made outside this project, and against NumPy.

Where the diaries come from is told in `open_diaries`.
"""

from __future__ import annotations

import csv
import statistics
from datetime import time
from pathlib import Path

import numpy as np
import pytest

from logbook.domain.day_boxes import day_boxes
from logbook.domain.glucose import Kind
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.summary import Summary, summarise
from logbook.domain.targets import TargetBook
from tests.domain.open_diaries import diary_lines, needs_open_data
from tests.domain.series_of import reading, series_of

pytestmark = needs_open_data

_TABLE = Path(__file__).parent / "data" / "open_diaries.csv"
_SLOTS = {
    48: Slot.OTHER,
    57: Slot.OTHER,
    58: Slot.FASTING,
    59: Slot.AFTER_BREAKFAST,
    60: Slot.BEFORE_LUNCH,
    61: Slot.AFTER_LUNCH,
    62: Slot.BEFORE_DINNER,
    63: Slot.AFTER_DINNER,
    64: Slot.BEFORE_SNACK,
}


def _expected() -> list[dict[str, str]]:
    lines = [line for line in _TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def _readings(diary: str) -> list[Reading]:
    return [
        reading(wall.isoformat(" "), shown, _SLOTS[code])
        for wall, code, shown in diary_lines(diary)
    ]


def _summary(readings: list[Reading]) -> Summary:
    days = [found.at.wall.date() for found in readings]
    settings = LogSettings(day_starts_at=time(0))
    period = Period(min(days), max(days))
    return summarise(series_of(readings), period, settings, TargetBook(()), (), ())


@pytest.mark.parametrize("row", _expected(), ids=lambda row: row["diary"])
def test_a_diary_gives_the_figures_of_the_table(row: dict[str, str]) -> None:
    summary = _summary(_readings(row["diary"]))
    figures, bands = summary.figures, summary.bands
    assert summary.readings.numbers == int(row["count"])
    assert figures.mean == pytest.approx(float(row["mean"]), abs=1e-4)
    assert figures.sd == pytest.approx(float(row["sd"]), abs=1e-4)
    assert figures.least == int(row["least"])
    assert figures.greatest == int(row["greatest"])
    assert bands.below_54 - summary.readings.reads_low == int(row["below_54"])
    assert bands.from_54_to_69 == int(row["from_54_to_69"])
    assert bands.from_70_to_180 == int(row["from_70_to_180"])
    assert bands.from_181_to_250 == int(row["from_181_to_250"])
    assert bands.above_250 - summary.readings.reads_high == int(row["above_250"])
    if not (summary.readings.reads_low or summary.readings.reads_high):
        assert figures.median == float(row["median"])


def test_lo_and_hi_take_their_places_in_the_second_diary() -> None:
    # Six lines read HI and one LO (counted in the file): q1 141, median 192.5, q3 251.25, and 9 and
    # 98 in the outermost bands.
    summary = _summary(_readings("data-02"))
    figures = summary.figures
    assert (summary.readings.reads_low, summary.readings.reads_high) == (1, 6)
    assert (figures.q1, figures.median, figures.q3) == (141, 192.5, 251.25)
    assert (summary.bands.below_54, summary.bands.above_250) == (9, 98)
    assert not figures.is_complete


@pytest.mark.parametrize("row", _expected(), ids=lambda row: row["diary"])
def test_a_diary_gives_the_figures_of_numpy_slot_by_slot(row: dict[str, str]) -> None:
    readings = _readings(row["diary"])
    summary = _summary(readings)
    assert summary.slots
    # In these diaries no time of day was checked twice on one occasion, so every value counts.
    assert sum(slot.count for slot in summary.slots) == summary.readings.count
    for slot in summary.slots:
        values = [
            found.glucose.order_steps
            for found in readings
            if found.slot is slot.slot and found.glucose.kind is Kind.NUMBER
        ]
        assert slot.figures.numbers == len(values)
        assert slot.figures.mean == pytest.approx(np.mean(values), rel=1e-12)
        if len(values) > 1:
            assert slot.figures.sd == pytest.approx(statistics.stdev(values), rel=1e-12)
        if slot.figures.is_complete:
            quartiles = np.quantile(values, [0.25, 0.5, 0.75])
            told = [slot.figures.q1, slot.figures.median, slot.figures.q3]
            assert told == pytest.approx(list(quartiles), rel=1e-12)


@pytest.mark.parametrize("row", _expected(), ids=lambda row: row["diary"])
def test_the_dots_and_bands_of_a_diary_are_its_values(row: dict[str, str]) -> None:
    readings = _readings(row["diary"])
    settings = LogSettings(day_starts_at=time(0))
    summary, series = _summary(readings), series_of(readings)
    boxes = {box.slot: box for box in day_boxes(series, summary, settings)}
    assert list(boxes) == sorted(boxes, key=lambda slot: boxes[slot].minute)
    for slot in summary.slots:
        of_slot = [one for one in readings if one.slot is slot.slot]
        values = sorted(one.glucose.order_steps for one in of_slot)
        dots = boxes[slot.slot].dots
        assert [dot.steps for dot in dots for _ in range(dot.count)] == values
        # NumPy's histogram counts from each edge to before the next.
        edges = [-10, 54, 70, 181, 251, 2_000_000]
        assert list(slot.bands.counts) == list(np.histogram(values, edges)[0])
        minutes = sorted(one.at.wall.hour * 60 + one.at.wall.minute for one in of_slot)
        assert boxes[slot.slot].minute == minutes[(len(minutes) - 1) // 2]


def test_every_low_reading_of_a_diary_belongs_to_one_low() -> None:
    for row in _expected():
        summary = _summary(_readings(row["diary"]))
        in_lows = [reading_id for low in summary.lows for reading_id in low.reading_ids]
        assert len(in_lows) == len(set(in_lows)) == summary.bands.below_70
        assert all(low.is_measured and low.help is None for low in summary.lows)
