"""Figures of ten real diaries against a table made outside this project, and against NumPy.

The diaries are not part of the project. They are looked for in the folder that LOGBOOK_OPEN_DATA
names, in `uci-diabetes`: M. Kahn, "Diabetes", UCI Machine Learning Repository, doi 10.24432/C5T59G.
AIM-94 data set provided by Michael Kahn, MD, PhD, Washington University, St. Louis, MO.

The reader below is the test's own and shares nothing with the program's import.
"""

from __future__ import annotations

import csv
import os
import statistics
from datetime import datetime, time
from pathlib import Path

import numpy as np
import pytest

from logbook.domain.glucose import Kind
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.summary import Summary, summarise
from logbook.domain.targets import TargetBook
from tests.domain.series_of import reading, series_of

_FOLDER = Path(os.environ.get("LOGBOOK_OPEN_DATA", "")) / "uci-diabetes"

pytestmark = pytest.mark.skipif(
    not os.environ.get("LOGBOOK_OPEN_DATA"),
    reason="LOGBOOK_OPEN_DATA names no folder with the open diaries",
)

_TABLE = Path(__file__).parent / "data" / "open_diaries.csv"
_SLOTS = {
    "48": Slot.OTHER,
    "57": Slot.OTHER,
    "58": Slot.FASTING,
    "59": Slot.AFTER_BREAKFAST,
    "60": Slot.BEFORE_LUNCH,
    "61": Slot.AFTER_LUNCH,
    "62": Slot.BEFORE_DINNER,
    "63": Slot.AFTER_DINNER,
    "64": Slot.BEFORE_SNACK,
}
_ENDS = {"0Lo": "LO", "0Hi": "HI"}


def _expected() -> list[dict[str, str]]:
    lines = [line for line in _TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def _readings(diary: str) -> list[Reading]:
    found = []
    for line in (_FOLDER / diary).read_text("ascii").splitlines():
        fields = line.split("\t")
        if len(fields) != 4 or fields[2] not in _SLOTS:
            continue
        day, clock, code, value = fields
        try:
            wall = datetime.strptime(f"{day} {clock}", "%m-%d-%Y %H:%M")
        except ValueError:
            continue
        shown = _ENDS.get(value, value)
        if value not in _ENDS and (not value.isdigit() or int(value) == 0):
            continue
        found.append(reading(wall.isoformat(" "), shown.lstrip("0") or "0", _SLOTS[code]))
    return found


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


def test_every_low_reading_of_a_diary_belongs_to_one_low() -> None:
    for row in _expected():
        summary = _summary(_readings(row["diary"]))
        in_lows = [reading_id for low in summary.lows for reading_id in low.reading_ids]
        assert len(in_lows) == len(set(in_lows)) == summary.bands.below_70
        assert all(low.is_measured and low.help is None for low in summary.lows)
