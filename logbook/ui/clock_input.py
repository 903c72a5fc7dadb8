"""Clock times as a person types them: 7.30, 7:30 pm, 0730.

What can be read in two ways is told in both, never guessed.
"""

from __future__ import annotations

import re
from datetime import time

from logbook.domain.errors import BadMoment
from logbook.wording.manner import manner

_CLOCK = re.compile(
    r"(\d{1,2})(?:[:.h ]?([0-5]\d))?\s*(a\.?m\.?|p\.?m\.?|a|p)?", re.ASCII | re.IGNORECASE
)


def parse_clock(text: str) -> tuple[time, ...]:
    """What a clock time can mean: one time, or morning and afternoon where both may be meant.

    Raises `BadMoment` (time_malformed or time_impossible).
    """
    found = _CLOCK.fullmatch(text.strip())
    if found is None:
        raise BadMoment(text, why="time_malformed")
    hour, minute = int(found[1]), int(found[2] or 0)
    half = (found[3] or "").lower()[:1]
    if half:
        if not 1 <= hour <= 12:
            raise BadMoment(text, why="time_impossible")
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23:
        raise BadMoment(text, why="time_impossible")
    if not half and 1 <= hour <= 12 and not (manner().has_24_hours or found[1].startswith("0")):
        return time(hour % 12, minute), time(hour % 12 + 12, minute)
    return (time(hour, minute),)
