"""When this person goes to bed: by the plan, else by habit, else by the common clock."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time

from logbook.domain.low_course import BEDTIME
from logbook.domain.night_work import own_clock
from logbook.domain.plan.calendar_days import plan_on
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualTimes


def bedtime_of(plans: Iterable[CheckPlan], usual: UsualTimes, day: date) -> time:
    """The clock time of the bedtime check on the person's `day`."""
    plan = plan_on(plans, day)
    found = [] if plan is None else [one.at for one in plan.checks if one.slot is Slot.BEDTIME]
    found += [one.at for one in usual.checks if one.slot is Slot.BEDTIME]
    return found[0] if found else own_clock(BEDTIME, usual.day_starts_at)
