"""A reading as an Observation of FHIR R4.

What FHIR has no place for stands in components with the program's own codes and a text, so that
another program can show it and this one can read it back. A crossed-out reading is
`entered-in-error`, a corrected one `amended`; what it said before is told in a note.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.meters import Meter
from logbook.domain.readings import Earlier, Reading
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.exchange.fhir_codes import (
    ENTERED_IN_ERROR,
    EVENT_OF_SLOT,
    FASTING,
    FINGERSTICK,
    MEAL_CONTEXT,
    OWN,
    PROGRAM,
)
from logbook.exchange.fhir_earlier import past_of
from logbook.exchange.fhir_parts import (
    Part,
    coding,
    concept,
    effective,
    fhir_text,
    identified,
    instant_text,
    loinc_concept,
    measured,
    named_reference,
    own_concept,
    quantity,
    reference,
)
from logbook.wording import _
from logbook.wording.dates import clock_text, day_text
from logbook.wording.numbers import glucose_text
from logbook.wording.sites import site_text, site_use_text
from logbook.wording.terms import (
    difference_text,
    doubt_text,
    feeling_text,
    purpose_text,
    slot_text,
    source_text,
)


def reading_resource(reading: Reading, patient_id: UUID, meters: Mapping[UUID, Meter]) -> Part:
    """The Observation of a reading that is not damaged."""
    meter = None if reading.meter_id is None else meters.get(reading.meter_id)
    names = FASTING if reading.slot is Slot.FASTING else FINGERSTICK
    resource: Part = {
        "resourceType": "Observation",
        **identified(reading.id),
        **past_of(reading),
        "status": _status(reading),
        "code": loinc_concept(names[reading.glucose.unit]),
        "subject": reference(patient_id),
        **effective(reading.at),
        "issued": instant_text(reading.written_at),
        **measured(reading.glucose, meter),
    }
    if notes := list(_notes(reading)):
        resource["note"] = notes
    if reading.site is not None:
        code = coding(OWN, f"site-{reading.site.code}")
        resource["bodySite"] = concept(site_text(reading.site), code)
    if meter is not None:
        resource["device"] = named_reference(meter.id, meter.name)
    resource["component"] = list(_components(reading))
    return resource


def _status(reading: Reading) -> str:
    if reading.crossed_out is not None:
        return ENTERED_IN_ERROR
    return "amended" if reading.earlier else "final"


# --- notes ----------------------------------------------------------------------------------------


def _notes(reading: Reading) -> Iterator[Part]:
    """The person's own note first; then what the program has to tell, under its name."""
    if note := fhir_text(reading.note):
        yield {"text": note}
    if reading.doubt is not None:
        yield _told(doubt_text(reading.doubt))
    for earlier in reading.earlier:
        yield _told(_earlier_text(earlier))
    if reading.crossed_out is not None:
        yield {**_told(_("Crossed out.")), "time": instant_text(reading.crossed_out.at)}


def _told(text: str) -> Part:
    return {"authorString": PROGRAM, "text": text}


def _earlier_text(earlier: Earlier) -> str:
    said = _("Before it was corrected: {value}, {day}, {clock}, {slot}.").format(
        value=glucose_text(earlier.glucose),
        day=day_text(earlier.at.wall.date()),
        clock=clock_text(earlier.at),
        slot=slot_text(earlier.slot),
    )
    return f"{said} {fhir_text(earlier.reason)}".strip()


# --- components -----------------------------------------------------------------------------------


def _components(reading: Reading) -> Iterator[Part]:
    yield _meal(reading)
    if reading.minutes_after is not None:
        yield {
            "code": own_concept("minutes-after", _("Minutes after the first bite")),
            "valueQuantity": quantity(Decimal(reading.minutes_after), "min"),
        }
    coded: list[tuple[str, str, StrEnum, str]] = [
        ("source", _("How it came into the log"), reading.source, source_text(reading.source))
    ]
    if reading.purpose is not Purpose.PLANNED:
        purpose = reading.purpose
        coded.append(("purpose", _("Why it was made"), purpose, purpose_text(purpose)))
    if reading.site is not None or reading.site_use is not SiteUse.NOT_NOTED:
        use = reading.site_use
        coded.append(("site-use", _("How the site is known"), use, site_use_text(use)))
    if reading.doubt is not None:
        coded.append(("doubt", _("Not believed"), reading.doubt, doubt_text(reading.doubt)))
    coded += [("feeling", _("Felt"), one, feeling_text(one)) for one in reading.feelings]
    coded += [
        ("difference", _("What was different"), one, difference_text(one))
        for one in reading.differences
    ]
    for kind, name, code, text in coded:
        yield {
            "code": own_concept(kind, name),
            "valueCodeableConcept": own_concept(f"{kind}-{code}", text),
        }
    if reading.could_not_wash:
        yield _yes("could-not-wash", _("Could not wash the finger"))
    if reading.is_foreign:
        yield _yes("meter-of-others", _("Made with a meter of others"))
    if initials := fhir_text(reading.initials):
        yield _text("initials", _("Written down by"), initials)
    if reading.crossed_out is not None and (reason := fhir_text(reading.crossed_out.reason)):
        yield _text("crossed-out-reason", _("Why it was crossed out"), reason)


def _yes(code: str, name: str) -> Part:
    return {"code": own_concept(code, name), "valueBoolean": True}


def _text(code: str, name: str, text: str) -> Part:
    return {"code": own_concept(code, name), "valueString": text}


def _meal(reading: Reading) -> Part:
    codings = [coding(OWN, f"slot-{reading.slot}")]
    if (event := EVENT_OF_SLOT.get(reading.slot)) is not None:
        codings.insert(0, coding(*event))
    return {
        "code": concept(_("Time of day"), coding(*MEAL_CONTEXT)),
        "valueCodeableConcept": concept(slot_text(reading.slot), *codings),
    }
