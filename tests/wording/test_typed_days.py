"""Days as people type them: 120 phrases, none read as another day than the one that is meant.

The calendar is Python's own (`datetime`, `calendar`); the order of two numbers is that of Unicode
CLDR's short date (month first in the United States, day first in Britain and Germany).
"""

from __future__ import annotations

import calendar
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.errors import BadMoment
from logbook.wording.dates import day_text, month_day_text, short_day_text, weekday_day_text
from logbook.wording.manner import Manner, manner, set_manner
from logbook.wording.typed_days import Toward, read_day

TODAY = date(2026, 11, 25)  # a Wednesday


@pytest.fixture(autouse=True)
def american() -> Iterator[None]:
    before = manner()
    set_manner(Manner("en_US"))
    yield
    set_manner(before)


@pytest.mark.parametrize(
    "text",
    [
        "3 March 2027", "March 3, 2027", "3 mar 2027", "Mar 3 2027", "3. March 2027",
        "03 March 2027", "march 3rd, 2027", "3rd of March 2027", "MARCH 3 2027", " 3  march  2027 ",
        "2027-03-03", "2027/3/3", "2027.03.03", "2027 3 3", "3/3/2027", "03/03/27", "3.3.2027",
        "3-3-27", "3 3 2027", "Wed 3 March 2027", "Wednesday, March 3, 2027", "3-mar-2027",
        "3/march/2027", "3.mar.2027",
    ],
)  # fmt: skip
def test_a_whole_date_is_that_day(text: str) -> None:
    assert read_day(text, TODAY) == date(2027, 3, 3)


@pytest.mark.parametrize(
    ("text", "ahead", "back"),
    [
        ("25 Nov", date(2026, 11, 25), date(2026, 11, 25)),
        ("Nov 26", date(2026, 11, 26), date(2025, 11, 26)),
        ("24 nov.", date(2027, 11, 24), date(2026, 11, 24)),
        ("1/15", date(2027, 1, 15), date(2026, 1, 15)),
        ("15/1", date(2027, 1, 15), date(2026, 1, 15)),
        ("29 feb", date(2028, 2, 29), date(2024, 2, 29)),
        ("may 5", date(2027, 5, 5), date(2026, 5, 5)),
        ("sept 9", date(2027, 9, 9), date(2026, 9, 9)),
    ],
)
def test_without_a_year_it_is_the_next_or_the_last_such_day(
    text: str, ahead: date, back: date
) -> None:
    assert read_day(text, TODAY, Toward.FUTURE) == ahead
    assert read_day(text, TODAY, Toward.PAST) == back


@pytest.mark.parametrize("offset", range(7))
def test_a_weekday_is_the_next_or_the_last_one(offset: int) -> None:
    day = TODAY + timedelta(days=offset)
    name = calendar.day_name[day.weekday()]
    for text in (name, name[:3], name.upper(), f"{name[:3]}."):
        assert read_day(text, TODAY, Toward.FUTURE) == day
        past = day if offset == 0 else day - timedelta(days=7)
        assert read_day(text, TODAY, Toward.PAST) == past


def test_near_days_by_their_names() -> None:
    days = [read_day(text, TODAY) for text in ("yesterday", "Today", "TOMORROW")]
    assert days == [TODAY - timedelta(days=1), TODAY, TODAY + timedelta(days=1)]


@pytest.mark.parametrize(("locale", "month"), [("en_US", 4), ("en_GB", 3), ("de_DE", 3)])
def test_two_numbers_stand_in_the_order_of_the_country(locale: str, month: int) -> None:
    set_manner(Manner(locale))
    assert read_day("4/3/2027", TODAY) == date(2027, month, 7 - month)


def test_names_of_months_are_those_of_the_manner_and_english() -> None:
    set_manner(Manner("de_DE"))
    assert read_day("3. März 2027", TODAY) == read_day("3 maerz 2027".replace("ae", "a"), TODAY)
    assert read_day("12. Dez", TODAY) == date(2026, 12, 12)
    assert read_day("Dec 12", TODAY) == date(2026, 12, 12)
    assert read_day("Donnerstag", TODAY) == date(2026, 11, 26)


@pytest.mark.parametrize("text", ["30 Feb", "31/4/2027", "2027-13-01", "Feb 29 2027", "0 March"])
def test_a_day_that_is_not_in_the_calendar_is_told(text: str) -> None:
    with pytest.raises(BadMoment) as caught:
        read_day(text, TODAY)
    assert caught.value.facts["why"] == "date_impossible"


def test_a_weekday_that_does_not_fit_its_date_is_told() -> None:
    with pytest.raises(BadMoment) as caught:
        read_day("Monday 3 March 2027", TODAY)
    assert caught.value.facts["why"] == "date_impossible"


@pytest.mark.parametrize(
    "text",
    ["", "  ", "soon", "3", "march", "3 ma", "t", "12", "1 2 3 4", "3 march 27 5", "128 mg/dL",
     "three march", "3 march 2027 x", "٣ march", "3 march 202", "1e3", "-3", "x" * 5000,
     "ma 3 2027", "ju 3"],
)  # fmt: skip
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(BadMoment) as caught:
        read_day(text, TODAY)
    assert caught.value.facts["why"] == "date_malformed"


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_every_day_as_the_program_writes_it_is_read_as_itself(day: date) -> None:
    before = manner()
    try:
        for locale in ("en_US", "en_GB", "de_DE", "fr_FR", "es_ES"):
            set_manner(Manner(locale))
            assert read_day(day_text(day), TODAY) == day
            assert read_day(short_day_text(day, with_year=True), TODAY) == day
            if locale.startswith("en"):
                assert read_day(weekday_day_text(day, with_year=True), TODAY) == day
            assert read_day(month_day_text(day), day) == day
    finally:
        set_manner(before)


@given(st.text(max_size=30))
def test_whatever_is_typed_is_a_day_or_told(text: str) -> None:
    reasons = set()
    try:
        assert isinstance(read_day(text, TODAY), date)
    except BadMoment as error:
        reasons.add(error.facts["why"])
    assert reasons <= {"date_malformed", "date_impossible"}
