"""Temperatures as a person writes them; they are kept in tenths of a degree Celsius."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

# Where rooms are measured in Fahrenheit (Unicode CLDR, measurement data; from memory, not checked).
_IN_FAHRENHEIT = frozenset({"US", "BS", "BZ", "KY", "PR", "PW"})
_LEAST_TENTHS, _MOST_TENTHS = -300, 600


def temperature_unit(country: str) -> str:
    """The unit that is usual in a country: "°F" or "°C"."""
    return "°F" if country in _IN_FAHRENHEIT else "°C"


def read_temperature(text: str, country: str) -> int | None:
    """What was typed, in tenths of a degree Celsius; None where it is no temperature of a room."""
    try:
        degrees = Decimal(text.strip().rstrip("°CFcf ").replace(",", "."))
    except InvalidOperation:
        return None
    if not degrees.is_finite():
        return None
    if country in _IN_FAHRENHEIT:
        degrees = (degrees - 32) * 5 / 9
    tenths = int((degrees * 10).quantize(Decimal(1), ROUND_HALF_UP))
    return tenths if _LEAST_TENTHS <= tenths <= _MOST_TENTHS else None
