"""What a picture of the day shows: readings over the hours, each with its state, and target bands.

A page holds so many marks before it is a blot, so a long period shows a part of its readings: the
latest lows always, the rest evenly over time. How marks look is for those who draw.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, time

from logbook.domain.glucose import Unit
from logbook.domain.levels import LOW_BELOW
from logbook.domain.moments import MINUTES_A_DAY, Period
from logbook.domain.picture import Marks, StateJudge, in_target_range
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.states import State
from logbook.domain.targets import TargetBook

MOST_MARKS = 1_200
_MOST_LOW_MARKS = 100


@dataclass(frozen=True, slots=True)
class PictureMark:
    """One reading: minutes since the person's day began, steps of `unit`, and its state."""

    minute: int
    steps: int
    unit: Unit
    state: State


@dataclass(frozen=True, slots=True)
class Band:
    """The target of one slot in steps, over the minutes of the day that are nearest to it."""

    first_minute: int
    last_minute: int
    lowest: int
    highest: int


def picture_marks(
    series: Series, period: Period, settings: LogSettings, targets: TargetBook
) -> tuple[list[PictureMark], int]:
    """The marks, in order of time, and how many readings there are to show."""
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    outside = int(OUTSIDE_FIGURES)
    low: list[int] = []
    rest: list[int] = []
    columns = zip(series.wall_minutes, series.steps, series.units, series.marks, strict=True)
    for index, (wall, steps, unit, marks) in enumerate(columns):
        if first_minute <= wall < end_minute and not marks & outside:
            (low if steps < LOW_BELOW[unit] else rest).append(index)
    shown_low = low[-_MOST_LOW_MARKS:]
    judge = StateJudge(targets, settings)
    shown = []
    for index in sorted(shown_low + evenly(rest, MOST_MARKS - len(shown_low))):
        wall, steps, unit = series.wall_minutes[index], series.steps[index], series.units[index]
        state = judge.state(wall, steps, unit, series.slots[index])
        shown.append(PictureMark((wall - first_minute) % MINUTES_A_DAY, steps, unit, state))
    return shown, len(low) + len(rest)


def marks_over_day(marks: Marks, period: Period, day_starts_at: time) -> Marks:
    """The marks of a picture over time laid over one day: minutes since the person's day began."""
    first, _end = period.wall_minutes(day_starts_at)
    return replace(
        marks, wall_minutes=tuple((wall - first) % MINUTES_A_DAY for wall in marks.wall_minutes)
    )


def evenly(indices: list[int], most: int) -> list[int]:
    """At most `most` (2 or more) of `indices`, evenly chosen, first and last among them."""
    if len(indices) <= most:
        return indices
    last = len(indices) - 1
    return [indices[round(number * last / (most - 1))] for number in range(most)]


def target_bands(
    usual_minutes: Mapping[Slot, int],
    targets: TargetBook,
    day: date,
    unit: Unit,
    very_high_above: int | None = None,
) -> list[Band]:
    """The targets of `day` over the hours, each half way to the next slot's usual time."""
    order = sorted(usual_minutes, key=lambda slot: usual_minutes[slot])
    bands = []
    for place, slot in enumerate(order):
        target = targets.for_slot(slot, day)
        limits = None if target is None else target.limits_in(unit)
        if limits is None or (limits.lower is None and limits.upper is None):
            continue
        here = usual_minutes[slot]
        first = (usual_minutes[order[place - 1]] + here) // 2 if place else 0
        is_last = place + 1 == len(order)
        last = MINUTES_A_DAY if is_last else (here + usual_minutes[order[place + 1]]) // 2
        bands.append(Band(first, last, *in_target_range(limits, very_high_above)))
    return bands


def minute_of_day(at: time, day_starts_at: time) -> int:
    """Minutes since the person's day began."""
    start = day_starts_at.hour * 60 + day_starts_at.minute
    return (at.hour * 60 + at.minute - start) % MINUTES_A_DAY
