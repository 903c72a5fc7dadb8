"""Glucose values, figures, shares and counts as text, with their unit.

Values are written as a meter shows them: mg/dL whole, mmol/L with one decimal and the locale's
sign for it. Rounding is half up. Which figure may be shown at all is the domain's.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache

from babel.numbers import format_decimal, format_percent, get_decimal_symbol

from logbook.domain.glucose import HI_STEPS, LO_STEPS, Glucose, Unit, steps_to_value
from logbook.wording import _, ngettext
from logbook.wording.manner import find_locale, manner, plain_spaces

# What stands where there is no figure. Marks, not words, so they are not translated.
NOTHING = "–"


def unit_text(unit: Unit) -> str:
    """The unit as meters print it, the same in every language."""
    return unit.value


def glucose_text(glucose: Glucose, *, with_unit: bool = True) -> str:
    """A value as the meter showed it: "128 mg/dL", "7.1 mmol/L"; LO and HI stand without a unit."""
    return steps_text(glucose.order_steps, glucose.unit, with_unit=with_unit)


def steps_text(steps: int, unit: Unit, *, with_unit: bool = True) -> str:
    """A value in steps of `unit`, `LO_STEPS` and `HI_STEPS` included, as text."""
    if steps == LO_STEPS:
        return "LO"
    if steps == HI_STEPS:
        return "HI"
    number = str(steps_to_value(steps, unit))
    if unit.decimals:
        number = number.replace(".", _decimal_sign(manner().locale))
    return f"{number} {unit.value}" if with_unit else number


def figure_text(value: Decimal | float | None, unit: Unit, *, with_unit: bool = True) -> str:
    """A computed figure (mean, middle value, SD) in the decimals of its unit; a dash for None."""
    if value is None:
        return NOTHING
    number = number_text(value, unit.decimals)
    return f"{number} {unit.value}" if with_unit else number


def range_text(lowest: int, highest: int, unit: Unit, *, with_unit: bool = True) -> str:
    """Lowest to highest, both in steps: "62 to 214 mg/dL"; one value alone when they are equal."""
    if lowest == highest:
        return steps_text(lowest, unit, with_unit=with_unit)
    has_number = highest != HI_STEPS
    return _("{lowest} to {highest}").format(
        lowest=steps_text(lowest, unit, with_unit=with_unit and not has_number),
        highest=steps_text(highest, unit, with_unit=with_unit),
    )


def percent_text(percent: Decimal | float | None, decimals: int = 0) -> str:
    """A share given in percent (58.3), written the locale's way: "58%"; a dash for None."""
    if percent is None:
        return NOTHING
    share = _rounded(percent, decimals) / 100
    locale = find_locale(manner().locale)
    pattern = str(locale.percent_formats[None].pattern)
    if decimals:
        pattern = pattern.replace("0", "0." + "0" * decimals)
    return plain_spaces(format_percent(share, pattern, locale=locale))


def number_text(value: Decimal | float, decimals: int = 0) -> str:
    """A plain number, rounded half up, grouped the locale's way: "18,250", "7.1"."""
    pattern = "#,##0" + ("." + "0" * decimals if decimals else "")
    text = format_decimal(_rounded(value, decimals), pattern, locale=find_locale(manner().locale))
    return plain_spaces(text)


def count_of_text(count: int, of: int) -> str:
    """Some of a number of things: "7 of 12"."""
    return _("{count} of {total}").format(count=number_text(count), total=number_text(of))


def readings_text(count: int) -> str:
    """A count of readings: "1 reading", "14 readings"."""
    return ngettext("{n} reading", "{n} readings", count).format(n=number_text(count))


def days_text(count: int) -> str:
    """A count of days: "1 day", "84 days"."""
    return ngettext("{n} day", "{n} days", count).format(n=number_text(count))


def lows_text(count: int) -> str:
    """A count of lows: "no lows", "1 low", "3 lows"."""
    if count == 0:
        return _("no lows")
    return ngettext("{n} low", "{n} lows", count).format(n=number_text(count))


def times_text(count: int) -> str:
    """How often: "never", "once", "twice", "3 times"."""
    words = {0: _("never"), 1: _("once"), 2: _("twice")}
    return words.get(count) or ngettext("{n} time", "{n} times", count).format(n=number_text(count))


@lru_cache(maxsize=32)
def _decimal_sign(locale: str) -> str:
    return str(get_decimal_symbol(find_locale(locale)))


def _rounded(value: Decimal | float, decimals: int) -> Decimal:
    # str() gives the shortest decimal of a binary number, so 5.55 stays 5.55.
    return Decimal(str(value)).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
