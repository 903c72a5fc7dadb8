"""When a person is offered to say that they begin a meal, and what may be put aside.

The two hours are common practice: 2 hours from the beginning of the meal is when after-meal targets
are checked (ADA Standards of Care, table of targets, read at the journal).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from uuid import uuid4

import pytest

from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import PlanFacts, Reason
from logbook.domain.plan.due import Due, what_is_due
from logbook.domain.plan.editing import (
    on_every,
    on_weekdays,
    slots_of,
    with_another,
    with_check,
    with_slots,
    without_check,
)
from logbook.domain.plan.meals import check_after, check_to_put_aside, likely_meal, meal_to_begin
from logbook.domain.plan.plans import CheckPlan, MealStart, PlannedCheck, PutAside
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from tests.domain.series_of import series_of

ZONE = "Europe/Berlin"
DAY = date(2026, 3, 10)
WRITTEN = datetime(2026, 1, 1, tzinfo=UTC)
SETTINGS = LogSettings()
PLAN = CheckPlan(
    uuid4(),
    date(2026, 1, 1),
    (
        PlannedCheck(Slot.BEFORE_DINNER, time(18)),
        PlannedCheck(Slot.AFTER_DINNER, time(20), minutes_after=90),
    ),
    WRITTEN,
)


def at(hour: int, minute: int = 0) -> Moment:
    return Moment.from_wall(datetime(2026, 3, 10, hour, minute), ZONE)


def due_at(facts: PlanFacts, now: Moment) -> Due:
    return what_is_due(facts, series_of([]), now, SETTINGS)


def test_the_check_before_the_meal_comes_first_then_the_meal() -> None:
    facts = PlanFacts(plans=(PLAN,))
    now = at(18)
    due = due_at(facts, now)
    check = check_to_put_aside(due)
    assert check is not None
    assert check.slot is Slot.BEFORE_DINNER
    assert meal_to_begin(due, facts, now, SETTINGS) is None
    aside = replace(facts, put_asides=(PutAside(uuid4(), DAY, Slot.BEFORE_DINNER, WRITTEN),))
    due = due_at(aside, now)
    assert check_to_put_aside(due) is None
    assert meal_to_begin(due, aside, now, SETTINGS) is Slot.AFTER_DINNER


def test_a_meal_is_begun_once_and_its_check_follows_the_first_bite() -> None:
    facts = PlanFacts(
        plans=(PLAN,), put_asides=(PutAside(uuid4(), DAY, Slot.BEFORE_DINNER, WRITTEN),)
    )
    now = at(18, 40)
    wanted = check_after(Slot.AFTER_DINNER, facts, now, SETTINGS)
    assert wanted - now.instant == timedelta(minutes=90)
    begun = replace(facts, meal_starts=(MealStart(uuid4(), Slot.AFTER_DINNER, now, now.instant),))
    due = due_at(begun, at(18, 41))
    assert meal_to_begin(due, begun, at(18, 41), SETTINGS) is None
    assert due.next is not None
    assert due.next.at.instant == wanted


@pytest.mark.parametrize(("hour", "offered"), [(15, False), (17, True), (20, True), (22, False)])
def test_it_is_offered_near_the_meal_only(hour: int, offered: bool) -> None:
    facts = PlanFacts(
        plans=(PLAN,), put_asides=(PutAside(uuid4(), DAY, Slot.BEFORE_DINNER, WRITTEN),)
    )
    now = at(hour)
    found = meal_to_begin(due_at(facts, now), facts, now, SETTINGS)
    assert (found is Slot.AFTER_DINNER) is offered


def test_neither_a_habit_nor_the_check_after_a_low_can_be_put_aside() -> None:
    facts = PlanFacts(plans=(replace(PLAN, checks=()),))
    now = at(18)
    due = what_is_due(facts, series_of([]), now, SETTINGS, recheck=now.instant)
    assert [one.reason for one in due.now] == [Reason.RECHECK]
    assert check_to_put_aside(due) is None


@pytest.mark.parametrize(
    ("hour", "meal"),
    [(7, Slot.AFTER_BREAKFAST), (13, Slot.AFTER_LUNCH), (18, Slot.AFTER_DINNER)],
)
def test_without_a_plan_the_nearest_meal_is_meant(hour: int, meal: Slot) -> None:
    assert likely_meal(PlanFacts(), at(hour), SETTINGS) is meal


# --- changing a plan ------------------------------------------------------------------------------


def test_a_new_time_of_day_takes_the_persons_own_hour_and_what_was_there_stays() -> None:
    empty = replace(PLAN, checks=())
    own = {Slot.FASTING: time(6, 15)}
    plan = with_slots(empty, [Slot.AFTER_BREAKFAST, Slot.FASTING, Slot.BEDTIME], own)
    assert slots_of(plan) == (Slot.FASTING, Slot.AFTER_BREAKFAST, Slot.BEDTIME)
    assert [check.at for check in plan.checks] == [time(6, 15), time(8, 15), time(22)]
    changed = with_check(plan, 0, on_weekdays(plan.checks[0], [4, 0]))
    more = with_slots(changed, [Slot.FASTING, Slot.NIGHT], own)
    assert more.checks[0].weekdays == (0, 4)
    assert slots_of(without_check(more, 0)) == (Slot.NIGHT,)


def test_days_that_take_turns_and_weekdays_put_each_other_off() -> None:
    check = PLAN.checks[0]
    every_third = on_every(on_weekdays(check, [1]), 3, 5)
    assert (every_third.every_days, every_third.day_offset) == (3, 2)
    assert every_third.weekdays == tuple(range(7))
    assert on_weekdays(every_third, []).every_days == 1
    assert on_weekdays(every_third, []).weekdays == tuple(range(7))


def test_a_check_once_more_that_day_keeps_the_order_of_time() -> None:
    plan = with_another(PLAN, PLAN.checks[0], timedelta(hours=-3))
    assert [check.at for check in plan.checks] == [time(15), time(18), time(20)]
