"""Which answer about medicines and health is in force, and from which day one can hold."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from uuid import UUID

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from logbook.domain.next_steps import Step, StepCode
from logbook.domain.ticks import About, Tick, TickBook, Told

DAY = date(2026, 3, 1)
WRITTEN = datetime(2026, 3, 31, tzinfo=UTC)


def tick(number: int, day: int, told: Told, about: About = About.INSULIN) -> Tick:
    written = WRITTEN + timedelta(minutes=number)
    return Tick(UUID(int=number), about, told, DAY + timedelta(days=day), written)


def test_an_answer_holds_from_its_day_until_the_next_one() -> None:
    first, second = tick(1, 0, Told.YES), tick(2, 10, Told.NO)
    book = TickBook([second, first, tick(3, 5, Told.NOT_SURE, About.BETA_BLOCKER)])
    assert book.in_force(About.INSULIN, DAY - timedelta(days=1)) is None
    assert book.in_force(About.INSULIN, DAY) == first
    assert book.in_force(About.INSULIN, DAY + timedelta(days=9)) == first
    assert book.in_force(About.INSULIN, DAY + timedelta(days=10)) == second


def test_an_answer_can_hold_from_the_day_of_the_one_before_it() -> None:
    first, second = tick(1, 0, Told.YES), tick(2, 10, Told.NO)
    book = TickBook([first, second, tick(3, 5, Told.YES, About.BETA_BLOCKER)])
    assert book.first_day_for(first) is None
    assert book.first_day_for(second) == DAY


@given(
    st.lists(st.tuples(st.integers(0, 30), st.sampled_from(Told)), min_size=1, max_size=6),
    st.integers(0, 30),
)
def test_moved_to_an_allowed_day_the_latest_answer_stays_in_force(
    answers: list[tuple[int, Told]], moved_to: int
) -> None:
    """The day that `first_day_for` allows never makes an older answer overrule it."""
    book = TickBook([tick(number, day, told) for number, (day, told) in enumerate(answers, 1)])
    today = DAY + timedelta(days=30)
    latest = book.in_force(About.INSULIN, today)
    assert latest is not None
    first, day = book.first_day_for(latest), DAY + timedelta(days=moved_to)
    assume(first is None or day >= first)
    moved = replace(latest, holds_from=day, written_at=WRITTEN + timedelta(days=1))
    others = [one for one in book.all if one.id != latest.id]
    found = TickBook([*others, moved]).in_force(About.INSULIN, today)
    assert found is not None
    assert found.id == latest.id


@pytest.mark.parametrize("code", list(StepCode))
def test_what_is_to_be_done_now_is_never_called_calm(code: StepCode) -> None:
    """Judgement of the project: a low, a doubted number and a call come before anything else."""
    at_once = {
        StepCode.TREAT_VERY_LOW,
        StepCode.TREAT_LOW,
        StepCode.AFTER_LOW,
        StepCode.UNWELL_NOT_LOW,
        StepCode.TEST_AGAIN,
        StepCode.TEST_AGAIN_NEW_STRIP,
        StepCode.TEST_AGAIN_IF_SURPRISED,
        StepCode.HIGH_AGAIN,
        StepCode.CALL_NOW,
    }
    step = Step(code)
    assert step.is_calm is (code not in at_once)
    assert not (step.doubts_high and step.is_calm)
    assert not (step.tests_again and step.asks_unwell)
    if step.doubts_high:
        assert step.tests_again
