"""Bedtime: the plan's, else the usual one, else 9 in the evening."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from uuid import uuid4

from logbook.domain.bedtime import bedtime_of
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualCheck, UsualTimes

DAY = date(2026, 3, 1)
NOTHING = UsualTimes((), frozenset(), time(4))
USUAL = UsualTimes(
    (UsualCheck(Slot.FASTING, time(7), 180), UsualCheck(Slot.BEDTIME, time(22, 15), 1095)),
    frozenset(),
    time(4),
)


def plan(*checks: PlannedCheck) -> CheckPlan:
    return CheckPlan(uuid4(), DAY, checks, datetime(2026, 3, 1, tzinfo=UTC))


def test_the_plan_comes_before_habit_and_habit_before_the_common_clock() -> None:
    planned = plan(PlannedCheck(Slot.BEDTIME, time(23)))
    assert bedtime_of([planned], USUAL, DAY) == time(23)
    assert bedtime_of([], USUAL, DAY) == time(22, 15)
    assert bedtime_of([], NOTHING, DAY) == time(21)


def test_a_plan_without_a_check_at_bedtime_says_nothing_about_it() -> None:
    assert bedtime_of([plan(PlannedCheck(Slot.FASTING, time(7)))], USUAL, DAY) == time(22, 15)
