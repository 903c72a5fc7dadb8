"""The list of reminders."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from dateutil import tz

from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.due import what_is_due
from logbook.domain.plan.reminders import (
    DatedFact,
    QuietHours,
    Reminder,
    ReminderKind,
    appointment_facts,
    clock_change_facts,
    reminders,
)
from logbook.domain.settings import LogSettings
from tests.domain.plan.plan_records import BEFORE_DINNER, FASTING, NIGHT, appointment, plan
from tests.domain.series_of import moment, series_of

QUIET = QuietHours(time(22, 0), time(7, 0))
STRIPS = DatedFact(ReminderKind.DISCARD_DATE, date(2026, 3, 2), "strips", about_id="vial")


def listed(
    now: str,
    *dated: DatedFact,
    quiet: QuietHours | None = QUIET,
    recheck: datetime | None = None,
) -> tuple[Reminder, ...]:
    facts = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER, NIGHT),))
    at = moment(now)
    due = what_is_due(facts, series_of([]), at, LogSettings(), recheck)
    return reminders(due, dated, at, quiet)


def told(found: tuple[Reminder, ...]) -> list[tuple[str, str, bool]]:
    return [(one.kind.value, f"{one.at.wall:%d %H:%M}", one.is_quiet) for one in found]


def test_in_order_of_time_with_quiet_hours() -> None:
    assert told(listed("2026-03-02 06:30", STRIPS)) == [
        ("check", "02 07:30", False),
        ("discard_date", "02 10:00", False),
        ("check", "02 18:00", False),
        ("check", "03 03:00", True),
    ]
    assert not any(one.is_quiet for one in listed("2026-03-02 06:30", quiet=None))


def test_the_recheck_is_first_and_never_quiet() -> None:
    at = datetime(2026, 3, 2, 23, 15, tzinfo=UTC)
    found = listed("2026-03-02 23:00", recheck=at)
    assert told(found)[0] == ("recheck", "02 23:15", False)
    overdue = listed("2026-03-02 23:20", recheck=at)
    assert [one.kind for one in overdue].count(ReminderKind.RECHECK) == 1


def test_a_day_s_reminder_waits_for_the_end_of_quiet_hours() -> None:
    late_riser = QuietHours(time(23, 0), time(11, 30))
    assert told(listed("2026-03-02 06:30", STRIPS, quiet=late_riser))[1] == (
        "discard_date",
        "02 11:30",
        False,
    )


def test_a_key_stays_the_same_and_tells_days_apart() -> None:
    once = {one.key for one in listed("2026-03-02 06:30", STRIPS)}
    assert once == {one.key for one in listed("2026-03-02 07:15", STRIPS)}
    next_day = {one.key for one in listed("2026-03-03 06:30")}
    assert not once & next_day


def test_the_same_fact_twice_is_one_reminder() -> None:
    assert len(listed("2026-03-02 06:30", STRIPS, STRIPS)) == 4


@pytest.mark.parametrize(
    ("begin", "end", "inside", "outside"),
    [("22:00", "07:00", "23:30", "07:00"), ("13:00", "14:00", "13:00", "14:00")],
)
def test_quiet_hours(begin: str, end: str, inside: str, outside: str) -> None:
    quiet = QuietHours(time.fromisoformat(begin), time.fromisoformat(end))
    assert quiet.cover(time.fromisoformat(inside))
    assert not quiet.cover(time.fromisoformat(outside))


def test_quiet_hours_of_no_length_are_none() -> None:
    assert not QuietHours(time(7), time(7)).cover(time(7))


def test_an_appointment_the_day_before_and_on_the_day() -> None:
    visits = [appointment("2026-03-10", time(9, 20), "Dr Invented"), appointment("2026-03-01")]
    found = appointment_facts(visits, date(2026, 3, 2))
    assert [(fact.day.day, fact.about) for fact in found] == [
        (9, "Dr Invented"),
        (10, "Dr Invented"),
    ]


@pytest.mark.parametrize(
    "zone",
    [
        "America/New_York",
        "Europe/London",
        "Australia/Lord_Howe",
        "America/Santiago",
        "Asia/Kolkata",
    ],
)
def test_the_days_of_clock_changes_are_dateutil_s(zone: str) -> None:
    """Against dateutil's own reading of the zone: the change in the length of each calendar day."""
    first, last = date(2026, 1, 1), date(2027, 12, 31)
    other = tz.gettz(zone)
    assert other is not None

    def length(day: date) -> timedelta:
        begin, end = (datetime.combine(one, time(0), other) for one in (day, day + timedelta(1)))
        return end.astimezone(UTC) - begin.astimezone(UTC)

    expected = {}
    for n in range((last - first).days + 1):
        day = first + timedelta(days=n)
        if length(day) != timedelta(days=1):
            expected[day] = int((timedelta(days=1) - length(day)) / timedelta(minutes=1))
    found = {fact.day: fact.minutes for fact in clock_change_facts(first, last, zone)}
    assert found == expected
    assert len(found) == (0 if zone == "Asia/Kolkata" else 4)
