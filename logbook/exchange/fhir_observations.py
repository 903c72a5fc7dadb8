"""What one resource of a FHIR file says: a reading, something else, or a reason to refuse it.

Codes decide, never the texts beside them. An Observation is refused, never repaired; what it tells
of a meal or a place without naming which goes into the note, in its own words, and is not guessed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from logbook.domain.errors import LogbookError
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Reading, Source
from logbook.domain.slots import Slot
from logbook.exchange.fhir_circumstances import (
    circumstances_of,
    components_of,
    dicts,
    own_text,
)
from logbook.exchange.fhir_codes import (
    ENTERED_IN_ERROR,
    FASTING_CODES,
    FINAL_STATUSES,
    OWN,
    PROGRAM,
    TIME_ZONE,
    URI,
)
from logbook.exchange.fhir_earlier import earlier_in, recheck_in
from logbook.exchange.fhir_values import LeftOut, glucose_of, measured_in
from logbook.exchange.identity import IdentityGiver
from logbook.exchange.line_reader import EARLIEST_YEAR
from logbook.exchange.refusals import LineRefused, Reason
from logbook.exchange.told_offsets import moment_told
from logbook.exchange.usable_text import has_unusable_signs
from logbook.wording import _

_DAY_ALONE = re.compile(r"[0-9]{4}(-[0-9]{2}){0,2}", re.ASCII)


class ObservationReader:
    """Reads the resources of one file, in their order."""

    def __init__(self, home_zone: str, now: datetime) -> None:
        self._home_zone = home_zone
        self._now = now
        self._latest = now + timedelta(days=1)
        self._identities = IdentityGiver()
        self._seen: set[UUID] = set()

    def read(self, resource: Any) -> Reading:
        """The reading of a resource. Raises `LeftOut` and `LineRefused`."""
        if not isinstance(resource, dict) or not isinstance(resource.get("resourceType"), str):
            raise LineRefused(Reason.NOT_A_RESOURCE)
        if resource["resourceType"] != "Observation":
            raise LeftOut(_("not an observation"))
        measured, codes = measured_in(resource)
        status = resource.get("status")
        own_id = _own_id(resource)
        is_own = _is_own(resource)
        is_crossed_out = status == ENTERED_IN_ERROR and is_own
        if not (isinstance(status, str) and status in FINAL_STATUSES) and not is_crossed_out:
            raise LeftOut(_("withdrawn or not final"))
        at = self._moment(resource)
        glucose = glucose_of(measured)
        told = circumstances_of(resource)
        crossed_out = self._crossed_out(resource) if is_crossed_out else None
        earlier = earlier_in(resource, self._moment) if is_own else ()
        reasons = [one.reason for one in earlier]
        reasons += [] if crossed_out is None else [crossed_out.reason]
        if has_unusable_signs("".join([told.note, told.initials, *reasons])):
            raise LineRefused(Reason.CONTROL_CHARACTERS)
        is_fasting = told.slot is Slot.OTHER and not FASTING_CODES.isdisjoint(codes)
        reading = Reading(
            id=UUID(int=0),
            glucose=glucose,
            at=at,
            written_at=self._written_at(resource) if is_own else self._now,
            slot=Slot.FASTING if is_fasting else told.slot,
            purpose=told.purpose,
            source=told.source or Source.IMPORTED,
            minutes_after=told.minutes_after,
            meter_id=_meter_id(resource),
            is_foreign=told.is_foreign,
            site=told.site,
            site_use=told.site_use,
            recheck_of=recheck_in(resource),
            feelings=told.feelings,
            differences=told.differences,
            could_not_wash=told.could_not_wash,
            note=told.note,
            initials=told.initials,
            crossed_out=crossed_out,
            doubt=told.doubt,
            earlier=earlier,
        )
        return replace(reading, id=self._identity(own_id, reading))

    def _identity(self, own_id: UUID | None, reading: Reading) -> UUID:
        if own_id is not None and own_id not in self._seen:
            self._seen.add(own_id)
            return own_id
        return self._identities.give(reading.at, reading.glucose)

    def _written_at(self, resource: dict[str, Any]) -> datetime:
        try:
            issued = datetime.fromisoformat(resource["issued"])
            return self._now if issued.tzinfo is None else issued.astimezone(UTC)
        except (KeyError, TypeError, ValueError, OverflowError):
            return self._now

    def _crossed_out(self, resource: dict[str, Any]) -> CrossedOut:
        reason = own_text(components_of(resource), "crossed-out-reason")
        for note in dicts(resource.get("note")):
            if note.get("authorString") == PROGRAM and isinstance(note.get("time"), str):
                try:
                    return CrossedOut(datetime.fromisoformat(note["time"]).astimezone(UTC), reason)
                except (ValueError, OverflowError):
                    break
        return CrossedOut(self._now, reason)

    def _moment(self, resource: dict[str, Any]) -> Moment:
        text = next(filter(None, _times(resource)), None)
        if not isinstance(text, str):
            raise LineRefused(Reason.DATE_MISSING_OR_MALFORMED)
        if _DAY_ALONE.fullmatch(text):
            raise LineRefused(Reason.TIME_MALFORMED)
        try:
            told = datetime.fromisoformat(text)
            if told.tzinfo is None:  # R4 asks for an offset; without one it is the wall clock
                at = Moment.from_wall(told, self._home_zone, zone_assumed=True)
            else:
                at = self._placed(told, _zone(resource))
        except (ValueError, OverflowError, LogbookError) as error:
            raise LineRefused(Reason.DATE_MISSING_OR_MALFORMED) from error
        if at.wall.year < EARLIEST_YEAR:
            raise LineRefused(Reason.DATE_TOO_EARLY)
        if at.instant > self._latest:
            raise LineRefused(Reason.DATE_IN_FUTURE)
        return at

    def _placed(self, told: datetime, zone: str | None) -> Moment:
        """The moment of an instant with its offset, and its zone where that is told."""
        if zone is None:
            return moment_told(told, self._home_zone)
        instant, offset = told.astimezone(UTC), told.utcoffset() or timedelta(0)
        Moment.at(instant, zone)  # a zone that is not known is refused
        return Moment(instant, told.replace(tzinfo=None), offset, zone)


def _is_own(resource: dict[str, Any]) -> bool:
    """Whether this program wrote it: only then does it know what "entered in error" came from."""
    return any(
        system == OWN
        for component in components_of(resource)
        for system, _code in (*component.codes, *component.value_codes)
    )


def _own_id(resource: dict[str, Any]) -> UUID | None:
    for identifier in dicts(resource.get("identifier")):
        value = identifier.get("value")
        if identifier.get("system") == URI and isinstance(value, str):
            try:
                return UUID(value.removeprefix("urn:uuid:"))
            except ValueError:
                continue
    return None


def _meter_id(resource: dict[str, Any]) -> UUID | None:
    device = resource.get("device")
    named = device.get("reference") if isinstance(device, dict) else None
    try:
        return UUID(str(named).removeprefix("urn:uuid:"))
    except ValueError:
        return None


# --- when -----------------------------------------------------------------------------------------


def _times(resource: dict[str, Any]) -> Iterator[Any]:
    """What may tell when it was, in the order in which it is believed."""
    yield resource.get("effectiveDateTime")
    yield resource.get("effectiveInstant")
    period = resource.get("effectivePeriod")
    yield period.get("start") if isinstance(period, dict) else None
    timing = resource.get("effectiveTiming")
    events = timing.get("event") if isinstance(timing, dict) else None
    yield events[0] if isinstance(events, list) and events else None


def _zone(resource: dict[str, Any]) -> str | None:
    beside = resource.get("_effectiveDateTime")
    for extension in dicts(beside.get("extension") if isinstance(beside, dict) else None):
        if extension.get("url") == TIME_ZONE and isinstance(extension.get("valueCode"), str):
            return str(extension["valueCode"])
    return None
