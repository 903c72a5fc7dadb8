"""Published schedules, held against what their sources print.

Sources: the American Diabetes Association's Standards (intensive insulin: before meals, at bedtime;
read in copies), NICE NG17, 2015 (at least 4 a day: before each meal and before bed; read there),
the AACE and ACE statement of 2016 (read in copies), Polonsky et al., Diabetes Care 2011;34:262 (7
points on 3 days: 21 readings; read at the journal), PMC7480213, table 3 (read there). The numbers
of checks a week are counted here by hand from those words.
"""

from __future__ import annotations

from collections import Counter
from datetime import date, time, timedelta
from fractions import Fraction

import pytest

from logbook.domain.guidelines import HowKnown
from logbook.domain.plan.calendar_days import PROFILE_SLOTS, PlanFacts, Reason, checks_on
from logbook.domain.plan.starting_points import (
    SCHEDULES,
    Schedule,
    Situation,
    checks_a_week,
    plan_from,
)
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from tests.domain.plan.plan_records import DAY_START, WRITTEN, appointment

MONDAY = date(2026, 3, 2)
BY_CODE = {schedule.code: schedule for schedule in SCHEDULES}

# F: before breakfast, b l d: after the meals, L D: before lunch and dinner, Z: bedtime,
# m: between meals. Monday to Sunday.
LETTERS = {
    Slot.FASTING: "F",
    Slot.AFTER_BREAKFAST: "b",
    Slot.BEFORE_LUNCH: "L",
    Slot.AFTER_LUNCH: "l",
    Slot.BEFORE_DINNER: "D",
    Slot.AFTER_DINNER: "d",
    Slot.BEDTIME: "Z",
    Slot.BETWEEN_MEALS: "m",
}
PUBLISHED = {
    "ada_mealtime_insulin": ("FLDZ FLDZ FLDZ FLDZ FLDZ FLDZ FLDZ", 28),
    "nice_type_1": ("FLDZ FLDZ FLDZ FLDZ FLDZ FLDZ FLDZ", 28),
    "basal_insulin": ("FZ FZ FZ FZ FZ FZ FZ", 14),
    "premixed_insulin": ("FLD FLD FLD FLD FLD FLD FLD", 21),
    "tablets_that_cause_lows": ("F F F F F F F", 7),
    "aace_low_risk_first_stretch": ("FLDZ FLDZ FLDZ FLDZ FLDZ FLDZ FLDZ", 28),
    "meals_in_turn": ("Fb Ll Dd Fb Ll Dd Fb", 14),
    "seven_points_before_a_visit": ("- - - - - - -", 0),
    "fasting_month": ("FmmmDd FmmmDd FmmmDd FmmmDd FmmmDd FmmmDd FmmmDd", 42),
}


def test_every_schedule_has_its_table_here() -> None:
    assert set(BY_CODE) == set(PUBLISHED)
    assert len(BY_CODE) == len(SCHEDULES)


@pytest.mark.parametrize("code", PUBLISHED)
def test_which_slots_on_which_days(code: str) -> None:
    table, a_week = PUBLISHED[code]
    facts = PlanFacts(plans=(plan_from(BY_CODE[code], MONDAY, WRITTEN),))
    found = []
    for n in range(7):
        checks = checks_on(MONDAY + timedelta(days=n), facts, DAY_START)
        found.append("".join(LETTERS[check.slot] for check in checks) or "-")
    assert " ".join(found) == table
    assert checks_a_week(BY_CODE[code].checks) == a_week


def test_meals_in_turn_give_each_meal_its_share() -> None:
    """Over three weeks each of the six times of day comes 7 times: 42 checks in 21 days."""
    facts = PlanFacts(plans=(plan_from(BY_CODE["meals_in_turn"], MONDAY, WRITTEN),))
    counts = Counter(
        check.slot
        for n in range(21)
        for check in checks_on(MONDAY + timedelta(days=n), facts, DAY_START)
    )
    assert set(counts.values()) == {7}
    assert counts.total() == 42


def test_seven_points_on_three_days_are_21_readings() -> None:
    chosen = plan_from(BY_CODE["seven_points_before_a_visit"], MONDAY, WRITTEN)
    facts = PlanFacts(plans=(chosen,), appointments=(appointment("2026-03-12"),))
    checks = [
        check
        for n in range(14)
        for check in checks_on(MONDAY + timedelta(days=n), facts, DAY_START)
    ]
    assert len(checks) == 21
    assert {check.day for check in checks} == {
        date(2026, 3, 9),
        date(2026, 3, 10),
        date(2026, 3, 11),
    }
    assert {check.reason for check in checks} == {Reason.PROFILE}
    assert [check.slot for check in checks[:7]] == list(PROFILE_SLOTS)


def test_the_fasting_month_in_the_order_of_its_day() -> None:
    chosen = plan_from(BY_CODE["fasting_month"], MONDAY, WRITTEN)
    checks = checks_on(MONDAY, PlanFacts(plans=(chosen,)), DAY_START)
    assert [check.at.time() for check in checks] == sorted(check.at.time() for check in checks)
    assert checks[-1].minutes_after == 120


def test_a_chosen_schedule_is_marked_as_published_and_takes_the_person_s_clock() -> None:
    clock = {Slot.FASTING: time(6, 15), Slot.BEFORE_DINNER: time(19, 0)}
    chosen = plan_from(BY_CODE["meals_in_turn"], MONDAY, WRITTEN, clock)
    assert (chosen.set_by, chosen.holds_from) == (SetBy.PUBLISHED, MONDAY)
    assert chosen.set_by_name == BY_CODE["meals_in_turn"].body
    times = {check.slot: check.at for check in chosen.checks}
    assert times[Slot.FASTING] == time(6, 15)
    assert times[Slot.AFTER_BREAKFAST] == time(8, 15)
    assert times[Slot.AFTER_DINNER] == time(21, 0)
    assert times[Slot.BEFORE_LUNCH] == time(12, 0)


def test_three_checks_of_one_slot_keep_their_times() -> None:
    clock = {Slot.BETWEEN_MEALS: time(11, 0)}
    chosen = plan_from(BY_CODE["fasting_month"], MONDAY, WRITTEN, clock)
    between = [check.at.hour for check in chosen.checks if check.slot is Slot.BETWEEN_MEALS]
    assert between == [10, 12, 15]


@pytest.mark.parametrize("schedule", SCHEDULES, ids=lambda schedule: schedule.code)
def test_each_names_its_source_and_how_well_it_is_known(schedule: Schedule) -> None:
    assert schedule.body
    assert schedule.source
    assert schedule.known is not HowKnown.FROM_MEMORY
    assert schedule.checks or schedule.profile_days


def test_every_situation_has_a_schedule() -> None:
    assert {schedule.situation for schedule in SCHEDULES} == set(Situation)


def test_checks_a_week_of_days_that_do_not_fit_a_week() -> None:
    meals = BY_CODE["meals_in_turn"].checks
    assert checks_a_week(meals[:1]) == Fraction(7, 3)
