"""Checks that belong together: before and after a meal, at bedtime and fasting.

What one pair shows is in `rise` and `change`; what several of them show is for the findings. Time
between two checks is elapsed time, so journeys and clock changes alter no pair.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from statistics import median

from logbook.domain.figures import unrounded
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.happenings import Happening
from logbook.domain.levels import LOW_BELOW
from logbook.domain.lows import to_microseconds
from logbook.domain.moments import Period, day_of_wall_minute
from logbook.domain.occasions import first_among
from logbook.domain.plan.plans import MealStart
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import AFTER_MEAL_MINUTES, Purpose, Slot
from logbook.domain.within import counted_within

# The check before a meal is made at most this long before the first bite. Common practice of
# paired testing, no source.
BEFORE_BITE_MINUTES = 30

# A fasting check later than this after bedtime is not of the same night. Judgement without a
# source.
LONGEST_NIGHT_MINUTES = 14 * 60

BEFORE_OF_AFTER = {
    Slot.AFTER_BREAKFAST: Slot.FASTING,
    Slot.AFTER_LUNCH: Slot.BEFORE_LUNCH,
    Slot.AFTER_DINNER: Slot.BEFORE_DINNER,
    Slot.AFTER_SNACK: Slot.BEFORE_SNACK,
}

_MICROSECONDS_A_MINUTE = 60_000_000
_BEFORE_BITE = BEFORE_BITE_MINUTES * _MICROSECONDS_A_MINUTE


class BiteToldBy(StrEnum):
    """What told when the first bite was: noted at the table, or the minutes noted afterwards."""

    MEAL_START = "meal_start"
    MINUTES_AFTER = "minutes_after"


@dataclass(frozen=True, slots=True)
class MealPair:
    """A check before a meal and one after it.

    `slot` is that of the check after the meal and `day` the person's day of it; `before` and
    `after` are places in the series. `minutes_after` counts whole minutes from the first bite to
    the check after it. `rise` is after minus before, in whole steps of the log's unit.
    """

    slot: Slot
    day: date
    before: int
    after: int
    bite_told_by: BiteToldBy
    minutes_after: int
    rise: int


@dataclass(frozen=True, slots=True)
class OvernightPair:
    """A bedtime check and the next fasting one; `day` is the person's day of the fasting check.

    `change` is fasting minus bedtime in whole steps of the log's unit, a fall below 0.
    `has_low_between` says that a low at bedtime or in the night stood between, which sugar may have
    raised: the change is then not the night's own.
    """

    day: date
    bedtime: int
    fasting: int
    change: int
    has_low_between: bool


@dataclass(frozen=True, slots=True)
class Changes:
    """Rises or changes of several pairs, in steps of the log's unit; None of none."""

    count: int
    median: float | None
    least: int | None
    greatest: int | None


def changes_of(steps: Iterable[int]) -> Changes:
    """How many rises or changes there are, their middle value, least and greatest."""
    ordered = sorted(steps)
    if not ordered:
        return Changes(0, None, None, None)
    return Changes(len(ordered), median(ordered), ordered[0], ordered[-1])


def meal_pairs(
    series: Series,
    period: Period,
    settings: LogSettings,
    meal_starts: Iterable[MealStart] = (),
    happenings: Iterable[Happening] = (),
) -> tuple[MealPair, ...]:
    """The pairs of `period`, both checks in it, in order of the check after the meal.

    The first bite is told by a `MealStart` of the same meal, the latest before the check after it,
    or else by the minutes noted with that check; without either there is no pair. The check before
    is the first made in the 30 minutes up to the first bite; the check after is the first made
    from `settings.after_meal_from_minutes` to 150 minutes after it. Rechecks take no part, nor do
    LO and HI, and nor does a pair with a low from the first check to before the second, measured or
    felt and treated: sugar for a low raises what follows. Each check before a meal has one pair.
    """
    counted = counted_within(series, period, settings.day_starts_at)
    bites = _Bites(meal_starts)
    numbers = _numbers_by_slot(series, counted)
    lows = _low_instants(series, counted, happenings)
    pairs = []
    for slot, before_slot in BEFORE_OF_AFTER.items():
        befores = numbers[before_slot]
        instants = [series.instants[index] for index in befores]
        taken: set[int] = set()
        for after in numbers[slot]:
            bite = bites.before(series, after)
            if bite is None:
                continue
            bitten_at, told_by = bite
            minutes_after = (series.instants[after] - bitten_at) // _MICROSECONDS_A_MINUTE
            if not settings.after_meal_from_minutes <= minutes_after <= AFTER_MEAL_MINUTES[1]:
                continue
            place = bisect_left(instants, bitten_at - _BEFORE_BITE)
            if place == len(instants) or instants[place] > bitten_at:
                continue
            before = befores[place]
            if before in taken or _is_low_between(lows, series, before, after):
                continue
            taken.add(before)
            pairs.append(
                MealPair(
                    slot=slot,
                    day=day_of_wall_minute(series.wall_minutes[after], settings.day_starts_at),
                    before=before,
                    after=after,
                    bite_told_by=told_by,
                    minutes_after=minutes_after,
                    rise=steps_between(series, before, after, settings.unit),
                )
            )
    return tuple(sorted(pairs, key=lambda pair: pair.after))


def overnight_pairs(
    series: Series,
    period: Period,
    settings: LogSettings,
    happenings: Iterable[Happening] = (),
) -> tuple[OvernightPair, ...]:
    """The pairs of `period`, both checks in it, oldest first; LO and HI take no part.

    Each check stands for its occasion. The fasting check is the next one after bedtime and at most
    14 hours later; of two bedtime checks before it the later one is meant.
    """
    counted = counted_within(series, period, settings.day_starts_at)
    slots, bedtime_slot, fasting_slot = series.slots, Slot.BEDTIME, Slot.FASTING
    of_night = [i for i in counted if slots[i] is bedtime_slot or slots[i] is fasting_slot]
    of_slots = first_among(series, of_night, period.wall_minutes(settings.day_starts_at)[0])
    bedtimes = of_slots.get(Slot.BEDTIME, [])
    bedtime_instants = [series.instants[index] for index in bedtimes]
    lows = _low_instants(series, counted, happenings)
    pairs = []
    previous = None
    for fasting in of_slots.get(Slot.FASTING, ()):
        at = series.instants[fasting]
        earliest = at - LONGEST_NIGHT_MINUTES * _MICROSECONDS_A_MINUTE
        place = bisect_left(bedtime_instants, at) - 1
        is_next = previous is None or (place >= 0 and bedtime_instants[place] > previous)
        previous = at
        if place < 0 or bedtime_instants[place] < earliest or not is_next:
            continue
        bedtime = bedtimes[place]
        if not (_is_number(series, bedtime) and _is_number(series, fasting)):
            continue
        pairs.append(
            OvernightPair(
                day=day_of_wall_minute(series.wall_minutes[fasting], settings.day_starts_at),
                bedtime=bedtime,
                fasting=fasting,
                change=steps_between(series, bedtime, fasting, settings.unit),
                has_low_between=_is_low_between(lows, series, bedtime, fasting),
            )
        )
    return tuple(pairs)


def steps_between(series: Series, first: int, second: int, unit: Unit) -> int:
    """The second number minus the first in whole steps of `unit`, halves away from nought.

    Exact where both are in `unit`; a number of the other unit is not rounded before.
    """
    if series.units[first] is unit and series.units[second] is unit:
        return series.steps[second] - series.steps[first]
    difference = unit.steps_per_one * (
        unrounded(series.steps[second], series.units[second], unit)
        - unrounded(series.steps[first], series.units[first], unit)
    )
    whole = int(abs(difference) + 0.5)
    return whole if difference >= 0 else -whole


class _Bites:
    """When meals began, asked for the check after the meal."""

    def __init__(self, meal_starts: Iterable[MealStart]) -> None:
        self._instants: dict[Slot, list[int]] = {}
        for start in meal_starts:
            if start.counts:
                self._instants.setdefault(start.slot, []).append(to_microseconds(start.at.instant))
        for instants in self._instants.values():
            instants.sort()

    def before(self, series: Series, after: int) -> tuple[int, BiteToldBy] | None:
        at = series.instants[after]
        earliest = at - AFTER_MEAL_MINUTES[1] * _MICROSECONDS_A_MINUTE
        noted = self._instants.get(series.slots[after], ())
        place = bisect_right(noted, at) - 1
        if place >= 0 and noted[place] >= earliest:
            return noted[place], BiteToldBy.MEAL_START
        minutes = series.minutes_after[after]
        if minutes is None:
            return None
        return at - minutes * _MICROSECONDS_A_MINUTE, BiteToldBy.MINUTES_AFTER


def _numbers_by_slot(series: Series, counted: Iterable[int]) -> dict[Slot, list[int]]:
    """The places of the numbers of each slot around a meal, rechecks left out."""
    found: dict[Slot, list[int]] = {slot: [] for pair in BEFORE_OF_AFTER.items() for slot in pair}
    slots, steps, purposes = series.slots, series.steps, series.purposes
    recheck = Purpose.RECHECK
    for index in counted:
        of_slot = found.get(slots[index])
        if (
            of_slot is not None
            and LO_STEPS < steps[index] < HI_STEPS
            and purposes[index] is not recheck
        ):
            of_slot.append(index)
    return found


def _is_number(series: Series, index: int) -> bool:
    return LO_STEPS < series.steps[index] < HI_STEPS


def _low_instants(
    series: Series, counted: Iterable[int], happenings: Iterable[Happening]
) -> list[int]:
    """When lows were measured or felt, in order."""
    limits = {unit: LOW_BELOW[unit] for unit in Unit}
    steps, units = series.steps, series.units
    found = [series.instants[index] for index in counted if steps[index] < limits[units[index]]]
    found += [
        to_microseconds(happening.at.instant)
        for happening in happenings
        if happening.counts and happening.what.is_low
    ]
    return sorted(found)


def _is_low_between(lows: Sequence[int], series: Series, first: int, second: int) -> bool:
    """Whether a low lies from the first check, itself included, to before the second."""
    place = bisect_left(lows, series.instants[first])
    return place < len(lows) and lows[place] < series.instants[second]
