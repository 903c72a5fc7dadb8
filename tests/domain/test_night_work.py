"""Night work: a day that starts in the afternoon, and what goes by the clock alone."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.moments import Moment, person_day, wall_on, wall_told
from logbook.domain.night_work import own_clock, sleeps_by_day
from logbook.domain.nights import Nights
from logbook.domain.series import EMPTY_SERIES
from logbook.domain.settings import LogSettings
from logbook.domain.sick_day import sick_day
from logbook.domain.spells import Spell, SpellKind
from tests.domain.series_of import new_id

MINUTES = st.integers(0, 24 * 60 - 1).map(lambda m: time(m // 60, m % 60))
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 30))


@pytest.mark.parametrize("hour", range(9))
def test_an_early_riser_keeps_the_usual_clock(hour: int) -> None:
    assert not sleeps_by_day(time(hour))
    assert own_clock(time(7, 30), time(hour)) == time(7, 30)


def test_a_night_worker_has_the_usual_clock_ten_hours_later() -> None:
    assert own_clock(time(7, 30), time(14)) == time(17, 30)
    assert own_clock(time(22, 0), time(14)) == time(8, 0)


@given(day=DAYS, at=MINUTES, starts=MINUTES)
def test_a_clock_time_of_a_day_lies_on_that_day(day: date, at: time, starts: time) -> None:
    wall = wall_on(day, at, starts)
    assert person_day(wall, starts) == day
    # Counted apart: a person's day has 24 hours from its start.
    begin = datetime.combine(day, starts)
    assert timedelta(0) <= wall - begin < timedelta(days=1)
    assert wall.time() == at


@given(day=DAYS, at=MINUTES, starts=MINUTES, now=MINUTES)
def test_what_is_told_of_today_is_past_where_it_can_be(
    day: date, at: time, starts: time, now: time
) -> None:
    moment = wall_on(day, now, starts)
    told = wall_told(day, at, starts, moment)
    assert told.time() == at
    either = {wall_on(day, at, starts), datetime.combine(day, at)}
    assert told in either
    assert told <= moment or min(either) > moment


def test_the_night_by_the_clock_lies_in_the_hours_of_sleep() -> None:
    usual, by_day = Nights(EMPTY_SERIES, time(4)), Nights(EMPTY_SERIES, time(14))

    def hours(nights: Nights) -> list[int]:
        return [hour for hour in range(24) if nights.cover(0, hour * 60, None)]

    assert hours(usual) == [0, 1, 2, 3, 4, 5]
    assert hours(by_day) == [10, 11, 12, 13, 14, 15]


def test_who_works_at_night_is_not_woken_by_day_when_ill() -> None:
    spell = Spell(new_id(), SpellKind.ILL, date(2026, 3, 30))
    settings = LogSettings(day_starts_at=time(14))
    morning = Moment.from_wall(datetime(2026, 3, 31, 9, 0), "America/New_York")
    ill = sick_day([spell], [], EMPTY_SERIES, morning, settings=settings)
    assert ill is not None
    # Three hours after the day's start, as 07:00 is of a day from 04:00.
    assert ill.next_check_at.wall == datetime(2026, 3, 31, 17, 0)
    usual = sick_day([spell], [], EMPTY_SERIES, morning, settings=LogSettings())
    assert usual is not None
    assert usual.next_check_at.wall == datetime(2026, 3, 31, 9, 0)
