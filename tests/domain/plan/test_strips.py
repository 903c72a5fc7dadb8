"""How many strips the plan takes a day, counted by hand."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from fractions import Fraction
from uuid import UUID

from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.domain.slots import Slot

WRITTEN = datetime(2026, 1, 1, tzinfo=UTC)


def plan(number: int, holds_from: date, *checks: PlannedCheck) -> CheckPlan:
    return CheckPlan(UUID(int=number), holds_from, checks, WRITTEN)


FASTING = PlannedCheck(Slot.FASTING, time(7))
TWICE_A_WEEK = PlannedCheck(Slot.BEDTIME, time(22), weekdays=(0, 3))


def test_one_a_day_and_two_a_week_are_nine_in_seven_days() -> None:
    plans = [plan(1, date(2026, 1, 1), FASTING, TWICE_A_WEEK)]
    assert plan_strips_a_day(plans, date(2026, 2, 1)) == Fraction(9, 7)


def test_the_plan_of_that_day_counts() -> None:
    plans = [
        plan(1, date(2026, 1, 1), FASTING),
        plan(2, date(2026, 3, 1), FASTING, PlannedCheck(Slot.BEDTIME, time(22))),
    ]
    assert plan_strips_a_day(plans, date(2026, 2, 28)) == 1
    assert plan_strips_a_day(plans, date(2026, 3, 1)) == 2
    assert plan_strips_a_day(plans, date(2025, 12, 31)) is None
