"""The codes of HL7 FHIR R4 that an export writes and an import knows.

LOINC codes and names are those of LOINC's own listing; which of them belong to a glucometer was
checked in several listings, because public programs mix them up. UCUM writes the units as `mg/dL`
and `mmol/L`. Codes without a published code system are the program's own, under one URI.
"""

from __future__ import annotations

from types import MappingProxyType

from logbook.domain.glucose import Unit
from logbook.domain.laboratory import A1CUnit
from logbook.domain.slots import Slot

LOINC = "http://loinc.org"
UCUM = "http://unitsofmeasure.org"
DEVICE_CODES = "urn:iso:std:iso:11073:10101"
TIMING_EVENT = "http://terminology.hl7.org/CodeSystem/v3-TimingEvent"
EVENT_TIMING = "http://hl7.org/fhir/event-timing"
ABSENT = "http://terminology.hl7.org/CodeSystem/data-absent-reason"
INTERPRETATION = "http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation"
TIME_ZONE = "http://hl7.org/fhir/StructureDefinition/tz-code"
SEQUEL_TO = "http://hl7.org/fhir/StructureDefinition/observation-sequelTo"
URI = "urn:ietf:rfc:3986"

# The program's own codes: a random UUID, fixed for good.
OWN = "urn:uuid:6f0f4e0c-9f0b-4f0e-8b53-1f7a3f0a8f61"
# The extension that holds what a corrected reading said before: the same.
EARLIER = "urn:uuid:7a57e97e-552d-4e18-82dd-8cecf9a18fbb"

# Who wrote a note that is not the person's.
PROGRAM = "Fingerstick Logbook"

# --- glucose --------------------------------------------------------------------------------------

FINGERSTICK = MappingProxyType(
    {
        Unit.MG_DL: ("41653-7", "Glucose [Mass/volume] in Capillary blood by Glucometer"),
        Unit.MMOL_L: ("14743-9", "Glucose [Moles/volume] in Capillary blood by Glucometer"),
    }
)
FASTING = MappingProxyType(
    {
        Unit.MG_DL: ("41604-0", "Fasting glucose [Mass/volume] in Capillary blood by Glucometer"),
        Unit.MMOL_L: ("14770-2", "Fasting glucose [Moles/volume] in Capillary blood by Glucometer"),
    }
)
LABORATORY = MappingProxyType(
    {
        Unit.MG_DL: ("2345-7", "Glucose [Mass/volume] in Serum or Plasma"),
        Unit.MMOL_L: ("14749-6", "Glucose [Moles/volume] in Serum or Plasma"),
    }
)
A1C = MappingProxyType(
    {
        A1CUnit.PERCENT: ("4548-4", "Hemoglobin A1c/Hemoglobin.total in Blood"),
        A1CUnit.MMOL_MOL: (
            "59261-8",
            "Hemoglobin A1c/Hemoglobin.total in Blood by IFCC protocol",
        ),
    }
)

# What is taken in as a fingerstick: the codes above, capillary blood without a method, blood and no
# more (as in the R4 specification's own example), and the codes of personal health devices for
# capillary blood and for meters that do not say more (ISO/IEEE 11073-10417).
FINGERSTICK_CODES = frozenset(
    {
        *((LOINC, code) for code, _name in (*FINGERSTICK.values(), *FASTING.values())),
        (LOINC, "32016-8"),
        (LOINC, "1556-0"),
        (LOINC, "14760-3"),
        (LOINC, "2339-0"),
        (LOINC, "15074-8"),
        (DEVICE_CODES, "160184"),
        (DEVICE_CODES, "160188"),
        (DEVICE_CODES, "160364"),
        (DEVICE_CODES, "160368"),
    }
)
FASTING_CODES = frozenset({*((LOINC, code) for code, _name in FASTING.values()), (LOINC, "1556-0")})
LABORATORY_CODES = frozenset((LOINC, code) for code, _name in (*LABORATORY.values(), *A1C.values()))
CONTROL_TEST = (OWN, "control-test")
CONTROL_CODES = frozenset({CONTROL_TEST, (DEVICE_CODES, "160208")})

# --- meals ----------------------------------------------------------------------------------------

# The value set event-timing of R4; it has no code for "between meals".
EVENT_OF_SLOT = MappingProxyType(
    {
        Slot.FASTING: (TIMING_EVENT, "ACM"),
        Slot.AFTER_BREAKFAST: (TIMING_EVENT, "PCM"),
        Slot.BEFORE_LUNCH: (TIMING_EVENT, "ACD"),
        Slot.AFTER_LUNCH: (TIMING_EVENT, "PCD"),
        Slot.BEFORE_DINNER: (TIMING_EVENT, "ACV"),
        Slot.AFTER_DINNER: (TIMING_EVENT, "PCV"),
        Slot.BEFORE_SNACK: (TIMING_EVENT, "AC"),
        Slot.AFTER_SNACK: (TIMING_EVENT, "PC"),
        Slot.BEDTIME: (TIMING_EVENT, "HS"),
        Slot.NIGHT: (EVENT_TIMING, "NIGHT"),
    }
)
# AC and PC alone name no meal, so they tell no slot.
_NAME_NO_MEAL = ("AC", "PC")
SLOT_OF_EVENT = MappingProxyType(
    {event: slot for slot, event in EVENT_OF_SLOT.items() if event[1] not in _NAME_NO_MEAL}
    # Personal health devices (ISO/IEEE 11073-10417): fasting and bedtime; their codes for before
    # and after name no meal either.
    | {(DEVICE_CODES, "8417876"): Slot.FASTING, (DEVICE_CODES, "8417908"): Slot.BEDTIME}
    | {(OWN, f"slot-{slot}"): slot for slot in Slot}
)
MEAL_CONTEXT = (DEVICE_CODES, "8417864")
# Codes of personal health devices for where the drop came from begin with this name.
SAMPLE_LOCATION = "MDC_CTXT_GLU_SAMPLELOCATION"

# Statuses of an Observation whose value is meant to be used.
FINAL_STATUSES = frozenset({"final", "amended", "corrected"})
ENTERED_IN_ERROR = "entered-in-error"
