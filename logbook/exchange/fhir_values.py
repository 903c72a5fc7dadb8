"""Whether an Observation of FHIR is a fingerstick, and what the meter showed.

Codes decide, never the texts beside them.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.exchange.fhir_circumstances import Code, codes_of, dicts
from logbook.exchange.fhir_codes import (
    CONTROL_CODES,
    FASTING,
    FINGERSTICK,
    FINGERSTICK_CODES,
    INTERPRETATION,
    LABORATORY_CODES,
    UCUM,
)
from logbook.exchange.refusals import LineRefused, Reason
from logbook.wording import _

_UNITS = {unit.value.casefold(): unit for unit in Unit}
_FAR_TOO_MUCH = 100_000  # beyond any value, and small enough to reckon with
_ABSENT_LOW, _ABSENT_HIGH = "negative-infinity", "positive-infinity"


class LeftOut(Exception):
    """Raised for a resource that is no fingerstick reading, with a word to count it under."""

    def __init__(self, word: str) -> None:
        super().__init__(word)
        self.word = word


def measured_in(resource: dict[str, Any]) -> tuple[dict[str, Any], tuple[Code, ...]]:
    """Where the glucose stands, the resource itself or one of its components, with its codes.

    Raises `LeftOut` when it is no fingerstick.
    """
    of_resource = codes_of(resource.get("code"))
    for part in (resource, *dicts(resource.get("component"))):
        codes = codes_of(part.get("code"))
        if not CONTROL_CODES.isdisjoint(codes):
            raise LeftOut(_("control test"))
        if not FINGERSTICK_CODES.isdisjoint(codes):
            return part, codes
    if not LABORATORY_CODES.isdisjoint(of_resource):
        raise LeftOut(_("laboratory value"))
    raise LeftOut(_("not a fingerstick"))


def glucose_of(measured: dict[str, Any]) -> Glucose:
    """What the meter showed. Raises `LineRefused`."""
    quantity = measured.get("valueQuantity")
    if not isinstance(quantity, dict):
        return _off_scale(measured)
    unit = _unit(quantity)
    comparator = quantity.get("comparator")
    if comparator == "<":
        return Glucose.reads_low(unit)
    if comparator == ">":
        return Glucose.reads_high(unit)
    value = quantity.get("value")
    if comparator is not None or isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise LineRefused(Reason.VALUE_NOT_A_NUMBER)
    if value == 0:
        raise LineRefused(Reason.GLUCOSE_ZERO)
    if not 0 < value < _FAR_TOO_MUCH:
        raise LineRefused(Reason.VALUE_IMPOSSIBLE)
    try:
        return Glucose.parse(_plain(Decimal(value), unit), unit)
    except DecimalsNotShown as error:
        raise LineRefused(Reason.DECIMALS_NOT_SHOWN) from error
    except ImpossibleGlucose as error:
        raise LineRefused(Reason.VALUE_IMPOSSIBLE) from error
    except LogbookError as error:
        raise LineRefused(Reason.VALUE_NOT_A_NUMBER) from error


def _plain(value: Decimal, unit: Unit) -> str:
    """The number without the noughts that say nothing: 99.0 mg/dL is 99, 6.30 mmol/L is 6.3."""
    shown = round(value, unit.decimals)
    return f"{shown if shown == value else value:f}"


def _unit(quantity: dict[str, Any]) -> Unit:
    """By the UCUM code; by the text only where there is no code."""
    code = quantity.get("code")
    if code is not None and quantity.get("system") not in (UCUM, None):
        raise LineRefused(Reason.UNIT_UNKNOWN)
    text = quantity.get("unit") if code is None else code
    unit = _UNITS.get(str(text).casefold())
    if unit is None:
        raise LineRefused(Reason.UNIT_UNKNOWN)
    return unit


def _off_scale(measured: dict[str, Any]) -> Glucose:
    """LO or HI without a number; the code of the Observation tells the unit of the meter."""
    absent = {code for _system, code in codes_of(measured.get("dataAbsentReason"))}
    scale = {
        code
        for one in dicts(measured.get("interpretation"))
        for system, code in codes_of(one)
        if system == INTERPRETATION
    }
    unit = _unit_of_code(codes_of(measured.get("code")))
    if _ABSENT_LOW in absent or "<" in scale:
        return Glucose.reads_low(unit)
    if _ABSENT_HIGH in absent or ">" in scale:
        return Glucose.reads_high(unit)
    raise LineRefused(Reason.VALUE_ABSENT)


def _unit_of_code(codes: tuple[Code, ...]) -> Unit:
    named = {code for _system, code in codes}
    for unit in Unit:
        if named & {FINGERSTICK[unit][0], FASTING[unit][0]}:
            return unit
    raise LineRefused(Reason.UNIT_UNKNOWN)
