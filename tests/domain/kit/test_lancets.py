"""The lancet in the device: how often it was used, and when it is called blunt."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.kit.lancets import (
    LancetChange,
    LancetChangeReason,
    LancetHabit,
    LancetInDevice,
    lancet_in_device,
)
from logbook.domain.moments import Moment
from logbook.domain.punctures import puncture_moments
from logbook.domain.readings import CrossedOut, Reading
from logbook.domain.slots import Slot

START = datetime(2026, 3, 31, 8, tzinfo=UTC)


def at(hours: float) -> Moment:
    return Moment.at(START + timedelta(hours=hours), "UTC")


def change(hours: float) -> LancetChange:
    return LancetChange(UUID(int=1), at(hours), START, LancetChangeReason.DULL)


def reading(hours: float) -> Reading:
    return Reading(
        UUID(int=int(hours * 10) + 100),
        Glucose.number(128, Unit.MG_DL),
        at(hours),
        START,
        Slot.FASTING,
    )


def failed_strip(failure: StripFailure) -> Happening:
    return Happening(UUID(int=2), What.STRIP_FAILED, at(1), START, strip_failure=failure)


class TestUses:
    def test_count_from_the_last_change(self) -> None:
        moments = [at(hours) for hours in (0, 1, 5, 6, 7)]
        assert lancet_in_device(moments, [change(0), change(5)]) == LancetInDevice(at(5), 3)

    def test_order_does_not_matter(self) -> None:
        moments = [at(hours) for hours in (7, 0, 6, 1, 5)]
        assert lancet_in_device(moments, [change(5), change(0)]).uses == 3

    def test_are_unknown_while_no_change_is_on_record(self) -> None:
        assert lancet_in_device([at(0), at(1)], []) == LancetInDevice(None, None)

    def test_are_none_for_one_just_put_in(self) -> None:
        assert lancet_in_device([at(0)], [change(1)]).uses == 0


class TestBlunt:
    @pytest.mark.parametrize(
        ("uses_so_far", "is_blunt"), [(0, False), (2, False), (3, True), (4, True)]
    )
    def test_is_said_from_the_fourth_use_on(self, uses_so_far: int, is_blunt: bool) -> None:
        lancet = LancetInDevice(at(0), uses_so_far)
        assert lancet.is_blunt(LancetHabit.REUSE) is is_blunt

    @pytest.mark.parametrize("uses", [0, 3, 300])
    def test_is_never_said_to_whoever_takes_a_new_one_each_time(self, uses: int) -> None:
        assert not LancetInDevice(at(0), uses).is_blunt(LancetHabit.NEW_EACH_TIME)

    def test_is_not_said_about_a_lancet_of_unknown_age(self) -> None:
        assert not LancetInDevice(None, None).is_blunt(LancetHabit.REUSE)


class TestPunctures:
    def test_each_reading_was_one_even_if_crossed_out(self) -> None:
        crossed_out = replace(reading(2), crossed_out=CrossedOut(START))
        assert puncture_moments([crossed_out, reading(1)]) == [at(1), at(2)]

    def test_a_reading_of_someone_elses_meter_used_no_lancet(self) -> None:
        assert puncture_moments([replace(reading(1), is_foreign=True)]) == []

    @pytest.mark.parametrize(
        ("failure", "punctures"),
        [
            (StripFailure.PRICKED_AGAIN, 1),
            (StripFailure.SAME_DROP, 0),
            (StripFailure.ERROR_SHOWN, 0),
        ],
    )
    def test_a_failed_strip_was_one_only_if_pricked_again(
        self, failure: StripFailure, punctures: int
    ) -> None:
        assert len(puncture_moments([], [failed_strip(failure)])) == punctures

    def test_a_crossed_out_happening_was_none(self) -> None:
        happening = replace(failed_strip(StripFailure.PRICKED_AGAIN), crossed_out_at=START)
        assert puncture_moments([], [happening]) == []
