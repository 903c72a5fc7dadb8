"""What the picture of readings over time holds, held against judging each reading by itself."""

from __future__ import annotations

import random
from collections import Counter
from datetime import date, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.glucose import POSSIBLE_STEPS, Unit
from logbook.domain.moments import Period
from logbook.domain.picture import (
    BandStep,
    StateJudge,
    band_steps,
    days_with_marks,
    in_target_range,
    kinds_in,
    left_out_of,
    marks_of,
    parts_of,
    spells_in,
    stretches_of,
)
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.states import State, state_of_reading, state_of_steps
from logbook.domain.targets import Limit, Limits, Operator, TargetBook, TargetKind
from tests.domain.series_of import new_id, range_target, reading, series_of

MARCH = Period(date(2026, 3, 1), date(2026, 3, 31))
STARTS_AT = time(4)
SETTINGS = LogSettings()
TARGETS = TargetBook(
    [
        range_target(TargetKind.FASTING, 80, 130),
        range_target(TargetKind.AFTER_MEALS, None, 180),
        range_target(TargetKind.BEDTIME, 100, 150, date(2026, 3, 10)),
        range_target(TargetKind.FASTING, 90, 150, date(2026, 3, 16)),
        range_target(TargetKind.NIGHT, 50, 80, unit=Unit.MMOL_L),
    ]
)


def test_every_mark_has_the_state_of_its_reading() -> None:
    chance = random.Random(7)
    slots = (Slot.FASTING, Slot.AFTER_LUNCH, Slot.BEDTIME, Slot.NIGHT)
    readings = []
    for number in range(400):
        day = date(2026, 2, 25) + timedelta(days=number % 40)
        unit = Unit.MMOL_L if number % 9 == 0 else Unit.MG_DL
        shown = f"{chance.uniform(2, 20):.1f}" if unit is Unit.MMOL_L else chance.randrange(35, 400)
        wall = f"{day} {chance.randrange(24):02d}:{chance.randrange(60):02d}"
        text = chance.choice(["LO", "HI", *[str(shown)] * 20])
        readings.append(reading(wall, text, chance.choice(slots), unit=unit))
    series = series_of(readings)
    by_id = {str(each.id): each for each in readings}

    marks = marks_of(series, MARCH, SETTINGS, TARGETS)

    inside = [each for each in readings if each.at.day(STARTS_AT) in MARCH]
    assert len(marks) == len(inside) > 200
    for index, state in zip(marks.indices, marks.states, strict=True):
        one = by_id[series.ids[index]]
        assert state is state_of_reading(one, one.at.day(STARTS_AT), TARGETS)
    assert marks.counts() == Counter(marks.states)


def test_what_is_outside_figures_is_no_mark_and_is_counted() -> None:
    series = series_of(
        [
            reading("2026-03-02 07:00", "110", Slot.FASTING),
            reading("2026-03-03 07:00", "111", Slot.FASTING, crossed_out=True),
            reading("2026-03-04 07:00", "112", Slot.FASTING, doubted=True),
            reading("2026-03-05 07:00", "113", Slot.FASTING, foreign=True),
            reading("2026-03-06 07:00", "114", Slot.FASTING, damaged=True),
            reading("2026-04-06 07:00", "115", Slot.FASTING, damaged=True),
        ]
    )
    assert marks_of(series, MARCH, SETTINGS, TARGETS).steps == (110,)
    assert left_out_of(series, MARCH, STARTS_AT) == 4


def test_a_change_of_target_holds_from_the_start_of_the_persons_day() -> None:
    series = series_of(
        [
            reading("2026-03-16 03:59", "85", Slot.FASTING),
            reading("2026-03-16 04:00", "85", Slot.FASTING),
        ]
    )
    marks = marks_of(series, MARCH, SETTINGS, TARGETS)
    assert marks.states == (State.IN_TARGET, State.BELOW_TARGET)


def test_one_kind_leaves_the_others_out() -> None:
    series = series_of(
        [
            reading("2026-03-02 07:00", "110", Slot.FASTING),
            reading("2026-03-02 14:00", "150", Slot.AFTER_LUNCH),
            reading("2026-03-02 15:00", "150", Slot.OTHER),
        ]
    )
    marks = marks_of(series, MARCH, SETTINGS, TARGETS, TargetKind.AFTER_MEALS)
    assert marks.steps == (150,)
    everything = marks_of(series, MARCH, SETTINGS, TARGETS)
    assert kinds_in(series, everything) == (TargetKind.FASTING, TargetKind.AFTER_MEALS)


def test_the_place_of_the_other_unit_is_converted_and_its_state_is_not() -> None:
    # 3.9 mmol/L is not low (ADA 2024, section 6, prints below 70 or 3.9); 70.26 mg/dL by 18.0156.
    series = series_of([reading("2026-03-02 07:00", "3.9", Slot.OTHER, unit=Unit.MMOL_L)])
    marks = marks_of(series, MARCH, SETTINGS, TARGETS)
    assert marks.steps == (70,)
    assert marks.states == (State.NOT_JUDGED,)


# --- the band -------------------------------------------------------------------------------------


@given(
    lower=st.none()
    | st.tuples(st.sampled_from([Operator.AT_LEAST, Operator.ABOVE]), st.integers(40, 200)),
    upper=st.none()
    | st.tuples(st.sampled_from([Operator.AT_MOST, Operator.BELOW]), st.integers(60, 400)),
)
def test_the_range_is_exactly_where_a_value_is_in_target(
    lower: tuple[Operator, int] | None, upper: tuple[Operator, int] | None
) -> None:
    if lower is None and upper is None:
        return
    limits = Limits(Unit.MG_DL, lower and Limit(*lower), upper and Limit(*upper))
    lowest, highest = in_target_range(limits)
    least, most = POSSIBLE_STEPS[Unit.MG_DL]
    in_target = [
        steps
        for steps in range(least, most + 1)
        if state_of_steps(steps, Unit.MG_DL, limits) is State.IN_TARGET
    ]
    assert in_target == list(range(lowest, highest + 1))


def test_the_band_has_a_step_at_each_change() -> None:
    assert band_steps(MARCH, SETTINGS, TARGETS, [TargetKind.FASTING]) == (
        BandStep(date(2026, 3, 1), date(2026, 3, 15), 80, 130),
        BandStep(date(2026, 3, 16), date(2026, 3, 31), 90, 150),
    )


def test_inside_a_common_band_every_kind_is_in_target() -> None:
    kinds = (TargetKind.FASTING, TargetKind.AFTER_MEALS, TargetKind.BEDTIME)
    steps = band_steps(MARCH, SETTINGS, TARGETS, kinds)
    assert [(step.first.day, step.lowest, step.highest) for step in steps] == [
        (1, 80, 130),
        (10, 100, 130),
        (16, 100, 150),
    ]
    judge = StateJudge(TARGETS, SETTINGS)
    slots = (Slot.FASTING, Slot.AFTER_LUNCH, Slot.BEDTIME)
    for step in steps:
        minute = Period(step.first, step.last).wall_minutes(STARTS_AT)[0]
        inside = {judge.state(minute, step.lowest, Unit.MG_DL, slot) for slot in slots}
        inside |= {judge.state(minute, step.highest, Unit.MG_DL, slot) for slot in slots}
        assert inside <= {State.IN_TARGET, State.NOT_JUDGED}


def test_targets_with_nothing_in_common_have_no_band() -> None:
    targets = TargetBook(
        [range_target(TargetKind.FASTING, 80, 130), range_target(TargetKind.BEDTIME, 150, 250)]
    )
    both = (TargetKind.FASTING, TargetKind.BEDTIME)
    assert band_steps(MARCH, SETTINGS, targets, both) == ()
    assert len(band_steps(MARCH, SETTINGS, targets, both[:1])) == 1


def test_a_target_only_in_the_other_unit_has_no_band() -> None:
    targets = TargetBook([range_target(TargetKind.FASTING, 50, 80, unit=Unit.MMOL_L)])
    assert band_steps(MARCH, SETTINGS, targets, [TargetKind.FASTING]) == ()


# --- spells and rows ------------------------------------------------------------------------------


def test_spells_are_cut_to_the_period() -> None:
    going_on = Spell(new_id(), SpellKind.ILL, date(2026, 3, 30))
    before = Spell(new_id(), SpellKind.TRAVEL, date(2026, 2, 20), date(2026, 3, 2))
    long_ago = Spell(new_id(), SpellKind.TRAVEL, date(2026, 1, 1), date(2026, 1, 2))
    assert spells_in([going_on, before, long_ago], MARCH) == [
        (before, Period(date(2026, 3, 1), date(2026, 3, 2))),
        (going_on, Period(date(2026, 3, 30), date(2026, 3, 31))),
    ]


@given(st.dates(date(2000, 1, 1), date(2030, 1, 1)), st.integers(1, 12_000))
def test_the_parts_of_a_period_are_the_period(first: date, days: int) -> None:
    period = Period(first, first + timedelta(days=days - 1))
    parts = parts_of(period)
    assert parts[0].first == period.first
    assert parts[-1].last == period.last
    for part, following in pairwise(parts):
        assert part.last + timedelta(days=1) == following.first
    assert len(parts) <= 50


@pytest.mark.parametrize(
    ("days", "rows"), [(1, 1), (31, 31), (35, 6), (186, 28), (365, 12), (10 * 365, 10)]
)
def test_rows_are_days_weeks_months_or_years(days: int, rows: int) -> None:
    # From Monday, 2018-01-01.
    period = Period(date(2018, 1, 1), date(2018, 1, 1) + timedelta(days=days - 1))
    assert abs(len(parts_of(period)) - rows) <= 1


def test_the_table_counts_what_the_picture_shows() -> None:
    chance = random.Random(3)
    series = series_of(
        reading(
            f"{date(2026, 3, 1) + timedelta(days=number % 31)} 0{chance.randrange(10)}:10",
            str(chance.randrange(40, 350)),
            Slot.FASTING,
        )
        for number in range(300)
    )
    marks = marks_of(series, MARCH, SETTINGS, TARGETS)
    stretches = stretches_of(marks, MARCH, STARTS_AT)
    total: Counter[State] = Counter()
    for stretch in stretches:
        total += stretch.counts
        assert (stretch.lowest is None) is (stretch.count == 0)
    assert total == marks.counts()
    assert min(s.lowest for s in stretches if s.lowest is not None) == min(marks.steps)
    assert max(s.highest for s in stretches if s.highest is not None) == max(marks.steps)
    with_readings = sum(1 for stretch in stretches if stretch.count)
    assert days_with_marks(marks, STARTS_AT) == with_readings
