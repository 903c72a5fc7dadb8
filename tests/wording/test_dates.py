"""Days, clock times, spans and periods in words."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from babel import Locale
from babel.dates import format_date
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.moments import Moment, Period
from logbook.wording.dates import (
    clock_on_day_text,
    clock_text,
    day_text,
    duration_text,
    minutes_after_text,
    moment_text,
    month_text,
    period_text,
    relative_day_text,
    short_day_text,
    short_weekday_text,
    weekday_day_text,
    weekday_text,
)
from logbook.wording.manner import Manner, plain_spaces, set_manner

TUESDAY = date(2026, 3, 31)
LOCALES = ["en_US", "en_GB", "en_AU", "de_DE", "fr_FR", "es_MX", "fi_FI", "pl_PL", "pt_BR", "it_IT"]


def at(text: str) -> Moment:
    return Moment.from_wall(datetime.fromisoformat(text), "Europe/London")


class TestDays:
    @pytest.mark.parametrize(
        ("locale", "texts"),
        [
            (
                "en_US",
                ["March 31, 2026", "Tuesday, March 31", "Mar 31", "Mar 31, 2026", "March 2026"],
            ),
            ("en_GB", ["31 March 2026", "Tuesday 31 March", "31 Mar", "31 Mar 2026", "March 2026"]),
            ("fi_FI", ["31. maaliskuuta 2026", "tiistai 31. maaliskuuta"]),
        ],
    )
    def test_in_the_manner_of_a_country(self, locale: str, texts: list[str]) -> None:
        set_manner(Manner(locale))
        written = [
            day_text(TUESDAY),
            weekday_day_text(TUESDAY),
            short_day_text(TUESDAY),
            short_day_text(TUESDAY, with_year=True),
            month_text(TUESDAY),
        ]
        assert written[: len(texts)] == texts

    @given(st.sampled_from(LOCALES), st.dates(date(1980, 1, 1), date(2099, 12, 31)))
    def test_weekday_and_month_are_the_locales_own_and_whole(self, locale: str, day: date) -> None:
        # Babel's CLDR tables are the witness: the names in full, and no year.
        set_manner(Manner(locale))
        names = Locale.parse(locale)
        weekdays = {names.days[form]["wide"][day.weekday()] for form in names.days}
        months = {names.months[form]["wide"][day.month] for form in names.months}
        text = weekday_day_text(day)
        assert any(weekday in text for weekday in weekdays)
        assert any(month in text for month in months)
        assert str(day.day) in text
        assert str(day.year) not in text

    @given(st.sampled_from(LOCALES), st.dates())
    def test_in_full_as_babel_writes_them(self, locale: str, day: date) -> None:
        set_manner(Manner(locale))
        expected = plain_spaces(format_date(day, "long", locale=locale))
        assert day_text(day) == expected

    def test_weekdays_alone(self) -> None:
        assert (weekday_text(TUESDAY), short_weekday_text(TUESDAY)) == ("Tuesday", "Tue")


class TestClock:
    @pytest.mark.parametrize(
        ("locale", "hours_24", "text"),
        [
            ("en_US", None, "8:05 PM"),
            ("en_US", True, "20:05"),
            ("en_GB", None, "20:05"),
            ("en_GB", False, "8:05 pm"),
            ("de_DE", None, "20:05"),
        ],
    )
    def test_has_the_hours_of_the_locale_or_of_the_person(
        self, locale: str, hours_24: bool | None, text: str
    ) -> None:
        set_manner(Manner(locale, hours_24))
        assert clock_text(time(20, 5)) == text
        assert clock_text(datetime(2026, 3, 31, 20, 5)) == text
        assert clock_text(at("2026-03-31 20:05")) == text

    def test_midnight_and_noon(self) -> None:
        assert [clock_text(time(h)) for h in (0, 12)] == ["12:00 AM", "12:00 PM"]
        set_manner(Manner("en_US", hours_24=True))
        assert [clock_text(time(h)) for h in (0, 12)] == ["00:00", "12:00"]

    @given(st.sampled_from(LOCALES), st.booleans())
    def test_no_two_minutes_look_alike(self, locale: str, hours_24: bool) -> None:
        set_manner(Manner(locale, hours_24))
        assert len({clock_text(time(h, m)) for h in range(24) for m in (0, 5, 59)}) == 24 * 3

    def test_of_a_moment_is_the_wall_time_of_its_place(self) -> None:
        moment = Moment.at(datetime(2026, 7, 1, 7, 5, tzinfo=UTC), "America/New_York")
        assert clock_text(moment) == "3:05 AM"


class TestDistance:
    @pytest.mark.parametrize(
        ("days", "text"),
        [
            (0, "today"),
            (-1, "yesterday"),
            (1, "tomorrow"),
            (-3, "3 days ago"),
            (5, "in 5 days"),
            (-30, "30 days ago"),
            (-31, "February 28"),
            (-400, "February 24, 2025"),
        ],
    )
    def test_of_days(self, days: int, text: str) -> None:
        assert relative_day_text(TUESDAY + timedelta(days), TUESDAY) == text

    @pytest.mark.parametrize(
        ("moment", "text"),
        [
            ("2026-03-31 08:05", "today at 8:05 AM"),
            ("2026-03-30 19:30", "yesterday at 7:30 PM"),
            ("2026-04-01 07:00", "tomorrow at 7:00 AM"),
            ("2026-03-03 08:05", "March 3 at 8:05 AM"),
            ("2025-12-31 08:05", "December 31, 2025 at 8:05 AM"),
        ],
    )
    def test_of_moments(self, moment: str, text: str) -> None:
        assert moment_text(at(moment), at("2026-03-31 12:00")) == text

    def test_a_night_belongs_to_the_evening_before_it(self) -> None:
        night = at("2026-03-31 01:30")
        assert night.day() == date(2026, 3, 30)
        assert moment_text(night, at("2026-03-31 09:00")) == "last night at 1:30 AM"
        assert moment_text(night, at("2026-03-31 02:00")) == "today at 1:30 AM"
        assert moment_text(night, at("2026-04-03 09:00")) == "March 30 at 1:30 AM after midnight"
        # Whose day starts at 1 has begun the next one; copies go by the calendar.
        assert moment_text(night, at("2026-03-31 09:00"), time(1)) == "today at 1:30 AM"
        assert moment_text(night, at("2026-03-31 09:00"), time.min) == "today at 1:30 AM"

    def test_whose_day_starts_in_the_afternoon_slept_in_the_morning(self) -> None:
        morning, evening = at("2026-03-31 09:00"), at("2026-03-31 20:00")
        words = moment_text(morning, evening, time(14))
        assert words == "yesterday at 9:00 AM after midnight"

    @given(
        minute=st.integers(0, 10 * 24 * 60 - 1),
        starts=st.times().map(lambda one: one.replace(second=0, microsecond=0)),
    )
    def test_the_suffix_says_that_the_calendar_went_on(self, minute: int, starts: time) -> None:
        moment = at("2026-03-25 00:00")
        wall = moment.wall + timedelta(minutes=minute)
        text = clock_on_day_text(wall, starts)
        # Told from the calendar alone: before the start of the day it is still the day before.
        goes_on = wall.time() < starts
        assert text.endswith(" after midnight") is goes_on
        assert text.startswith(clock_text(wall))

    @pytest.mark.parametrize(
        ("span", "text"),
        [
            (0, "less than 1 minute"),
            (timedelta(seconds=59), "less than 1 minute"),
            (1, "1 minute"),
            (60, "1 hour"),
            (75, "1 hour 15 minutes"),
            (timedelta(hours=2, minutes=1, seconds=30), "2 hours 1 minute"),
            (24 * 60, "1 day"),
            (51 * 60 + 20, "2 days 3 hours"),
            (-15, "15 minutes"),
        ],
    )
    def test_of_spans(self, span: timedelta | int, text: str) -> None:
        assert duration_text(span) == text

    def test_after_a_meal(self) -> None:
        assert minutes_after_text(90) == "1 hour 30 minutes after"


class TestPeriod:
    @pytest.mark.parametrize(
        ("locale", "first", "last", "text"),
        [
            ("en_US", date(2026, 1, 1), TUESDAY, "January 1 to March 31, 2026"),
            ("en_GB", date(2026, 1, 1), TUESDAY, "1 January to 31 March 2026"),
            ("en_US", date(2025, 12, 1), TUESDAY, "December 1, 2025 to March 31, 2026"),
            ("en_US", TUESDAY, TUESDAY, "March 31, 2026"),
        ],
    )
    def test_from_to(self, locale: str, first: date, last: date, text: str) -> None:
        set_manner(Manner(locale))
        assert period_text(Period(first, last)) == text

    def test_with_its_length(self) -> None:
        period = Period.ending(TUESDAY, 90)
        assert period_text(period, with_days=True) == "January 1 to March 31, 2026 (90 days)"
