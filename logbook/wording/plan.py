"""The plan in words: what is due, what was done, reminders, schedules, the list before a visit.

What was not done is told as a count and never as a fault.
"""

from __future__ import annotations

from datetime import date, time, timedelta

from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.domain.plan.calendar_days import Reason
from logbook.domain.plan.checklist import ChecklistItem, ChecklistLine
from logbook.domain.plan.done import PlanDone
from logbook.domain.plan.due import Basis, Due, DueCheck
from logbook.domain.plan.plans import EVERY_WEEKDAY, CheckPlan, Pause, PlannedCheck
from logbook.domain.plan.reminders import DatedFact, Reminder, ReminderKind
from logbook.domain.plan.starting_points import Schedule, Situation, checks_a_week
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import (
    clock_text,
    day_text,
    minutes_after_text,
    moment_text,
    relative_day_text,
    weekday_text,
)
from logbook.wording.numbers import count_of_text, number_text
from logbook.wording.targets import not_agreed_text
from logbook.wording.terms import slot_phrase, slot_text

# --- what is due ----------------------------------------------------------------------------------

_REASON = {
    Reason.PLAN: mark("By your plan"),
    Reason.AFTER_MEAL: mark("After your meal"),
    Reason.PROFILE: mark("Before your visit"),
    Reason.ILL: mark("While you are ill"),
    Reason.RECHECK: mark("After a low"),
    Reason.USUAL: mark("By your habit"),
}


def reason_text(reason: Reason) -> str:
    """Why a check is asked."""
    return _(_REASON[reason])


def due_sentence(due: Due, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The one line above Write down: what is due now, else what comes next; empty if nothing is.

    A check after a low comes before everything else.
    """
    if due.recheck is not None:
        if now.instant >= due.recheck.at.instant:
            return _("Now due: the check after your low.")
        return _("Next: the check after your low, at {time}.").format(
            time=clock_text(due.recheck.at)
        )
    if due.now:
        return _("Now due: {check}, about {time}.").format(
            check=check_phrase(due.now[0]), time=clock_text(due.now[0].at)
        )
    upcoming = next_check_sentence(due, now, day_starts_at)
    if due.pause is not None:
        return f"{pause_sentence(due.pause)} {upcoming}".rstrip()
    if due.basis is Basis.USUAL and not upcoming:
        return ""  # the log is too young to say that nothing is due
    nothing = _("Nothing is due now.")
    return f"{nothing} {upcoming}".rstrip()


def due_heading(due: Due, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The title of the form: what is due now, by the plan or by habit; else what comes next.

    Short, for it stands in large type above the number; empty where nothing is known.
    """
    if due.now:
        check = due.now[0]
        clock = clock_text(check.at)
        if check.reason is Reason.USUAL:
            return _("{check}: usually about {time}.").format(check=_heading(check), time=clock)
        return _("{check}: due now ({time}).").format(check=_heading(check), time=clock)
    to_come = due.next
    if due.basis is not Basis.PLAN or due.pause is not None or to_come is None:
        return ""
    if to_come.day != now.day(day_starts_at):
        return _("Nothing more is due today.")
    return _("{check}: next, at {time}.").format(
        check=_heading(to_come), time=clock_text(to_come.at)
    )


def _heading(check: DueCheck) -> str:
    if check.reason is Reason.ILL:
        return _("Extra check")
    return _("Before breakfast") if check.slot is Slot.FASTING else slot_text(check.slot)


def put_aside_text(slot: Slot) -> str:
    """What is said after "Not today"."""
    return _("Not asked again today: {check}.").format(check=slot_phrase(slot))


def eating_text(slot: Slot, at: Moment) -> str:
    """What is said after "I start eating now": when the check after that meal is due."""
    return _("Check at {time}: {check}.").format(time=clock_text(at), check=slot_phrase(slot))


def next_check_sentence(due: Due, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The next check to come: "Next: before dinner, about 6:00 PM."; empty if none is known."""
    check = due.next
    if check is None:
        return ""
    phrase, clock = check_phrase(check), clock_text(check.at)
    today = now.day(day_starts_at)
    distance = (check.day - today).days
    if distance == 0:
        sentence = _("Next: {check}, about {time}.")
        return sentence.format(check=phrase, time=clock)
    day = relative_day_text(check.day, today)
    if 1 < distance < 7:
        day = weekday_text(check.day)
    return _("Next: {day}, {check}, about {time}.").format(day=day, check=phrase, time=clock)


def check_phrase(check: DueCheck) -> str:
    """The check inside a sentence: "fasting (before breakfast)", "a check while you are ill"."""
    if check.reason is Reason.RECHECK:
        return _("the check after your low")
    if check.reason is Reason.ILL:
        return _("a check while you are ill")
    return slot_phrase(check.slot)


def pause_sentence(pause: Pause) -> str:
    """That nothing is asked, and until when."""
    if pause.last is None:
        return _("Your plan is paused.")
    return _("Your plan is paused until {day}.").format(day=day_text(pause.last))


# --- a plan ---------------------------------------------------------------------------------------


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
    """The days of a planned check: "every day", "every 3 days", "Monday, Thursday"."""
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
    """How many checks that is: "9 checks a week"; rounded where days take turns."""
    count = round(checks_a_week(plan.checks))
    return ngettext("{n} check a week", "{n} checks a week", count).format(n=number_text(count))


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


# --- what was done --------------------------------------------------------------------------------


def plan_done_sentence(done: PlanDone) -> str:
    """Planned checks that were made, as a count; empty where none was planned."""
    if not done.total.of:
        return ""
    return _("Planned checks done: {count}.").format(
        count=count_of_text(done.total.part, done.total.of)
    )


# --- reminders and the calendar -------------------------------------------------------------------


def reminder_text(reminder: Reminder) -> str:
    """One reminder as a short line."""
    if reminder.fact is not None:
        return fact_text(reminder.fact)
    if reminder.kind is ReminderKind.RECHECK:
        return _("Check again after your low")
    if reminder.slot is None or reminder.slot is Slot.OTHER:
        return _("Check your blood glucose")
    return calendar_title(reminder.slot)


_FACT = {
    ReminderKind.DISCARD_DATE: mark("Last day of use: {about}"),
    ReminderKind.CONTROL_TEST: mark("Make a control test: {about}"),
    ReminderKind.STOCK: mark("Time to order: {about}"),
    ReminderKind.APPOINTMENT: mark("Appointment: {about}"),
}

_FACT_ALONE = {
    ReminderKind.DISCARD_DATE: mark("Last day of use of something in your kit"),
    ReminderKind.CONTROL_TEST: mark("Make a control test"),
    ReminderKind.STOCK: mark("Time to order supplies"),
    ReminderKind.APPOINTMENT: mark("Appointment"),
}


def fact_text(fact: DatedFact) -> str:
    """What falls on a day, without the day: "Last day of use: test strips, bedside"."""
    if fact.kind is ReminderKind.CLOCK_CHANGE:
        if fact.minutes > 0:
            return _("The clocks go forward. Set the clock of every meter")
        return _("The clocks go back. Set the clock of every meter")
    if fact.kind is ReminderKind.APPOINTMENT:
        return _appointment_text(fact)
    if fact.about:
        return _(_FACT[fact.kind]).format(about=fact.about)
    return _(_FACT_ALONE[fact.kind])


def _appointment_text(fact: DatedFact) -> str:
    """An appointment: "Appointment tomorrow at 10:30 AM: Dr. Invented"."""
    if fact.at is None:
        text = _("Appointment tomorrow") if fact.is_day_before else _("Appointment")
    elif fact.is_day_before:
        text = _("Appointment tomorrow at {time}").format(time=clock_text(fact.at))
    else:
        text = _("Appointment at {time}").format(time=clock_text(fact.at))
    return _("{what}: {who}").format(what=text, who=fact.about) if fact.about else text


def reminder_line(reminder: Reminder, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """A reminder with its day, a check with its time as well, for the list in the window."""
    if reminder.fact is None:
        when = moment_text(reminder.at, now, day_starts_at)
    else:
        when = relative_day_text(reminder.fact.day, now.day(day_starts_at))
    text = _("{when}: {what}").format(when=when, what=reminder_text(reminder))
    return text[:1].upper() + text[1:]


def calendar_name() -> str:
    """The name of the calendar that a phone shows."""
    return _("Blood glucose checks")


def calendar_title(slot: Slot) -> str:
    """A planned check in a calendar: "Check: before dinner"."""
    return _("Check: {slot}").format(slot=slot_phrase(slot))


def calendar_about() -> str:
    """The line below a planned check in a calendar."""
    return _("From your own plan. Write the number in your logbook.")


# --- before a visit -------------------------------------------------------------------------------


def checklist_text(line: ChecklistLine) -> str:
    """One line of the list before a visit."""
    names = ", ".join(line.names)
    match line.item:
        case ChecklistItem.PROFILE_DAYS:
            share = line.share
            count = "" if share is None else count_of_text(share.part, share.of)
            return _("Seven checks a day before the visit: {count} done").format(count=count)
        case ChecklistItem.CONTROL_TEST:
            if line.is_done:
                return _("Control test passed")
            return _("Make a control test before the visit")
        case ChecklistItem.QUESTIONS:
            if not line.count:
                return _("Questions to ask: none written down")
            return ngettext("{n} question to ask", "{n} questions to ask", line.count).format(
                n=number_text(line.count)
            )
        case ChecklistItem.SUPPLIES:
            return _("Ask for: {names}").format(names=names)
        case ChecklistItem.REPORT:
            return _("Report printed") if line.is_done else _("Print the report")
        case ChecklistItem.METERS:
            if not names:
                return _("Bring your meter")
            return _("Bring: {names}").format(names=names)
