"""The list of reminders: checks, the check after a low, and days that something falls on.

Every reminder is shown in the window. Whether the computer also rings or notifies is its own
choice; `is_quiet` says that quiet hours forbid it. The check after a low is never quiet.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum

from logbook.domain.moments import Moment, find_zone
from logbook.domain.plan.due import Due, DueCheck
from logbook.domain.slots import Slot
from logbook.domain.visits import Appointment


class ReminderKind(StrEnum):
    """What a reminder is about."""

    RECHECK = "recheck"
    CHECK = "check"
    DISCARD_DATE = "discard_date"
    CONTROL_TEST = "control_test"
    STOCK = "stock"
    APPOINTMENT = "appointment"
    CLOCK_CHANGE = "clock_change"


# A reminder for a whole day comes at this time. Judgement without a source.
REMINDS_AT = time(10, 0)


@dataclass(frozen=True, slots=True)
class QuietHours:
    """From `begin` until before `end` by the wall clock, over midnight where `end` is earlier."""

    begin: time
    end: time

    def cover(self, at: time) -> bool:
        """Whether `at` lies in them; with equal ends there are none."""
        if self.begin <= self.end:
            return self.begin <= at < self.end
        return at >= self.begin or at < self.end

    def end_after(self, wall: datetime) -> datetime:
        """The end of the quiet hours that cover `wall`."""
        day = wall.date() if wall.time() < self.end else wall.date() + timedelta(days=1)
        return datetime.combine(day, self.end)


@dataclass(frozen=True, slots=True)
class DatedFact:
    """Something that falls on a calendar day, told by another part of the log.

    `about` is a word for it as the person wrote it or the name of the thing; `about_id` the id of
    the record. `at` is a clock time where there is one. `minutes` is for a clock change: how far
    the clocks go forward (back when negative). `is_day_before`: what it is about is a day later.
    """

    kind: ReminderKind
    day: date
    about: str = ""
    at: time | None = None
    about_id: str = ""
    minutes: int = 0
    is_day_before: bool = False


@dataclass(frozen=True, slots=True)
class Reminder:
    """One reminder. `key` is the same each time it is computed, so that it is given once.

    `slot` is told for a check, `fact` for all that falls on a day. `is_quiet` asks for no sound and
    no notification.
    """

    kind: ReminderKind
    at: Moment
    key: str
    is_quiet: bool = False
    slot: Slot | None = None
    fact: DatedFact | None = None


def reminders(
    due: Due, dated: Iterable[DatedFact], now: Moment, quiet: QuietHours | None = None
) -> tuple[Reminder, ...]:
    """All reminders, the check after a low first, then in order of time.

    A day's reminder comes at 10:00 of that day, and after the quiet hours where they cover it. What
    was due before now is still among them, as long as it is not done: who asks decides by `key`
    which were given already.
    """
    found = []
    if due.recheck is not None:
        key = f"{ReminderKind.RECHECK}:{due.recheck.at.instant.isoformat()}"
        found.append(Reminder(ReminderKind.RECHECK, due.recheck.at, key))
    checks = [one for one in due.now if one is not due.recheck]
    checks += [] if due.next is None else [due.next]
    checks += due.later_today
    rest = [_of_check(check, quiet) for check in checks]
    rest += [_of_fact(fact, now.zone, quiet) for fact in dated]
    once = {reminder.key: reminder for reminder in rest}
    return (*found, *sorted(once.values(), key=lambda one: (one.at.instant, one.key)))


def _of_check(check: DueCheck, quiet: QuietHours | None) -> Reminder:
    # The slot and the day name it, so that a check whose time moved after a meal is the same one;
    # the clock is added where a slot can come several times a day.
    key = f"{ReminderKind.CHECK}:{check.day}:{check.slot}:{check.reason}"
    if not check.slot.is_after_meal:
        key += f":{check.at.wall:%H:%M}"
    is_quiet = quiet is not None and quiet.cover(check.at.wall.time())
    return Reminder(ReminderKind.CHECK, check.at, key, is_quiet, slot=check.slot)


def _of_fact(fact: DatedFact, zone: str, quiet: QuietHours | None) -> Reminder:
    wall = datetime.combine(fact.day, REMINDS_AT)
    if quiet is not None and quiet.cover(wall.time()):
        wall = quiet.end_after(wall)
    key = f"{fact.kind}:{fact.day}:{fact.about_id or fact.about}"
    return Reminder(fact.kind, Moment.from_wall(wall, zone), key, fact=fact)


def appointment_facts(appointments: Iterable[Appointment], today: date) -> tuple[DatedFact, ...]:
    """A fact the day before each coming appointment and one on its day."""
    return tuple(
        DatedFact(
            ReminderKind.APPOINTMENT,
            day,
            one.with_whom,
            one.at,
            str(one.id),
            is_day_before=day < one.day,
        )
        for one in appointments
        for day in (one.day - timedelta(days=1), one.day)
        if day >= today
    )


def clock_change_facts(first: date, last: date, zone: str) -> tuple[DatedFact, ...]:
    """The days on which the clocks of `zone` change, when meters have to be set."""
    found = []
    day = first
    while day <= last:
        minutes = _offset_minutes(day + timedelta(days=1), zone) - _offset_minutes(day, zone)
        if minutes:
            found.append(DatedFact(ReminderKind.CLOCK_CHANGE, day, minutes=minutes))
        day += timedelta(days=1)
    return tuple(found)


def _offset_minutes(day: date, zone: str) -> int:
    offset = datetime.combine(day, time(0), find_zone(zone)).utcoffset() or timedelta(0)
    return int(offset // timedelta(minutes=1))
