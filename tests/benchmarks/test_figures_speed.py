"""How long figures and findings of twenty years take, from the columns on.

`pytest -m benchmark -s tests/benchmarks/test_figures_speed.py`. What is asserted is a ratio: how
many times as long as one plain pass over the columns, measured beside it, so that a slow or busy
machine says the same as a quick one. 0.5 s is what it comes to on a quiet one (docs/benchmarks.md).
"""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import date, datetime
from time import process_time

import pytest

from logbook.domain.comparison import compare_with_before
from logbook.domain.day_boxes import day_boxes
from logbook.domain.findings import find_findings
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.guidelines import STARTING_POINTS, targets_of
from logbook.domain.low_episodes import low_episodes
from logbook.domain.moments import EPOCH, Period
from logbook.domain.pairs import meal_pairs, overnight_pairs
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.summary import summarise
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook

pytestmark = [pytest.mark.benchmark, pytest.mark.slow]

# Ten readings a day for twenty years, and a new target every year.
_READINGS = 73_000
_PERIOD = Period(date(2006, 1, 1), date(2026, 1, 1))
_MOST_PASSES = 150


def _twenty_years() -> Series:
    generator = random.Random(1)
    start = int((datetime(2006, 1, 1, 4) - EPOCH).total_seconds()) // 60
    walls = tuple(start + n * 144 + generator.randrange(60) for n in range(_READINGS))
    slots = (*list(Slot)[:6], Slot.BETWEEN_MEALS, Slot.BEDTIME, Slot.NIGHT, Slot.OTHER)
    of_reading = tuple(slots[n % 10] for n in range(_READINGS))
    steps = tuple(
        generator.choice([LO_STEPS, HI_STEPS])
        if generator.random() < 0.001
        else max(30, int(generator.gauss(150, 45)))
        for _ in range(_READINGS)
    )
    return Series(
        ids=tuple(map(str, range(_READINGS))),
        instants=tuple(wall * 60_000_000 for wall in walls),
        wall_minutes=walls,
        written_minutes=walls,
        steps=steps,
        units=(Unit.MG_DL,) * _READINGS,
        slots=of_reading,
        purposes=tuple(
            Purpose.RECHECK if n % 37 == 0 else Purpose.PLANNED for n in range(_READINGS)
        ),
        marks=tuple(int(Mark.CROSSED_OUT) if n % 101 == 0 else 0 for n in range(_READINGS)),
        minutes_after=tuple(120 if slot.is_after_meal else None for slot in of_reading),
        rechecks_of=(None,) * _READINGS,
    )


def _seconds(work: Callable[[], object]) -> float:
    """Seconds of the processor, the least of several: what else runs here is not counted."""
    taken = []
    for _ in range(5):
        began = process_time()
        work()
        taken.append(process_time() - began)
    return min(taken)


def _one_pass(series: Series) -> int:
    """Look at each reading once, as every figure has to."""
    found, planned = 0, Purpose.PLANNED
    for steps, purpose, marks in zip(series.steps, series.purposes, series.marks, strict=True):
        if purpose is planned and not marks & 15 and steps > 70:
            found += steps
    return found


def test_all_figures_of_twenty_years() -> None:
    series, settings = _twenty_years(), LogSettings()
    targets = TargetBook(
        target
        for year in range(2005, 2026)
        for target in targets_of(STARTING_POINTS[year % 3], date(year, 6, 1))
    )
    summary = summarise(series, _PERIOD, settings, targets, (), ())
    parts: dict[str, Callable[[], object]] = {
        "summary": lambda: summarise(series, _PERIOD, settings, targets, (), ()),
        "boxes": lambda: day_boxes(series, summary, settings),
        "meal pairs": lambda: meal_pairs(series, _PERIOD, settings),
        "overnight pairs": lambda: overnight_pairs(series, _PERIOD, settings),
        "low episodes": lambda: low_episodes(summary.lows),
        "beside the period before": lambda: compare_with_before(summary, summary),
        "findings": lambda: find_findings(
            series, _PERIOD, settings, targets, (), (), TickBook(()), as_report=True
        ),
    }
    one_pass = _seconds(lambda: _one_pass(series))
    taken = {name: _seconds(work) for name, work in parts.items()}
    told = ", ".join(f"{name} {seconds:.3f} s" for name, seconds in taken.items())
    print(f"\n{_READINGS:,} readings, {len(summary.lows):,} lows: {told}")
    passes = sum(taken.values()) / one_pass
    print(f"together {sum(taken.values()):.2f} s, {passes:.0f} passes of {1000 * one_pass:.1f} ms")
    assert passes < _MOST_PASSES
