"""Where things of a picture lie: range and ticks of its two axes, and marks that share a place.

Numbers only. What stands beside a tick is for those who draw.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from math import ceil, floor

from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.moments import EPOCH, Period
from logbook.domain.picture import Marks
from logbook.domain.states import State

# What the axis shows at least, in steps of the unit, so that a calm week does not look wild.
_LEAST_RANGE = {Unit.MG_DL: (50, 200), Unit.MMOL_L: (30, 110)}
_VALUE_STEPS = {Unit.MG_DL: (50, 100, 200), Unit.MMOL_L: (20, 50, 100)}

# Above this many marks those that share a place are drawn as one. At a dozen a day a month still
# shows each reading by itself.
MOST_SINGLE_MARKS = 2_000


@dataclass(frozen=True, slots=True)
class ValueScale:
    """The upright axis in steps: from `least` to `most`, ticks, and where LO and HI are put."""

    least: float
    most: float
    ticks: tuple[int, ...]
    place_of_lo: float
    place_of_hi: float

    def place(self, steps: int) -> float:
        """Where a value lies; LO at the foot, HI at the head."""
        if steps == LO_STEPS:
            return self.place_of_lo
        return self.place_of_hi if steps == HI_STEPS else float(steps)


def value_scale(steps: Sequence[int], unit: Unit, at_most: int = 7) -> ValueScale:
    """An axis that shows all of `steps`, with at most `at_most` round ticks."""
    numbers = [value for value in steps if value not in (LO_STEPS, HI_STEPS)]
    least, most = _LEAST_RANGE[unit]
    least, most = min([least, *numbers]), max([most, *numbers])
    every = next(
        (step for step in _VALUE_STEPS[unit] if most // step - ceil(least / step) < at_most),
        _VALUE_STEPS[unit][-1],
    )
    ticks = tuple(range(ceil(least / every) * every, most + 1, every))
    room = (most - least) * 0.06
    lane = (most - least) * 0.12
    has_lo, has_hi = LO_STEPS in steps, HI_STEPS in steps
    return ValueScale(
        least=least - room - (lane if has_lo else 0),
        most=most + room + (lane if has_hi else 0),
        ticks=ticks,
        place_of_lo=least - lane,
        place_of_hi=most + lane,
    )


def day_ticks(period: Period, at_most: int) -> list[date]:
    """Days that get a tick: each, every second, seventh ..., then firsts of months or of years."""
    at_most = max(1, at_most)
    for every in (1, 2, 7, 14):
        if ceil(period.days / every) <= at_most:
            return [period.first + timedelta(days=n) for n in range(0, period.days, every)]
    months = _month_starts(period)
    for every in (1, 2, 3, 6):
        found = [day for day in months if (day.month - 1) % every == 0]
        if found and len(found) <= at_most:
            return found
    years = [day for day in months if day.month == 1]
    every = max(1, ceil(len(years) / at_most))
    return years[::every] or [period.first]


def minute_of_day_start(day: date, starts_at: time) -> int:
    """The wall minute at which the person's `day` begins."""
    return int((datetime.combine(day, starts_at) - EPOCH) // timedelta(minutes=1))


def _month_starts(period: Period) -> list[date]:
    day = period.first if period.first.day == 1 else _next_month(period.first)
    found = []
    while day <= period.last:
        found.append(day)
        day = _next_month(day)
    return found


def _next_month(day: date) -> date:
    return (day.replace(day=1) + timedelta(days=32)).replace(day=1)


# --- marks that share a place --------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class PlacedMarks:
    """Marks of one state: x in wall minutes, y in steps, and the most readings in one mark."""

    state: State
    x: tuple[float, ...]
    y: tuple[float, ...]
    most_in_one: int


def placed_marks(
    marks: Marks, scale: ValueScale, period_minutes: tuple[int, int], columns: int, rows: int
) -> list[PlacedMarks]:
    """The marks by state; too many are put together in `columns` x `rows` places, one mark each.

    No place that has a reading is left empty, so the lowest and the highest always show. Such a
    mark has the state that most of its readings have, but a low among them always shows.
    """
    if len(marks) <= MOST_SINGLE_MARKS:
        places = {
            (float(wall), scale.place(steps), number): Counter({state: 1})
            for number, (wall, steps, state) in enumerate(
                zip(marks.wall_minutes, marks.steps, marks.states, strict=True)
            )
        }
    else:
        places = _shared_places(marks, scale, period_minutes, max(1, columns), max(1, rows))
    found: dict[State, list[tuple[float, float, int]]] = {}
    for (x, y, _number), counts in places.items():
        found.setdefault(_state_shown(counts), []).append((x, y, counts.total()))
    placed = []
    for state, together in found.items():
        xs, ys, counted = zip(*together, strict=True)
        placed.append(PlacedMarks(state, xs, ys, max(counted)))
    return placed


Place = tuple[float, float, int]


def _shared_places(
    marks: Marks, scale: ValueScale, period_minutes: tuple[int, int], columns: int, rows: int
) -> dict[Place, Counter[State]]:
    first, end = period_minutes
    across = max(1.0, (end - first) / columns)
    up = max(1e-9, (scale.most - scale.least) / rows)
    row_of = {steps: floor((scale.place(steps) - scale.least) / up) for steps in set(marks.steps)}
    cells = Counter(
        (floor((wall - first) / across), row_of[steps], state)
        for wall, steps, state in zip(marks.wall_minutes, marks.steps, marks.states, strict=True)
    )
    places: dict[Place, Counter[State]] = {}
    for (column, row, state), count in cells.items():
        x, y = first + (column + 0.5) * across, scale.least + (row + 0.5) * up
        places.setdefault((x, y, 0), Counter())[state] += count
    return places


def _state_shown(counts: Counter[State]) -> State:
    for state in (State.VERY_LOW, State.LOW):
        if counts[state]:
            return state
    return counts.most_common(1)[0][0]
