"""One stretch of days beside another: counts, shares and lows of both, none lost and none twice."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from logbook.domain.comparison import (
    Compared,
    compare_with_before,
    split_summary,
    summarise_without,
)
from logbook.domain.errors import BadMoment
from logbook.domain.figures import Share
from logbook.domain.happenings import What
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.summary import Summary, summarise
from logbook.domain.targets import TargetBook, TargetKind
from tests.domain.series_of import happening, new_id, range_target, reading, series_of

_SETTINGS = LogSettings()
_WEEK = Period(date(2026, 3, 2), date(2026, 3, 8))
_TARGETS = TargetBook([range_target(TargetKind.FASTING, 80, 130)])


def _summary(readings: list[Reading], period: Period) -> Summary:
    return summarise(series_of(readings), period, _SETTINGS, _TARGETS, (), ())


def test_the_period_before_stands_beside_this_one() -> None:
    now = _summary(
        [
            reading("2026-03-02 07:30", "120", Slot.FASTING),
            reading("2026-03-03 07:30", "140", Slot.FASTING),
            reading("2026-03-03 07:40", "300", Slot.FASTING, purpose=Purpose.REPEAT),
            reading("2026-03-03 22:00", "180", Slot.BEDTIME),
        ],
        _WEEK,
    )
    before = _summary(
        [
            reading("2026-02-22 07:30", "500", Slot.FASTING),
            reading("2026-02-23 07:30", "LO", Slot.FASTING),
            reading("2026-03-01 12:30", "64", Slot.BEFORE_LUNCH),
            reading("2026-03-01 12:45", "68", Slot.BEFORE_LUNCH, purpose=Purpose.RECHECK),
        ],
        _WEEK.before,
    )
    assert compare_with_before(now, before) == (
        Compared(None, 4, 3, 160, 64, Share(1, 2), Share(0, 1), 0, 3),
        Compared(Slot.FASTING, 2, 1, 130, None, Share(1, 2), Share(0, 1), 0, 1),
        Compared(Slot.BEFORE_LUNCH, 0, 1, None, 64, Share(0, 0), Share(0, 0), 0, 1),
        Compared(Slot.BEDTIME, 1, 0, 180, None, Share(0, 0), Share(0, 0), 0, 0),
    )


def test_nothing_beside_nothing_is_one_row_of_nothing() -> None:
    nothing = _summary([], _WEEK)
    row = Compared(None, 0, 0, None, None, Share(0, 0), Share(0, 0), 0, 0)
    assert compare_with_before(nothing, nothing) == (row,)


def test_a_split_takes_every_reading_once_and_each_at_its_own_side() -> None:
    generator = np.random.default_rng(20260302)
    days = 28
    period = Period.ending(date(2026, 3, 29), days)  # clocks go forward on the last day
    values = generator.integers(50, 300, days)
    readings = [
        reading(f"{day} 01:30", str(value), Slot.NIGHT, zone="Europe/London")
        for day, value in zip([d + timedelta(days=1) for d in period], values, strict=True)
    ]
    split_at = period.first + timedelta(days=11)
    series = series_of(readings)
    split = split_summary(series, period, split_at, _SETTINGS, _TARGETS, (), ())
    assert (split.before.period.days, split.after.period.days) == (11, 17)
    # A check at half past one belongs to the person's day before.
    assert split.before.figures.mean == pytest.approx(np.mean(values[:11]))
    assert split.after.figures.mean == pytest.approx(np.mean(values[11:]))
    whole = summarise(series, period, _SETTINGS, _TARGETS, (), ())
    assert split.before.readings.count + split.after.readings.count == whole.readings.count
    assert [*split.before.lows, *split.after.lows] == list(whole.lows)


@pytest.mark.parametrize("day", [_WEEK.first, _WEEK.last + timedelta(days=1)])
def test_a_split_needs_a_day_on_either_side(day: date) -> None:
    with pytest.raises(BadMoment):
        split_summary(series_of([]), _WEEK, day, _SETTINGS, _TARGETS, (), ())


def test_the_days_of_a_spell_are_left_out_with_all_that_happened_in_them() -> None:
    ill = Spell(new_id(), SpellKind.ILL, date(2026, 3, 4), date(2026, 3, 5))
    going_on = Spell(new_id(), SpellKind.STEROID, date(2026, 3, 8))
    readings = [
        reading("2026-03-03 07:30", "120", Slot.FASTING),
        reading("2026-03-04 07:30", "290", Slot.FASTING),
        # At half past two it is still the person's day before, which was the last ill one.
        reading("2026-03-06 02:30", "60", Slot.NIGHT),
        reading("2026-03-06 07:30", "100", Slot.FASTING),
        reading("2026-03-08 07:30", "310", Slot.FASTING),
    ]
    happened = [
        happening("2026-03-05 12:00", What.FELT_LOW_TREATED),
        happening("2026-03-07 12:00", What.FELT_LOW_TREATED),
    ]
    without = summarise_without(
        [ill, going_on], series_of(readings), _WEEK, _SETTINGS, _TARGETS, happened, ()
    )
    assert without is not None
    assert without.days_left_out == 3
    assert without.summary.figures.mean == 110
    assert [low.day for low in without.summary.lows] == [date(2026, 3, 7)]
    (fasting,) = without.summary.slots
    assert [without.series.steps[index] for index in fasting.indices] == [120, 100]


@pytest.mark.parametrize(
    "spells",
    [
        [],
        [Spell(new_id(), SpellKind.ILL, date(2026, 2, 1), date(2026, 3, 1))],
        [Spell(new_id(), SpellKind.HOSPITAL, date(2026, 2, 1))],
    ],
    ids=["none", "before the period", "all of it"],
)
def test_without_a_day_on_either_side_there_is_nothing_to_set_beside(spells: list[Spell]) -> None:
    readings = [reading("2026-03-03 07:30", "120", Slot.FASTING)]
    assert (
        summarise_without(spells, series_of(readings), _WEEK, _SETTINGS, _TARGETS, (), ()) is None
    )
