"""The plan and its dates as a calendar file, so that a phone can ring.

RFC 5545, read at the IETF. Times are floating: a check at half past seven rings at half past seven
wherever the person is, and on both sides of a clock change. An event keeps its UID, so that a newer
file replaces an older one. Which checks fall on which day is the plan's to say; here the same days
are only written down, as rules with exceptions.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from logbook import __version__
from logbook.domain.moments import Period, wall_on
from logbook.domain.plan.calendar_days import (
    DayCheck,
    PlanFacts,
    checks_on,
    falls_on,
)
from logbook.domain.plan.plans import EVERY_WEEKDAY, CheckPlan, PlannedCheck
from logbook.domain.plan.reminders import REMINDS_AT, DatedFact, ReminderKind
from logbook.domain.visits import Appointment
from logbook.wording.reminders import calendar_about, calendar_name, calendar_title, fact_text

if TYPE_CHECKING:
    from icalendar import Calendar, Event

# The namespace of events that belong to no record: a random UUID, fixed for good.
_NAMESPACE = UUID("0d5b1f0e-6c0d-4a52-9d0b-6a6f5d0c7e31")

_WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")

# Long enough to be seen in a day's view, short enough to hide nothing.
_CHECK_LASTS = timedelta(minutes=15)
_VISIT_LASTS = timedelta(hours=1)

# RFC 5545, section 3.1, allows no control characters in text; the writer escapes line ends.
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


def calendar_file(
    facts: PlanFacts,
    dated: Iterable[DatedFact],
    period: Period,
    day_starts_at: time,
    stamp: datetime,
) -> bytes:
    """The calendar of `period` (the person's days), as UTF-8.

    It holds the planned checks without pauses and without what was put aside, the days of seven
    checks, the appointments, and the `dated` facts of other kinds. Checks when ill are not in it:
    nobody knows those days before. `stamp` is the aware instant at which the file is made.
    """
    from icalendar import Calendar, vText

    calendar = Calendar()
    calendar.add("PRODID", f"-//Fingerstick Logbook//{__version__}//EN")
    calendar.add("VERSION", "2.0")
    calendar.add("METHOD", "PUBLISH")
    calendar.add("NAME", vText(calendar_name()))
    _add_checks(calendar, facts, period, day_starts_at, stamp)
    for appointment in facts.appointments:
        if appointment.day in period:
            calendar.add_component(_visit_event(appointment, stamp))
    for fact in dated:
        if fact.day in period and fact.kind is not ReminderKind.APPOINTMENT:
            calendar.add_component(_fact_event(fact, stamp))
    return bytes(calendar.to_ical())


def _add_checks(
    calendar: Calendar, facts: PlanFacts, period: Period, day_starts_at: time, stamp: datetime
) -> None:
    aside = {(one.day, one.slot) for one in facts.put_asides}
    known_before = replace(facts, spells=(), meal_starts=())
    # What is still to be written; the rule of a planned check takes its days out.
    left = {
        (check.slot, check.at): check
        for day in period
        for check in checks_on(day, known_before, day_starts_at)
        if (day, check.slot) not in aside
    }
    by_begin = sorted(facts.plans, key=lambda plan: (plan.holds_from, plan.written_at))
    ends = [*(plan.holds_from for plan in by_begin), date.max][1:]
    for plan, end in zip(by_begin, ends, strict=True):
        for check in plan.checks:
            walls = [
                wall_on(day, check.at, day_starts_at)
                for day in period
                if day < end and falls_on(check, plan.holds_from, day)
            ]
            asked = [wall for wall in walls if left.pop((check.slot, wall), None) is not None]
            if asked:
                shift = 0 if check.at >= day_starts_at else 1
                calendar.add_component(_check_event(plan, check, walls, asked, shift, stamp))
    for single in left.values():
        calendar.add_component(_single_event(single, stamp))


def _check_event(
    plan: CheckPlan,
    check: PlannedCheck,
    walls: list[datetime],
    asked: list[datetime],
    shift: int,
    stamp: datetime,
) -> Event:
    """A planned check from the first to the last day on which it is asked.

    `walls` are all times that its rule gives, `asked` those that hold; the others between them
    become exceptions. `shift` is 1 for a check whose calendar day is the one after the person's.
    """
    days = "".join(str(day) for day in check.weekdays)
    named = f"{check.slot}/{check.at}/{days}/{check.every_days}/{check.day_offset}"
    event = _timed_event(
        uuid5(plan.id, named), calendar_title(check.slot), asked[0], _CHECK_LASTS, stamp
    )
    event.add("DESCRIPTION", calendar_about())
    if len(asked) > 1:
        event.add("RRULE", {**_rule(check, shift), "UNTIL": asked[-1]})
        held = set(asked)
        missing = [one for one in walls if asked[0] < one < asked[-1] and one not in held]
        if missing:
            event.add("EXDATE", missing)
    _add_alarm(event, calendar_title(check.slot), timedelta(0))
    return event


def _rule(check: PlannedCheck, shift: int) -> dict[str, object]:
    weekdays = sorted({(day + shift) % 7 for day in check.weekdays})
    every_weekday = len(weekdays) == len(EVERY_WEEKDAY)
    by_day = {} if every_weekday else {"BYDAY": [_WEEKDAYS[day] for day in weekdays]}
    if check.every_days > 1:
        return {"FREQ": "DAILY", "INTERVAL": check.every_days, **by_day}
    # The same days as a daily rule with BYDAY, in the form that calendars know best.
    return {"FREQ": "DAILY" if every_weekday else "WEEKLY", **by_day}


def _single_event(check: DayCheck, stamp: datetime) -> Event:
    """A check of one day only, before an appointment."""
    uid = uuid5(_NAMESPACE, f"check/{check.day}/{check.slot}")
    event = _timed_event(uid, calendar_title(check.slot), check.at, _CHECK_LASTS, stamp)
    event.add("DESCRIPTION", calendar_about())
    _add_alarm(event, calendar_title(check.slot), timedelta(0))
    return event


def _visit_event(appointment: Appointment, stamp: datetime) -> Event:
    at = appointment.at
    # The calendar shows the time itself.
    fact = DatedFact(ReminderKind.APPOINTMENT, appointment.day, appointment.with_whom)
    title = _text(fact_text(fact))
    uid = uuid5(appointment.id, "appointment")
    if at is None:
        event = _day_event(uid, title, appointment.day, stamp)
    else:
        begin = datetime.combine(appointment.day, at)
        event = _timed_event(uid, title, begin, _VISIT_LASTS, stamp)
    if appointment.place:
        event.add("LOCATION", _text(appointment.place))
    _add_alarm(event, title, timedelta(days=-1))
    return event


def _fact_event(fact: DatedFact, stamp: datetime) -> Event:
    title = _text(fact_text(fact))
    uid = uuid5(_NAMESPACE, f"{fact.kind}/{fact.day}/{fact.about_id or fact.about}")
    event = _day_event(uid, title, fact.day, stamp)
    _add_alarm(event, title, timedelta(hours=REMINDS_AT.hour, minutes=REMINDS_AT.minute))
    return event


def _timed_event(
    uid: UUID, title: str, begin: datetime, lasts: timedelta, stamp: datetime
) -> Event:
    event = _event(uid, title, stamp)
    event.add("DTSTART", begin)
    event.add("DURATION", lasts)
    return event


def _day_event(uid: UUID, title: str, day: date, stamp: datetime) -> Event:
    event = _event(uid, title, stamp)
    event.add("DTSTART", day)
    return event


def _event(uid: UUID, title: str, stamp: datetime) -> Event:
    from icalendar import Event

    event = Event()
    event.add("UID", str(uid))
    event.add("DTSTAMP", stamp)
    # A newer file has the greater number, so that its event replaces the older one.
    event.add("SEQUENCE", int(stamp.timestamp()) // 60)
    event.add("SUMMARY", title)
    event.add("TRANSP", "TRANSPARENT")
    return event


def _add_alarm(event: Event, title: str, after_begin: timedelta) -> None:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("DESCRIPTION", title)
    alarm.add("TRIGGER", after_begin)
    event.add_component(alarm)


def _text(words: str) -> str:
    return _CONTROL.sub(" ", words)
