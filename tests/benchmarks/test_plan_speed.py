"""How long it takes to decide what is due on a long log: `pytest -m benchmark -s`.

The times are printed and held: under 20 ms with 73,000 readings, which are 20 years of ten a day.
"""

from __future__ import annotations

from datetime import date, time, timedelta
from pathlib import Path
from statistics import median
from time import perf_counter
from uuid import uuid4

import pytest

from logbook.book import Book
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import PROFILE_SLOTS, USUAL_CLOCK, PlanFacts
from logbook.domain.plan.due import what_is_due
from logbook.domain.plan.plans import CheckPlan, PlannedCheck, PutAside
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.usual_times import LOOKS_BACK_DAYS
from tests.benchmarks.test_store_speed import TWENTY_YEARS, make_readings

pytestmark = [pytest.mark.benchmark, pytest.mark.slow]

_MOST_MILLISECONDS = 20.0
_TIMES = 50
_ZONE = "America/New_York"


def _facts(today: date, written: Moment) -> PlanFacts:
    """A plan a quarter, as it is after 20 years of visits, and something put aside each month."""
    checks = tuple(
        PlannedCheck(slot, USUAL_CLOCK[slot], minutes_after=120 if slot.is_after_meal else None)
        for slot in PROFILE_SLOTS
    )
    plans = tuple(
        CheckPlan(uuid4(), today - timedelta(days=91 * n), checks, written.instant, profile_days=3)
        for n in range(80)
    )
    asides = tuple(
        PutAside(uuid4(), today - timedelta(days=30 * n), Slot.BEDTIME, written.instant)
        for n in range(1, 240)
    )
    return PlanFacts(plans=plans, put_asides=asides)


def _milliseconds(facts: PlanFacts, series: Series, now: Moment) -> float:
    taken = []
    for _time in range(_TIMES):
        begun = perf_counter()
        what_is_due(facts, series, now, LogSettings())
        taken.append(1_000 * (perf_counter() - begun))
    return median(taken)


def test_what_is_due_is_decided_under_20_milliseconds(tmp_path: Path) -> None:
    made = make_readings(TWENTY_YEARS)
    assert len(made) >= 73_000
    now = Moment.at(made[-1].at.instant + timedelta(minutes=30), _ZONE)
    today = now.day(time(4))
    with Book.create(tmp_path / "a.logbook", LogSettings(), lambda: now.instant) as book:
        for first in range(0, len(made), 2_000):
            book.add(*made[first : first + 2_000])
        whole = book.series()
        facts = _facts(today, now)
        with_plan = _milliseconds(facts, whole, now)
        by_habit = _milliseconds(PlanFacts(), whole, now)
        days = Period(today - timedelta(days=LOOKS_BACK_DAYS + 1), today)
        begun = perf_counter()
        due = what_is_due(book.plan_facts(days), book.series(days), now, book.settings)
        read_and_decided = 1_000 * (perf_counter() - begun)
    print(
        f"\n{len(made)} readings, what is due: by the plan {with_plan:.2f} ms, by habit "
        f"{by_habit:.2f} ms; with reading the last {LOOKS_BACK_DAYS + 1} days from the disk "
        f"{read_and_decided:.1f} ms"
    )
    assert due.likely_slot is not None or due.next is not None
    assert with_plan < _MOST_MILLISECONDS
    assert by_habit < _MOST_MILLISECONDS
