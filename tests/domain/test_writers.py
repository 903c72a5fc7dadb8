"""Initials of helpers, and who writes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.settings import LogSettings
from logbook.domain.writers import LONGEST_INITIALS, helper_name, initials_of, writer_now

HELPERS = LogSettings(helpers=(("EK", "Eva Klein"), ("B", "Ben")))


@pytest.mark.parametrize(
    ("name", "initials"),
    [
        ("Eva Klein", "EK"),
        ("eva  maria klein", "EMK"),
        ("Eva Maria van der Klein", "EMVD"),
        ("Ben", "B"),
        ("(Nurse) Q.", "NQ"),
        ("...", ""),
    ],
)
def test_the_first_letter_of_each_word(name: str, initials: str) -> None:
    assert initials_of(name) == initials


@given(names=st.lists(st.text(min_size=1, max_size=20), max_size=30))
def test_no_two_helpers_have_the_same(names: list[str]) -> None:
    taken: list[str] = []
    for name in names:
        initials = initials_of(name, taken)
        if initials:
            assert initials not in taken
            assert len(initials) <= LONGEST_INITIALS + 1
            taken.append(initials)


def test_whoever_the_log_does_not_know_writes_as_the_person() -> None:
    assert writer_now(HELPERS, "EK") == "EK"
    assert writer_now(HELPERS, "XX") == ""
    assert writer_now(LogSettings(), "EK") == ""
    assert helper_name(HELPERS, "B") == "Ben"
    assert helper_name(HELPERS, "XX") == ""
