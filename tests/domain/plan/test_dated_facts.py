"""The days that something falls on, gathered from the kit, the appointments and the clocks.

The days on which clocks change in New York in 2026 are those of the IANA time zone database.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from uuid import uuid4

from logbook.domain.glucose import Unit
from logbook.domain.kit.control import ControlBottle
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import Vial
from logbook.domain.moments import Moment
from logbook.domain.plan.dated_facts import dated_facts
from logbook.domain.plan.reminders import DatedFact, ReminderKind
from logbook.domain.settings import LogSettings
from logbook.domain.visits import Appointment
from logbook.wording.dated_facts import named_facts
from logbook.wording.reminders import fact_text

WRITTEN = datetime(2026, 3, 1, tzinfo=UTC)
NOW = Moment.from_wall(datetime(2026, 3, 2, 9), "America/New_York")
NO_CONTROL = LogSettings(has_control_solution=False)


def facts_of(
    kit: KitData, *visits: Appointment, last: date, settings: LogSettings = NO_CONTROL
) -> tuple[DatedFact, ...]:
    return dated_facts(kit, settings, visits, NOW, last)


def test_an_empty_log_has_only_the_clocks() -> None:
    found = facts_of(KitData(), last=date(2026, 12, 31))
    assert [(one.day, one.minutes) for one in found] == [
        (date(2026, 3, 8), 60),
        (date(2026, 11, 1), -60),
    ]


def test_each_thing_on_its_day_in_order() -> None:
    meter = Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2026, 1, 1))
    vial = Vial(
        uuid4(),
        meter.id,
        50,
        WRITTEN,
        expires=PrintedDate(date(2026, 3, 5)),
        opened_at=WRITTEN,
        opened_on=date(2026, 3, 1),
    )
    bottle = ControlBottle(
        uuid4(), "1", WRITTEN, expires=PrintedDate(date(2026, 3, 6)), opened_on=date(2026, 3, 1)
    )
    unopened = ControlBottle(uuid4(), "1", WRITTEN, expires=PrintedDate(date(2026, 3, 6)))
    kit = KitData(meters=(meter,), vials=(vial,), bottles=(bottle, unopened))
    visit = Appointment(uuid4(), date(2026, 3, 4), time(10, 30), "Dr. Invented")
    found = named_facts(facts_of(kit, visit, last=date(2026, 3, 7)), kit)
    assert [(one.day.day, fact_text(one)) for one in found] == [
        (3, "Appointment tomorrow at 10:30 AM: Dr. Invented"),
        (4, "Appointment at 10:30 AM: Dr. Invented"),
        (5, "Last day of use: test strips, bedside"),
        (6, "Last day of use: control solution"),
    ]


def test_a_control_test_is_asked_today_where_one_is_due() -> None:
    meter = Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2026, 3, 1))
    vial = Vial(uuid4(), meter.id, 50, WRITTEN, opened_at=WRITTEN, opened_on=date(2026, 3, 1))
    kit = KitData(meters=(meter,), vials=(vial,))
    asked = facts_of(kit, last=date(2026, 3, 3), settings=LogSettings())
    assert [(one.kind, one.day) for one in asked] == [(ReminderKind.CONTROL_TEST, date(2026, 3, 2))]
    assert facts_of(kit, last=date(2026, 3, 3)) == ()


def test_what_lies_behind_or_beyond_is_left_out() -> None:
    past = Appointment(uuid4(), date(2026, 3, 1))
    beyond = Appointment(uuid4(), date(2026, 5, 1))
    found = facts_of(KitData(), past, beyond, last=date(2026, 3, 5))
    assert found == ()
