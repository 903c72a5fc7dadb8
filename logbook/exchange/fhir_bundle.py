"""The log as a Bundle of HL7 FHIR R4, for the computer of a clinic.

One `collection` with a Patient, a Device for each meter, and Observations: readings, control tests
(about the meter and never about the person), laboratory values, and what happened without a number.
The rest of the log (kit, plan, questions) has no place there; it is in the export of tables.
FHIR R4, read at HL7; the resources are in `fhir_readings` and here.
"""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5

from logbook.domain.errors import LogbookError
from logbook.domain.happenings import Happening
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.meter_care import LabComparison
from logbook.domain.kit.meters import Meter
from logbook.domain.laboratory import LabA1C
from logbook.domain.moments import parse_day
from logbook.domain.settings import LogSettings
from logbook.domain.whole_log import WholeLog
from logbook.exchange.fhir_codes import (
    A1C,
    CONTROL_TEST,
    ENTERED_IN_ERROR,
    LABORATORY,
    OWN,
)
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
    noted,
    own_concept,
    quantity,
    reference,
)
from logbook.exchange.fhir_readings import reading_resource
from logbook.wording import _
from logbook.wording.numbers import glucose_text
from logbook.wording.sites import site_text
from logbook.wording.terms import strip_failure_text, what_text

# The person of a log without other identity: a random UUID, fixed for good.
_NAMESPACE = UUID("b7a2a7d5-5c0f-4f5a-9e39-0d6c3b1f7a54")


def fhir_bundle(log: WholeLog, now: datetime) -> bytes:
    """The Bundle as JSON in UTF-8. `now` is the aware instant at which it is made.

    Damaged readings are left out: what may be left of them is no number.
    """
    patient_id = uuid5(_NAMESPACE, f"{log.settings.person_name}/{log.settings.born}")
    head = {"resourceType": "Bundle", "type": "collection", "timestamp": instant_text(now)}
    content = io.BytesIO()
    content.write(_as_json(head)[:-1])
    between = b',"entry":['
    # Entry by entry: a log of many years as one piece would take a computer's whole memory.
    for resource in _resources(log, patient_id):
        content.write(between)
        content.write(_as_json({"fullUrl": f"urn:uuid:{resource['id']}", "resource": resource}))
        between = b","
    content.write(b"]}")
    return content.getvalue()


def _as_json(part: Part) -> bytes:
    return _ENCODER.encode(part).encode()


class _NumberEncoder(json.JSONEncoder):
    """Writes a decimal as the number it is: mmol/L keep their one decimal, mg/dL have none."""

    def default(self, value: object) -> Any:  # the base class names it `o`
        if isinstance(value, Decimal):
            return int(value) if value.as_tuple().exponent == 0 else float(value)
        return super().default(value)


_ENCODER = _NumberEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False)


def _resources(log: WholeLog, patient_id: UUID) -> Iterator[Part]:
    meters = {meter.id: meter for meter in log.kit.meters}
    yield _patient(log.settings, patient_id)
    for meter in log.kit.meters:
        yield _device(meter)
    for reading in log.readings:
        if not reading.is_damaged:
            yield reading_resource(reading, patient_id, meters)
    for happening in log.happenings:
        yield _happening(happening, patient_id)
    for test in log.kit.control_tests:
        yield _control_test(test, meters)
    for comparison in log.kit.lab_comparisons:
        yield _laboratory_glucose(comparison, patient_id)
    for a1c in log.a1cs:
        yield _laboratory_a1c(a1c, patient_id)


def _patient(settings: LogSettings, patient_id: UUID) -> Part:
    resource: Part = {"resourceType": "Patient", **identified(patient_id)}
    if name := fhir_text(settings.person_name):
        resource["name"] = [{"text": name}]
    if (born := _day_of(settings.born)) is not None:
        resource["birthDate"] = born.isoformat()
    return resource


def _day_of(text: str) -> date | None:
    try:
        return parse_day(text)
    except LogbookError:
        return None


def _device(meter: Meter) -> Part:
    resource: Part = {
        "resourceType": "Device",
        **identified(meter.id),
        "status": "active" if meter.in_use_until is None else "inactive",
        "type": concept(_("Blood glucose meter")),
    }
    if name := fhir_text(meter.name):
        resource["deviceName"] = [{"name": name, "type": "user-friendly-name"}]
    return resource


def _observation(record_id: UUID, code: Part, *, counts: bool) -> Part:
    return {
        "resourceType": "Observation",
        **identified(record_id),
        "status": "final" if counts else ENTERED_IN_ERROR,
        "code": code,
    }


def _happening(happening: Happening, patient_id: UUID) -> Part:
    code = own_concept(f"happening-{happening.what}", what_text(happening.what))
    resource = {
        **_observation(happening.id, code, counts=happening.counts),
        "subject": reference(patient_id),
        **effective(happening.at),
        "issued": instant_text(happening.written_at),
        "valueBoolean": True,
        **noted(happening.note),
    }
    if happening.site is not None:
        resource["bodySite"] = concept(
            site_text(happening.site), coding(OWN, f"site-{happening.site.code}")
        )
    if happening.strip_failure is not None:
        failure = happening.strip_failure
        resource["component"] = [
            {
                "code": own_concept("strip-failure", _("What was done after it")),
                "valueCodeableConcept": own_concept(
                    f"strip-failure-{failure}", strip_failure_text(failure)
                ),
            }
        ]
    return resource


def _control_test(test: ControlTest, meters: dict[UUID, Meter]) -> Part:
    meter = None if test.meter_id is None else meters.get(test.meter_id)
    name = _("Control solution test of the meter, not blood")
    code = concept(name, coding(*CONTROL_TEST))
    resource = {
        **_observation(test.id, code, counts=test.counts),
        **effective(test.at),
        "issued": instant_text(test.written_at),
        **measured(test.glucose, meter),
        **noted(test.note),
    }
    if meter is not None:
        device = named_reference(meter.id, meter.name)
        resource |= {"subject": device, "device": device}
    if level := fhir_text(test.level):
        resource["component"] = [
            {
                "code": own_concept("control-level", _("Level of the control solution")),
                "valueString": level,
            }
        ]
    return resource


def _laboratory_glucose(comparison: LabComparison, patient_id: UUID) -> Part:
    value = comparison.laboratory
    beside = _("A fingerstick beside it showed {value}.").format(
        value=glucose_text(comparison.glucose)
    )
    return {
        **_observation(
            comparison.id, loinc_concept(LABORATORY[value.unit]), counts=comparison.counts
        ),
        "subject": reference(patient_id),
        **effective(comparison.at),
        "issued": instant_text(comparison.written_at),
        **measured(value, None),
        **noted(f"{beside} {comparison.note}".strip()),
    }


def _laboratory_a1c(a1c: LabA1C, patient_id: UUID) -> Part:
    value = Decimal(a1c.steps) / a1c.unit.steps_per_one
    return {
        **_observation(a1c.id, loinc_concept(A1C[a1c.unit]), counts=a1c.counts),
        "subject": reference(patient_id),
        "effectiveDateTime": a1c.drawn_on.isoformat(),
        "issued": instant_text(a1c.written_at),
        "valueQuantity": quantity(value, a1c.unit),
        **noted(a1c.note),
    }
