"""How numbers, dates and clock times are written: the locale, and a clock of 12 or of 24 hours.

Set once at the start by whoever knows the person's choice. Nothing is read from the environment.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from babel import Locale, UnknownLocaleError

SOURCE_LANGUAGE = "en"


@dataclass(frozen=True, slots=True)
class Manner:
    """The locale ("en_US", "en_GB") and the clock: 24 hours, 12, or None for the locale's own."""

    locale: str = "en_US"
    hours_24: bool | None = None

    @property
    def has_24_hours(self) -> bool:
        """Whether clock times run to 24."""
        if self.hours_24 is not None:
            return self.hours_24
        return clock_has_24_hours(self.locale)


_manner = Manner()


def manner() -> Manner:
    """The manner in use."""
    return _manner


def set_manner(wanted: Manner) -> None:
    """Write numbers and dates this way from now on."""
    global _manner  # noqa: PLW0603  (see set_language)
    _manner = wanted


@lru_cache(maxsize=32)
def find_locale(tag: str) -> Locale:
    """The locale of a tag, else of its language alone, else American English."""
    plain = tag.partition(".")[0].partition("@")[0].replace("-", "_")
    for attempt in (plain, plain.partition("_")[0]):
        try:
            return Locale.parse(attempt)
        except (UnknownLocaleError, ValueError, TypeError):
            continue
    return Locale.parse("en_US")


@lru_cache(maxsize=32)
def clock_has_24_hours(tag: str) -> bool:
    """Whether the clock of a locale runs to 24 (its short time has an H or k outside quotes)."""
    pattern = str(find_locale(tag).time_formats["short"].pattern)
    return re.search("[Hk]", re.sub("'[^']*'", "", pattern)) is not None


def plain_spaces(text: str) -> str:
    """The text with ordinary spaces, where Babel puts narrow ones that not every font has."""
    return text.replace("\u202f", " ").replace("\u00a0", " ")
