"""The calendar of the coming year for a phone, from what the log knows now."""

from __future__ import annotations

from datetime import timedelta

from logbook.domain.kit.kit_data import KitData
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.dated_facts import dated_facts
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.domain.settings import LogSettings
from logbook.exchange.calendar_file import calendar_file
from logbook.wording.dated_facts import named_facts

# An event ends with the file's period, so that an old file on a phone falls silent.
DAYS_AHEAD = 365


def calendar_of_year(facts: PlanFacts, kit: KitData, settings: LogSettings, now: Moment) -> bytes:
    """The iCalendar file of the year from the person's present day on."""
    today = now.day(settings.day_starts_at)
    last = today + timedelta(days=DAYS_AHEAD)
    strips = plan_strips_a_day(facts.plans, today)
    dated = dated_facts(kit, settings, facts.appointments, now, last, strips)
    return calendar_file(
        facts,
        named_facts(dated, kit),
        Period(today, last),
        settings.day_starts_at,
        now.instant,
    )
