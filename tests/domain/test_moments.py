"""Moments, the person's day and periods, over clock changes, travel and leap days.

The days of clock changes are those of the IANA time zone database.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.errors import BadMoment
from logbook.domain.moments import (
    EPOCH,
    Moment,
    Period,
    day_of_wall_minute,
    find_zone,
    parse_day,
    person_day,
)

NEW_YORK = "America/New_York"
ZONES = [NEW_YORK, "Europe/Berlin", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia", "UTC"]


class TestRepeatedHour:
    # In New York clocks went back from 02:00 to 01:00 on 2025-11-02 (IANA database).
    wall = datetime(2025, 11, 2, 1, 30)

    def test_one_wall_time_is_two_instants_an_hour_apart(self) -> None:
        first = Moment.from_wall(self.wall, NEW_YORK)
        second = Moment.from_wall(self.wall, NEW_YORK, second_time=True)
        assert first.instant == datetime(2025, 11, 2, 5, 30, tzinfo=UTC)
        assert second.instant == datetime(2025, 11, 2, 6, 30, tzinfo=UTC)
        assert first.wall == second.wall == self.wall
        assert first.minutes_until(second) == 60
        assert first != second

    def test_control_aware_times_of_one_zone_can_not_tell_them_apart(self) -> None:
        # Why instants decide: Python compares the wall time within one zone.
        zone = find_zone(NEW_YORK)
        first = self.wall.replace(tzinfo=zone, fold=0)
        second = self.wall.replace(tzinfo=zone, fold=1)
        assert first == second
        assert second - first == timedelta(0)

    def test_both_come_back_from_their_instants(self) -> None:
        for second_time in (False, True):
            written = Moment.from_wall(self.wall, NEW_YORK, second_time=second_time)
            assert Moment.at(written.instant, NEW_YORK) == written

    def test_no_fold_is_left_in_the_wall_time(self) -> None:
        instant = datetime(2025, 11, 2, 6, 30, tzinfo=UTC)
        assert Moment.at(instant, NEW_YORK).wall.fold == 0


class TestSkippedHour:
    # In New York clocks went from 02:00 to 03:00 on 2026-03-08 (IANA database).
    def test_a_time_that_no_clock_showed_is_kept_as_written(self) -> None:
        moment = Moment.from_wall(datetime(2026, 3, 8, 2, 30), NEW_YORK)
        assert moment.wall == datetime(2026, 3, 8, 2, 30)
        assert moment.offset == timedelta(hours=-5)
        assert moment.instant == datetime(2026, 3, 8, 7, 30, tzinfo=UTC)

    def test_the_night_has_one_hour_less(self) -> None:
        evening = Moment.from_wall(datetime(2026, 3, 7, 22, 0), NEW_YORK)
        morning = Moment.from_wall(datetime(2026, 3, 8, 7, 0), NEW_YORK)
        assert evening.minutes_until(morning) == 8 * 60


class TestPersonDay:
    @pytest.mark.parametrize(
        ("clock", "day"),
        [(time(3, 59), 30), (time(4, 0), 31), (time(0, 0), 30), (time(23, 59), 31)],
    )
    def test_starts_at_four(self, clock: time, day: int) -> None:
        moment = Moment.from_wall(datetime.combine(date(2026, 3, 31), clock), NEW_YORK)
        assert moment.day() == date(2026, 3, day)

    def test_starts_when_the_person_says(self) -> None:
        moment = Moment.from_wall(datetime(2026, 3, 31, 5, 0), NEW_YORK)
        assert moment.day(time(6, 0)) == date(2026, 3, 30)
        assert moment.day(time(0, 0)) == date(2026, 3, 31)

    def test_new_year_at_night_belongs_to_the_old_year(self) -> None:
        assert person_day(datetime(2027, 1, 1, 1, 0)) == date(2026, 12, 31)

    def test_leap_day(self) -> None:
        assert person_day(datetime(2028, 2, 29, 3, 0)) == date(2028, 2, 28)
        assert person_day(datetime(2028, 3, 1, 3, 0)) == date(2028, 2, 29)

    @given(
        st.datetimes(datetime(1950, 1, 1), datetime(2100, 1, 1)),
        st.times().map(lambda t: t.replace(second=0, microsecond=0)),
    )
    def test_wall_minutes_tell_the_same_day(self, wall: datetime, starts_at: time) -> None:
        minute = int((wall - EPOCH) // timedelta(minutes=1))
        assert day_of_wall_minute(minute, starts_at) == person_day(wall, starts_at)


class TestTravel:
    def test_the_wall_clock_of_the_place_decides_the_day_and_the_instant_the_order(self) -> None:
        # 20:00 in New York on the 30th is 02:00 in Berlin on the 31st.
        leaving = Moment.from_wall(datetime(2026, 3, 30, 20, 0), NEW_YORK)
        landing = Moment.at(leaving.instant + timedelta(hours=8), "Europe/Berlin")
        assert landing.wall == datetime(2026, 3, 31, 10, 0)
        assert leaving.minutes_until(landing) == 8 * 60
        assert (landing.day() - leaving.day()).days == 1

    def test_flying_west_a_later_reading_may_show_an_earlier_clock(self) -> None:
        first = Moment.from_wall(datetime(2026, 7, 1, 9, 0), "Europe/Berlin")
        later = Moment.at(first.instant + timedelta(hours=1), NEW_YORK)
        assert later.instant > first.instant
        assert later.wall < first.wall


class TestMoment:
    @given(
        st.datetimes(datetime(1990, 1, 1), datetime(2037, 1, 1)).map(
            lambda d: d.replace(tzinfo=UTC)
        ),
        st.sampled_from(ZONES),
    )
    def test_wall_and_offset_always_give_the_instant(self, instant: datetime, zone: str) -> None:
        moment = Moment.at(instant, zone)
        assert moment.instant == instant
        assert moment.wall - moment.offset == instant.replace(tzinfo=None)
        # zoneinfo itself is the other witness.
        assert moment.wall == instant.astimezone(find_zone(zone)).replace(tzinfo=None)

    def test_any_aware_instant_is_kept_in_utc(self) -> None:
        moment = Moment.at(datetime(2026, 3, 31, 8, tzinfo=timezone(timedelta(hours=5))), "UTC")
        assert moment.instant.tzinfo is UTC
        assert moment.wall == datetime(2026, 3, 31, 3)

    def test_does_not_take_a_time_without_a_zone_for_an_instant(self) -> None:
        with pytest.raises(BadMoment) as caught:
            Moment(datetime(2026, 3, 31), datetime(2026, 3, 31), timedelta(0), "UTC")
        assert caught.value.facts["why"] == "zone_missing"

    def test_does_not_take_an_offset_that_does_not_fit(self) -> None:
        instant = datetime(2026, 3, 31, 8, tzinfo=UTC)
        with pytest.raises(BadMoment) as caught:
            Moment(instant, datetime(2026, 3, 31, 9), timedelta(0), "UTC")
        assert caught.value.facts["why"] == "offset_wrong"

    @pytest.mark.parametrize("name", ["", "Mars/Olympus", "../../etc/passwd", "\0", "a" * 5000])
    def test_unknown_zone(self, name: str) -> None:
        with pytest.raises(BadMoment) as caught:
            find_zone(name)
        assert caught.value.facts["why"] == "zone_unknown"

    def test_a_zone_that_was_taken_for_granted_is_marked(self) -> None:
        wall = datetime(2026, 3, 31, 8)
        assert Moment.from_wall(wall, "UTC", zone_assumed=True).zone_assumed
        assert not Moment.from_wall(wall, "UTC").zone_assumed


class TestPeriod:
    def test_counts_both_ends_and_a_leap_day(self) -> None:
        assert Period(date(2028, 2, 1), date(2028, 3, 1)).days == 30
        assert Period(date(2027, 2, 1), date(2027, 3, 1)).days == 29

    def test_ending_and_before_are_of_one_length_and_meet(self) -> None:
        period = Period.ending(date(2026, 3, 31), 90)
        assert (period.first, period.days) == (date(2026, 1, 1), 90)
        assert period.before.days == 90
        assert period.before.last + timedelta(days=1) == period.first

    def test_holds_its_days(self) -> None:
        period = Period(date(2026, 3, 30), date(2026, 4, 1))
        assert list(period) == [date(2026, 3, 30), date(2026, 3, 31), date(2026, 4, 1)]
        assert all(day in period for day in period)
        assert date(2026, 3, 29) not in period
        assert date(2026, 4, 2) not in period

    def test_wall_minutes_hold_exactly_the_minutes_of_its_days(self) -> None:
        period = Period(date(2026, 3, 8), date(2026, 3, 8))
        first, after = period.wall_minutes()
        assert day_of_wall_minute(first) == day_of_wall_minute(after - 1) == date(2026, 3, 8)
        assert day_of_wall_minute(first - 1) == date(2026, 3, 7)
        assert day_of_wall_minute(after) == date(2026, 3, 9)

    def test_can_not_run_backwards(self) -> None:
        with pytest.raises(BadMoment) as caught:
            Period(date(2026, 3, 31), date(2026, 3, 30))
        assert caught.value.facts["why"] == "period_backwards"


class TestParsingDays:
    def test_takes_a_day_of_the_calendar(self) -> None:
        assert parse_day(" 2028-02-29 ") == date(2028, 2, 29)

    @pytest.mark.parametrize("text", ["2027-02-29", "2026-13-01", "2026-04-31", "0000-01-01"])
    def test_refuses_a_day_that_no_calendar_has(self, text: str) -> None:
        with pytest.raises(BadMoment) as caught:
            parse_day(text)
        assert caught.value.facts["why"] == "date_impossible"

    @pytest.mark.parametrize("text", ["", "31.3.2026", "2026-3-1", "20260331", "٢٠٢٦-٠٣-٣١", "x"])
    def test_refuses_another_form(self, text: str) -> None:
        with pytest.raises(BadMoment) as caught:
            parse_day(text)
        assert caught.value.facts["why"] == "date_malformed"
