"""Changing a plan in the making: meals in pairs, each of them every day or in turn."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any

import pytest
from dateutil.rrule import MO, SU, WEEKLY, rrule, weekday

from logbook.domain.plan.calendar_days import PlanFacts, checks_on, falls_on
from logbook.domain.plan.editing import (
    MAIN_MEALS,
    begun_on,
    first_days,
    held_from,
    is_unchanged,
    on_every,
    on_weeks,
    with_meal_pairs,
    with_slots,
)
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.plan.starting_points import SCHEDULES, checks_a_week
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
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


WEDNESDAY = date(2026, 11, 25)


def days_of(check: PlannedCheck, holds_from: date, count: int = 200) -> list[date]:
    days = [holds_from + timedelta(days=n) for n in range(count)]
    return [day for day in days if falls_on(check, holds_from, day)]


@pytest.mark.parametrize("weeks", [2, 3, 4])
@pytest.mark.parametrize("on", [MO, SU])
def test_every_so_many_weeks_is_the_weekly_rule_of_a_calendar(weeks: int, on: weekday) -> None:
    """RFC 5545's WEEKLY with an INTERVAL, as dateutil has it, from each day it may begin on."""
    day = on.weekday
    chosen = PlannedCheck(Slot.BEDTIME, time(22), weekdays=(day,))
    check = on_weeks(chosen, weeks, WEDNESDAY)
    begins = first_days(check, WEDNESDAY)
    assert len(begins) == weeks
    for first in begins:
        rule = rrule(
            WEEKLY,
            interval=weeks,
            byweekday=on,
            dtstart=datetime.combine(first, time()),
            until=datetime.combine(WEDNESDAY + timedelta(days=199), time()),
        )
        held = begun_on(check, first, WEDNESDAY)
        assert days_of(held, WEDNESDAY) == [one.date() for one in rule]
        assert checks_a_week([held]) * weeks == 1


@pytest.mark.parametrize("later", [1, 2, 5, 8, 13, 40])
def test_a_plan_from_a_later_day_keeps_the_days_that_take_turns(later: int) -> None:
    fortnight = on_weeks(PlannedCheck(Slot.BEDTIME, time(22), weekdays=(6,)), 2, WEDNESDAY)
    third = on_every(FASTING, 3, 1)
    moved = held_from(
        plan(fortnight, third, FASTING, holds_from="2026-11-25"),
        WEDNESDAY + timedelta(days=later),
    )
    for before, after in zip((fortnight, third, FASTING), moved.checks, strict=True):
        kept = [day for day in days_of(before, WEDNESDAY) if day >= moved.holds_from]
        assert days_of(after, moved.holds_from, 200 - later) == kept


def test_a_plan_that_asks_the_same_from_a_later_day_is_unchanged() -> None:
    """Also where days take turns, and whatever its id and the instant it was written at."""
    held = plan(on_every(FASTING, 3, 1), holds_from="2026-11-25")
    again = replace(held_from(held, date(2026, 12, 2)), id=plan().id)
    assert is_unchanged(again, [held])
    assert not is_unchanged(again, [])


@pytest.mark.parametrize(
    "changes",
    [
        {"checks": (FASTING,)},
        {"checks": ()},
        {"profile_days": 3},
        {"ill_every_hours": 2},
        {"set_by": SetBy.SELF},
        {"set_by_name": "Invented name"},
    ],
)
def test_any_other_word_or_number_is_a_change(changes: dict[str, Any]) -> None:
    held = plan(on_every(FASTING, 3, 1), holds_from="2026-11-25")
    again = held_from(held, date(2026, 12, 2))
    assert not is_unchanged(replace(again, **changes), [held])


def test_days_moved_by_one_are_a_change() -> None:
    held = plan(on_every(FASTING, 3, 1), holds_from="2026-11-25")
    assert not is_unchanged(replace(held, holds_from=date(2026, 12, 2)), [held])
    assert is_unchanged(replace(held, holds_from=date(2026, 12, 1)), [held])


def test_a_plan_between_two_others_is_measured_by_the_plan_of_its_day() -> None:
    first, second = plan(FASTING, holds_from="2026-01-01"), plan(holds_from="2026-11-25")
    assert is_unchanged(plan(FASTING, holds_from="2026-06-01"), [first, second])
    assert not is_unchanged(plan(FASTING, holds_from="2026-12-01"), [first, second])
