"""What is found by tests over days and weeks, when it is kept, and what is kept out of it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import cycle
from uuid import UUID

import numpy as np
import pytest

from logbook.domain.findings import (
    Finding,
    FindingKind,
    PartOfDay,
    Rank,
    Side,
    as_of_week,
    days_needed,
)
from logbook.domain.findings.material import windows_of
from logbook.domain.findings.review import find_over_weeks
from logbook.domain.moments import Period
from logbook.domain.readings import Difference, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from tests.domain.series_of import reading, series_of
from tests.endurance.invented_logs import SCHEDULES, WITH_MEALS, InventedLog, Pattern, invent

DIALYSIS = LogSettings(day_groups=(("dialysis", "024"),))


def _log(days: int = 91, seed: int = 4, checks: int = 4, **planted: object) -> InventedLog:
    pattern = Pattern(**planted)  # type: ignore[arg-type]
    return invent(np.random.default_rng(seed), days, SCHEDULES[checks], pattern=pattern)


def _found(
    log: InventedLog, settings: LogSettings = DIALYSIS, *, as_report: bool = True, **more: object
) -> tuple[Finding, ...]:
    period = Period(log.first, log.last)
    return find_over_weeks(log.series, period, settings, as_report=as_report, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("today", "last_day"),
    [("2026-03-01", "2026-02-22"), ("2026-03-02", "2026-03-01"), ("2026-03-07", "2026-03-01")],
)
def test_a_week_ends_with_sunday_and_is_finished_on_monday(today: str, last_day: str) -> None:
    assert as_of_week(date.fromisoformat(today)) == date.fromisoformat(last_day)
    assert as_of_week(date.fromisoformat(today)).weekday() == 6


def test_weekends_that_differ_are_found_with_their_days_and_readings() -> None:
    log = _log(size=2.0, weekdays=(5, 6))
    [found] = _found(log)
    assert (found.kind, found.group, found.part) == (
        FindingKind.DAY_GROUP,
        "weekend",
        PartOfDay.WHOLE_DAY,
    )
    assert found.rank is Rank.OVER_TIME
    assert found.side is Side.HIGHER
    # 70 mg/dL were planted.
    assert found.change == pytest.approx(70, abs=20)
    days = {_day_of(log, record) for record in found.reading_ids}
    assert len(days) == found.count
    assert {day.weekday() for day in days} == {5, 6}
    assert (found.first, found.last) == (min(days), max(days))


def _day_of(log: InventedLog, record: str) -> date:
    return log.first + timedelta(days=int(record.partition("/")[0]))


def test_days_that_the_person_named_are_compared_too() -> None:
    log = _log(size=-2.0, weekdays=(0, 2, 4))
    # The weekend differs from the rest only because those days are among the rest.
    [found] = _found(log)
    assert (found.group, found.side) == ("dialysis", Side.LOWER)
    assert "dialysis" not in [one.group for one in _found(log, LogSettings())]


def test_a_part_of_the_day_is_told_where_the_whole_day_does_not_show_it() -> None:
    pattern = Pattern(size=1.6, weekdays=(5, 6), slots=(Slot.AFTER_BREAKFAST, Slot.AFTER_DINNER))
    counter = Pattern(size=-1.6, weekdays=(5, 6), slots=(Slot.FASTING, Slot.BEFORE_DINNER))
    chance = np.random.default_rng(3)
    log = invent(chance, 91, WITH_MEALS, pattern=pattern)
    again = invent(np.random.default_rng(3), 91, WITH_MEALS, pattern=counter)
    steps = tuple(
        mine if slot.is_after_meal else other
        for slot, mine, other in zip(
            log.series.slots, log.series.steps, again.series.steps, strict=True
        )
    )
    both = InventedLog(replace(log.series, steps=steps), log.first, log.last)
    [found] = _found(both, LogSettings())
    assert found.part in (PartOfDay.BEFORE_MEALS, PartOfDay.AFTER_MEALS)


def test_a_difference_smaller_than_the_margin_is_not_told_however_sure() -> None:
    flat = [
        reading(f"{day} 07:00", str(140 + (15 if day.weekday() > 4 else 0) + wobble), Slot.FASTING)
        for day, wobble in zip(
            Period(date(2026, 1, 5), date(2026, 4, 5)), cycle((-2, -1, 0, 1, 2)), strict=False
        )
    ]
    period = Period(date(2026, 1, 5), date(2026, 4, 5))
    assert find_over_weeks(series_of(flat), period, LogSettings(), as_report=True) == ()
    narrow = LogSettings(high_margin=10)
    [found] = find_over_weeks(series_of(flat), period, narrow, as_report=True)
    # One time of day alone was checked, so it is named.
    assert (found.slot, found.change) == (Slot.FASTING, 15)


def test_a_drift_is_told_with_its_change_and_weeks() -> None:
    log = _log(182, drift=3.0)
    found = [one for one in _found(log) if one.kind is FindingKind.DRIFT]
    assert {one.slot for one in found} == set(SCHEDULES[4])
    for one in found:
        assert one.of == 26
        assert 22 <= one.count <= 26  # a week may lie in a gap
        # 105 mg/dL were planted from the first day to the last.
        assert one.change == pytest.approx(105, abs=45)


def test_drift_goes_back_two_years_at_most_in_the_window() -> None:
    period = Period.ending(date(2026, 3, 31), 28)
    needed = days_needed(period, as_report=False)
    assert (period.last - needed.first).days <= 104 * 7 + 7
    assert days_needed(period, as_report=True).days == 28 + 4


def test_what_was_found_stays_until_the_next_week_is_finished() -> None:
    log = _log(84, size=2.0, weekdays=(5, 6))
    sundays = [log.first + timedelta(days=days) for days in (77, 83)]
    assert [day.weekday() for day in sundays] == [0, 6]
    of_each_day = {
        find_over_weeks(log.series, Period.ending(day, 28), LogSettings(), as_report=False)
        for day in Period(*sundays)
    }
    assert len(of_each_day) == 1
    after = Period.ending(sundays[1] + timedelta(days=1), 28)
    assert find_over_weeks(log.series, after, LogSettings(), as_report=False) not in of_each_day


def test_days_of_illness_are_no_part_of_it() -> None:
    log = _log(size=2.0, weekdays=(5, 6))
    ill = Spell(UUID(int=1), SpellKind.ILL, log.first, log.first + timedelta(days=69))
    assert _found(log, spells=[ill]) == ()
    rising = _log(182, drift=4.0)
    ten_weeks = replace(
        ill, first=rising.first + timedelta(days=56), last=rising.first + timedelta(days=125)
    )
    for drift in _found(rising, spells=[ten_weeks]):
        assert drift.count <= 16
    away = Spell(UUID(int=1), SpellKind.TRAVEL, log.first, log.first + timedelta(days=69))
    assert len(_found(log, spells=[away])) == 1


def _days_with_lows(low_when_active: bool) -> tuple[list[Reading], dict[str, tuple[Difference]]]:
    """Eight weeks; every fifth day was more active; lows on those days or on others."""
    readings, noted = [], {}
    for number, day in enumerate(Period(date(2026, 1, 5), date(2026, 3, 1))):
        morning = reading(f"{day} 07:00", str(120 + number % 7), Slot.FASTING)
        is_active = number % 5 == 0
        is_low = number % 10 == (0 if low_when_active else 1)
        evening = reading(f"{day} 18:00", "62" if is_low else "130", Slot.BEFORE_DINNER)
        readings += [morning, evening]
        if is_active:
            noted[str(morning.id)] = (Difference.MORE_ACTIVE,)
    return readings, noted


def test_what_was_noted_before_lows_is_found_where_lows_followed_it() -> None:
    period = Period(date(2026, 1, 5), date(2026, 3, 1))
    readings, noted = _days_with_lows(low_when_active=True)
    found = find_over_weeks(
        series_of(readings), period, LogSettings(), differences=noted, as_report=True
    )
    [before] = [one for one in found if one.kind is FindingKind.BEFORE_LOW]
    assert (before.count, before.of, before.difference) == (6, 6, Difference.MORE_ACTIVE)
    assert len(before.reading_ids) == 12
    readings, noted = _days_with_lows(low_when_active=False)
    found = find_over_weeks(
        series_of(readings), period, LogSettings(), differences=noted, as_report=True
    )
    assert [one for one in found if one.kind is FindingKind.BEFORE_LOW] == []


def test_what_was_noted_with_the_low_itself_says_nothing() -> None:
    period = Period(date(2026, 1, 5), date(2026, 3, 1))
    readings, _ = _days_with_lows(low_when_active=True)
    with_low = {str(one.id): (Difference.ATE_LESS,) for one in readings if one.glucose.text == "62"}
    found = find_over_weeks(
        series_of(readings), period, LogSettings(), differences=with_low, as_report=True
    )
    assert [one for one in found if one.kind is FindingKind.BEFORE_LOW] == []


def test_an_empty_log_and_one_reading_show_nothing() -> None:
    period = Period.ending(date(2026, 3, 31), 90)
    one = [reading("2026-03-20 07:00", "140", Slot.FASTING)]
    for readings in ([], one):
        for as_report in (True, False):
            found = find_over_weeks(series_of(readings), period, LogSettings(), as_report=as_report)
            assert found == ()


def test_windows_are_of_whole_days() -> None:
    days = [date(2026, 3, day) for day in (1, 10, 14, 15, 29)]
    assert windows_of(days, 2, 14) == [0, 1, 2, 3]
    assert windows_of(days, 4, 14) == []
    assert windows_of(days, 4, 15) == [0, 1, 2, 3]
