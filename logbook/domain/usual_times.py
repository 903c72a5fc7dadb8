"""When this person usually checks, told from their own last four weeks; until there is a plan.

Modest on purpose: a time of day is usual when it was checked on at least 5 of the last 28 days, and
a check counts as due only near its usual time. Where the log is too young, common meal hours choose
a tile, and nothing is said to be due. All numbers here are judgement without a source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import time, timedelta
from statistics import median_low

from logbook.domain.moments import MINUTES_A_DAY, Moment, Period
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot

LOOKS_BACK_DAYS = 28
_NEEDS_DAYS = 5
_NEAR_MINUTES = 90

# From and until, in hours of the wall clock.
_COMMON_HOURS = (
    (Slot.FASTING, 5, 9.5),
    (Slot.BEFORE_LUNCH, 11, 13),
    (Slot.BEFORE_DINNER, 17, 19),
    (Slot.BEDTIME, 21, 24),
    (Slot.NIGHT, 0, 4),
)


@dataclass(frozen=True, slots=True)
class UsualCheck:
    """A time of day and the clock time at which it is usually checked."""

    slot: Slot
    at: time
    minutes_from_day_start: int


@dataclass(frozen=True, slots=True)
class UsualTimes:
    """The usual checks in the order of the day, and the slots already checked today."""

    checks: tuple[UsualCheck, ...]
    done_today: frozenset[Slot]
    day_starts_at: time

    def due(self, now: Moment) -> UsualCheck | None:
        """The usual check nearest to now, within 90 minutes and not done today."""
        minute = _from_day_start(now.wall_minute, self.day_starts_at)
        near = [
            (abs(check.minutes_from_day_start - minute), index)
            for index, check in enumerate(self.checks)
            if check.slot not in self.done_today
        ]
        distance, index = min(near, default=(MINUTES_A_DAY, -1))
        return self.checks[index] if distance <= _NEAR_MINUTES else None

    def likely_slot(self, now: Moment) -> Slot | None:
        """The tile to choose beforehand: only where the clock and the usual times agree."""
        if self.checks:
            check = self.due(now)
            return None if check is None else check.slot
        common = self.slot_at(now)
        return None if common in self.done_today else common

    def slot_at(self, at: Moment) -> Slot | None:
        """What a check of any day at this time was likely for, whatever was checked since."""
        if self.checks:
            check = replace(self, done_today=frozenset()).due(at)
            return None if check is None else check.slot
        hour = at.wall.hour + at.wall.minute / 60
        return next((slot for slot, begin, end in _COMMON_HOURS if begin <= hour < end), None)


def usual_times(series: Series, now: Moment, day_starts_at: time) -> UsualTimes:
    """The usual times of the last 28 of the person's days; `series` must hold them."""
    today = now.day(day_starts_at)
    before = Period.ending(today - timedelta(days=1), LOOKS_BACK_DAYS)
    start, end = before.wall_minutes(day_starts_at)
    days_of: dict[Slot, set[int]] = {}
    minutes_of: dict[Slot, list[int]] = {}
    done_today = set()
    for slot, wall in _planned(series):
        if start <= wall < end:
            days_of.setdefault(slot, set()).add((wall - start) // MINUTES_A_DAY)
            minutes_of.setdefault(slot, []).append((wall - start) % MINUTES_A_DAY)
        elif end <= wall <= now.wall_minute:
            done_today.add(slot)
    checks = [
        _check(slot, median_low(minutes_of[slot]), day_starts_at)
        for slot, days in days_of.items()
        if len(days) >= _NEEDS_DAYS and slot is not Slot.OTHER
    ]
    checks.sort(key=lambda check: check.minutes_from_day_start)
    return UsualTimes(tuple(checks), frozenset(done_today), day_starts_at)


def _planned(series: Series) -> Iterator[tuple[Slot, int]]:
    aside = (Purpose.RECHECK, Purpose.REPEAT)
    for index in series.counted():
        if series.purposes[index] not in aside:
            yield series.slots[index], series.wall_minutes[index]


def _check(slot: Slot, minutes: int, day_starts_at: time) -> UsualCheck:
    # To the quarter of an hour: a usual time told to the minute would sound like a rule.
    rounded = (minutes + 7) // 15 * 15
    clock = (day_starts_at.hour * 60 + day_starts_at.minute + rounded) % MINUTES_A_DAY
    return UsualCheck(slot, time(clock // 60, clock % 60), minutes)


def _from_day_start(wall_minute: int, day_starts_at: time) -> int:
    return (wall_minute - day_starts_at.hour * 60 - day_starts_at.minute) % MINUTES_A_DAY
