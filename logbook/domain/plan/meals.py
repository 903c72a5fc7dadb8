"""Which meal a person may be beginning, and which check can be put aside for today.

A check after a meal counts from the first bite; what follows from it is told by `due`.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import (
    AFTER_MEAL_MINUTES_USUAL,
    BEFORE_OF,
    USUAL_CLOCK,
    PlanFacts,
    Reason,
    plan_on,
)
from logbook.domain.plan.due import Due, DueCheck
from logbook.domain.plan.editing import MAIN_MEALS
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot

# So long before and after the planned first bite the person is offered to say that they begin.
# Judgement without a source.
OFFERED_WITHIN = timedelta(hours=2)

_PLANNED = frozenset({Reason.PLAN, Reason.PROFILE, Reason.AFTER_MEAL})


def check_to_put_aside(due: Due) -> DueCheck | None:
    """The planned check that is due now and may be put aside for today.

    Never the check after a low, one when ill, or a habit that nobody planned.
    """
    return next((one for one in due.now if one.reason in _PLANNED), None)


def meal_to_begin(due: Due, facts: PlanFacts, now: Moment, settings: LogSettings) -> Slot | None:
    """The after-meal check whose meal may begin now; None where none is planned near.

    Not while the check before that meal is still due, and not twice for one meal.
    """
    today = now.day(settings.day_starts_at)
    before_due = {one.slot for one in due.now}
    begun = {
        meal.slot
        for meal in facts.meal_starts
        if meal.counts and meal.at.day(settings.day_starts_at) == today
    }
    to_come = [*due.now, *filter(None, (due.next,)), *due.later_today]
    near: list[tuple[timedelta, Slot]] = []
    for check in to_come:
        if check.day != today or not check.slot.is_after_meal or check.slot in begun:
            continue
        first_bite = check.at.instant - timedelta(minutes=_minutes_after(check, facts))
        distance = abs(now.instant - first_bite)
        if distance <= OFFERED_WITHIN and BEFORE_OF.get(check.slot) not in before_due:
            near.append((distance, check.slot))
    return min(near, default=(OFFERED_WITHIN, None), key=lambda one: one[0])[1]


def likely_meal(facts: PlanFacts, now: Moment, settings: LogSettings) -> Slot:
    """The after-meal check of the main meal nearest to now, by the plan's or common hours."""
    plan = plan_on(facts.plans, now.day(settings.day_starts_at))
    clock = {} if plan is None else {check.slot: check.at for check in plan.checks}
    minute = now.wall.hour * 60 + now.wall.minute

    def distance(after: Slot) -> int:
        at = clock.get(BEFORE_OF[after], USUAL_CLOCK[BEFORE_OF[after]])
        apart = abs(at.hour * 60 + at.minute - minute)
        return min(apart, 24 * 60 - apart)

    return min(MAIN_MEALS, key=distance)


def check_after(slot: Slot, facts: PlanFacts, now: Moment, settings: LogSettings) -> datetime:
    """The instant of the check after a meal that begins now."""
    plan = plan_on(facts.plans, now.day(settings.day_starts_at))
    agreed = _agreed(slot, () if plan is None else plan.checks)
    return now.instant + timedelta(minutes=agreed)


def _minutes_after(check: DueCheck, facts: PlanFacts) -> int:
    plan = plan_on(facts.plans, check.day)
    return _agreed(check.slot, () if plan is None else plan.checks)


def _agreed(slot: Slot, checks: Iterable[PlannedCheck]) -> int:
    found = (check.minutes_after for check in checks if check.slot is slot)
    return next((minutes for minutes in found if minutes), AFTER_MEAL_MINUTES_USUAL)
