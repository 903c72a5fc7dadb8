"""Changing a plan in the making: a time of day more or less, its clock time and its days.

Nothing is kept here; a changed plan holds from its day on only once it is written down.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from logbook.domain.plan.calendar_days import (
    AFTER_MEAL_MINUTES_USUAL,
    BEFORE_OF,
    USUAL_CLOCK,
    plan_on,
)
from logbook.domain.plan.plans import EVERY_WEEKDAY, WEEK_DAYS, CheckPlan, PlannedCheck
from logbook.domain.slots import Slot

_ORDER = {slot: place for place, slot in enumerate(Slot)}
# The three meals that can be checked in pairs, named by the checks after them.
MAIN_MEALS = (Slot.AFTER_BREAKFAST, Slot.AFTER_LUNCH, Slot.AFTER_DINNER)

_ANY_DAY = date(2024, 1, 1)


def slots_of(plan: CheckPlan) -> tuple[Slot, ...]:
    """The times of day that a plan asks for, each once, in the order of the day."""
    return tuple(sorted({check.slot for check in plan.checks}, key=_ORDER.__getitem__))


def with_slots(plan: CheckPlan, wanted: Iterable[Slot], clock: Mapping[Slot, time]) -> CheckPlan:
    """The plan with exactly the times of day `wanted`; what it says about those it has stays.

    A new one is asked every day, at the person's own `clock` time where there is one.
    """
    slots = set(wanted)
    checks = [check for check in plan.checks if check.slot in slots]
    for slot in slots - {check.slot for check in checks}:
        minutes = AFTER_MEAL_MINUTES_USUAL if slot.is_after_meal else None
        at = _clock_of(slot, checks, clock)
        checks.append(PlannedCheck(slot, at, minutes_after=minutes))
    return replace(plan, checks=_in_order(checks))


def with_meal_pairs(
    plan: CheckPlan,
    meals: Iterable[Slot],
    clock: Mapping[Slot, time],
    *,
    in_turn: bool = False,
) -> CheckPlan:
    """The plan with a check before and after each of the `meals`, named by their after-meal checks.

    Every day, or `in_turn` one meal a day, the first on the plan's first day: the staggered scheme
    of paired testing (Diabetes Educ 2009;35:915). A before-meal check that is asked every day
    anyhow stays so.
    """
    wanted = sorted(set(meals), key=_ORDER.__getitem__)
    every = len(wanted) if in_turn else 1
    for turn, after in enumerate(wanted):
        before = BEFORE_OF[after]
        if not any(check.slot is before and _is_daily(check) for check in plan.checks):
            plan = _asked(plan, before, every, turn, clock)
        plan = _asked(plan, after, every, turn, clock)
    return plan


def _asked(
    plan: CheckPlan, slot: Slot, every: int, turn: int, clock: Mapping[Slot, time]
) -> CheckPlan:
    plan = with_slots(plan, {*slots_of(plan), slot}, clock)
    checks = [on_every(one, every, turn) if one.slot is slot else one for one in plan.checks]
    return replace(plan, checks=tuple(checks))


def _is_daily(check: PlannedCheck) -> bool:
    return check.every_days <= 1 and set(check.weekdays) >= set(EVERY_WEEKDAY)


def with_another(plan: CheckPlan, check: PlannedCheck, later: timedelta) -> CheckPlan:
    """The plan with `check` once more, so much later in the day."""
    at = (datetime.combine(_ANY_DAY, check.at) + later).time()
    return replace(plan, checks=_in_order([*plan.checks, replace(check, at=at)]))


def with_check(plan: CheckPlan, number: int, check: PlannedCheck) -> CheckPlan:
    """The plan with another check in the place `number`; the order stays."""
    checks = list(plan.checks)
    checks[number] = check
    return replace(plan, checks=tuple(checks))


def without_check(plan: CheckPlan, number: int) -> CheckPlan:
    """The plan without the check in the place `number`."""
    return replace(plan, checks=plan.checks[:number] + plan.checks[number + 1 :])


def on_every(check: PlannedCheck, days: int, offset: int = 0) -> PlannedCheck:
    """The check on every so many days, the first `offset` days after the plan begins."""
    return replace(
        check, weekdays=EVERY_WEEKDAY, every_days=max(days, 1), day_offset=offset % max(days, 1)
    )


def on_weekdays(check: PlannedCheck, weekdays: Iterable[int]) -> PlannedCheck:
    """The check on these weekdays (0 for Monday) only; none of them means every day."""
    days = tuple(sorted(set(weekdays))) or EVERY_WEEKDAY
    return replace(check, weekdays=days, every_days=1, day_offset=0)


def on_weeks(check: PlannedCheck, weeks: int, holds_from: date) -> PlannedCheck:
    """The check once in every so many weeks, on its weekday, the first of several.

    `holds_from` is the first day of its plan. Where it took turns, the turn that it had is kept as
    far as its weekday lets it.
    """
    begin = first_day(check, holds_from)
    ahead = (begin + timedelta(days=later) for later in range(WEEK_DAYS))
    first = next((day for day in ahead if day.weekday() in check.weekdays), begin)
    weekly = replace(check, weekdays=(first.weekday(),), every_days=WEEK_DAYS * weeks)
    return begun_on(weekly, first, holds_from)


def first_days(check: PlannedCheck, holds_from: date) -> tuple[date, ...]:
    """The days on which a check may begin whose days take turns: each gives other days.

    Of a check every few days as many as it takes turns on; of one every few weeks the next days
    with its weekday. `holds_from` is the first day of its plan, the earliest of them.
    """
    weeks = check.weeks_apart
    if weeks is None:
        return tuple(holds_from + timedelta(days=turn) for turn in range(check.every_days))
    wait = (check.weekdays[0] - holds_from.weekday()) % WEEK_DAYS
    return tuple(holds_from + timedelta(days=wait + WEEK_DAYS * turn) for turn in range(weeks))


def begun_on(check: PlannedCheck, first: date, holds_from: date) -> PlannedCheck:
    """The check, every so many days as before, with `first` among its days."""
    return replace(check, day_offset=(first - holds_from).days % max(check.every_days, 1))


def first_day(check: PlannedCheck, holds_from: date) -> date:
    """The first day on or after `holds_from` whose turn it is."""
    return holds_from + timedelta(days=check.day_offset % max(check.every_days, 1))


def held_from(plan: CheckPlan, day: date) -> CheckPlan:
    """The plan from another first day on; days that take turns stay the days that they were."""
    later = (day - plan.holds_from).days
    checks = tuple(
        replace(check, day_offset=(check.day_offset - later) % max(check.every_days, 1))
        for check in plan.checks
    )
    return replace(plan, holds_from=day, checks=checks)


def is_unchanged(plan: CheckPlan, plans: Iterable[CheckPlan]) -> bool:
    """Whether `plan` asks from its day on what another of `plans` asks anyhow, by the same word."""
    held = plan_on(plans, plan.holds_from)
    if held is None:
        return False
    same = held_from(held, plan.holds_from)
    return replace(same, id=plan.id, written_at=plan.written_at) == plan


def _clock_of(slot: Slot, checks: Iterable[PlannedCheck], clock: Mapping[Slot, time]) -> time:
    """The person's own time, else two hours after the meal, else the common one."""
    if slot in clock:
        return clock[slot]
    before = BEFORE_OF.get(slot)
    of_meal = [check.at for check in checks if check.slot is before]
    if before is not None and (of_meal or before in clock):
        meal = datetime.combine(_ANY_DAY, of_meal[0] if of_meal else clock[before])
        return (meal + timedelta(minutes=AFTER_MEAL_MINUTES_USUAL)).time()
    return USUAL_CLOCK[slot]


def _in_order(checks: Iterable[PlannedCheck]) -> tuple[PlannedCheck, ...]:
    return tuple(sorted(checks, key=lambda check: (_ORDER[check.slot], check.at)))
