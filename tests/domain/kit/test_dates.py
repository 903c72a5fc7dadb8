"""Last days of use against the calendar: months that clamp, days that are counted."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.errors import BadMoment
from logbook.domain.kit.dates import AfterOpening, PrintedDate, use_until

DAYS = st.dates(date(2000, 1, 1), date(2090, 1, 1))


@pytest.mark.parametrize(
    ("opened", "after", "until"),
    [
        # Worked out by hand on a wall calendar.
        ("2024-11-30", "3m", "2025-02-28"),
        ("2024-11-30", "90d", "2025-02-28"),
        ("2024-01-31", "1m", "2024-02-29"),
        ("2025-01-31", "1m", "2025-02-28"),
        ("2025-01-15", "90d", "2025-04-15"),
        ("2025-05-15", "3m", "2025-08-15"),
        ("2025-05-15", "90d", "2025-08-13"),
    ],
)
def test_time_after_opening(opened: str, after: str, until: str) -> None:
    end = AfterOpening.from_code(after).end(date.fromisoformat(opened))
    assert end == date.fromisoformat(until)


@given(DAYS, st.integers(1, 48))
def test_months_clamp_as_the_calendar_module_has_them(opened: date, months: int) -> None:
    years, month = divmod(opened.month - 1 + months, 12)
    year, month = opened.year + years, month + 1
    last = calendar.monthrange(year, month)[1]
    expected = date(year, month, min(opened.day, last))
    assert AfterOpening(months, in_months=True).end(opened) == expected
    assert opened + relativedelta(months=months) == expected


@given(DAYS, st.integers(1, 400))
def test_days_are_counted(opened: date, days: int) -> None:
    end = AfterOpening(days, in_months=False).end(opened)
    assert end.toordinal() - opened.toordinal() == days


@given(st.integers(2000, 2090), st.integers(1, 12))
def test_a_printed_month_lasts_to_its_last_day(year: int, month: int) -> None:
    printed = PrintedDate.from_code(f"{year}-{month:02}")
    assert printed.last_day == date(year, month, calendar.monthrange(year, month)[1])
    assert printed.code == f"{year}-{month:02}"


@given(DAYS)
def test_a_printed_day_is_that_day(day: date) -> None:
    printed = PrintedDate.from_code(day.isoformat())
    assert (printed.last_day, printed.is_month) == (day, False)


def test_three_months_are_not_ninety_days_on_most_days_of_a_year() -> None:
    first = date(2025, 1, 1)
    days = [first + timedelta(days=n) for n in range(365)]
    same = [
        day
        for day in days
        if AfterOpening(3, in_months=True).end(day) == AfterOpening(90, in_months=False).end(day)
    ]
    assert 0 < len(same) < 100


@given(DAYS, DAYS, st.integers(1, 12))
def test_the_earlier_of_the_two_holds(opened: date, printed: date, months: int) -> None:
    after = AfterOpening(months, in_months=True)
    until = use_until(PrintedDate(printed), after, opened)
    assert until == min(printed, after.end(opened))
    assert use_until(PrintedDate(printed), after, None) == printed
    assert use_until(None, after, opened) == after.end(opened)
    assert use_until(None, None, opened) is None


@pytest.mark.parametrize("code", ["", "0m", "3", "m3", "3 months", "-3m", "99999d"])
def test_other_codes_are_refused(code: str) -> None:
    with pytest.raises(BadMoment):
        AfterOpening.from_code(code)
