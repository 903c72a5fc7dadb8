"""What single cells of an exported table say; a cell that says nothing known refuses its line.

Each of these raises `LineRefused` with the reason.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from typing import TypeVar
from uuid import UUID

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.sites import Site
from logbook.exchange.line_reader import EARLIEST_YEAR
from logbook.exchange.reading_table import AS_WRITTEN
from logbook.exchange.refusals import LineRefused, Reason
from logbook.exchange.table_cells import MOMENT, ZONE, ZONE_ASSUMED

E = TypeVar("E", bound=StrEnum)


def day_in(text: str) -> date:
    """A day written as 2026-03-31."""
    try:
        day = date.fromisoformat(text)
    except ValueError as error:
        raise LineRefused(Reason.DATE_MISSING_OR_MALFORMED) from error
    if day.year < EARLIEST_YEAR:
        raise LineRefused(Reason.DATE_TOO_EARLY)
    return day


def clock_in(text: str) -> time:
    """A time of day, to the minute."""
    try:
        clock = time.fromisoformat(text)
    except ValueError as error:
        raise LineRefused(Reason.TIME_MALFORMED) from error
    return clock.replace(second=0, microsecond=0, tzinfo=None)


def moment_in(cell: Callable[[str], str], home_zone: str) -> Moment:
    """The moment of a row; `cell` gives a cell by its heading, `home_zone` is for none told.

    Where the date or the time was changed by hand, these decide and not the exact time.
    """
    wall = datetime.combine(day_in(cell("date")), clock_in(cell("time")))
    zone = cell(ZONE) or home_zone
    is_assumed = cell(ZONE_ASSUMED) == "yes" or not cell(ZONE)
    try:
        exact = datetime.fromisoformat(cell(MOMENT)) if cell(MOMENT) else None
        if exact is None or exact.tzinfo is None or not _is_within(exact, wall):
            return Moment.from_wall(wall, zone, zone_assumed=is_assumed)
        offset = exact.utcoffset() or timedelta(0)
        shown = exact.replace(tzinfo=None)
        return Moment(exact.astimezone(UTC), shown, offset, zone, is_assumed)
    except (ValueError, OverflowError, LogbookError) as error:
        raise LineRefused(Reason.TIME_MALFORMED) from error


def _is_within(exact: datetime, wall: datetime) -> bool:
    """Whether the exact time shows the minute of `wall`."""
    return timedelta(0) <= exact.replace(tzinfo=None) - wall < timedelta(minutes=1)


def glucose_in(cell: Callable[[str], str]) -> Glucose:
    """The value of a row, in the column of its unit; `cell` gives a cell by its heading."""
    texts = {unit: text for unit in Unit if (text := cell(f"glucose ({unit})"))}
    if len(texts) != 1:
        raise LineRefused(Reason.UNIT_UNKNOWN if texts else Reason.VALUE_NOT_A_NUMBER)
    [(unit, text)] = texts.items()
    written = cell(AS_WRITTEN)
    if text == "LO":
        return Glucose.reads_low(unit, written)
    if text == "HI":
        return Glucose.reads_high(unit, written)
    try:
        return replace(Glucose.parse(text, unit), written=written)
    except DecimalsNotShown as error:
        raise LineRefused(Reason.DECIMALS_NOT_SHOWN) from error
    except ImpossibleGlucose as error:
        raise LineRefused(Reason.VALUE_IMPOSSIBLE) from error
    except LogbookError as error:
        raise LineRefused(Reason.VALUE_NOT_A_NUMBER) from error


def site_in(text: str) -> Site | None:
    """A site by its code; None for an empty cell."""
    try:
        return Site.from_code(text) if text else None
    except LogbookError as error:
        raise LineRefused(Reason.SITE_UNKNOWN) from error


def minutes_in(text: str) -> int | None:
    """Whole minutes; None for an empty cell."""
    if text and not (text.isascii() and text.isdigit() and len(text) <= 4):
        raise LineRefused(Reason.MINUTES_NOT_A_NUMBER)
    return int(text) if text else None


def id_in(text: str) -> UUID | None:
    """The id of a record; None for an empty cell."""
    try:
        return UUID(text) if text else None
    except ValueError as error:
        raise LineRefused(Reason.CODE_UNKNOWN) from error


def instant_in(text: str) -> datetime | None:
    """An instant with its offset, in UTC; None for an empty cell."""
    try:
        found = datetime.fromisoformat(text) if text else None
        if found is None or found.tzinfo is not None:
            return None if found is None else found.astimezone(UTC)
    except (ValueError, OverflowError) as error:
        raise LineRefused(Reason.DATE_MISSING_OR_MALFORMED) from error
    raise LineRefused(Reason.DATE_MISSING_OR_MALFORMED)


def member_in(text: str, members: type[E]) -> E | None:
    """A code; None for an empty cell."""
    try:
        return members(text) if text else None
    except ValueError as error:
        raise LineRefused(Reason.CODE_UNKNOWN) from error


def members_in(text: str, members: type[E]) -> tuple[E, ...]:
    """Codes with spaces between them."""
    return tuple(found for one in text.split() if (found := member_in(one, members)) is not None)
