"""Reminders in words, the names of checks in a calendar, and the list before a visit."""

from __future__ import annotations

from datetime import time

from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.domain.plan.checklist import ChecklistItem, ChecklistLine
from logbook.domain.plan.reminders import DatedFact, Reminder, ReminderKind
from logbook.domain.slots import Slot
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import clock_text, moment_text, relative_day_text
from logbook.wording.numbers import count_of_text, number_text
from logbook.wording.terms import slot_phrase


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
