"""A plan in words: its checks, its days, published schedules, and how much of it was done.

What is due is told by `wording.due`, reminders by `wording.reminders`. What was not done is told as
a count and never as a fault.
"""

from __future__ import annotations

from datetime import date, timedelta

from logbook.domain.plan.done import PlanDone
from logbook.domain.plan.plans import EVERY_WEEKDAY, CheckPlan, PlannedCheck
from logbook.domain.plan.starting_points import Schedule, Situation, checks_a_week
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import clock_text, day_text, minutes_after_text, weekday_text
from logbook.wording.numbers import count_of_text, days_text, number_text
from logbook.wording.targets import not_agreed_text
from logbook.wording.terms import slot_text


def plan_lines(plan: CheckPlan) -> list[str]:
    """A plan, one check a line: "Before dinner, about 6:00 PM: Monday, Thursday"."""
    lines = [check_line(check) for check in sorted(plan.checks, key=_in_order)]
    if plan.profile_days:
        lines.append(
            ngettext(
                "Seven checks on the day before a visit",
                "Seven checks a day on the {n} days before a visit",
                plan.profile_days,
            ).format(n=number_text(plan.profile_days))
        )
    if plan.ill_every_hours:
        lines.append(
            ngettext(
                "When ill: every hour while awake",
                "When ill: every {n} hours while awake",
                plan.ill_every_hours,
            ).format(n=number_text(plan.ill_every_hours))
        )
    return lines


def check_line(check: PlannedCheck) -> str:
    """One planned check: time of day, clock time and days."""
    when = slot_text(check.slot)
    if check.minutes_after is not None:
        when = _("{slot}, {minutes} the first bite").format(
            slot=when, minutes=minutes_after_text(check.minutes_after)
        )
    return _("{check}, about {time}: {days}").format(
        check=when, time=clock_text(check.at), days=days_of_check_text(check)
    )


def days_of_check_text(check: PlannedCheck) -> str:
    """Its days: "every day", "every 3 days", "Monday, Thursday", "every other week on Monday"."""
    if check.weeks_apart is not None:
        often = weeks_apart_text(check.weeks_apart)
        return _("{often} on {day}").format(often=often, day=_weekdays_text(check))
    is_every_weekday = set(check.weekdays) >= set(EVERY_WEEKDAY)
    every = max(check.every_days, 1)
    if every == 1:
        return _("every day") if is_every_weekday else _weekdays_text(check)
    if every == 2:
        often = _("every other day")
    else:
        often = ngettext("every {n} day", "every {n} days", every).format(n=number_text(every))
    if is_every_weekday:
        return often
    return _("{often}, only {days}").format(often=often, days=_weekdays_text(check))


def weeks_apart_text(weeks: int) -> str:
    """How far apart the days of a check are: "every other week", "every 4 weeks"."""
    if weeks == 2:
        return _("every other week")
    return ngettext("every {n} week", "every {n} weeks", weeks).format(n=number_text(weeks))


def check_when_text(check: PlannedCheck) -> str:
    """When a check is asked, below its name: "About 6:00 PM, every day"."""
    text = _("about {time}, {days}").format(
        time=clock_text(check.at), days=days_of_check_text(check)
    )
    if check.minutes_after is None:
        return capital(text)
    return _("{minutes} the first bite; {when}").format(
        minutes=minutes_after_text(check.minutes_after), when=text
    )


def special_checks_text(plan: CheckPlan) -> str:
    """What a plan asks for before a visit and when ill, in one line."""
    ill = _("when ill: {often}").format(often=ill_hours_text(plan.ill_every_hours))
    profile = _("before a visit: {days}").format(days=profile_days_text(plan.profile_days))
    return capital(f"{profile}; {ill}")


def profile_days_text(days: int) -> str:
    """On how many days before a visit all seven checks are made."""
    if not days:
        return _("nothing more")
    return ngettext("on {n} day", "on {n} days", days).format(n=number_text(days))


def ill_hours_text(hours: int | None) -> str:
    """How often to check when ill."""
    if hours is None:
        return _("nothing agreed")
    return ngettext("every {n} hour", "every {n} hours", hours).format(n=number_text(hours))


def capital(text: str) -> str:
    """The text with a capital first letter, to stand by itself."""
    return text[:1].upper() + text[1:]


def _weekdays_text(check: PlannedCheck) -> str:
    monday = date(2024, 1, 1)
    return ", ".join(weekday_text(monday + timedelta(days=day)) for day in sorted(check.weekdays))


def _in_order(check: PlannedCheck) -> tuple[int, str]:
    return list(Slot).index(check.slot), check.at.isoformat()


def who_set_plan_text(plan: CheckPlan) -> str:
    """Whose plan it is, and whether it is agreed: "Set by your provider"."""
    if plan.set_by is SetBy.SELF:
        return _("Your own choice")
    if plan.set_by is SetBy.PROVIDER:
        if plan.set_by_name:
            return _("Set by {name}").format(name=plan.set_by_name)
        return _("Set by your provider")
    return _("From a published schedule, {remark}").format(remark=not_agreed_text())


def plan_days_text(plan: CheckPlan, today: date) -> str:
    """From when it holds: "Holds since March 3, 2026", "Holds from tomorrow"."""
    if plan.holds_from > today:
        words = _("Holds from {day}")
    elif plan.holds_from == today:
        return _("Holds from today")
    else:
        words = _("Holds since {day}")
    return words.format(day=day_text(plan.holds_from))


def plan_count_text(plan: CheckPlan) -> str:
    """How many checks that is: "9 checks a week"; "about" where days take turns."""
    a_week = checks_a_week(plan.checks)
    if 0 < a_week < 1:
        return _("less than one check a week")
    count = round(a_week)
    text = ngettext("{n} check a week", "{n} checks a week", count)
    if a_week != count:
        text = ngettext("about {n} check a week", "about {n} checks a week", count)
    return text.format(n=number_text(count))


_MEAL = {
    Slot.AFTER_BREAKFAST: mark("Breakfast"),
    Slot.AFTER_LUNCH: mark("Lunch"),
    Slot.AFTER_DINNER: mark("Dinner"),
}


def meal_text(after: Slot) -> str:
    """The main meal that an after-meal check belongs to."""
    return _(_MEAL[after])


_SITUATION = {
    Situation.MEALTIME_INSULIN: mark("Insulin at meals"),
    Situation.BASAL_INSULIN: mark("Long-acting insulin only"),
    Situation.PREMIXED_INSULIN: mark("Premixed insulin"),
    Situation.TABLETS_THAT_CAUSE_LOWS: mark("Tablets that can cause lows"),
    Situation.NO_MEDICINE_THAT_CAUSES_LOWS: mark("No medicine that can cause lows"),
    Situation.BEFORE_A_VISIT: mark("The days before a visit"),
    Situation.FASTING_MONTH: mark("A fasting month"),
}


def situation_text(situation: Situation) -> str:
    """For whom, or for when, a schedule is published."""
    return _(_SITUATION[situation])


def schedule_text(schedule: Schedule) -> str:
    """Who published a schedule and where: "American Diabetes Association: ..., 2016"."""
    source = _("{body}: {source}").format(body=schedule.body, source=schedule.source)
    if not schedule.edition:
        return source
    return _("{source}, {edition}").format(source=source, edition=schedule.edition)


def schedule_notes(schedule: Schedule) -> list[str]:
    """What to know before choosing a schedule; each ends with the provider."""
    notes = []
    a_week = checks_a_week(schedule.checks)
    if a_week:
        count = int(a_week)
        notes.append(
            ngettext("{n} check a week.", "{n} checks a week.", count).format(n=number_text(count))
        )
    if schedule.is_first_stretch:
        notes.append(_("Meant for the first weeks only; fewer checks after that."))
    if schedule.leaves_open:
        notes.append(_("The source asks for more checks at times. Your provider says when."))
    if schedule.situation is Situation.FASTING_MONTH:
        notes += fasting_month_cautions()
    notes.append(_("Agree it with your provider before you use it."))
    return notes


def fasting_month_cautions() -> list[str]:
    """When to break the fast, as the published table has it."""
    return [
        _("Break the fast below 70 mg/dL (4.0 mmol/L) or above 300 mg/dL (16.7 mmol/L)."),
        _("Break it too when you feel ill. Your provider may tell you other numbers."),
    ]


def plan_done_sentence(done: PlanDone) -> str:
    """Planned checks that were made, as a count; empty where none was planned."""
    if not done.total.of:
        return ""
    return _("Planned checks done: {count}.").format(
        count=count_of_text(done.total.part, done.total.of)
    )


def plan_gap_sentences(done: PlanDone) -> list[str]:
    """Days that asked for nothing, in a pause or before any plan."""
    return [
        text.format(days=days_text(days))
        for days, text in (
            (done.paused_days, _("Paused on {days}.")),
            (done.days_without_plan, _("No plan held on {days}.")),
        )
        if days
    ]
