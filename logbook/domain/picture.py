"""What the picture of readings over time holds: marks with their states, the target of each day.

One source for the picture, for its table and for its words, so that they can't disagree. Where a
mark lies on a screen is in `picture_scale`; how it is drawn is for those who draw.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit, converted_steps
from logbook.domain.levels import LOW_BELOW, VERY_HIGH_ABOVE
from logbook.domain.moments import EPOCH, MINUTES_A_DAY, Period
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell
from logbook.domain.states import State, state_of_steps
from logbook.domain.targets import KIND_OF_SLOT, Limits, Operator, TargetBook, TargetKind

# The order in which states are counted, named and drawn: what matters most comes first.
STATES_IN_ORDER = (
    State.VERY_LOW,
    State.LOW,
    State.BELOW_TARGET,
    State.IN_TARGET,
    State.ABOVE_TARGET,
    State.VERY_HIGH,
    State.NOT_JUDGED,
)


@dataclass(frozen=True, slots=True)
class Marks:
    """The marks of a picture in columns of equal length, in order of instant.

    `indices` are the readings' places in the series; `wall_minutes` as there; `steps` are in the
    picture's unit, for the place of the mark alone (LO and HI keep their own steps); `states` were
    judged in the reading's own unit by the target of its own day.
    """

    indices: tuple[int, ...]
    wall_minutes: tuple[int, ...]
    steps: tuple[int, ...]
    states: tuple[State, ...]

    def __len__(self) -> int:
        return len(self.indices)

    def counts(self) -> Counter[State]:
        """How many marks stand where."""
        return Counter(self.states)


def marks_of(
    series: Series,
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    kind: TargetKind | None = None,
) -> Marks:
    """The readings of `period` that take part in figures, or those of one `kind` of check."""
    judge = StateJudge(targets, settings)
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    outside = int(OUTSIDE_FIGURES)
    wanted = None if kind is None else slots_of(kind)
    found: list[tuple[int, int, int, State]] = []
    columns = zip(
        series.wall_minutes, series.steps, series.units, series.slots, series.marks, strict=True
    )
    for index, (wall, steps, unit, slot, marks) in enumerate(columns):
        if marks & outside or not first_minute <= wall < end_minute:
            continue
        if wanted is not None and slot not in wanted:
            continue
        place = steps
        if unit is not settings.unit and steps not in (LO_STEPS, HI_STEPS):
            place = converted_steps(steps, unit, settings.unit)
        found.append((index, wall, place, judge.state(wall, steps, unit, slot)))
    if not found:
        return Marks((), (), (), ())
    indices, walls, places, states = zip(*found, strict=True)
    return Marks(indices, walls, places, states)


def slots_of(kind: TargetKind) -> frozenset[Slot]:
    """The times of day that are held against the target of `kind`."""
    return frozenset(slot for slot, its_kind in KIND_OF_SLOT.items() if its_kind is kind)


class StateJudge:
    """Tells the states of many readings; each different case is judged once."""

    def __init__(self, targets: TargetBook, settings: LogSettings) -> None:
        self._targets, self._settings = targets, settings
        self._days = targets.change_days()
        self._changes = [_first_minute(day, settings.day_starts_at) for day in self._days]
        self._known: dict[tuple[int, Slot, Unit, int], State] = {}

    def state(self, wall_minute: int, steps: int, unit: Unit, slot: Slot) -> State:
        """The state of a value by the target that held on its own day."""
        change = bisect_right(self._changes, wall_minute)
        case = change, slot, unit, steps
        known = self._known.get(case)
        if known is None:
            target = self._targets.for_slot(slot, self._days[change - 1]) if change else None
            limits = target.limits_in(unit) if target is not None else None
            own = self._settings.very_high_above if unit is self._settings.unit else None
            known = self._known[case] = state_of_steps(steps, unit, limits, own)
        return known


# --- the target of each day ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class BandStep:
    """From `first` to `last` day every reading from `lowest` to `highest` steps is in target."""

    first: date
    last: date
    lowest: int
    highest: int


def band_steps(
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    kinds: Collection[TargetKind],
) -> tuple[BandStep, ...]:
    """The target of each day for `kinds` of checks, in the log's unit, equal days put together.

    For several kinds it is what their targets have in common, so that a mark inside the band is in
    target whatever the time of day. Days without a target, or with nothing in common, have none.
    """
    edges = [period.first, *(day for day in targets.change_days() if period.first < day)]
    starts = [day for day in edges if day in period]
    steps: list[BandStep] = []
    for number, start in enumerate(starts):
        after = starts[number + 1] if number + 1 < len(starts) else period.last + timedelta(days=1)
        common = _common_range(start, settings, targets, kinds)
        if common is None:
            continue
        last = after - timedelta(days=1)
        if steps and (steps[-1].lowest, steps[-1].highest) == common and _meet(steps[-1], start):
            steps[-1] = BandStep(steps[-1].first, last, *common)
        else:
            steps.append(BandStep(start, last, *common))
    return tuple(steps)


def kinds_in(series: Series, marks: Marks) -> tuple[TargetKind, ...]:
    """The kinds of checks among `marks`, in the order of the day."""
    slots = {series.slots[index] for index in marks.indices}
    kinds = {KIND_OF_SLOT[slot] for slot in slots if slot in KIND_OF_SLOT}
    return tuple(kind for kind in TargetKind if kind in kinds)


def _common_range(
    day: date, settings: LogSettings, targets: TargetBook, kinds: Collection[TargetKind]
) -> tuple[int, int] | None:
    ranges = []
    for kind in kinds:
        target = targets.of_kind(kind, day)
        limits = target.limits_in(settings.unit) if target is not None else None
        if limits is not None and (limits.lower is not None or limits.upper is not None):
            ranges.append(in_target_range(limits, settings.very_high_above))
    if not ranges:
        return None
    lowest = max(low for low, _high in ranges)
    highest = min(high for _low, high in ranges)
    return (lowest, highest) if lowest <= highest else None


def in_target_range(limits: Limits, very_high_above: int | None = None) -> tuple[int, int]:
    """The lowest and highest steps that are in target: a low or very high value never is."""
    lowest = LOW_BELOW[limits.unit]
    highest = VERY_HIGH_ABOVE[limits.unit] if very_high_above is None else very_high_above
    if limits.lower is not None:
        is_above = limits.lower.operator is Operator.ABOVE
        lowest = max(lowest, limits.lower.steps + (1 if is_above else 0))
    if limits.upper is not None:
        is_below = limits.upper.operator is Operator.BELOW
        highest = min(highest, limits.upper.steps - (1 if is_below else 0))
    return lowest, highest


def _meet(step: BandStep, day: date) -> bool:
    return step.last + timedelta(days=1) == day


# --- spells --------------------------------------------------------------------------------------


def spells_in(spells: Iterable[Spell], period: Period) -> list[tuple[Spell, Period]]:
    """The spells that touch `period`, each with its part inside, in order of first day."""
    found = []
    for spell in spells:
        last = period.last if spell.last is None else min(spell.last, period.last)
        first = max(spell.first, period.first)
        if first <= last:
            found.append((spell, Period(first, last)))
    return sorted(found, key=lambda pair: pair[1].first)


# --- the same as a table -------------------------------------------------------------------------

# A row of the table is a day up to here, then a week, a month, a year, so that it can be read.
_DAYS_AS_DAYS = 31
_DAYS_AS_WEEKS = 186
_DAYS_AS_MONTHS = 4 * 366


@dataclass(frozen=True, slots=True)
class Stretch:
    """The readings of some days: how many stand where, lowest and highest in the picture's unit."""

    period: Period
    counts: Counter[State]
    lowest: int | None
    highest: int | None

    @property
    def count(self) -> int:
        """How many readings."""
        return sum(self.counts.values())


def stretches_of(marks: Marks, period: Period, day_starts_at: time) -> tuple[Stretch, ...]:
    """The picture as rows, oldest first; days, weeks (from Monday), months or years."""
    parts = parts_of(period)
    ends = [_first_minute(part.last, day_starts_at) + MINUTES_A_DAY for part in parts]
    counts: list[Counter[State]] = [Counter() for _part in parts]
    values: list[list[int]] = [[] for _part in parts]
    for wall, steps, state in zip(marks.wall_minutes, marks.steps, marks.states, strict=True):
        row = bisect_right(ends, wall)
        counts[row][state] += 1
        values[row].append(steps)
    return tuple(
        Stretch(part, counted, min(found, default=None), max(found, default=None))
        for part, counted, found in zip(parts, counts, values, strict=True)
    )


def parts_of(period: Period) -> list[Period]:
    """A period cut into days, weeks, months or years, whichever can still be read."""
    if period.days <= _DAYS_AS_DAYS:
        return [Period(day, day) for day in period]
    parts = []
    first = period.first
    while first <= period.last:
        if period.days <= _DAYS_AS_WEEKS:
            after = first + timedelta(days=7 - first.weekday())
        elif period.days <= _DAYS_AS_MONTHS:
            after = _next_month(first)
        else:
            after = date(first.year + 1, 1, 1)
        parts.append(Period(first, min(after - timedelta(days=1), period.last)))
        first = after
    return parts


def days_with_marks(marks: Marks, day_starts_at: time) -> int:
    """On how many of the person's days there is a mark."""
    start = day_starts_at.hour * 60 + day_starts_at.minute
    return len({(wall - start) // MINUTES_A_DAY for wall in marks.wall_minutes})


def left_out_of(series: Series, period: Period, day_starts_at: time) -> int:
    """How many readings of `period` are in the list but outside picture and figures."""
    first_minute, end_minute = period.wall_minutes(day_starts_at)
    outside = int(OUTSIDE_FIGURES)
    return sum(
        1
        for wall, marks in zip(series.wall_minutes, series.marks, strict=True)
        if marks & outside and first_minute <= wall < end_minute
    )


def _next_month(day: date) -> date:
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1)


def _first_minute(day: date, starts_at: time) -> int:
    return int((datetime.combine(day, starts_at) - EPOCH) // timedelta(minutes=1))
