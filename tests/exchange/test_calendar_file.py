"""The plan as a calendar file, read back by a second reader and expanded by dateutil."""

from __future__ import annotations

import random
from collections import Counter
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID

import pytest
from dateutil import tz

from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import PlanFacts, checks_on
from logbook.domain.plan.due import what_is_due
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.plan.reminders import DatedFact, ReminderKind
from logbook.domain.plan.starting_points import SCHEDULES, Schedule, plan_from
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.visits import Appointment
from logbook.exchange.calendar_file import calendar_file
from tests.domain.plan.plan_records import (
    BEFORE_DINNER,
    DAY_START,
    FASTING,
    NIGHT,
    WRITTEN,
    appointment,
    ill,
    pause,
    plan,
    put_aside,
)
from tests.domain.series_of import new_id, series_of
from tests.exchange.calendar_reader import ReadCalendar, ReadEvent, duration, read_calendar

STAMP = datetime(2026, 3, 1, 9, 30, tzinfo=UTC)
# Two years with a 29 February and two changes of the clocks each year.
TWO_YEARS = Period(date(2027, 3, 1), date(2029, 2, 28))
ZONES = (
    "America/New_York",
    "Europe/London",
    "Australia/Lord_Howe",  # half an hour
    "America/Santiago",  # at midnight
    "America/St_Johns",
)

DINNER_TWICE = PlannedCheck(Slot.BEFORE_DINNER, time(18, 0), weekdays=(0, 3))
IN_TURN = PlannedCheck(Slot.AFTER_LUNCH, time(14, 0), every_days=3, day_offset=2, minutes_after=120)
ODD_NIGHTS = PlannedCheck(Slot.NIGHT, time(2, 30), weekdays=(5, 6), every_days=2, day_offset=1)
# Saturday, January 30, 2027 and three days: a Tuesday, whose check rings on the Wednesday.
EVERY_OTHER_WEEK = PlannedCheck(
    Slot.BEDTIME, time(0, 30), weekdays=(1,), every_days=14, day_offset=3
)
RICH = PlanFacts(
    plans=(
        plan(
            FASTING,
            DINNER_TWICE,
            IN_TURN,
            ODD_NIGHTS,
            EVERY_OTHER_WEEK,
            holds_from="2027-01-30",
            profile_days=3,
        ),
        plan(BEFORE_DINNER, NIGHT, holds_from="2028-02-29"),
    ),
    pauses=(pause("2027-05-30", "2027-06-02"), pause("2028-12-31", "2029-01-01")),
    put_asides=(put_aside("2027-03-04", Slot.FASTING),),
    appointments=(appointment("2027-08-01", time(9, 20)), appointment("2028-03-01")),
    spells=(ill("2027-04-01", "2027-04-05"),),
)


def made(
    facts: PlanFacts, *dated: DatedFact, period: Period = TWO_YEARS, starts: time = DAY_START
) -> ReadCalendar:
    return read_calendar(calendar_file(facts, dated, period, starts, STAMP))


def checks_of(calendar: ReadCalendar) -> list[ReadEvent]:
    return [one for one in calendar.timed if one.text("SUMMARY").startswith("Check: ")]


def rings(calendar: ReadCalendar) -> Counter[datetime]:
    """Every time at which a check rings, by the second reader and dateutil."""
    return Counter(begin for event in checks_of(calendar) for begin in event.begins())


def asked(facts: PlanFacts, period: Period, starts: time = DAY_START) -> Counter[datetime]:
    """The same by the plan itself, without what nobody knows beforehand."""
    known = PlanFacts(facts.plans, facts.pauses, appointments=facts.appointments)
    aside = {(one.day, one.slot) for one in facts.put_asides}
    return Counter(
        check.at
        for day in period
        for check in checks_on(day, known, starts)
        if (day, check.slot) not in aside
    )


def test_two_years_ring_exactly_when_the_plan_asks() -> None:
    found = rings(made(RICH))
    assert found == asked(RICH, TWO_YEARS)
    assert found.total() > 1300
    assert datetime(2028, 2, 29, 18, 0) in found
    assert datetime(2028, 3, 1, 3, 0) in found  # the night check of 29 February
    assert datetime(2027, 3, 4, 7, 30) not in found
    paused = (datetime(2027, 5, 30, 4, 0), datetime(2027, 6, 3, 4, 0))
    assert not any(paused[0] <= one < paused[1] for one in found)


def test_the_comparison_sees_one_day_that_is_wrong() -> None:
    """The control: the file of a plan that differs on one day only is not the same."""
    other = PlanFacts(
        RICH.plans,
        (*RICH.pauses, pause("2027-10-10", "2027-10-10")),
        RICH.put_asides,
        RICH.spells,
        RICH.appointments,
    )
    assert rings(made(other)) != asked(RICH, TWO_YEARS)


@pytest.mark.parametrize("zone", ZONES)
def test_both_clock_changes_are_the_due_engine_s_own(zone: str) -> None:
    """Day by day for two years, what the due engine lists and the moments at which it is due.

    Floating times are put into the zone by dateutil's own reading of it.
    """
    facts = PlanFacts(RICH.plans, RICH.pauses, RICH.put_asides, (), RICH.appointments)
    other, settings, nothing = tz.gettz(zone), LogSettings(), series_of([])
    assert other is not None
    rung = rings(made(facts))
    found: Counter[datetime] = Counter()
    for day in TWO_YEARS:
        now = Moment.from_wall(datetime.combine(day, DAY_START), zone)
        due = what_is_due(facts, nothing, now, settings)
        following = [] if due.next is None else [due.next]
        for check in [*due.now, *following, *due.later_today]:
            if check.day != day:
                continue
            found[check.at.wall] += 1
            floating = check.at.wall.replace(tzinfo=other)
            assert check.at.instant == floating.astimezone(UTC)
    assert found == rung


@pytest.mark.parametrize("starts", [time(0), time(4), time(14)])
def test_random_plans_ring_when_they_ask(starts: time) -> None:
    chance = random.Random(7)
    for _ in range(25):
        plans = tuple(
            plan(
                *(
                    PlannedCheck(
                        chance.choice(list(Slot)),
                        time(chance.randrange(24), chance.choice([0, 30])),
                        tuple(sorted(chance.sample(range(7), chance.randint(1, 7)))),
                        every := chance.choice([1, 1, 2, 3, 7]),
                        chance.randrange(every),
                    )
                    for _ in range(chance.randint(1, 5))
                ),
                holds_from=(date(2027, 12, 1) + timedelta(days=chance.randrange(120))).isoformat(),
                profile_days=chance.randrange(4),
            )
            for _ in range(chance.randint(1, 3))
        )
        facts = PlanFacts(
            plans,
            tuple(pause(f"2028-0{month}-28", f"2028-0{month + 1}-02") for month in (1, 2)),
            appointments=(appointment("2028-03-20"),),
        )
        period = Period(date(2027, 12, 15), date(2028, 6, 30))
        assert rings(made(facts, period=period, starts=starts)) == asked(facts, period, starts)


@pytest.mark.parametrize("schedule", SCHEDULES, ids=lambda schedule: schedule.code)
def test_every_published_schedule_rings_when_it_asks(schedule: Schedule) -> None:
    facts = PlanFacts(
        (plan_from(schedule, TWO_YEARS.first, WRITTEN),), appointments=(appointment("2028-03-02"),)
    )
    assert rings(made(facts)) == asked(facts, TWO_YEARS)


def test_the_rules_are_as_a_calendar_knows_them() -> None:
    facts = PlanFacts(plans=(plan(FASTING, DINNER_TWICE, IN_TURN, holds_from="2027-03-01"),))
    week = Period(date(2027, 3, 1), date(2027, 3, 14))
    rules = [event.value("RRULE") for event in made(facts, period=week).events]
    assert [sorted(rule.split(";")) for rule in rules] == [
        ["FREQ=DAILY", "UNTIL=20270314T073000"],
        ["BYDAY=MO,TH", "FREQ=WEEKLY", "UNTIL=20270311T180000"],
        ["FREQ=DAILY", "INTERVAL=3", "UNTIL=20270312T140000"],
    ]


def test_times_float_and_each_event_has_what_the_format_asks() -> None:
    calendar = made(RICH)
    assert {name: calendar.properties[name][0][1] for name in ("VERSION", "METHOD")} == {
        "VERSION": "2.0",
        "METHOD": "PUBLISH",
    }
    assert "PRODID" in calendar.properties
    identifiers = [event.value("UID") for event in calendar.events]
    assert len(set(identifiers)) == len(identifiers) > 10
    for event in calendar.events:
        assert UUID(event.value("UID")).version == 5
        assert event.value("DTSTAMP") == "20260301T093000Z"
        for name in ("DTSTART", "EXDATE"):
            for parameters, value in event.properties.get(name, []):
                assert "TZID" not in parameters
                assert "Z" not in value
        assert len(event.alarms) == 1
        assert event.alarms[0]["ACTION"] == [("", "DISPLAY")]
    assert all(
        duration(one.alarms[0]["TRIGGER"][0][1]) == timedelta(0) for one in checks_of(calendar)
    )


def test_a_newer_file_replaces_the_older_one() -> None:
    older = calendar_file(RICH, (), TWO_YEARS, DAY_START, STAMP)
    assert older == calendar_file(RICH, (), TWO_YEARS, DAY_START, STAMP)
    later = Period(TWO_YEARS.first, date(2029, 6, 30))
    newer = calendar_file(RICH, (), later, DAY_START, STAMP + timedelta(hours=1))
    first, second = (
        {one.value("UID"): int(one.value("SEQUENCE")) for one in read_calendar(data).events}
        for data in (older, newer)
    )
    assert first.keys() == second.keys()
    assert all(second[uid] > number for uid, number in first.items())


def test_appointments_and_dated_facts() -> None:
    visit = Appointment(
        new_id(),
        date(2027, 8, 1),
        time(9, 20),
        "Dr Invented, clinic; ground\\floor\nroom 2",
        "A\x07B",
    )
    all_day = appointment("2027-08-02")
    strips = DatedFact(ReminderKind.DISCARD_DATE, date(2028, 2, 29), "strips, bedside")
    beyond = DatedFact(ReminderKind.STOCK, date(2031, 1, 1))
    doubled = DatedFact(ReminderKind.APPOINTMENT, date(2027, 8, 1), "once is enough")
    calendar = made(PlanFacts(appointments=(visit, all_day)), strips, beyond, doubled)
    timed, whole, kit = calendar.events
    assert timed.value("DTSTART") == "20270801T092000"
    assert timed.text("SUMMARY") == f"Appointment: {visit.with_whom}"
    assert timed.text("LOCATION") == "A B"
    assert duration(timed.alarms[0]["TRIGGER"][0][1]) == timedelta(days=-1)
    assert whole.properties["DTSTART"] == [(";VALUE=DATE", "20270802")]
    assert kit.properties["DTSTART"] == [(";VALUE=DATE", "20280229")]
    assert kit.text("SUMMARY") == "Last day of use: strips, bedside"
    assert duration(kit.alarms[0]["TRIGGER"][0][1]) == timedelta(hours=10)


def test_long_words_in_any_script_are_folded_and_come_back() -> None:
    words = "Δρ Ωμέγα 医師 " * 20
    (event,) = made(PlanFacts(appointments=(appointment("2027-08-01", None, words),))).events
    assert event.text("SUMMARY") == f"Appointment: {words}"


def test_without_a_plan_the_file_is_still_a_calendar() -> None:
    calendar = made(PlanFacts())
    assert calendar.events == []
    assert "PRODID" in calendar.properties
