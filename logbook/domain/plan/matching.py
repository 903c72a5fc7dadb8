"""Which reading makes which asked check done: each reading at most one, each check at most once.

Slots that come once in a person's day are told apart by the day; the clock does not matter, for a
check in the slot is that check, early or late. Others (night, snacks, between meals) are told apart
by the clock.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from datetime import datetime, time, timedelta

from logbook.domain.moments import EPOCH, MINUTES_A_DAY
from logbook.domain.occasions import ONCE_A_DAY
from logbook.domain.plan.calendar_days import DayCheck, Reason
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.slots import Purpose, Slot

# How far from its time a check in a slot that comes several times a day still counts for it, and
# never beyond half way to the next of the same slot. Judgement without a source.
COUNTS_WITHIN_MINUTES = 180


def wall_minute(wall: datetime) -> int:
    """Whole wall-clock minutes since 1970-01-01 00:00."""
    return int((wall - EPOCH) // timedelta(minutes=1))


def done_checks(
    checks: Sequence[DayCheck], series: Series, indices: Iterable[int], day_starts_at: time
) -> dict[int, int]:
    """For the index of each check that was made, the index of the reading in `series`.

    `indices` are the readings to look at. It is the first by the wall clock that takes part in
    figures and is no recheck. Checks when ill take any slot, from what the other checks left.
    """
    outside = int(OUTSIDE_FIGURES)
    readings: dict[Slot, list[tuple[int, int]]] = {}
    for index in indices:
        if not series.marks[index] & outside and series.purposes[index] is not Purpose.RECHECK:
            wall = series.wall_minutes[index]
            readings.setdefault(series.slots[index], []).append((wall, index))
    for found in readings.values():
        found.sort()
    groups: dict[Slot, list[int]] = {}
    when_ill: list[int] = []
    for number, check in enumerate(checks):
        group = when_ill if check.reason is Reason.ILL else groups.setdefault(check.slot, [])
        group.append(number)
    done: dict[int, int] = {}
    for slot, numbers in groups.items():
        done.update(_first_in_windows(checks, numbers, readings.get(slot, []), day_starts_at))
    if when_ill:
        used = set(done.values())
        left = sorted(one for found in readings.values() for one in found if one[1] not in used)
        done.update(_first_in_windows(checks, when_ill, left, day_starts_at))
    return done


def _first_in_windows(
    checks: Sequence[DayCheck],
    numbers: list[int],
    readings: list[tuple[int, int]],
    day_starts_at: time,
) -> dict[int, int]:
    numbers = sorted(numbers, key=lambda number: checks[number].at)
    minutes = [wall_minute(checks[number].at) for number in numbers]
    found = {}
    for place, number in enumerate(numbers):
        begin, end = _window(checks[number], minutes[place], day_starts_at)
        # Half way to its neighbours, so that no two windows of a slot share a minute. Days are
        # apart by themselves where a slot comes once a day.
        if place and _are_told_apart_by_clock(checks[numbers[place - 1]], checks[number]):
            begin = max(begin, (minutes[place - 1] + minutes[place] + 1) // 2)
        is_last = place + 1 == len(numbers)
        if not is_last and _are_told_apart_by_clock(checks[number], checks[numbers[place + 1]]):
            end = min(end, (minutes[place] + minutes[place + 1] + 1) // 2)
        first = bisect_left(readings, (begin, -1))
        if first < len(readings) and readings[first][0] < end:
            found[number] = readings[first][1]
    return found


def _are_told_apart_by_clock(one: DayCheck, other: DayCheck) -> bool:
    return one.slot not in ONCE_A_DAY or one.day == other.day


def _window(check: DayCheck, minute: int, day_starts_at: time) -> tuple[int, int]:
    """From and until (half open) before the neighbours are looked at."""
    if check.slot in ONCE_A_DAY:
        begin = wall_minute(datetime.combine(check.day, day_starts_at))
        return begin, begin + MINUTES_A_DAY
    return minute - COUNTS_WITHIN_MINUTES, minute + COUNTS_WITHIN_MINUTES + 1
