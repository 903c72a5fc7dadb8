"""Targets by operator, kind and day."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.slots import Slot
from logbook.domain.targets import (
    KIND_OF_SLOT,
    Limit,
    Limits,
    Operator,
    SetBy,
    Target,
    TargetBook,
    TargetKind,
    Verdict,
    judge,
    judge_steps,
)
from tests.domain.series_of import glucose, new_id, range_target


# The four meanings of a printed limit, at the value itself and one step to either side.
@pytest.mark.parametrize(
    ("operator", "admitted"),
    [
        (Operator.AT_LEAST, (False, True, True)),
        (Operator.ABOVE, (False, False, True)),
        (Operator.AT_MOST, (True, True, False)),
        (Operator.BELOW, (True, False, False)),
    ],
)
def test_a_limit_admits_by_its_operator(
    operator: Operator, admitted: tuple[bool, bool, bool]
) -> None:
    limit = Limit(operator, 130)
    assert tuple(limit.admits(steps) for steps in (129, 130, 131)) == admitted


# ADA targets for adults, read at the journal: before meals 80-130 with both ends in, after meals
# below 180, so 180 itself is out.
@pytest.mark.parametrize(
    ("steps", "verdict"),
    [
        (79, Verdict.BELOW),
        (80, Verdict.IN_TARGET),
        (130, Verdict.IN_TARGET),
        (131, Verdict.ABOVE),
    ],
)
def test_before_a_meal_both_ends_are_in_target(steps: int, verdict: Verdict) -> None:
    limits = range_target(TargetKind.BEFORE_MEALS, 80, 130).printed[0]
    assert judge_steps(steps, limits) is verdict


@pytest.mark.parametrize(
    ("steps", "verdict"), [(179, Verdict.IN_TARGET), (180, Verdict.ABOVE), (20, Verdict.IN_TARGET)]
)
def test_after_a_meal_the_limit_itself_is_out(steps: int, verdict: Verdict) -> None:
    limits = Limits(Unit.MG_DL, None, Limit(Operator.BELOW, 180))
    assert judge_steps(steps, limits) is verdict


def test_a_value_is_judged_only_by_limits_printed_in_its_own_unit() -> None:
    # 4.4 converts to 79 mg/dL and would be below a converted target; as printed it is in.
    both = Target(
        new_id(),
        TargetKind.FASTING,
        (
            Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130)),
            Limits(Unit.MMOL_L, Limit(Operator.AT_LEAST, 44), Limit(Operator.AT_MOST, 72)),
        ),
        date(2026, 1, 1),
        SetBy.PROVIDER,
    )
    assert judge(glucose("4.4", Unit.MMOL_L), both) is Verdict.IN_TARGET
    assert judge(glucose("79"), both) is Verdict.BELOW
    only_mg_dl = range_target(TargetKind.FASTING, 80, 130)
    assert judge(glucose("4.4", Unit.MMOL_L), only_mg_dl) is None
    assert judge(glucose("100"), None) is None


def test_a_target_without_limits_judges_nothing() -> None:
    assert judge(glucose("100"), range_target(TargetKind.FASTING, None, None)) is None


def test_every_slot_but_the_loose_ones_has_a_kind_of_target() -> None:
    without = set(Slot) - set(KIND_OF_SLOT)
    assert without == {Slot.BETWEEN_MEALS, Slot.OTHER}
    assert set(KIND_OF_SLOT.values()) == set(TargetKind)


def test_a_new_target_holds_from_its_day_on_and_not_backwards() -> None:
    first = range_target(TargetKind.FASTING, 80, 130, date(2026, 1, 10))
    second = range_target(TargetKind.FASTING, 90, 150, date(2026, 3, 1))
    book = TargetBook([second, first])
    assert book.for_slot(Slot.FASTING, date(2026, 1, 9)) is None
    assert book.for_slot(Slot.FASTING, date(2026, 1, 10)) is first
    assert book.for_slot(Slot.FASTING, date(2026, 2, 28)) is first
    assert book.for_slot(Slot.FASTING, date(2026, 3, 1)) is second
    assert book.for_slot(Slot.BEDTIME, date(2026, 3, 1)) is None
    assert book.for_slot(Slot.OTHER, date(2026, 3, 1)) is None
    assert book.change_days() == [date(2026, 1, 10), date(2026, 3, 1)]


def test_of_two_targets_from_one_day_the_later_written_holds() -> None:
    written = datetime(2026, 3, 1, 9, tzinfo=UTC)
    slip, meant = (
        Target(
            new_id(),
            TargetKind.BEDTIME,
            (Limits(Unit.MG_DL, None, Limit(Operator.AT_MOST, upper)),),
            date(2026, 3, 1),
            SetBy.PROVIDER,
            written_at=written + timedelta(minutes=minutes),
        )
        for upper, minutes in ((18, 0), (180, 1))
    )
    assert TargetBook([meant, slip]).of_kind(TargetKind.BEDTIME, date(2026, 3, 2)) is meant


def test_an_empty_target_ends_the_one_before() -> None:
    agreed = range_target(TargetKind.NIGHT, 90, 150, date(2026, 1, 1))
    ended = Target(new_id(), TargetKind.NIGHT, (), date(2026, 2, 1), SetBy.PROVIDER)
    book = TargetBook([agreed, ended])
    assert book.of_kind(TargetKind.NIGHT, date(2026, 1, 31)) is agreed
    assert book.of_kind(TargetKind.NIGHT, date(2026, 2, 1)) is None


def test_targets_from_one_day_with_and_without_a_moment_of_writing_can_be_told_apart() -> None:
    unknown = range_target(TargetKind.NIGHT, 90, 150, date(2026, 1, 1))
    twin = range_target(TargetKind.NIGHT, 100, 180, date(2026, 1, 1))
    book = TargetBook([unknown, twin])
    assert book.of_kind(TargetKind.NIGHT, date(2026, 1, 1)) is twin
