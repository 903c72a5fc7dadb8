"""When to look at a meter's clock: after the clocks changed, a journey, or a new battery."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment

# So long it is asked about. Judgement without a source.
ASKED_FOR = timedelta(days=30)
_PRECISELY = timedelta(minutes=1)


class ClockReason(StrEnum):
    """Why a meter's clock may be wrong."""

    CLOCKS_CHANGED = "clocks_changed"
    BATTERY_CHANGED = "battery_changed"
    OTHER_PLACE = "other_place"


@dataclass(frozen=True, slots=True)
class ClockCheckDue:
    """That a meter's clock should be looked at; `arose` is when it may have gone wrong."""

    meter_id: UUID
    why: ClockReason
    arose: datetime


def clock_check_due(
    meter: Meter, kit: KitData, now: Moment, *, elsewhere_since: datetime | None = None
) -> ClockCheckDue | None:
    """The newest reason to look at a meter's clock since it was last checked; None for none.

    Clocks are those of the zone of `now`; `elsewhere_since` is since when that is the clock of
    another place than before. A meter of someone else is never asked about.
    """
    if not meter.is_own or not meter.is_in_use(now.wall.date()):
        return None
    found = []
    changed = last_clock_change(now, ASKED_FOR)
    if changed is not None and Moment.at(changed, now.zone).wall.date() >= meter.in_use_from:
        found.append(ClockCheckDue(meter.id, ClockReason.CLOCKS_CHANGED, changed))
    if elsewhere_since is not None and now.instant - elsewhere_since <= ASKED_FOR:
        found.append(ClockCheckDue(meter.id, ClockReason.OTHER_PLACE, elsewhere_since))
    events = [
        event
        for event in kit.meter_events
        if event.counts and event.meter_id == meter.id and event.at.instant <= now.instant
    ]
    found += [
        ClockCheckDue(meter.id, ClockReason.BATTERY_CHANGED, event.at.instant)
        for event in events
        if event.what is MeterWhat.BATTERY_CHANGED and now.instant - event.at.instant <= ASKED_FOR
    ]
    checked = max(
        (event.at.instant for event in events if event.what is MeterWhat.CLOCK_CHECKED),
        default=None,
    )
    due = [one for one in found if checked is None or one.arose > checked]
    return max(due, key=lambda one: one.arose, default=None)


def last_clock_change(now: Moment, within: timedelta) -> datetime | None:
    """When the clocks of the zone of `now` last changed, at most `within` ago, to the minute."""
    late = now.instant
    while now.instant - late < within:
        early = max(late - timedelta(days=1), now.instant - within)
        if _offset(early, now.zone) != _offset(late, now.zone):
            return _change_between(early, late, now.zone)
        late = early
    return None


def _change_between(early: datetime, late: datetime, zone: str) -> datetime:
    after = _offset(late, zone)
    while late - early > _PRECISELY:
        middle = early + (late - early) / 2
        if _offset(middle, zone) == after:
            late = middle
        else:
            early = middle
    # Clocks change on a whole minute.
    return late.replace(second=0, microsecond=0)


def _offset(instant: datetime, zone: str) -> timedelta:
    return Moment.at(instant, zone).offset
