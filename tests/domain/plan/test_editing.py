"""Changing a plan in the making: meals in pairs, each of them every day or in turn."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from logbook.domain.plan.calendar_days import PlanFacts, checks_on
from logbook.domain.plan.editing import MAIN_MEALS, with_meal_pairs, with_slots
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.plan.starting_points import SCHEDULES
from logbook.domain.slots import Slot
from tests.domain.plan.plan_records import DAY_START, FASTING, plan

BREAKFAST = {Slot.FASTING, Slot.AFTER_BREAKFAST}
LUNCH = {Slot.BEFORE_LUNCH, Slot.AFTER_LUNCH}
DINNER = {Slot.BEFORE_DINNER, Slot.AFTER_DINNER}


def slots_by_day(made: CheckPlan, days: int) -> list[set[Slot]]:
    facts = PlanFacts(plans=(made,))
    return [
        {check.slot for check in checks_on(made.holds_from + timedelta(days=n), facts, DAY_START)}
        for n in range(days)
    ]


def test_meals_in_turn_are_the_published_less_intensive_scheme() -> None:
    """Pairs at alternate meals over the days, as the European panel's scheme has it."""
    made = with_meal_pairs(plan(), MAIN_MEALS, {}, in_turn=True)
    assert slots_by_day(made, 6) == [BREAKFAST, LUNCH, DINNER] * 2
    published = next(one for one in SCHEDULES if one.code == "meals_in_turn")
    assert set(made.checks) == set(published.checks)


def test_two_meals_in_turn_are_every_other_day_each() -> None:
    made = with_meal_pairs(plan(), (Slot.AFTER_DINNER, Slot.AFTER_BREAKFAST), {}, in_turn=True)
    assert slots_by_day(made, 4) == [BREAKFAST, DINNER] * 2


def test_chosen_meals_every_day_come_beside_what_is_there() -> None:
    made = with_meal_pairs(plan(FASTING), [Slot.AFTER_DINNER], {})
    assert slots_by_day(made, 2) == [DINNER | {Slot.FASTING}] * 2


@pytest.mark.parametrize("in_turn", [False, True])
def test_a_daily_check_before_a_meal_stays_daily(in_turn: bool) -> None:
    made = with_meal_pairs(plan(FASTING), MAIN_MEALS, {}, in_turn=in_turn)
    assert all(Slot.FASTING in day for day in slots_by_day(made, 6))


def test_the_check_after_a_meal_is_two_hours_after_the_persons_own_time() -> None:
    own = {Slot.BEFORE_LUNCH: time(13, 15)}
    made = with_meal_pairs(plan(), [Slot.AFTER_LUNCH], own)
    assert [(one.slot, one.at, one.minutes_after) for one in made.checks] == [
        (Slot.BEFORE_LUNCH, time(13, 15), None),
        (Slot.AFTER_LUNCH, time(15, 15), 120),
    ]


def test_times_of_day_that_are_not_wanted_any_more_go_and_the_rest_stays() -> None:
    made = with_slots(with_meal_pairs(plan(), [Slot.AFTER_LUNCH], {}), [Slot.AFTER_LUNCH], {})
    assert slots_by_day(made, 1) == [{Slot.AFTER_LUNCH}]
    assert made.holds_from >= date(2024, 1, 1)
