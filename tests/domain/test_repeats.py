"""When two numbers of one occasion are far apart: more than a fifth of the first, by hand."""

from __future__ import annotations

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.repeats import are_far_apart


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
