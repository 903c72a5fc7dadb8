"""Which checks a day asks for: by the plan of that day, before an appointment, and when ill.

Pure calendar: what was already checked, and what is due at a moment, is told by `due`. A check made
before the person's day starts belongs to the day before, so its calendar day is the next one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum

from logbook.domain.moments import Period, wall_on
from logbook.domain.night_work import own_clock
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PlannedCheck, PutAside
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.visits import Appointment


class Reason(StrEnum):
    """Why a check is asked: `USUAL` where no plan holds, `AFTER_MEAL` counted from the meal."""

    PLAN = "plan"
    AFTER_MEAL = "after_meal"
    PROFILE = "profile"
    ILL = "ill"
    RECHECK = "recheck"
    USUAL = "usual"


@dataclass(frozen=True, slots=True)
class PlanFacts:
    """Everything the log knows about when to check; the order of the records does not matter."""

    plans: tuple[CheckPlan, ...] = ()
    pauses: tuple[Pause, ...] = ()
    put_asides: tuple[PutAside, ...] = ()
    spells: tuple[Spell, ...] = ()
    appointments: tuple[Appointment, ...] = ()
    meal_starts: tuple[MealStart, ...] = ()


@dataclass(frozen=True, slots=True)
class DayCheck:
    """One check that the person's `day` asks for; `at` is wall time without a zone.

    A check when ill has the slot `OTHER`: any time of day does for it.
    """

    day: date
    slot: Slot
    at: datetime
    reason: Reason = Reason.PLAN
    minutes_after: int | None = None


# Before and after each main meal, and at bedtime: the seven points of the structured testing trial
# (Polonsky et al., Diabetes Care 2011;34:262, read at the journal).
PROFILE_SLOTS = (
    Slot.FASTING,
    Slot.AFTER_BREAKFAST,
    Slot.BEFORE_LUNCH,
    Slot.AFTER_LUNCH,
    Slot.BEFORE_DINNER,
    Slot.AFTER_DINNER,
    Slot.BEDTIME,
)

DAYS_OF_A_PROFILE = 3

BEFORE_OF = {
    Slot.AFTER_BREAKFAST: Slot.FASTING,
    Slot.AFTER_LUNCH: Slot.BEFORE_LUNCH,
    Slot.AFTER_DINNER: Slot.BEFORE_DINNER,
    Slot.AFTER_SNACK: Slot.BEFORE_SNACK,
}

# Two hours after the first bite, the usual check after a meal.
AFTER_MEAL_MINUTES_USUAL = 120

# Clock times to begin from, where the person has named none. Judgement without a source.
USUAL_CLOCK = {
    Slot.FASTING: time(7, 30),
    Slot.AFTER_BREAKFAST: time(9, 30),
    Slot.BEFORE_LUNCH: time(12, 0),
    Slot.AFTER_LUNCH: time(14, 0),
    Slot.BEFORE_SNACK: time(15, 30),
    Slot.BEFORE_DINNER: time(18, 0),
    Slot.AFTER_DINNER: time(20, 0),
    Slot.AFTER_SNACK: time(17, 30),
    Slot.BETWEEN_MEALS: time(10, 30),
    Slot.BEDTIME: time(22, 0),
    Slot.NIGHT: time(3, 0),
    Slot.OTHER: time(16, 0),
}

# When ill and nothing else was agreed: every 4 hours while awake, taken for 16 hours from 3 hours
# after the day's start. Judgement without a source.
ILL_EVERY_HOURS = 4
_WAKES_AFTER = timedelta(hours=3)
_AWAKE = timedelta(hours=16)

_ORDER = {slot: index for index, slot in enumerate(Slot)}


def plan_on(plans: Iterable[CheckPlan], day: date) -> CheckPlan | None:
    """The plan that holds on `day`: the last to begin, and of two on one day the later written."""
    begun = [plan for plan in plans if plan.holds_from <= day]
    return max(begun, key=lambda plan: (plan.holds_from, plan.written_at), default=None)


def pause_on(pauses: Iterable[Pause], day: date) -> Pause | None:
    """The pause that covers `day`, the earliest of several."""
    covering = [pause for pause in pauses if pause.covers(day)]
    return min(covering, key=lambda pause: pause.first, default=None)


def falls_on(check: PlannedCheck, holds_from: date, day: date) -> bool:
    """Whether a check of a plan that holds from `holds_from` is asked on the person's `day`."""
    if day < holds_from or day.weekday() not in check.weekdays:
        return False
    every = max(check.every_days, 1)
    return (day - holds_from).days % every == check.day_offset % every


def profile_period(plans: Iterable[CheckPlan], appointment: Appointment) -> Period | None:
    """The days of seven checks before an appointment, by the plan of the day before it."""
    last = appointment.day - timedelta(days=1)
    plan = plan_on(plans, last)
    if plan is None or plan.profile_days < 1:
        return None
    return Period.ending(last, plan.profile_days)


def agreed_profiles(
    plans: Iterable[CheckPlan], appointments: Iterable[Appointment]
) -> tuple[Period, ...]:
    """The last three days of each agreed stretch of seven checks a day, oldest first.

    A profile is of three days (Polonsky et al., Diabetes Care 2011;34:262, read at the journal);
    fewer agreed days make none.
    """
    held = tuple(plans)
    agreed = (profile_period(held, appointment) for appointment in appointments)
    days = {
        Period.ending(one.last, DAYS_OF_A_PROFILE)
        for one in agreed
        if one is not None and one.days >= DAYS_OF_A_PROFILE
    }
    return tuple(sorted(days, key=lambda one: one.last))


def checks_on(day: date, facts: PlanFacts, day_starts_at: time) -> tuple[DayCheck, ...]:
    """The checks that the person's `day` asks for, in order of time; none in a pause.

    What was put aside is still among them: the day asked for it.
    """
    if pause_on(facts.pauses, day) is not None:
        return ()
    plan = plan_on(facts.plans, day)
    found: dict[tuple[Slot, datetime], DayCheck] = {}
    if plan is not None:
        for check in plan.checks:
            if falls_on(check, plan.holds_from, day):
                wall = wall_on(day, check.at, day_starts_at)
                asked = DayCheck(day, check.slot, wall, minutes_after=check.minutes_after)
                found.setdefault((check.slot, wall), asked)
        planned = {slot for slot, _ in found}
        if _is_profile_day(plan, facts.appointments, day):
            for slot in PROFILE_SLOTS:
                if slot not in planned:
                    wall = wall_on(day, _clock_of(slot, plan, day_starts_at), day_starts_at)
                    after = AFTER_MEAL_MINUTES_USUAL if slot.is_after_meal else None
                    found[(slot, wall)] = DayCheck(day, slot, wall, Reason.PROFILE, after)
    checks = list(found.values())
    if any(spell.kind is SpellKind.ILL and spell.covers(day) for spell in facts.spells):
        checks.extend(_when_ill(day, plan, checks, day_starts_at))
    return tuple(sorted(checks, key=lambda check: (check.at, _ORDER[check.slot])))


def _is_profile_day(plan: CheckPlan, appointments: Iterable[Appointment], day: date) -> bool:
    return any(1 <= (one.day - day).days <= plan.profile_days for one in appointments)


def _clock_of(slot: Slot, plan: CheckPlan, day_starts_at: time) -> time:
    """The clock time of a slot in the plan, on whichever days; else from the meal; else usual."""
    clocks = {check.slot: check.at for check in reversed(plan.checks)}
    if slot in clocks:
        return clocks[slot]
    before = BEFORE_OF.get(slot)
    if before in clocks:
        after = timedelta(minutes=AFTER_MEAL_MINUTES_USUAL)
        return (datetime.combine(plan.holds_from, clocks[before]) + after).time()
    return own_clock(USUAL_CLOCK[slot], day_starts_at)


def _when_ill(
    day: date, plan: CheckPlan | None, planned: list[DayCheck], day_starts_at: time
) -> list[DayCheck]:
    """Checks every few hours while awake, where no planned check is near."""
    agreed = 0 if plan is None or plan.ill_every_hours is None else plan.ill_every_hours
    every = timedelta(hours=agreed if agreed > 0 else ILL_EVERY_HOURS)
    wakes = datetime.combine(day, day_starts_at) + _WAKES_AFTER
    times = [wakes + every * count for count in range(_AWAKE // every + 1)]
    return [
        DayCheck(day, Slot.OTHER, at, Reason.ILL)
        for at in times
        if all(abs(at - check.at) * 2 >= every for check in planned)
    ]
