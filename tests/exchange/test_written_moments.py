"""How dates and times are read by a pattern: exactly as written, nothing guessed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.exchange.written_moments import Pattern, PatternWrong, date_of, time_of


def _date(pattern: str, text: str) -> tuple[int, int, int] | None:
    parts = Pattern.compile(pattern).read(text)
    return None if parts is None else date_of(parts)


def _time(pattern: str, text: str) -> tuple[int, int, int] | None:
    parts = Pattern.compile(pattern).read(text)
    return None if parts is None else time_of(parts)


@pytest.mark.parametrize(
    ("pattern", "text", "expected"),
    [
        ("%m-%d-%Y", "04-21-1991", (1991, 4, 21)),
        ("%m-%d-%Y", "4-1-1991", (1991, 4, 1)),
        ("%d.%m.%y", "31.12.26", (2026, 12, 31)),
        ("%d.%m.%y", "31.12.98", (1998, 12, 31)),
        ("%d %b %Y", "3 Mar 2026", (2026, 3, 3)),
        ("%Y%m%d", "20260331", (2026, 3, 31)),
        # Not as the pattern says:
        ("%m-%d-%Y", "04-21-11991", None),
        ("%m-%d-%Y", "04/21/1991", None),
        ("%m-%d-%Y", " 04-21-1991", None),
        ("%m-%d-%Y", "٠٤-٢١-١٩٩١", None),
        ("%d %b %Y", "3 Mrz 2026", None),
        # Without separators every number has its full width, or 2024111 would be two dates.
        ("%Y%m%d", "2024111", None),
    ],
)
def test_dates_are_read_as_the_pattern_says(
    pattern: str, text: str, expected: tuple[int, int, int] | None
) -> None:
    assert _date(pattern, text) == expected


@pytest.mark.parametrize(
    ("pattern", "text", "expected"),
    [
        ("%H:%M", "9:09", (9, 9, 0)),
        ("%H:%M:%S", "23:59:07", (23, 59, 7)),
        ("%I:%M %p", "12:05 AM", (0, 5, 0)),
        ("%I:%M %p", "12:05 p.m.", (12, 5, 0)),
        ("%I:%M%p", "7:30pm", (19, 30, 0)),
        ("%H:%M", "24:00", None),
        ("%H:%M", "56:35", None),
        ("%H:%M", "188:00", None),
        ("%H:%M", "7:5", None),
        ("%I:%M %p", "13:05 PM", None),
    ],
)
def test_times_are_read_as_the_pattern_says(
    pattern: str, text: str, expected: tuple[int, int, int] | None
) -> None:
    assert _time(pattern, text) == expected


@given(st.dates())
def test_a_written_date_comes_back(day: object) -> None:
    # Against the standard library's own way of writing a date.
    text = f"{day:%d/%m/}{day.year:04d}"  # type: ignore[attr-defined]
    assert _date("%d/%m/%Y", text) == (day.year, day.month, day.day)  # type: ignore[attr-defined]


@pytest.mark.parametrize("pattern", ["%q", "%", "%Y-%Y", "%%", "%H:%M:%j"])
def test_a_pattern_with_an_unknown_or_repeated_part_is_refused(pattern: str) -> None:
    with pytest.raises(PatternWrong):
        Pattern.compile(pattern)
