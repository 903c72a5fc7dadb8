"""What is due now, next and later today, and what of today was not done: by the plan, and a low.

`what_is_due` is the one entry point for the window. Where no plan holds, the person's own usual
times stand in for it. Time is passed in; sentences are in `logbook.wording.due`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum

from logbook.domain.low_trail import FORGOTTEN_AFTER
from logbook.domain.moments import Moment, wall_on
from logbook.domain.plan.after_meals import Asked, asked_around, readings_around
from logbook.domain.plan.calendar_days import (
    AFTER_MEAL_MINUTES_USUAL,
    DayCheck,
    PlanFacts,
    Reason,
    checks_on,
    pause_on,
    plan_on,
)
from logbook.domain.plan.matching import done_checks
from logbook.domain.plan.plans import Pause
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import AFTER_MEAL_MINUTES, Slot
from logbook.domain.usual_times import LOOKS_BACK_DAYS, usual_times

# A check is called due so long before and after its time, but never beyond half way to the
# neighbouring check. Judgement without a source.
DUE_WITHIN = timedelta(minutes=90)

# A check that counts from the meal is called due so long before and after: at the usual two hours
# that is 90 to 150 minutes, where an after-meal check is still judged as one.
DUE_AFTER_MEAL_WITHIN = timedelta(minutes=30)

# How far ahead the next check is looked for when neither today nor tomorrow has one.
LOOKS_AHEAD_DAYS = 62


class Basis(StrEnum):
    """What the answer rests on: the plan, or the person's own usual times where there is none."""

    PLAN = "plan"
    USUAL = "usual"


@dataclass(frozen=True, slots=True)
class DueCheck:
    """One check of the person's `day`.

    `at` is the moment in the person's zone; the check is called due from `window_from` until before
    `window_until`, both wall time without a zone. A recheck and a check when ill have slot `OTHER`.
    """

    day: date
    slot: Slot
    at: Moment
    window_from: datetime
    window_until: datetime
    reason: Reason


@dataclass(frozen=True, slots=True)
class Due:
    """What is due at a moment, each list in order of time and without what is done or put aside.

    `now` begins with the recheck once its time has come. `next` is the first check to come, today
    or later, `later_today` what follows it today. `missed_today` is over, and was asked when its
    time came. `recheck` is the check after a low, also before its time. `likely_slot` is the tile
    to choose beforehand. `pause` is the pause of today.
    """

    basis: Basis
    now: tuple[DueCheck, ...] = ()
    next: DueCheck | None = None
    later_today: tuple[DueCheck, ...] = ()
    missed_today: tuple[DueCheck, ...] = ()
    recheck: DueCheck | None = None
    likely_slot: Slot | None = None
    pause: Pause | None = None

    @property
    def first(self) -> DueCheck | None:
        """The one check to name first: the recheck, else what is due now, else the next."""
        return self.recheck or (self.now[0] if self.now else self.next)


def what_is_due(
    facts: PlanFacts,
    series: Series,
    now: Moment,
    settings: LogSettings,
    recheck: datetime | None = None,
) -> Due:
    """What is due at `now`.

    `series` needs the last 28 days where no plan holds, else the last 2; more does no harm.
    `recheck` is the aware instant of a check due after a low.
    """
    starts = settings.day_starts_at
    today = now.day(starts)
    recent = readings_around(series, today, starts)
    asked = asked_around(facts, series, recent, now, starts)
    done = done_checks([check for check, _ in asked], series, recent, starts)
    aside = {(one.day, one.slot) for one in facts.put_asides}
    around = [
        _due_check(asked, number, now.zone)
        for number, (check, _) in enumerate(asked)
        if number not in done and (check.day, check.slot) not in aside
    ]
    pause = pause_on(facts.pauses, today)
    if pause is not None:  # nor what was left of the day before it
        around = [one for one in around if one.day > today]
    around.sort(key=lambda one: one.at.wall)
    due = _sorted_by_time(around, now, today)
    plan = plan_on(facts.plans, today)
    if plan is not None:  # a plan written down at noon asked for nothing in the morning
        known = tuple(one for one in due.missed_today if one.at.instant >= plan.written_at)
        due = replace(due, missed_today=known)
    if due.next is None:
        due = replace(due, next=_further_ahead(facts, aside, today, now.zone, starts))
    if plan is None and pause is None:
        due = _with_usual_times(due, series, now, today, starts)
    after_low = None if recheck is None else _recheck(recheck, now, today)
    if after_low is not None and now.instant >= after_low.at.instant:
        due = replace(due, now=(after_low, *due.now))
    return replace(due, recheck=after_low, pause=pause)


def _due_check(asked: Sequence[Asked], number: int, zone: str) -> DueCheck:
    check, first_bite = asked[number]
    if first_bite is not None:
        return _due_after_meal(check, first_bite, zone)
    earlier = [one.at for one, _ in asked[:number] if one.at < check.at]
    later = [one.at for one, _ in asked[number + 1 :] if one.at > check.at]
    begin, end = check.at - DUE_WITHIN, check.at + DUE_WITHIN
    if earlier:
        begin = max(begin, earlier[-1] + (check.at - earlier[-1]) / 2)
    if later:
        end = min(end, check.at + (later[0] - check.at) / 2)
    at = Moment.from_wall(check.at, zone)
    return DueCheck(check.day, check.slot, at, begin, end, check.reason)


def _due_after_meal(check: DayCheck, first_bite: datetime, zone: str) -> DueCheck:
    minutes = check.minutes_after or AFTER_MEAL_MINUTES_USUAL
    at = Moment.at(first_bite + timedelta(minutes=minutes), zone)
    least, most = (timedelta(minutes=limit - minutes) for limit in AFTER_MEAL_MINUTES)
    # What was agreed stands, also where it is earlier or later than such a check is judged as one.
    begin = at.wall + min(max(-DUE_AFTER_MEAL_WITHIN, least), timedelta(0))
    end = at.wall + max(min(DUE_AFTER_MEAL_WITHIN, most), DUE_AFTER_MEAL_WITHIN / 2)
    return DueCheck(check.day, check.slot, at, begin, end, check.reason)


def _sorted_by_time(around: list[DueCheck], now: Moment, today: date) -> Due:
    due_now = tuple(one for one in around if one.window_from <= now.wall < one.window_until)
    missed = tuple(one for one in around if one.day == today and one.window_until <= now.wall)
    to_come = [one for one in around if one.window_from > now.wall]
    later = tuple(one for one in to_come[1:] if one.day == today)
    # The tile chosen beforehand is of the check nearest to its time.
    named = [one for one in due_now if one.reason is not Reason.ILL]
    nearest = min(named, key=lambda one: abs(one.at.wall - now.wall), default=None)
    return Due(
        Basis.PLAN,
        now=due_now,
        next=to_come[0] if to_come else None,
        later_today=later,
        missed_today=missed,
        likely_slot=None if nearest is None else nearest.slot,
    )


def _further_ahead(
    facts: PlanFacts, aside: set[tuple[date, Slot]], today: date, zone: str, starts: time
) -> DueCheck | None:
    """The first check on a day after tomorrow."""
    for distance in range(2, LOOKS_AHEAD_DAYS + 1):
        day = today + timedelta(days=distance)
        asked: list[Asked] = [
            (check, None)
            for check in checks_on(day, facts, starts)
            if (day, check.slot) not in aside
        ]
        if asked:
            return _due_check(asked, 0, zone)
    return None


def _with_usual_times(due: Due, series: Series, now: Moment, today: date, starts: time) -> Due:
    """What is due by habit beside what is due without a plan: when ill, after a meal."""
    usual = usual_times(_last_weeks(series, today, starts), now, starts)
    habit = usual.due(now)
    by_habit = [] if habit is None else [_usual_check(habit.slot, today, habit.at, now, starts)]
    others = [
        _usual_check(check.slot, day, check.at, now, starts)
        for day in (today, today + timedelta(days=1))
        for check in usual.checks
        if day != today or (check is not habit and check.slot not in usual.done_today)
    ]
    to_come = [one for one in [due.next, *others] if one and one.at.wall > now.wall]
    by_time = sorted([*due.now, *by_habit], key=lambda one: one.at.wall)
    return replace(
        due,
        basis=Basis.USUAL,
        now=tuple(by_time),
        next=min(to_come, key=lambda one: one.at.wall, default=None),
        likely_slot=due.likely_slot or usual.likely_slot(now),
    )


def _last_weeks(series: Series, today: date, starts: time) -> Series:
    """What usual times look at, so that a long log costs nothing."""
    end = readings_around(series, today, starts).stop
    begin = readings_around(series, today - timedelta(days=LOOKS_BACK_DAYS), starts).start
    columns = (getattr(series, column.name)[begin:end] for column in fields(series))
    return Series(*columns)


def _usual_check(slot: Slot, day: date, at: time, now: Moment, starts: time) -> DueCheck:
    wall = wall_on(day, at, starts)
    moment = Moment.from_wall(wall, now.zone)
    return DueCheck(day, slot, moment, wall - DUE_WITHIN, wall + DUE_WITHIN, Reason.USUAL)


def _recheck(due_at: datetime, now: Moment, today: date) -> DueCheck:
    at = Moment.at(due_at, now.zone)
    return DueCheck(today, Slot.OTHER, at, at.wall, at.wall + FORGOTTEN_AFTER, Reason.RECHECK)
