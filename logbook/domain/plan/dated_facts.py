"""The days that something of the log falls on: kit, stock, appointments, clocks that change.

They are reminded of in the window and written into the calendar of a phone. What each day means is
decided where it belongs: `domain.kit` for the kit, `reminders` for appointments and clocks.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from logbook.domain.kit.control_due import due_reasons
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import stock_outlooks
from logbook.domain.kit.vial_life import life_of, vial_in_use
from logbook.domain.moments import Moment
from logbook.domain.plan.reminders import (
    DatedFact,
    ReminderKind,
    appointment_facts,
    clock_change_facts,
)
from logbook.domain.settings import LogSettings
from logbook.domain.visits import Appointment


def dated_facts(
    kit: KitData,
    settings: LogSettings,
    appointments: Iterable[Appointment],
    now: Moment,
    last: date,
    plan_strips_a_day: Fraction | None = None,
) -> tuple[DatedFact, ...]:
    """All of them from the person's day of `now` up to `last`, in order of day.

    The name of the meter stands in `about`, where the thing belongs to a meter.
    """
    today = now.day(settings.day_starts_at)
    found = [
        *_discard_dates(kit, today),
        *_control_tests(kit, settings, now, today),
        *_orders(kit, settings, now, plan_strips_a_day),
        *appointment_facts(appointments, today),
        *clock_change_facts(today, last, now.zone),
    ]
    return tuple(
        sorted(
            (fact for fact in found if today <= fact.day <= last),
            key=lambda fact: (fact.day, fact.kind, fact.about_id),
        )
    )


def _discard_dates(kit: KitData, today: date) -> list[DatedFact]:
    """The last day of the strips in use in each meter and of each bottle in use."""
    open_vials = [
        (vial, meter.name)
        for meter in own_meters(kit.meters, today)
        if (vial := vial_in_use(meter.id, kit)) is not None
    ]
    if not kit.meters and (vial := vial_in_use(None, kit)) is not None:
        open_vials = [(vial, "")]
    found = [
        DatedFact(ReminderKind.DISCARD_DATE, life.until, name, about_id=str(vial.id))
        for vial, name in open_vials
        if (life := life_of(vial)) is not None
    ]
    found += [
        DatedFact(ReminderKind.DISCARD_DATE, life.until, about_id=str(bottle.id))
        for bottle in kit.bottles
        if bottle.ended_on is None
        and bottle.opened_on is not None
        and (life := life_of(bottle)) is not None
    ]
    return found


def _control_tests(
    kit: KitData, settings: LogSettings, now: Moment, today: date
) -> list[DatedFact]:
    return [
        DatedFact(ReminderKind.CONTROL_TEST, today, meter.name, about_id=str(meter.id))
        for meter in own_meters(kit.meters, today)
        if due_reasons(meter.id, kit, settings, now)
    ]


def _orders(
    kit: KitData, settings: LogSettings, now: Moment, plan_strips_a_day: Fraction | None
) -> list[DatedFact]:
    if not kit.vials:
        return []  # of strips nothing is known until the first pot is written down
    names = {meter.id: meter.name for meter in kit.meters}
    found = []
    for outlook in stock_outlooks(kit, settings, now, plan_strips_a_day):
        day = outlook.must_wait_until or outlook.reorder_by
        if day is not None:
            name = "" if outlook.meter_id is None else names.get(outlook.meter_id, "")
            # An order that is late is due today.
            day = max(day, now.day(settings.day_starts_at))
            found.append(
                DatedFact(ReminderKind.STOCK, day, name, about_id=str(outlook.meter_id or ""))
            )
    return found
