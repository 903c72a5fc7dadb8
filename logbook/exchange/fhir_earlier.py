"""What a corrected reading said before, and which one it checks again: extensions of FHIR R4.

R4 has no place for an earlier value inside an Observation; other programs read of it in a note.
The extension for it is the program's own. That an observation follows another one has HL7's own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from logbook.domain.glucose import Glucose, Kind, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Earlier, Reading
from logbook.domain.slots import Slot
from logbook.exchange.fhir_circumstances import dicts
from logbook.exchange.fhir_codes import EARLIER, SEQUEL_TO, TIME_ZONE
from logbook.exchange.fhir_parts import (
    Part,
    effective,
    fhir_text,
    instant_text,
    quantity,
    reference,
)
from logbook.exchange.fhir_values import glucose_of
from logbook.exchange.refusals import LineRefused, Reason


def past_of(reading: Reading) -> Part:
    """The extensions of a reading, as a piece of its Observation; empty where there are none."""
    told: list[Part] = [_as_extension(one) for one in reading.earlier]
    if reading.recheck_of is not None:
        told.append({"url": SEQUEL_TO, "valueReference": reference(reading.recheck_of)})
    return {"extension": told} if told else {}


def earlier_in(
    resource: dict[str, Any], moment_of: Callable[[dict[str, Any]], Moment]
) -> tuple[Earlier, ...]:
    """What the reading of an Observation said before, oldest first.

    `moment_of` reads when an Observation was. Raises `LineRefused` for what says nothing known.
    """
    return tuple(
        _of_extension(one, moment_of)
        for one in dicts(resource.get("extension"))
        if one.get("url") == EARLIER
    )


def recheck_in(resource: dict[str, Any]) -> UUID | None:
    """The reading that an Observation checks again."""
    for one in dicts(resource.get("extension")):
        followed = one.get("valueReference")
        if one.get("url") == SEQUEL_TO and isinstance(followed, dict):
            try:
                return UUID(str(followed.get("reference")).removeprefix("urn:uuid:"))
            except ValueError:
                continue
    return None


def _as_extension(earlier: Earlier) -> Part:
    return {"url": EARLIER, "extension": list(_parts(earlier))}


def _parts(earlier: Earlier) -> Iterator[Part]:
    glucose = earlier.glucose
    if glucose.value is not None:
        yield {"url": "glucose", "valueQuantity": quantity(glucose.value, glucose.unit)}
    else:
        yield {"url": "off-scale", "valueCode": glucose.kind.value}
        yield {"url": "unit", "valueCode": glucose.unit.value}
    when = effective(earlier.at)
    yield {"url": "when", "valueDateTime": when["effectiveDateTime"]}
    if "_effectiveDateTime" in when:
        yield {"url": "zone", "valueCode": earlier.at.zone}
    yield {"url": "slot", "valueCode": earlier.slot.value}
    yield {"url": "corrected", "valueInstant": instant_text(earlier.corrected_at)}
    if reason := fhir_text(earlier.reason):
        yield {"url": "reason", "valueString": reason}


def _of_extension(told: dict[str, Any], moment_of: Callable[[dict[str, Any]], Moment]) -> Earlier:
    parts = {str(one.get("url")): one for one in dicts(told.get("extension"))}
    zone = {"url": TIME_ZONE, "valueCode": parts.get("zone", {}).get("valueCode")}
    at = moment_of(
        {
            "effectiveDateTime": parts.get("when", {}).get("valueDateTime"),
            "_effectiveDateTime": {"extension": [zone]},
        }
    )
    try:
        slot = Slot(_text(parts, "slot", "valueCode"))
        corrected_at = _instant(_text(parts, "corrected", "valueInstant"))
        glucose = _glucose(parts)
    except (ValueError, OverflowError) as error:
        raise LineRefused(Reason.CODE_UNKNOWN) from error
    return Earlier(glucose, at, slot, corrected_at, _text(parts, "reason", "valueString"))


def _glucose(parts: dict[str, dict[str, Any]]) -> Glucose:
    if "glucose" in parts:
        return glucose_of(parts["glucose"])
    unit = Unit(_text(parts, "unit", "valueCode"))
    if Kind(_text(parts, "off-scale", "valueCode")) is Kind.READS_LOW:
        return Glucose.reads_low(unit)
    return Glucose.reads_high(unit)


def _instant(text: str) -> datetime:
    """Raises `ValueError` for one without an offset: it would be this computer's clock."""
    found = datetime.fromisoformat(text)
    if found.tzinfo is None:
        raise ValueError(text)
    return found.astimezone(UTC)


def _text(parts: dict[str, dict[str, Any]], url: str, value: str) -> str:
    return str(parts.get(url, {}).get(value, ""))
