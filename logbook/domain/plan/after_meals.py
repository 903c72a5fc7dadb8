"""The checks around a moment, those after a meal at their own times: counted from the first bite.

The first bite is what the person said ("I start eating now"), else the check made before that meal,
else nothing is known and the plan's clock time stands.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from logbook.domain.lows import from_microseconds
from logbook.domain.moments import EPOCH, MINUTES_A_DAY, Moment, person_day
from logbook.domain.occasions import ONCE_A_DAY
from logbook.domain.plan.calendar_days import (
    AFTER_MEAL_MINUTES_USUAL,
    BEFORE_OF,
    DayCheck,
    PlanFacts,
    Reason,
    checks_on,
    pause_on,
)
from logbook.domain.plan.matching import COUNTS_WITHIN_MINUTES, wall_minute
from logbook.domain.plan.plans import MealStart
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.slots import Purpose, Slot

# A check and, where it counts from a meal, the instant of that meal's first bite.
Asked = tuple[DayCheck, datetime | None]

_MICROSECONDS_A_MINUTE = 60_000_000


def readings_around(series: Series, today: date, day_starts_at: time) -> range:
    """The readings that can belong to yesterday, today or tomorrow, a day more on either side.

    Found by instant, which is within a day of wall time, so a long log costs nothing.
    """
    begin = wall_minute(datetime.combine(today - timedelta(days=2), day_starts_at))
    end = wall_minute(datetime.combine(today + timedelta(days=4), day_starts_at))
    return range(
        bisect_left(series.instants, begin * _MICROSECONDS_A_MINUTE),
        bisect_right(series.instants, end * _MICROSECONDS_A_MINUTE),
    )


def asked_around(
    facts: PlanFacts, series: Series, recent: range, now: Moment, day_starts_at: time
) -> list[Asked]:
    """The checks of yesterday, today and tomorrow in order of time.

    A meal that the person said they began asks for its check also where none was planned, except in
    a pause. `recent` are the readings around, see `readings_around`.
    """
    today = now.day(day_starts_at)
    asked: list[Asked] = []
    for day in (today - timedelta(days=1), today, today + timedelta(days=1)):
        checks = checks_on(day, facts, day_starts_at)
        begun = [
            meal
            for meal in facts.meal_starts
            if meal.counts and person_day(meal.at.wall, day_starts_at) == day
        ]
        begun.sort(key=lambda meal: (meal.at.instant, meal.written_at))
        if pause_on(facts.pauses, day) is None:
            planned = {check.slot for check in checks}
            latest = {meal.slot: meal for meal in begun if meal.slot not in planned}
            asked.extend(
                _from_start(DayCheck(day, meal.slot, meal.at.wall), meal)
                for meal in latest.values()
            )
        for check in checks:
            meal = _meal_of(check, begun)
            if meal is not None:
                asked.append(_from_start(check, meal))
            else:
                asked.append(_from_check_before(check, series, recent, day_starts_at))
    # Two checks of one time of day that count from one meal are one check.
    once: dict[tuple[date, Slot, datetime], Asked] = {}
    for check, first_bite in asked:
        once.setdefault((check.day, check.slot, check.at), (check, first_bite))
    return sorted(once.values(), key=lambda one: one[0].at)


def _meal_of(check: DayCheck, begun: list[MealStart]) -> MealStart | None:
    """The latest meal that the person said they began; it is taken out of `begun`."""
    after = timedelta(minutes=check.minutes_after or AFTER_MEAL_MINUTES_USUAL)
    near = timedelta(minutes=COUNTS_WITHIN_MINUTES)
    for meal in reversed(begun):
        is_near = abs(check.at - after - meal.at.wall) <= near
        if meal.slot is check.slot and (check.slot in ONCE_A_DAY or is_near):
            begun.remove(meal)  # one meal is the beginning of one check only
            return meal
    return None


def _from_start(check: DayCheck, meal: MealStart) -> Asked:
    """Elapsed time from the meal, by the clock where it was eaten: readings stand by theirs too."""
    minutes = check.minutes_after or AFTER_MEAL_MINUTES_USUAL
    at = Moment.at(meal.at.instant + timedelta(minutes=minutes), meal.at.zone)
    counted = replace(check, at=at.wall, minutes_after=minutes, reason=Reason.AFTER_MEAL)
    return counted, meal.at.instant


def _from_check_before(
    check: DayCheck, series: Series, recent: range, day_starts_at: time
) -> Asked:
    """The check as it counts from the before-meal check of the same main meal on that day.

    As it is where there is none: and for snacks, since nothing tells which belongs to which.
    """
    if not check.slot.is_after_meal or check.slot not in ONCE_A_DAY:
        return check, None
    outside = int(OUTSIDE_FIGURES)
    begin = wall_minute(datetime.combine(check.day, day_starts_at))
    for index in recent:
        minute = series.wall_minutes[index]
        if (
            series.slots[index] is BEFORE_OF[check.slot]
            and begin <= minute < begin + MINUTES_A_DAY
            and not series.marks[index] & outside
            and series.purposes[index] is not Purpose.RECHECK
        ):
            minutes = check.minutes_after or AFTER_MEAL_MINUTES_USUAL
            at = EPOCH + timedelta(minutes=minute + minutes)
            counted = replace(check, at=at, minutes_after=minutes, reason=Reason.AFTER_MEAL)
            return counted, from_microseconds(series.instants[index])
    return check, None
