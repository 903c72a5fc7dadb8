"""Published schedules to begin a plan from, by treatment: which checks, from where, how well known.

None is ever chosen for the person; the provider's plan comes first. What a source leaves open ("and
at other times now and then") is left out and is the provider's to fill. Clock times are not
published: they are common ones, for the person to change. There are none for pregnancy.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from fractions import Fraction
from math import lcm
from uuid import UUID, uuid4

from logbook.domain.guidelines import HowKnown
from logbook.domain.plan.calendar_days import (
    AFTER_MEAL_MINUTES_USUAL,
    BEFORE_OF,
    USUAL_CLOCK,
    falls_on,
)
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy


class Situation(StrEnum):
    """For whom, or for what stretch of time, a schedule is published."""

    MEALTIME_INSULIN = "mealtime_insulin"
    BASAL_INSULIN = "basal_insulin"
    PREMIXED_INSULIN = "premixed_insulin"
    TABLETS_THAT_CAUSE_LOWS = "tablets_that_cause_lows"
    NO_MEDICINE_THAT_CAUSES_LOWS = "no_medicine_that_causes_lows"
    BEFORE_A_VISIT = "before_a_visit"
    FASTING_MONTH = "fasting_month"


@dataclass(frozen=True, slots=True)
class Schedule:
    """One published schedule.

    `code` names it for good; `body`, `source` and `edition` are proper names; the edition is empty
    where it was not seen. `leaves_open` says
    that the source asks for further checks without saying when. `is_first_stretch` marks one that
    is meant for a first stretch of weeks only, with fewer checks after it.
    """

    code: str
    situation: Situation
    body: str
    source: str
    edition: str
    known: HowKnown
    checks: tuple[PlannedCheck, ...] = ()
    profile_days: int = 0
    leaves_open: bool = False
    is_first_stretch: bool = False


def _daily(*slots: Slot) -> tuple[PlannedCheck, ...]:
    return tuple(PlannedCheck(slot, USUAL_CLOCK[slot]) for slot in slots)


def _pair(before: Slot, after: Slot, offset: int) -> tuple[PlannedCheck, ...]:
    """Before and after one meal, on every third day."""
    return (
        PlannedCheck(before, USUAL_CLOCK[before], every_days=3, day_offset=offset),
        PlannedCheck(
            after,
            USUAL_CLOCK[after],
            every_days=3,
            day_offset=offset,
            minutes_after=AFTER_MEAL_MINUTES_USUAL,
        ),
    )


_BEFORE_MEALS = (Slot.FASTING, Slot.BEFORE_LUNCH, Slot.BEFORE_DINNER)

SCHEDULES = (
    Schedule(
        "ada_mealtime_insulin",
        Situation.MEALTIME_INSULIN,
        "American Diabetes Association",
        "Standards of Medical Care in Diabetes, glucose monitoring with intensive insulin",
        "mid-2010s",
        HowKnown.READ_IN_COPY,
        _daily(*_BEFORE_MEALS, Slot.BEDTIME),
        leaves_open=True,  # before snacks, after meals at times, before exercise, before driving
    ),
    Schedule(
        "nice_type_1",
        Situation.MEALTIME_INSULIN,
        "National Institute for Health and Care Excellence",
        "NG17, Type 1 diabetes in adults",
        "2015",
        HowKnown.READ_AT_SOURCE,
        _daily(*_BEFORE_MEALS, Slot.BEDTIME),
        leaves_open=True,  # at least 4 a day, up to 10
    ),
    Schedule(
        "basal_insulin",
        Situation.BASAL_INSULIN,
        "American Association of Clinical Endocrinologists and American Diabetes Association",
        "Frequency of monitoring by treatment, as educators pass it on",
        "",
        HowKnown.READ_IN_COPY,
        _daily(Slot.FASTING, Slot.BEDTIME),
        leaves_open=True,
    ),
    Schedule(
        "premixed_insulin",
        Situation.PREMIXED_INSULIN,
        "American Association of Clinical Endocrinologists and American Diabetes Association",
        "Frequency of monitoring by treatment, as educators pass it on",
        "",
        HowKnown.READ_IN_COPY,
        _daily(*_BEFORE_MEALS),
        leaves_open=True,  # 1 to 2 hours after a meal at times
    ),
    Schedule(
        "tablets_that_cause_lows",
        Situation.TABLETS_THAT_CAUSE_LOWS,
        "American Association of Clinical Endocrinologists and American Diabetes Association",
        "Frequency of monitoring by treatment, as educators pass it on",
        "",
        HowKnown.READ_IN_COPY,
        _daily(Slot.FASTING),
        leaves_open=True,
    ),
    Schedule(
        "aace_low_risk_first_stretch",
        Situation.NO_MEDICINE_THAT_CAUSES_LOWS,
        "American Association of Clinical Endocrinologists",
        "Outpatient glucose monitoring consensus statement",
        "2016",
        HowKnown.READ_IN_COPY,
        _daily(*_BEFORE_MEALS, Slot.BEDTIME),
        is_first_stretch=True,  # daily checks are not recommended once at goal
    ),
    Schedule(
        "meals_in_turn",
        Situation.NO_MEDICINE_THAT_CAUSES_LOWS,
        "European expert panel",
        "Self-monitoring in non-insulin-treated type 2 diabetes, the less intensive scheme",
        "",
        HowKnown.READ_IN_COPY,
        (
            *_pair(Slot.FASTING, Slot.AFTER_BREAKFAST, 0),
            *_pair(Slot.BEFORE_LUNCH, Slot.AFTER_LUNCH, 1),
            *_pair(Slot.BEFORE_DINNER, Slot.AFTER_DINNER, 2),
        ),
    ),
    Schedule(
        "seven_points_before_a_visit",
        Situation.BEFORE_A_VISIT,
        "Polonsky and colleagues",
        "Diabetes Care 34:262, structured testing in type 2 diabetes without insulin",
        "2011",
        HowKnown.READ_AT_SOURCE,
        profile_days=3,
    ),
    Schedule(
        "fasting_month",
        Situation.FASTING_MONTH,
        "Fasting Algorithm for Singaporeans with Type 2 Diabetes (FAST)",
        "PMC7480213, table 3",
        "",
        HowKnown.READ_AT_SOURCE,
        (
            PlannedCheck(Slot.FASTING, time(4, 30)),  # before the pre-dawn meal
            PlannedCheck(Slot.BETWEEN_MEALS, time(10, 0)),
            PlannedCheck(Slot.BETWEEN_MEALS, time(12, 30)),
            PlannedCheck(Slot.BETWEEN_MEALS, time(15, 30)),
            PlannedCheck(Slot.BEFORE_DINNER, time(18, 30)),  # before the sunset meal
            PlannedCheck(Slot.AFTER_DINNER, time(20, 30), minutes_after=AFTER_MEAL_MINUTES_USUAL),
        ),
        leaves_open=True,  # and whenever unwell
    ),
)


def checks_a_week(checks: Iterable[PlannedCheck]) -> Fraction:
    """How many checks in a week, over as many weeks as it takes until the days repeat."""
    total = Fraction(0)
    begin = date(2024, 1, 1)
    for check in checks:
        if check.weeks_apart is not None:  # its weekday goes with the day that its plan begins on
            total += Fraction(1, check.weeks_apart)
            continue
        days = lcm(7, max(check.every_days, 1))
        count = sum(falls_on(check, begin, begin + timedelta(days=day)) for day in range(days))
        total += Fraction(7 * count, days)
    return total


def plan_from(
    schedule: Schedule,
    holds_from: date,
    written_at: datetime,
    clock: Mapping[Slot, time] | None = None,
    new_id: Callable[[], UUID] = uuid4,
) -> CheckPlan:
    """A plan that begins from a chosen schedule, marked as published.

    `clock` are the person's own times; an after-meal check that is not among them follows its meal.
    A slot that the schedule has several times a day keeps the common times.
    """
    times = dict(clock or {})
    for after, before in BEFORE_OF.items():
        if after not in times and before in times:
            meal = datetime.combine(holds_from, times[before])
            times[after] = (meal + timedelta(minutes=AFTER_MEAL_MINUTES_USUAL)).time()
    often = Counter(check.slot for check in schedule.checks)
    return CheckPlan(
        id=new_id(),
        holds_from=holds_from,
        checks=tuple(
            replace(check, at=times.get(check.slot, check.at)) if often[check.slot] == 1 else check
            for check in schedule.checks
        ),
        written_at=written_at,
        set_by=SetBy.PUBLISHED,
        set_by_name=schedule.body,
        source=schedule.source,
        profile_days=schedule.profile_days,
    )
