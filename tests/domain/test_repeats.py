"""When two numbers of one occasion are far apart: more than a fifth of the first, by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.readings import Feeling
from logbook.domain.repeats import are_far_apart, doubted_low
from tests.domain.series_of import reading


@pytest.mark.parametrize(
    ("first", "again", "is_far"),
    [
        (300, 240, False),  # 60 of 300 is 20 %, not more
        (300, 239, True),
        (300, 360, False),
        (300, 361, True),
        (300, 300, False),
    ],
)
def test_more_than_a_fifth_of_the_first(first: int, again: int, *, is_far: bool) -> None:
    for unit in Unit:
        pair = (Glucose.number(first, unit), Glucose.number(again, unit))
        assert are_far_apart(*pair) is is_far


def test_letters_and_a_number_are_far_apart_and_the_same_letters_are_not() -> None:
    high, number = Glucose.reads_high(Unit.MG_DL), Glucose.number(580, Unit.MG_DL)
    assert are_far_apart(high, number)
    assert are_far_apart(number, high)
    assert not are_far_apart(high, Glucose.reads_high(Unit.MG_DL))


# --- a low that a second number makes doubtful ----------------------------------------------------


@pytest.mark.parametrize(
    ("low", "again", "clock", "is_doubted"),
    [
        ("62", "120", "12:09", True),
        ("62", "120", "12:10", False),  # over five minutes: the sugar may have worked
        ("62", "74", "12:06", False),  # 12 of 62 is 19 %
        ("62", "75", "12:06", True),  # 13 of 62 is 21 %
        ("50", "65", "12:06", False),  # low again
        ("70", "120", "12:06", False),  # no low
        ("LO", "120", "12:06", True),
    ],
)
def test_a_low_is_doubted_by_a_far_higher_number_before_sugar_works(
    low: str, again: str, clock: str, *, is_doubted: bool
) -> None:
    first, second = (
        reading(f"2026-03-01 {at}", value) for at, value in (("12:04", low), (clock, again))
    )
    assert doubted_low(second, [second, first]) is (first if is_doubted else None)


def test_a_low_that_was_felt_is_believed() -> None:
    first = replace(reading("2026-03-01 12:04", "62"), feelings=(Feeling.SHAKY,))
    second = reading("2026-03-01 12:06", "120")
    assert doubted_low(second, [first]) is None
    well = replace(first, feelings=(Feeling.WELL,))
    assert doubted_low(second, [well]) is well
