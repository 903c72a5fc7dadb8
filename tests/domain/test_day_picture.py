"""What the picture of the day shows, and how much of it."""

from __future__ import annotations

from datetime import date, time
from itertools import pairwise

from logbook.domain.day_picture import MOST_MARKS, evenly, picture_marks, target_bands
from logbook.domain.glucose import Unit
from logbook.domain.moments import Period
from logbook.domain.readings import Doubt
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.states import State
from logbook.domain.targets import TargetBook, TargetKind
from tests.report.invented import (
    FOUR_A_DAY,
    LAST_DAY,
    SEVEN_A_DAY,
    long_series,
    reading,
    series_of,
    target,
)

SETTINGS = LogSettings(unit=Unit.MG_DL)
EARLY = date(2020, 1, 1)
TARGETS = TargetBook([target(TargetKind.FASTING, 80, 130, EARLY)])


def test_each_reading_that_counts_is_a_mark_with_its_state() -> None:
    values: tuple[int | str, ...] = (53, 69, 79, 80, 130, 131, 301, "LO", "HI")
    readings = [
        reading(LAST_DAY, 6 + n / 10, value, Slot.FASTING) for n, value in enumerate(values)
    ]
    doubted = reading(LAST_DAY, 8, 200, Slot.FASTING, doubt=Doubt.STRIP)
    series = series_of([*readings, doubted])
    marks, count = picture_marks(series, Period(LAST_DAY, LAST_DAY), SETTINGS, TARGETS)
    assert count == len(marks) == len(values)
    assert [mark.state for mark in marks] == [
        State.VERY_LOW,
        State.LOW,
        State.BELOW_TARGET,
        State.IN_TARGET,
        State.IN_TARGET,
        State.ABOVE_TARGET,
        State.VERY_HIGH,
        State.VERY_LOW,
        State.VERY_HIGH,
    ]
    assert marks[0].minute == 120  # 06:00, counted from 04:00


def test_a_long_period_shows_no_more_marks_than_a_page_holds_and_lows_among_them() -> None:
    series = long_series(3650, SEVEN_A_DAY)
    period = Period.ending(LAST_DAY, 3650)
    marks, count = picture_marks(series, period, SETTINGS, TARGETS)
    assert count == len(series)
    assert len(marks) == MOST_MARKS
    low = sum(mark.state.is_low for mark in marks)
    assert low > len(marks) * sum(steps < 70 for steps in series.steps) / len(series)


def test_a_short_period_shows_every_reading() -> None:
    series = long_series(90, FOUR_A_DAY)
    marks, count = picture_marks(series, Period.ending(LAST_DAY, 90), SETTINGS, TARGETS)
    assert len(marks) == count == len(series)


def test_evenly_keeps_first_and_last_and_never_one_twice() -> None:
    chosen = evenly(list(range(1000)), 37)
    assert len(chosen) == len(set(chosen)) == 37
    assert (chosen[0], chosen[-1]) == (0, 999)
    steps = [b - a for a, b in pairwise(chosen)]
    assert max(steps) - min(steps) <= 1


def test_bands_meet_half_way_and_a_low_is_never_inside() -> None:
    usual = {Slot.FASTING: 180, Slot.BEFORE_LUNCH: 480, Slot.BEDTIME: 1080}
    targets = TargetBook(
        [
            target(TargetKind.FASTING, 80, 130, EARLY),
            target(TargetKind.BEDTIME, 60, 180, EARLY),
        ]
    )
    fasting, bedtime = target_bands(usual, targets, LAST_DAY, Unit.MG_DL)
    assert (fasting.first_minute, fasting.last_minute) == (0, 330)
    assert (fasting.lowest, fasting.highest) == (80, 130)
    assert (bedtime.first_minute, bedtime.last_minute) == (780, 1440)
    assert (bedtime.lowest, bedtime.highest) == (70, 180)
    assert time(4) == SETTINGS.day_starts_at
