"""Why a line of a file was not taken in: the reasons, the kept lines, and the words for them.

A line is refused, never repaired.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from logbook.wording import _, mark


class Reason(StrEnum):
    """What was wrong with a line. The first thing found wrong is the reason."""

    LINE_TOO_LONG = "line-too-long"
    CONTROL_CHARACTERS = "control-characters"
    QUOTES_WRONG = "quotes-wrong"
    TOO_FEW_COLUMNS = "too-few-columns"
    TOO_MANY_COLUMNS = "too-many-columns"
    DATE_MISSING_OR_MALFORMED = "date-missing-or-malformed"
    DATE_IMPOSSIBLE = "date-impossible"
    DATE_TOO_EARLY = "date-too-early"
    DATE_IN_FUTURE = "date-in-future"
    TIME_MALFORMED = "time-malformed"
    TIME_IMPOSSIBLE = "time-impossible"
    CODE_UNKNOWN = "code-unknown"
    UNIT_UNKNOWN = "unit-unknown"
    VALUE_NOT_A_NUMBER = "value-not-a-number"
    GLUCOSE_ZERO = "glucose-zero"
    VALUE_IMPOSSIBLE = "value-impossible"
    DECIMALS_NOT_SHOWN = "decimals-not-shown"
    MINUTES_NOT_A_NUMBER = "minutes-not-a-number"
    SITE_UNKNOWN = "site-unknown"
    VALUE_ABSENT = "value-absent"
    NOT_A_RESOURCE = "not-a-resource"


@dataclass(frozen=True, slots=True)
class RefusedLine:
    """A line that was not taken in: its number in the file (from 1), its text and why.

    A very long text is kept up to its first part, with an ellipsis; the number finds the rest.
    """

    number: int
    reason: Reason
    text: str


class LineRefused(Exception):
    """Raised where a line shows what is wrong with it; caught by the reader of the file."""

    def __init__(self, reason: Reason) -> None:
        super().__init__(reason)
        self.reason = reason


def reason_words(reason: Reason) -> str:
    """The reason in a few plain words, to stand behind the line's number."""
    return _(_WORDS[reason])


_WORDS = {
    Reason.LINE_TOO_LONG: mark("the line is far too long"),
    Reason.CONTROL_CHARACTERS: mark("the line holds characters that are not text"),
    Reason.QUOTES_WRONG: mark("the quotation marks do not match"),
    Reason.TOO_FEW_COLUMNS: mark("columns are missing"),
    Reason.TOO_MANY_COLUMNS: mark("there are more columns than expected"),
    Reason.DATE_MISSING_OR_MALFORMED: mark("the date is missing or written another way"),
    Reason.DATE_IMPOSSIBLE: mark("this date does not exist"),
    Reason.DATE_TOO_EARLY: mark("the date is before home meters existed"),
    Reason.DATE_IN_FUTURE: mark("the date is still to come"),
    Reason.TIME_MALFORMED: mark("the time is missing or written another way"),
    Reason.TIME_IMPOSSIBLE: mark("this time does not exist"),
    Reason.CODE_UNKNOWN: mark("the time of day or code is not known"),
    Reason.UNIT_UNKNOWN: mark("the unit is not known"),
    Reason.VALUE_NOT_A_NUMBER: mark("the value is not a number"),
    Reason.GLUCOSE_ZERO: mark("the value is 0"),
    Reason.VALUE_IMPOSSIBLE: mark("the value is outside what is possible"),
    Reason.DECIMALS_NOT_SHOWN: mark("a meter does not show these decimals"),
    Reason.MINUTES_NOT_A_NUMBER: mark("the minutes after the meal are not a whole number"),
    Reason.SITE_UNKNOWN: mark("the finger or site is not known"),
    Reason.VALUE_ABSENT: mark("there is no value"),
    Reason.NOT_A_RESOURCE: mark("this is no entry of a FHIR file"),
}
