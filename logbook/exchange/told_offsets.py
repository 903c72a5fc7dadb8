"""The moment that a time with its offset to UTC tells, in files that name no time zone.

The offset says what the clock on the wall showed. Many programs turn every time into UTC, so UTC
alone says nothing of that clock: then it is the one of the log's home zone.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from logbook.domain.moments import Moment


def moment_told(told: datetime, home_zone: str) -> Moment:
    """The moment of `told` (aware), in `home_zone`, which is marked as assumed.

    Raises `OverflowError` at the ends of the calendar.
    """
    offset = told.utcoffset() or timedelta(0)
    instant = told.astimezone(UTC)
    if not offset:
        return replace(Moment.at(instant, home_zone), zone_assumed=True)
    return Moment(instant, told.replace(tzinfo=None), offset, home_zone, zone_assumed=True)
