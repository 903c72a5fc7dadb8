"""How a file writes its dates and times, and how such a text is read.

A pattern names the parts by the usual percent letters (`%m-%d-%Y`, `%H:%M`). Each part has to stand
exactly as the pattern says; nothing is guessed and nothing is repaired.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import timedelta

_DIGITS = "[0-9]"
_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip
_SHORT_MONTHS = tuple(name[:3] for name in _MONTHS)

# Letter: (name of the part, what it looks like beside a separator, and beside another number).
_PARTS = {
    "Y": ("year", _DIGITS + "{4}", _DIGITS + "{4}"),
    "y": ("short_year", _DIGITS + "{2}", _DIGITS + "{2}"),
    "m": ("month", _DIGITS + "{1,2}", _DIGITS + "{2}"),
    "b": ("month_name", "[A-Za-z]{3,9}", "[A-Za-z]{3,9}"),
    "d": ("day", _DIGITS + "{1,2}", _DIGITS + "{2}"),
    "H": ("hour", _DIGITS + "{1,2}", _DIGITS + "{2}"),
    "I": ("half_day_hour", _DIGITS + "{1,2}", _DIGITS + "{2}"),
    "M": ("minute", _DIGITS + "{2}", _DIGITS + "{2}"),
    "S": ("second", _DIGITS + "{2}", _DIGITS + "{2}"),
    "f": ("fraction", _DIGITS + "{1,9}", _DIGITS + "{1,9}"),
    "p": ("half_day", "[AaPp]\\.?[Mm]\\.?", "[AaPp]\\.?[Mm]\\.?"),
    "z": ("offset", "[Zz]|[+-][0-9]{2}:?[0-9]{2}", "[Zz]|[+-][0-9]{2}:?[0-9]{2}"),
}
_NUMBERS = frozenset("YymdHIMS")
_DATE_SETS = ({"year", "month", "day"}, {"year", "month_name", "day"})
_TIME_SETS = ({"hour", "minute"}, {"half_day_hour", "minute", "half_day"})

# A year of two digits from here on is one of the 1900s. Common practice, no source.
_SHORT_YEAR_TURNS_AT = 70


class PatternWrong(ValueError):
    """A pattern that can't be read; the text is the part of it that is at fault."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """A pattern, ready to read texts with."""

    written: str
    expression: re.Pattern[str]
    parts: frozenset[str]

    @classmethod
    def compile(cls, written: str) -> Pattern:
        """Read a pattern. Raises `PatternWrong` for a letter that is not known or stands twice."""
        pieces: list[str] = []
        parts: list[str] = []
        tokens = re.findall(r"%.?|[^%]+", written, re.DOTALL)
        for place, token in enumerate(tokens):
            if not token.startswith("%"):
                pieces.append(re.escape(token))
                continue
            letter = token[1:]
            if letter not in _PARTS:
                raise PatternWrong(token)
            name, apart, touching = _PARTS[letter]
            if name in parts:
                raise PatternWrong(token)
            parts.append(name)
            beside = tokens[max(place - 1, 0) : place] + tokens[place + 1 : place + 2]
            is_touching = letter in _NUMBERS and any(
                other[0] == "%" and other[1:] in _NUMBERS for other in beside
            )
            pieces.append(f"(?P<{name}>{touching if is_touching else apart})")
        return cls(written, re.compile("".join(pieces), re.ASCII), frozenset(parts))

    @property
    def has_date(self) -> bool:
        """Whether it names a whole date and nothing of a date twice."""
        found = {"year" if part == "short_year" else part for part in self.parts & _OF_A_DATE}
        return found in _DATE_SETS and not {"year", "short_year"} <= self.parts

    @property
    def has_time(self) -> bool:
        """Whether it names a whole time of day."""
        return (self.parts & _OF_A_TIME) - {"second"} in _TIME_SETS

    @property
    def has_offset(self) -> bool:
        """Whether it names the offset to UTC, which needs date and time beside it."""
        return "offset" in self.parts

    @property
    def has_any_date(self) -> bool:
        """Whether it names any part of a date."""
        return bool(self.parts & _OF_A_DATE)

    @property
    def has_any_time(self) -> bool:
        """Whether it names any part of a time."""
        return bool(self.parts & _OF_A_TIME)

    def read(self, text: str) -> dict[str, str] | None:
        """The parts of `text` by name, or None when it is not written this way."""
        match = self.expression.fullmatch(text)
        return None if match is None else match.groupdict()


_OF_A_DATE = frozenset({"year", "short_year", "month", "month_name", "day"})
_OF_A_TIME = frozenset({"hour", "half_day_hour", "half_day", "minute", "second"})


def date_of(parts: dict[str, str]) -> tuple[int, int, int] | None:
    """Year, month and day of the parts, not yet checked against the calendar.

    None when a month's name is not one.
    """
    if "year" in parts:
        year = int(parts["year"])
    else:
        short = int(parts["short_year"])
        year = short + (1900 if short >= _SHORT_YEAR_TURNS_AT else 2000)
    if "month" in parts:
        month = int(parts["month"])
    else:
        name = parts["month_name"].lower()
        names = _SHORT_MONTHS if len(name) == 3 else _MONTHS
        if name not in names:
            return None
        month = names.index(name) + 1
    return year, month, int(parts["day"])


def offset_of(parts: dict[str, str]) -> timedelta | None:
    """The offset to UTC of the parts; None for one that no clock has."""
    text = parts["offset"]
    if text in "Zz":
        return timedelta(0)
    hours, minutes = int(text[1:3]), int(text[-2:])
    # From UTC-12:00 to UTC+14:00 (time zone database), and some room for what it was once.
    if hours > 15 or minutes > 59:
        return None
    offset = timedelta(hours=hours, minutes=minutes)
    return -offset if text.startswith("-") else offset


def time_of(parts: dict[str, str]) -> tuple[int, int, int] | None:
    """Hour, minute and second of the parts; None for a time that no clock shows."""
    minute, second = int(parts["minute"]), int(parts.get("second", "0"))
    if "hour" in parts:
        hour = int(parts["hour"])
    else:
        half = int(parts["half_day_hour"])
        if not 1 <= half <= 12:
            return None
        hour = half % 12 + (12 if parts["half_day"][0] in "Pp" else 0)
    if hour > 23 or minute > 59 or second > 59:
        return None
    return hour, minute, second
