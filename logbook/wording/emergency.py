"""The emergency number of a country, as a word that fits into a sentence."""

from __future__ import annotations

from logbook.wording import _

# By ISO 3166 code. 112 in the European Union by its own directive; all from memory, not checked,
# and the person can write another number over it.
_NUMBERS = {
    "112": (
        "AT BE BG CH CY CZ DE DK EE ES FI FR GR HR HU IE IN IS IT LI LT LU LV MT NL NO PL PT RO "
        "SE SI SK TR"
    ),
    "911": "CA MX US",
    "999": "GB",
    "000": "AU",
    "111": "NZ",
}

_OF_COUNTRY = {
    country: number for number, countries in _NUMBERS.items() for country in countries.split()
}


def known_countries() -> tuple[str, ...]:
    """The two-letter codes of the countries whose number is known here."""
    return tuple(_OF_COUNTRY)


def emergency_number(country: str) -> str | None:
    """The number to dial in a country, by its two-letter code; None when it is not known here."""
    return _OF_COUNTRY.get(country.strip().upper())


def emergency_word(country: str, own: str = "") -> str:
    """What to call: the person's own number, the country's, or "the emergency number"."""
    return own.strip() or emergency_number(country) or _("the emergency number")
