"""Planned checks that were made, by time of day and by week: counts, no score.

Each day is judged by the plan of that day; days in a pause and days before any plan ask for
nothing. Extra checks when ill are not counted: they are wanted, not owed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from logbook.domain.figures import Share
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import DayCheck, PlanFacts, checks_on, pause_on, plan_on
from logbook.domain.plan.due import DUE_WITHIN
from logbook.domain.plan.matching import done_checks
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot


@dataclass(frozen=True, slots=True)
class SlotDone:
    """Done of planned in one time of day."""

    slot: Slot
    share: Share


@dataclass(frozen=True, slots=True)
class WeekDone:
    """Done of planned in one week from Monday, cut to the period."""

    period: Period
    share: Share


@dataclass(frozen=True, slots=True)
class PlanDone:
    """Done of planned over a period: all, by time of day in its order, by week oldest first.

    Times of day and weeks without a planned check are left out. `paused_days` and
    `days_without_plan` are days of the period that asked for nothing for that reason.
    """

    total: Share
    by_slot: tuple[SlotDone, ...]
    by_week: tuple[WeekDone, ...]
    paused_days: int
    days_without_plan: int


def plan_done(
    facts: PlanFacts,
    series: Series,
    period: Period,
    settings: LogSettings,
    now: Moment | None = None,
) -> PlanDone:
    """Done of planned. `series` holds the readings of `period`.

    With `now`, checks whose time is not yet over are left out, unless they are done.
    """
    starts = settings.day_starts_at
    asked_only = replace(facts, spells=(), meal_starts=())
    # A day more on either side: a check at night may be nearest to one of the neighbouring day.
    around = Period(period.first - timedelta(days=1), period.last + timedelta(days=1))
    checks = [check for day in around for check in checks_on(day, asked_only, starts)]
    made = done_checks(checks, series, range(len(series)), starts)
    by_slot: dict[Slot, list[bool]] = {}
    by_week: dict[date, list[bool]] = {}
    for number, check in enumerate(checks):
        is_done = number in made
        if check.day in period and (is_done or _is_over(check, now)):
            by_slot.setdefault(check.slot, []).append(is_done)
            by_week.setdefault(_monday(check.day), []).append(is_done)
    return PlanDone(
        _share(is_done for every in by_week.values() for is_done in every),
        tuple(SlotDone(slot, _share(by_slot[slot])) for slot in Slot if slot in by_slot),
        tuple(WeekDone(_week(day, period), _share(by_week[day])) for day in sorted(by_week)),
        paused_days=sum(pause_on(facts.pauses, day) is not None for day in period),
        days_without_plan=sum(plan_on(facts.plans, day) is None for day in period),
    )


def _is_over(check: DayCheck, now: Moment | None) -> bool:
    return now is None or check.at + DUE_WITHIN <= now.wall


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _week(monday: date, period: Period) -> Period:
    return Period(max(monday, period.first), min(monday + timedelta(days=6), period.last))


def _share(done: Iterable[bool]) -> Share:
    each = list(done)
    return Share(sum(each), len(each))
