"""Gathering what a visit report is made from (`logbook.domain.visit_data`)."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from sqlalchemy import Engine, or_

from logbook.domain.kit.suspects import days_in_question
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sites import SiteUse
from logbook.domain.travel import Elsewhere, elsewhere_of
from logbook.domain.visit_data import VisitData
from logbook.domain.visit_review import days_of_average, latest_average, reach_of
from logbook.store.listing import Listing
from logbook.store.pages import Query, readings
from logbook.store.readings import read_readings

# Evenness of the fingers is told of so many days, however short the period of a report is.
_DAYS_OF_SITES = 30


def gather_visit(engine: Engine, listing: Listing, period: Period, made_at: Moment) -> VisitData:
    """Everything of the log that belongs into a report over `period`."""
    settings = listing.settings()
    starts_at = settings.day_starts_at
    series = listing.series(period)
    happenings = listing.happenings(period)
    a1cs, averages = listing.a1cs(), listing.meter_averages()
    average = latest_average(averages, period, starts_at)
    reach = reach_of(period, a1cs, averages, starts_at)
    reach_series, reach_happenings = listing.series(reach), listing.happenings(reach)
    kit = listing.kit(since=_earliest_instant(period, starts_at))
    today = made_at.day(starts_at)
    appointments = listing.appointments()
    spells, ticks = listing.spells(), listing.ticks()
    about = {
        *reach_series.ids,
        *(str(one.id) for several in (reach_happenings, spells, ticks.all) for one in several),
    }
    return VisitData(
        period=period,
        settings=settings,
        series=series,
        before=listing.series(period.before),
        noted=tuple(_noted(engine, period.wall_minutes(starts_at))),
        happenings=tuple(happenings),
        answers=tuple(one for one in listing.answers() if str(one.about) in about),
        targets=listing.targets(),
        meters=tuple(listing.meters()),
        lancet_changes=tuple(listing.lancet_changes(period)),
        spells=tuple(
            spell
            for spell in spells
            if spell.first <= period.last and (spell.last is None or spell.last >= period.first)
        ),
        medicines=tuple(listing.medicines()),
        questions=tuple(listing.questions()),
        last_appointment=next((a for a in reversed(appointments) if a.day < today), None),
        next_appointment=next((a for a in appointments if a.day >= today), None),
        sites=_sites_used(engine, period, listing),
        made_at=made_at,
        ticks=ticks,
        a1cs=tuple(a1cs),
        meter_averages=tuple(averages),
        kit=kit,
        plans=tuple(listing.plans()),
        pauses=tuple(listing.pauses()),
        put_asides=tuple(listing.put_asides()),
        appointments=tuple(appointments),
        meal_starts=tuple(listing.meal_starts(period)),
        medicine_notes=tuple(listing.medicine_notes(period)),
        contacts=tuple(listing.contacts()),
        reach=reach_series,
        reach_happenings=tuple(reach_happenings),
        with_circumstances=tuple(listing.with_circumstances(reach)),
        kit_readings=tuple(
            one
            for days in days_in_question(kit, settings, period)
            for one in read_readings(engine, Query(days.wall_minutes(starts_at)))
        ),
        average_readings=()
        if average is None
        else tuple(read_readings(engine, Query(days_of_average(average).wall_minutes(starts_at)))),
        elsewhere=_elsewhere(engine, period, settings),
        helped=tuple(_helped(engine, period.wall_minutes(starts_at))),
    )


def _earliest_instant(period: Period, starts_at: time) -> datetime:
    """An instant before all of the period's, in whatever zone: no offset is a whole day."""
    return datetime.combine(period.first, starts_at, UTC) - timedelta(days=1)


def _noted(engine: Engine, minutes: tuple[int, int]) -> list[Reading]:
    c = readings.c
    has_something = or_(
        c.note != "", c.earlier != "", c.crossed_out_at.is_not(None), c.doubt.is_not(None)
    )
    return read_readings(engine, Query(minutes, conditions=(has_something,)))


def _elsewhere(engine: Engine, period: Period, settings: LogSettings) -> tuple[Elsewhere, ...]:
    is_another = readings.c.zone != settings.home_zone
    minutes = period.wall_minutes(settings.day_starts_at)
    found = read_readings(engine, Query(minutes, conditions=(is_another,)))
    return elsewhere_of(found, settings.home_zone, settings.day_starts_at)


def _helped(engine: Engine, minutes: tuple[int, int]) -> list[Reading]:
    return read_readings(engine, Query(minutes, conditions=(readings.c.initials != "",)))


def _sites_used(engine: Engine, period: Period, listing: Listing) -> tuple[tuple[date, str], ...]:
    """Day and site of each puncture that was noted, of the period or the last 30 days of it."""
    starts_at = listing.settings().day_starts_at
    days = Period.ending(period.last, max(period.days, _DAYS_OF_SITES))
    c = readings.c
    used = (c.site_use == SiteUse.USED, c.site.is_not(None), c.crossed_out_at.is_(None))
    found = read_readings(engine, Query(days.wall_minutes(starts_at), conditions=used))
    return tuple(
        (one.at.day(starts_at), one.site.code)
        for one in found
        if one.site is not None and one.has_puncture
    )
