"""The small pieces that resources of FHIR are made of, as plain data for JSON."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from logbook.domain.glucose import Glucose, Kind
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment
from logbook.exchange.fhir_codes import ABSENT, INTERPRETATION, LOINC, OWN, TIME_ZONE, UCUM, URI
from logbook.exchange.table_cells import in_unit, moment_text
from logbook.exchange.usable_text import usable_text
from logbook.wording.terms import kind_text

Part = dict[str, Any]

# A string of FHIR holds no other white space than these.
_OTHER_SPACE = re.compile(r"[^\S \r\n\t]")


def fhir_text(text: str) -> str:
    """A person's text as a string of FHIR; empty where nothing is left to see."""
    usable = _OTHER_SPACE.sub(" ", usable_text(text))
    return usable if usable.strip() else ""


def coding(system: str, code: str, display: str = "") -> Part:
    """One code of a code system."""
    return {"system": system, "code": code} | ({"display": display} if display else {})


def concept(text: str, *codings: Part) -> Part:
    """A concept: codes and a text."""
    return ({"coding": list(codings)} if codings else {}) | {"text": text}


def own_concept(code: str, text: str) -> Part:
    """A concept of the program's own."""
    return concept(text, coding(OWN, code))


def loinc_concept(named: tuple[str, str]) -> Part:
    """A concept of LOINC, by code and name."""
    code, name = named
    return concept(name, coding(LOINC, code, name))


def reference(record_id: UUID) -> Part:
    """A reference to another entry of the same bundle."""
    return {"reference": f"urn:uuid:{record_id}"}


def named_reference(record_id: UUID, name: str) -> Part:
    """The same, with a name to show, where there is one."""
    shown = fhir_text(name)
    return {**reference(record_id), **({"display": shown} if shown else {})}


def noted(text: str) -> Part:
    """A note of the person, where there is one."""
    shown = fhir_text(text)
    return {"note": [{"text": shown}]} if shown else {}


def identified(record_id: UUID) -> Part:
    """The identity of a record: the same in every export."""
    return {
        "id": str(record_id),
        "identifier": [{"system": URI, "value": f"urn:uuid:{record_id}"}],
    }


def instant_text(at: datetime) -> str:
    """An instant, in UTC."""
    return at.astimezone(UTC).replace(tzinfo=None).isoformat() + "Z"


def effective(at: Moment) -> Part:
    """When it was: the clock on the wall with its offset, and the zone where it is known.

    FHIR's offsets have whole minutes; those of some zones before about 1970 did not.
    """
    if at.offset.total_seconds() % 60:
        return {"effectiveDateTime": instant_text(at.instant)}
    told: Part = {"effectiveDateTime": moment_text(at)}
    if not at.zone_assumed:
        told["_effectiveDateTime"] = {"extension": [{"url": TIME_ZONE, "valueCode": at.zone}]}
    return told


def quantity(value: Decimal, unit: str, comparator: str = "") -> Part:
    """A number with its UCUM unit."""
    more = {"comparator": comparator} if comparator else {}
    return {"value": value, **more, "unit": unit, "system": UCUM, "code": unit}


def measured(glucose: Glucose, meter: Meter | None) -> Part:
    """What the meter showed.

    LO and HI are below or above the last number that this meter shows. Where that is not known,
    the reason stands in place of a number, as the HL7 guide for personal health devices does it.
    """
    if glucose.value is not None:
        return {"valueQuantity": quantity(glucose.value, glucose.unit)}
    is_low = glucose.kind is Kind.READS_LOW
    sign, name = ("<", "Off scale low") if is_low else (">", "Off scale high")
    off_scale = concept(kind_text(glucose.kind), coding(INTERPRETATION, sign, name))
    told: Part = {"interpretation": [off_scale]}
    if meter is not None and meter.unit is glucose.unit:
        last = in_unit(meter.lowest if is_low else meter.highest, meter.unit)
        return {"valueQuantity": quantity(last, glucose.unit, sign), **told}
    code = "negative-infinity" if is_low else "positive-infinity"
    return {
        "dataAbsentReason": concept(kind_text(glucose.kind), coding(ABSENT, code)),
        **told,
    }
