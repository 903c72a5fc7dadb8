"""The plan in the making, which the page *My plan* keeps between the views that change it.

It is written down only by *Save plan*.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING
from uuid import uuid4

from logbook.domain.plan.calendar_days import plan_on
from logbook.domain.plan.editing import held_from
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.usual_times import LOOKS_BACK_DAYS, usual_times
from logbook.ui.desk import Desk
from logbook.ui.entry.saving import recent_period
from logbook.ui.parts.view_page import View, ViewPage

if TYPE_CHECKING:
    from datetime import time

    from logbook.domain.slots import Slot
    from logbook.ui.pages.my_plan import MyPlan


def plan_page(page: ViewPage) -> MyPlan:
    """The page *My plan*, which keeps the plan in the making between its views."""
    plan: MyPlan = page  # type: ignore[assignment]
    return plan


def begin_plan(desk: Desk) -> CheckPlan:
    """A plan to change: the one of the day from which changes hold; else one that asks nothing."""
    now, day = desk.now().instant, desk.changes_from
    held = plan_on(desk.book.plans(), day)
    if held is None:
        return CheckPlan(uuid4(), day, (), now)
    return replace(held_from(held, day), id=uuid4(), written_at=now)


def own_clock(desk: Desk) -> dict[Slot, time]:
    """The clock times at which this person usually checks."""
    now, settings = desk.now(), desk.book.settings
    series = desk.book.series(recent_period(now, settings, LOOKS_BACK_DAYS + 1))
    return {one.slot: one.at for one in usual_times(series, now, settings.day_starts_at).checks}


class PlanView(View):
    """A view on the plan in the making."""

    back = "checks"

    @property
    def plan(self) -> CheckPlan:
        """The plan in the making; begun from the present one where there is none."""
        page = plan_page(self.page)
        if page.checks is None:
            page.checks = begin_plan(self.desk)
        return page.checks

    @plan.setter
    def plan(self, plan: CheckPlan) -> None:
        plan_page(self.page).checks = plan
