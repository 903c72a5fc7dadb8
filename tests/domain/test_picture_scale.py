"""Where things of a picture lie: ranges, ticks, and marks that share a place."""

from __future__ import annotations

import random
from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.moments import Period
from logbook.domain.picture import Marks
from logbook.domain.picture_scale import (
    MOST_SINGLE_MARKS,
    day_ticks,
    minute_of_day_start,
    placed_marks,
    value_scale,
)
from logbook.domain.states import State, state_of_steps


@given(st.lists(st.integers(10, 1000), max_size=40), st.booleans(), st.booleans())
def test_every_value_has_its_place_on_the_axis(
    numbers: list[int], has_lo: bool, has_hi: bool
) -> None:
    steps = [*numbers, *[LO_STEPS] * has_lo, *[HI_STEPS] * has_hi]
    scale = value_scale(steps, Unit.MG_DL)
    for value in steps:
        assert scale.least <= scale.place(value) <= scale.most
    if has_lo and numbers:
        assert scale.place(LO_STEPS) < min(numbers)
    if has_hi and numbers:
        assert scale.place(HI_STEPS) > max(numbers)
    assert 2 <= len(scale.ticks) <= 7
    assert all(tick % 50 == 0 for tick in scale.ticks)
    assert scale.ticks[0] >= scale.least
    assert scale.ticks[-1] <= scale.most


def test_ticks_in_mmol_are_whole_numbers() -> None:
    ticks = value_scale([41, 186], Unit.MMOL_L).ticks
    assert len(ticks) > 2
    assert all(tick % 10 == 0 for tick in ticks)


@given(st.dates(date(2000, 1, 1), date(2030, 1, 1)), st.integers(1, 12_000), st.integers(2, 20))
def test_ticks_of_days_are_in_the_period_and_not_too_many(
    first: date, days: int, at_most: int
) -> None:
    period = Period(first, first + timedelta(days=days - 1))
    ticks = day_ticks(period, at_most)
    assert ticks
    assert ticks == sorted(set(ticks))
    assert all(day in period for day in ticks)
    assert len(ticks) <= at_most


@pytest.mark.parametrize(
    ("days", "at_most", "expected"),
    [
        (4, 9, ["2026-01-01", "2026-01-02", "2026-01-03", "2026-01-04"]),
        (30, 9, ["2026-01-01", "2026-01-08", "2026-01-15", "2026-01-22", "2026-01-29"]),
        (
            180,
            7,
            ["2026-01-01", "2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01", "2026-06-01"],
        ),
        (3 * 365, 4, ["2026-01-01", "2027-01-01", "2028-01-01"]),
    ],
)
def test_ticks_are_at_days_a_person_would_choose(
    days: int, at_most: int, expected: list[str]
) -> None:
    period = Period(date(2026, 1, 1), date(2026, 1, 1) + timedelta(days=days - 1))
    assert [day.isoformat() for day in day_ticks(period, at_most)] == expected


def test_a_day_begins_when_the_person_says() -> None:
    # 1970-01-02 04:00 is 28 hours after the beginning of the count.
    assert minute_of_day_start(date(1970, 1, 2), time(4)) == 28 * 60


# --- marks that share a place ---------------------------------------------------------------------


def _marks(count: int, seed: int = 1) -> Marks:
    chance = random.Random(seed)
    walls = sorted(chance.randrange(0, 1_000_000) for _n in range(count))
    steps = [chance.choice([LO_STEPS, HI_STEPS, *[chance.randrange(40, 420)] * 50]) for _w in walls]
    states = [state_of_steps(value, Unit.MG_DL, None) for value in steps]
    return Marks(tuple(range(count)), tuple(walls), tuple(steps), tuple(states))


def test_few_marks_are_all_drawn_where_they_are() -> None:
    marks = _marks(MOST_SINGLE_MARKS)
    scale = value_scale(marks.steps, Unit.MG_DL)
    placed = placed_marks(marks, scale, (0, 1_000_000), 80, 20)
    drawn = sorted(point for each in placed for point in zip(each.x, each.y, strict=True))
    wanted = sorted(
        (float(wall), scale.place(steps))
        for wall, steps in zip(marks.wall_minutes, marks.steps, strict=True)
    )
    assert drawn == wanted
    assert all(each.most_in_one == 1 for each in placed)


@pytest.mark.parametrize("count", [MOST_SINGLE_MARKS + 1, 30_000])
def test_many_marks_share_places_and_none_is_lost(count: int) -> None:
    marks = _marks(count)
    scale = value_scale(marks.steps, Unit.MG_DL)
    columns, rows = 80, 20
    placed = placed_marks(marks, scale, (0, 1_000_000), columns, rows)
    points = [point for each in placed for point in zip(each.x, each.y, strict=True)]
    assert len(points) == len(set(points)) <= columns * rows
    # Each reading has a mark no further away than half a place.
    across, up = 1_000_000 / columns, (scale.most - scale.least) / rows
    cells = {(int(x // across), int((y - scale.least) // up)) for x, y in points}
    for wall, steps in zip(marks.wall_minutes, marks.steps, strict=True):
        assert (int(wall // across), int((scale.place(steps) - scale.least) // up)) in cells
    assert max(each.most_in_one for each in placed) > 1


def test_a_low_among_many_always_shows() -> None:
    many = 3 * MOST_SINGLE_MARKS
    steps = [71] * many
    steps[1234] = 69
    states = [state_of_steps(value, Unit.MG_DL, None) for value in steps]
    marks = Marks(tuple(range(many)), tuple(range(many)), tuple(steps), tuple(states))
    scale = value_scale(marks.steps, Unit.MG_DL)
    placed = placed_marks(marks, scale, (0, many), 10, 3)
    low = [each for each in placed if each.state is State.LOW]
    assert len(low) == 1
    assert len(low[0].x) == 1
    assert abs(low[0].x[0] - 1234) <= many / 10
