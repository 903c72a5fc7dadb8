"""Pairs of checks against a brute force over matrices, which shares no code with the program."""

from __future__ import annotations

import random
from datetime import date, datetime, timedelta

import numpy as np
import pytest

from logbook.domain.moments import Period
from logbook.domain.pairs import meal_pairs, overnight_pairs
from logbook.domain.readings import Reading
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from tests.domain.open_diaries import DIARIES, diary_lines, needs_open_data
from tests.domain.series_of import reading, series_of

_PARTNERS = {
    Slot.AFTER_BREAKFAST: Slot.FASTING,
    Slot.AFTER_LUNCH: Slot.BEFORE_LUNCH,
    Slot.AFTER_DINNER: Slot.BEFORE_DINNER,
    Slot.AFTER_SNACK: Slot.BEFORE_SNACK,
}


def _brute_force(series: Series, least_minutes: int) -> list[tuple[int, int, int]]:
    """Every before against every after, as matrices; a pair is (before, after, rise)."""
    minutes = np.array(series.instants) / 60e6
    steps = np.array(series.steps)
    counts = np.array([marks & 15 == 0 for marks in series.marks])
    slots = np.array(series.slots)
    usable = counts & (steps > 0) & (steps < 1000)
    usable &= np.array([purpose is not Purpose.RECHECK for purpose in series.purposes])
    is_low = counts & (steps < 70)
    since_bite = np.array([np.nan if m is None else m for m in series.minutes_after], dtype=float)
    bite = minutes - since_bite
    fits = np.zeros((len(series), len(series)), dtype=bool)
    for after_slot, before_slot in _PARTNERS.items():
        fits |= (slots == before_slot)[:, None] & (slots == after_slot)[None, :]
    fits &= usable[:, None] & usable[None, :]
    ahead = bite[None, :] - minutes[:, None]
    fits &= (ahead >= 0) & (ahead <= 30)
    fits &= ((since_bite >= least_minutes) & (since_bite <= 150))[None, :]
    found = []
    taken = set()
    for after in np.flatnonzero(fits.any(axis=0)):
        before = int(np.flatnonzero(fits[:, after])[0])
        between = (minutes >= minutes[before]) & (minutes < minutes[after]) & is_low
        if between.any() or before in taken:
            continue
        taken.add(before)
        found.append((before, int(after), int(steps[after] - steps[before])))
    return found


def _told(series: Series, settings: LogSettings) -> list[tuple[int, int, int]]:
    period = Period(date(1980, 1, 1), date(2030, 1, 1))
    return [(p.before, p.after, p.rise) for p in meal_pairs(series, period, settings)]


def _invented(generator: random.Random) -> Series:
    """Meals close together, with slips of every kind: what a careful log seldom shows."""
    at = datetime(2026, 3, 2, 7)
    after_slot = generator.choice([*_PARTNERS])
    slots = [after_slot, _PARTNERS[after_slot], generator.choice([*Slot])]
    readings = []
    for _ in range(generator.randrange(1, 60)):
        slot = generator.choice(slots)
        minutes = generator.choice([None, 60, 75, 90, 120, 150]) if slot in _PARTNERS else None
        readings.append(
            reading(
                at.isoformat(" "),
                generator.choice(["LO", "HI", *map(str, range(66, 260, 4))]),
                slot,
                minutes_after=minutes,
                purpose=generator.choice([*Purpose]),
                crossed_out=generator.random() < 0.1,
                doubted=generator.random() < 0.1,
            )
        )
        at += timedelta(minutes=generator.choice([0, 10, 25, 60, 90, 120, 145]))
    return series_of(readings)


@pytest.mark.parametrize("least_minutes", [60, 90])
def test_meal_pairs_agree_with_a_brute_force_on_invented_days(least_minutes: int) -> None:
    generator = random.Random(20260302)
    settings = LogSettings(after_meal_from_minutes=least_minutes)
    found = 0
    for _ in range(300):
        series = _invented(generator)
        expected = _brute_force(series, least_minutes)
        assert _told(series, settings) == expected
        found += len(expected)
    assert found > 100


def _values(diary: str) -> list[tuple[datetime, str]]:
    return [(at, shown) for at, _, shown in diary_lines(diary)]


def _with_parts_by_lot(values: list[tuple[datetime, str]], generator: random.Random) -> Series:
    """The values and times of a diary, with a part in a meal given to each by lot.

    These diaries hold hardly a check after a meal, so which is one and how long after is drawn;
    levels, gaps, lows, LO and HI are the diary's own.
    """
    readings: list[Reading] = []
    for at, shown in values:
        slot, minutes = Slot.BEFORE_LUNCH, None
        if readings and generator.random() < 0.6:
            gap = (at - readings[-1].at.wall) // timedelta(minutes=1)
            slot, minutes = Slot.AFTER_LUNCH, max(0, gap - generator.randrange(-5, 40))
        readings.append(reading(at.isoformat(" "), shown, slot, minutes_after=minutes))
    return series_of(readings)


@needs_open_data
def test_meal_pairs_agree_with_a_brute_force_on_the_open_diaries() -> None:
    generator = random.Random(7)
    settings = LogSettings(after_meal_from_minutes=60)
    found = 0
    for diary in DIARIES:
        for _ in range(5):
            series = _with_parts_by_lot(_values(diary), generator)
            expected = _brute_force(series, 60)
            assert _told(series, settings) == expected
            found += len(expected)
    assert found > 20


@needs_open_data
@pytest.mark.parametrize("diary", DIARIES)
def test_overnight_pairs_agree_with_a_brute_force_on_the_open_diaries(diary: str) -> None:
    """The last check from 21:00 on and the first one from 05:00 to 10:00 of the next day."""
    values = _values(diary)
    readings: list[Reading] = []
    for at, shown in values:
        slot = Slot.BEDTIME if at.hour >= 21 else Slot.OTHER
        readings.append(
            reading(at.isoformat(" "), shown, Slot.FASTING if 5 <= at.hour < 10 else slot)
        )
    nights: dict[date, tuple[float, float]] = {}
    for day in sorted({at.date() for at, _ in values}):
        evening = [shown for at, shown in values if at.date() == day and at.hour >= 21]
        morning = [
            shown
            for at, shown in values
            if at.date() == day + timedelta(days=1) and 5 <= at.hour < 10
        ]
        if evening and morning and evening[0].isdigit() and morning[0].isdigit():
            nights[day + timedelta(days=1)] = float(evening[0]), float(morning[0])
    period = Period(date(1980, 1, 1), date(2030, 1, 1))
    pairs = overnight_pairs(series_of(readings), period, LogSettings())
    assert {p.day: p.change for p in pairs} == {
        day: int(np.diff(np.array(night))[0]) for day, night in nights.items()
    }
