"""How many strips the plan of checks takes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from logbook.domain.plan.calendar_days import plan_on
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.plan.starting_points import checks_a_week

_DAYS_OF_WEEK = 7


def plan_strips_a_day(plans: Iterable[CheckPlan], day: date) -> Fraction | None:
    """Strips a day of the plan that holds on `day`, one for each check; None without a plan.

    The days before a visit and of an illness take more; the real rate tells those.
    """
    held = plan_on(plans, day)
    return None if held is None else checks_a_week(held.checks) / _DAYS_OF_WEEK
