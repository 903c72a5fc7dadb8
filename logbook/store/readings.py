"""Readings as whole objects, for lists and grids, a screenful at a time.

A damaged one is handed out as damaged: with what may be left of its id, moment and slot, and never
with a number. The columns for figures and pictures are in `columns`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from itertools import islice
from typing import Any
from uuid import UUID

from sqlalchemy import Engine, select

from logbook.domain.errors import LogbookError, NoSuchRecord
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.store.engine import reading
from logbook.store.pages import Query, Rows, placed, read_pages, readings
from logbook.store.records import READING
from logbook.store.row_parts import moment_from_row
from logbook.store.statements import row_text_of
from logbook.store.verify import AT_ONCE, is_sound

# Between these years an instant of a damaged row may be believed enough to place it in a list.
_PLAUSIBLE = (datetime(1970, 1, 1, tzinfo=UTC), datetime(2200, 1, 1, tzinfo=UTC))


def read_readings(engine: Engine, query: Query) -> list[Reading]:
    """The readings, in the query's order; damaged ones marked as such."""
    columns = (row_text_of(READING), readings.c.digest)
    pages = read_pages(engine, query, columns, _readings_of_page)
    return [one for page in pages for one in page]


def read_reading(engine: Engine, reading_id: UUID) -> Reading:
    """One reading. Raises `NoSuchRecord`."""
    found = read_readings(engine, Query(conditions=(placed.c.id == reading_id,), limit=1))
    if not found:
        raise NoSuchRecord(reading_id)
    return found[0]


def find_present(engine: Engine, ids: Iterable[UUID]) -> set[UUID]:
    """Which of `ids` are readings in the log."""
    asked = iter(ids)
    present: set[UUID] = set()
    while some := list(islice(asked, AT_ONCE)):
        with reading(engine) as connection:
            statement = select(readings.c.id).where(readings.c.id.in_(some))
            present.update(connection.scalars(statement))
    return present


def _readings_of_page(page: Rows) -> list[Reading]:
    return [
        READING.record(READING.from_row_text(row_text))
        if is_sound(row_text, digest)
        else damaged_reading(instant, rowid, row_text)
        for instant, _wall_minute, rowid, row_text, digest in page
    ]


def damaged_reading(instant: int, rowid: int, row_text: bytes | None) -> Reading:
    """A stand-in for a row that is not what was written, for a place in a list."""
    left: Mapping[str, Any] = {}
    with suppress(ValueError):  # UnicodeDecodeError and JSONDecodeError are such
        left = READING.from_row_text(row_text or b"")
    unit = Unit.MG_DL
    with suppress(ValueError):
        unit = Unit(str(left.get("unit")))
    slot = Slot.OTHER
    with suppress(ValueError):
        slot = Slot(str(left.get("slot")))
    reading_id = UUID(int=rowid % 2**128)
    with suppress(ValueError, AttributeError, TypeError):
        reading_id = UUID(left.get("id"))
    at = _moment_left(left, instant)
    # LO carries no number, and what is damaged stays outside every figure.
    return Reading(reading_id, Glucose.reads_low(unit, ""), at, at.instant, slot, is_damaged=True)


def _moment_left(left: Mapping[str, Any], instant: int) -> Moment:
    placed = plausible_instant(instant)
    with suppress(LogbookError, ValueError, KeyError, TypeError, OverflowError):
        return moment_from_row({**left, "instant": placed, "zone_assumed": True})
    return Moment(placed, placed.replace(tzinfo=None), timedelta(0), "UTC", zone_assumed=True)


def plausible_instant(microseconds: int) -> datetime:
    """The instant, or the beginning of 1970 when it can't be believed."""
    least, most = _PLAUSIBLE
    with suppress(OverflowError, TypeError):
        found = least + timedelta(microseconds=microseconds)
        if least <= found < most:
            return found
    return least
