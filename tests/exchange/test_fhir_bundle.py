"""The FHIR bundle, validated by an independent model of HL7 FHIR R4B, element by element.

The model is the package fhir.resources (generated from HL7's own structure definitions). R4B
changed nothing in Bundle, Patient, Device and Observation that is written here.
"""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given, settings

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import Meter
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Doubt, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site
from logbook.domain.slots import Slot
from logbook.domain.whole_log import WholeLog
from logbook.exchange.fhir_bundle import fhir_bundle
from tests.exchange.whole_logs import NOW, whole_logs

bundles = pytest.importorskip("fhir.resources.R4B.bundle", reason="fhir.resources is not installed")

AT = Moment.from_wall(datetime(2026, 3, 1, 7, 15), "Europe/Berlin")
METER = Meter.usual(UUID(int=7, version=4), "bedside", Unit.MG_DL, date(2026, 1, 1))


def reading(glucose: Glucose, slot: Slot = Slot.BEFORE_DINNER, **more: Any) -> Reading:
    return Reading(UUID(int=1, version=4), glucose, AT, AT.instant, slot, **more)


# What the model leaves open: codes that R4 requires to be from these (read at HL7).
STATUSES = {
    "registered",
    "preliminary",
    "final",
    "amended",
    "corrected",
    "cancelled",
    "entered-in-error",
    "unknown",
}


def observations(log: WholeLog) -> list[dict[str, Any]]:
    """The Observations of the bundle, as JSON, once the model has accepted all of it."""
    content = fhir_bundle(log, NOW)
    bundles.Bundle.model_validate_json(content)
    entries = json.loads(content, parse_float=Decimal)["entry"]
    found = [one["resource"] for one in entries if one["resource"]["resourceType"] == "Observation"]
    for one in found:
        assert one["status"] in STATUSES
        assert one["code"]["text"]
        assert one.get("valueQuantity", {}).get("comparator", "<") in ("<", "<=", ">=", ">")
    assert all(one["fullUrl"] == f"urn:uuid:{one['resource']['id']}" for one in entries)
    return found


def observation(one: Reading, meters: tuple[Meter, ...] = ()) -> dict[str, Any]:
    log = WholeLog(LogSettings(), readings=(one,), kit=KitData(meters=meters))
    (found,) = observations(log)
    return found


def code_of(resource: dict[str, Any]) -> tuple[str, str]:
    (coding,) = resource["code"]["coding"]
    return coding["system"], coding["code"]


@settings(max_examples=60, deadline=None)
@given(whole_logs)
def test_a_bundle_of_any_log_is_valid(log: WholeLog) -> None:
    found = observations(log)
    kit = log.kit
    told: tuple[Any, ...] = (
        *log.readings,
        *log.happenings,
        *kit.control_tests,
        *kit.lab_comparisons,
        *log.a1cs,
    )
    assert [one["id"] for one in found] == [str(one.id) for one in told]


def test_the_model_refuses_what_is_no_fhir() -> None:
    """The negative control: each of these slips has to be caught by the model."""
    content = json.loads(
        fhir_bundle(WholeLog(LogSettings(), (reading(Glucose.number(128, Unit.MG_DL)),)), NOW)
    )
    bundles.Bundle.model_validate(content)
    slips: list[tuple[str, Any]] = [
        ("effectiveDateTime", "2026-03-01 07:15"),
        ("issued", "2026-03-01"),
        ("id", "an_id"),
        ("valueQuantity", {"value": "many"}),
        ("valueString", "a second value"),
        ("note", [{"time": "2026-03-01T07:15:00Z"}]),
        ("bodyPart", {"text": "finger"}),
    ]
    for key, value in slips:
        wrong = json.loads(json.dumps(content))
        wrong["entry"][-1]["resource"][key] = value
        with pytest.raises(ValueError, match=r"validation error"):
            bundles.Bundle.model_validate(wrong)


@pytest.mark.parametrize(
    ("unit", "slot", "code"),
    [
        (Unit.MG_DL, Slot.BEFORE_DINNER, "41653-7"),
        (Unit.MMOL_L, Slot.BEFORE_DINNER, "14743-9"),
        (Unit.MG_DL, Slot.FASTING, "41604-0"),
        (Unit.MMOL_L, Slot.FASTING, "14770-2"),
    ],
)
def test_code_and_unit(unit: Unit, slot: Slot, code: str) -> None:
    """LOINC: the property (mass or moles) is part of the code. Source: LOINC's listing."""
    found = observation(reading(Glucose.number(70, unit), slot))
    assert code_of(found) == ("http://loinc.org", code)
    assert found["valueQuantity"] == {
        "value": Decimal(70) if unit is Unit.MG_DL else Decimal("7.0"),
        "unit": unit,
        "system": "http://unitsofmeasure.org",
        "code": unit,
    }
    assert str(found["valueQuantity"]["value"]) == ("70" if unit is Unit.MG_DL else "7.0")
    assert found["effectiveDateTime"] == "2026-03-01T07:15:00+01:00"


# The value set event-timing of FHIR R4, read at HL7: C (cibus) with M, D, V for breakfast, lunch
# and dinner, A before and P after; HS before sleep.
EVENTS = {
    Slot.FASTING: "ACM",
    Slot.AFTER_BREAKFAST: "PCM",
    Slot.BEFORE_LUNCH: "ACD",
    Slot.AFTER_LUNCH: "PCD",
    Slot.BEFORE_DINNER: "ACV",
    Slot.AFTER_DINNER: "PCV",
    Slot.BEFORE_SNACK: "AC",
    Slot.AFTER_SNACK: "PC",
    Slot.BEDTIME: "HS",
    Slot.NIGHT: "NIGHT",
    Slot.BETWEEN_MEALS: None,
    Slot.OTHER: None,
}


@pytest.mark.parametrize("slot", Slot)
def test_meal_timing(slot: Slot) -> None:
    found = observation(reading(Glucose.number(128, Unit.MG_DL), slot))
    codings = found["component"][0]["valueCodeableConcept"]["coding"]
    published = [one["code"] for one in codings if not one["system"].startswith("urn:uuid:")]
    assert published == [EVENTS[slot]] if EVENTS[slot] else published == []


def test_lo_and_hi_of_a_known_meter_are_beyond_its_last_number() -> None:
    low = observation(reading(Glucose.reads_low(Unit.MG_DL), meter_id=METER.id), (METER,))
    high = observation(reading(Glucose.reads_high(Unit.MG_DL), meter_id=METER.id), (METER,))
    told = [
        (one["valueQuantity"]["comparator"], one["valueQuantity"]["value"]) for one in (low, high)
    ]
    assert told == [("<", 20), (">", 600)]
    assert low["device"]["display"] == "bedside"
    assert "dataAbsentReason" not in low


def test_lo_and_hi_of_no_known_meter_have_a_reason_and_no_number() -> None:
    for glucose, reason, sign in (
        (Glucose.reads_low(Unit.MMOL_L), "negative-infinity", "<"),
        (Glucose.reads_high(Unit.MMOL_L), "positive-infinity", ">"),
    ):
        found = observation(reading(glucose))
        assert "valueQuantity" not in found
        assert found["dataAbsentReason"]["coding"][0]["code"] == reason
        assert found["interpretation"][0]["coding"][0]["code"] == sign


def test_what_became_of_a_reading_is_its_status() -> None:
    plain = reading(Glucose.number(128, Unit.MG_DL))
    corrected = plain.corrected(
        Glucose.number(182, Unit.MG_DL), AT, Slot.BEDTIME, AT.instant, "digits swapped"
    )
    crossed = replace(corrected, crossed_out=CrossedOut(AT.instant, "not mine"))
    doubted = replace(plain, doubt=Doubt.STRIP)
    found = [observation(one) for one in (plain, corrected, crossed, doubted)]
    assert [one["status"] for one in found] == ["final", "amended", "entered-in-error", "final"]
    assert "note" not in found[0]
    assert "128 mg/dL" in found[1]["note"][0]["text"]
    assert "digits swapped" in found[1]["note"][0]["text"]
    assert "Not believed" in found[3]["note"][0]["text"]


def test_the_place_is_a_text_without_a_borrowed_code() -> None:
    site = Site.from_code("right.ring.little_finger_side")
    found = observation(reading(Glucose.number(128, Unit.MG_DL), site=site))
    assert "ring finger" in found["bodySite"]["text"]
    assert all("snomed" not in one["system"] for one in found["bodySite"]["coding"])


def test_control_tests_stay_apart_from_the_person() -> None:
    test = ControlTest(
        UUID(int=9, version=4),
        AT,
        AT.instant,
        METER.id,
        None,
        None,
        "1",
        Glucose.number(112, Unit.MG_DL),
    )
    (found,) = observations(
        WholeLog(LogSettings(), kit=KitData(meters=(METER,), control_tests=(test,)))
    )
    assert found["code"]["coding"][0]["system"] != "http://loinc.org"
    assert found["subject"] == found["device"]
    assert found["subject"]["reference"] == f"urn:uuid:{METER.id}"


@pytest.mark.parametrize(
    ("steps", "unit", "code", "value"),
    [(71, A1CUnit.PERCENT, "4548-4", "7.1"), (54, A1CUnit.MMOL_MOL, "59261-8", "54")],
)
def test_a1c(steps: int, unit: A1CUnit, code: str, value: str) -> None:
    a1c = LabA1C(
        UUID(int=4, version=4), date(2026, 3, 1), steps, unit, datetime(2026, 3, 2, tzinfo=UTC)
    )
    (found,) = observations(WholeLog(LogSettings(), a1cs=(a1c,)))
    assert code_of(found)[1] == code
    assert str(found["valueQuantity"]["value"]) == value
    assert found["valueQuantity"]["code"] == unit


def test_a_damaged_reading_is_left_out() -> None:
    damaged = reading(Glucose.reads_low(Unit.MG_DL), is_damaged=True)
    assert observations(WholeLog(LogSettings(), readings=(damaged,))) == []
