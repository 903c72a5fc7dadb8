"""Away from home: when the clock on the wall is another one, and which readings were made there.

The plan goes by the clock where the person is; rechecks and pairs go by elapsed time and need
nothing from here. A reading keeps the wall time and the zone in which it was written.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum

from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.spells import Spell, SpellKind

# So long after the change it is asked about. Judgement without a source.
ASKED_FOR = timedelta(days=3)
# Two stays at one place with so many days between them are two. Judgement without a source.
SEPARATE_AFTER = timedelta(days=7)
# As for the meter's clock after the clocks of a zone changed.
METER_CLOCK_ASKED_FOR = timedelta(days=30)


class TravelQuestion(StrEnum):
    """What to ask."""

    ARE_YOU_TRAVELLING = "are_you_travelling"
    ARE_YOU_HOME = "are_you_home"


@dataclass(frozen=True, slots=True)
class ZoneChange:
    """That the clock here is another one than at an earlier entry.

    `before` is that entry's moment; `ahead` is by how much the clock here is ahead of the one
    there, now (less than zero for behind). `first_here` is the first entry made by the clock here,
    None before there is one.
    """

    before: Moment
    ahead: timedelta
    first_here: Moment | None = None


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Readings of a period that were made by another clock than the one at home.

    `first` and `last` are the person's days of the first and last of them; `ahead` is by how much
    that clock was ahead of the one at home at the first.
    """

    zone: str
    first: date
    last: date
    count: int
    ahead: timedelta


def zone_change(newest_first: Iterable[Reading], now: Moment) -> ZoneChange | None:
    """The last change of the clock within `METER_CLOCK_ASKED_FOR`; None when there was none.

    Two zones whose clocks show the same now are one: nobody has to change a watch between them.
    Readings whose zone was only assumed, and those written from a file, tell nothing.
    """
    first_here: Moment | None = None
    for reading in newest_first:
        at = reading.at
        if at.zone_assumed or reading.is_damaged or at.instant > now.instant:
            continue
        ahead = clock_ahead(now, at.zone)
        if ahead:
            changed_at = now if first_here is None else first_here
            if now.instant - changed_at.instant > METER_CLOCK_ASKED_FOR:
                return None
            return ZoneChange(at, ahead, first_here)
        first_here = at
    return None


def clock_ahead(now: Moment, zone: str) -> timedelta:
    """By how much the clock of `now` is ahead of the one in `zone` at that instant."""
    return now.offset - Moment.at(now.instant, zone).offset


def travel_question(
    change: ZoneChange | None,
    spells: Iterable[Spell],
    now: Moment,
    today: date,
    *,
    home_zone: str,
    settled_zone: str = "",
) -> TravelQuestion | None:
    """What to ask about a change of the clock, on the person's day `today`; None for nothing.

    `settled_zone` is the zone about which the person wants no question. On a journey
    that is written down nothing is asked until the clock is the one at home again.
    """
    if change is None:
        return None
    if change.first_here is not None and now.instant - change.first_here.instant > ASKED_FOR:
        return None
    if settled_zone == now.zone:
        return None
    is_home = not clock_ahead(now, home_zone)
    if journey_of(spells, today) is not None:
        return TravelQuestion.ARE_YOU_HOME if is_home else None
    return None if is_home else TravelQuestion.ARE_YOU_TRAVELLING


def journey_of(spells: Iterable[Spell], today: date) -> Spell | None:
    """The journey that goes on today; of several the one begun last."""
    found = [one for one in spells if one.kind is SpellKind.TRAVEL and one.last is None]
    return max((one for one in found if one.covers(today)), key=_begin, default=None)


def ended(spell: Spell, today: date) -> Spell:
    """The spell with today, or its first day if that is later, as its last."""
    return replace(spell, last=max(today, spell.first))


def meter_clock_since(change: ZoneChange | None, now: Moment) -> datetime | None:
    """Since when a meter's own clock may be that of another place; None where it can't."""
    if change is None:
        return None
    return (now if change.first_here is None else change.first_here).instant


def elsewhere_of(
    oldest_first: Iterable[Reading], home_zone: str, day_starts_at: time
) -> tuple[Elsewhere, ...]:
    """Runs of readings made by a clock that was not the one at home, each in one zone.

    Another zone, or more than `SEPARATE_AFTER` without a reading made there, begins another run.
    Zones whose clock shows what the one at home shows are no other clock. Readings whose zone was
    assumed, crossed out or damaged ones tell nothing.
    """
    found: list[Elsewhere] = []
    for reading in oldest_first:
        at = reading.at
        if at.zone_assumed or reading.is_damaged or reading.crossed_out is not None:
            continue
        ahead, day = clock_ahead(at, home_zone), at.day(day_starts_at)
        if not ahead:
            continue
        is_same = found and found[-1].zone == at.zone and day - found[-1].last <= SEPARATE_AFTER
        if is_same:
            found[-1] = replace(found[-1], last=day, count=found[-1].count + 1)
        else:
            found.append(Elsewhere(at.zone, day, day, 1, ahead))
    return tuple(found)


def place_name(zone: str) -> str:
    """The place in a zone's name: "Argentina/Buenos_Aires" has "Buenos Aires"."""
    return zone.rpartition("/")[2].replace("_", " ")


def _begin(spell: Spell) -> tuple[date, str]:
    return spell.first, str(spell.id)
