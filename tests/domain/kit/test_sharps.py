"""The sharps container: a count, never fullness."""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.domain.kit.lancets import LancetChange, LancetHabit
from logbook.domain.kit.sharps import (
    SharpsContainer,
    SharpsState,
    container_in_use,
    sharps_count,
)
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import START, at, day, new_id

EACH_TIME = LogSettings()
REUSE = LogSettings(lancet_habit=LancetHabit.REUSE)
PUNCTURES = [at(days / 4) for days in range(-8, 40)]  # one every six hours
CHANGES = [LancetChange(new_id(), at(days), START) for days in range(-2, 10)]


def container(capacity: int | None = 60, counted: int = 0) -> SharpsContainer:
    return SharpsContainer(new_id(), day(0), START, capacity=capacity, counted=counted)


class TestCount:
    def test_is_of_punctures_with_a_new_lancet_for_each(self) -> None:
        # Four on each of the person's days from the first to the tenth: 6, 12 and 18 o'clock, and
        # midnight, which belongs to the day before.
        count = sharps_count(container(), CHANGES, PUNCTURES, EACH_TIME, day(9))
        assert (count.lancets, count.pen_needles, count.total) == (40, 0, 40)

    def test_is_of_changes_when_lancets_are_used_again(self) -> None:
        assert sharps_count(container(), CHANGES, PUNCTURES, REUSE, day(9)).lancets == 10

    def test_has_pen_needles_of_every_day_begun(self) -> None:
        needles = replace(REUSE, pen_needles_a_day=4)
        count = sharps_count(container(counted=5), CHANGES, (), needles, day(9))
        assert (count.lancets, count.pen_needles, count.total) == (10, 40, 55)

    def test_ends_when_it_is_closed(self) -> None:
        needles = replace(REUSE, pen_needles_a_day=4)
        closed = replace(container(), closed_on=day(1))
        assert sharps_count(closed, CHANGES, (), needles, day(9)).total == 2 + 8


class TestState:
    @pytest.mark.parametrize(
        ("counted", "state"), [(39, SharpsState.COUNTING), (40, SharpsState.LOOK)]
    )
    def test_asks_to_look_from_two_thirds(self, counted: int, state: SharpsState) -> None:
        # The container is closed at about three quarters (FDA, in a copy); it is looked at before.
        count = sharps_count(container(60, counted), (), (), EACH_TIME, day(3))
        assert count.state is state
        assert 40 / 60 < 3 / 4

    def test_is_not_told_without_a_capacity(self) -> None:
        count = sharps_count(container(None, 900), (), (), EACH_TIME, day(3))
        assert count.state is SharpsState.NO_CAPACITY

    def test_never_says_full_however_many_went_in(self) -> None:
        count = sharps_count(container(60, 900), (), (), EACH_TIME, day(3))
        assert count.state is SharpsState.LOOK
        assert "full" not in {state.value for state in SharpsState}

    def test_goes_on_to_closed_and_handed_in(self) -> None:
        closed = replace(container(60, 50), closed_on=day(2))
        gone = replace(closed, handed_in_on=day(3))
        states = [sharps_count(c, (), (), EACH_TIME, day(9)).state for c in (closed, gone)]
        assert states == [SharpsState.CLOSED, SharpsState.HANDED_IN]
        new = container()
        assert container_in_use((closed, new, gone)) == new
        assert container_in_use((closed, gone)) is None
