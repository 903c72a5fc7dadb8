"""All readings of a period in columns (`logbook.domain.series`), verified row by row.

What a reading's marks and judged slot are is the domain's to say; here they are only read fast.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import chain
from typing import Any

from sqlalchemy import ColumnElement, Engine, Integer, Text, case, literal_column, or_, type_coerce

from logbook.domain.glucose import Unit
from logbook.domain.readings import Feeling, Source
from logbook.domain.series import Mark, Series
from logbook.domain.slots import Purpose, Slot, judged_slot
from logbook.store.pages import Query, Rows, read_pages, readings
from logbook.store.readings import damaged_reading
from logbook.store.records import READING
from logbook.store.row_parts import canonical_json
from logbook.store.statements import row_text_of
from logbook.store.types import microseconds
from logbook.store.verify import are_sound, is_sound

_c = readings.c
_FELT_WELL = canonical_json([Feeling.WELL])

# What each mark means, as a condition on the row.
_MARKS = {
    Mark.CROSSED_OUT: _c.crossed_out_at.is_not(None),
    Mark.NOT_BELIEVED: _c.doubt.is_not(None),
    Mark.FOREIGN_METER: _c.is_foreign,
    Mark.CORRECTED: _c.earlier != "",
    Mark.COPIED_FROM_METER: _c.source == Source.COPIED_FROM_METER,
    Mark.IMPORTED: _c.source == Source.IMPORTED,
    Mark.COULD_NOT_WASH: _c.could_not_wash,
    Mark.FELT_SOMETHING: or_(
        _c.purpose == Purpose.FELT_SOMETHING, _c.feelings.not_in(("", _FELT_WELL))
    ),
    Mark.HAS_NOTE: _c.note != "",
}

_MICROSECONDS_A_SECOND = 1_000_000
_MICROSECONDS_A_MINUTE = 60_000_000
_UNITS = {unit.value: unit for unit in Unit}
_SLOTS = {slot.value: slot for slot in Slot}
_PURPOSES = {purpose.value: purpose for purpose in Purpose}

# Where a page's row text and digest stand.
_ROW_TEXT, _DIGEST = 3, 4


@cache
def _judged(slot: str, minutes_after: int | None) -> Slot:
    return judged_slot(_SLOTS[slot], minutes_after)


def _read_columns() -> tuple[ColumnElement[Any], ...]:
    marks = sum(
        (case((condition, int(mark)), else_=0) for mark, condition in _MARKS.items()),
        start=literal_column("0", Integer),
    )
    written = type_coerce(_c.written_at, Integer) + _c.offset_seconds * _MICROSECONDS_A_SECOND
    # SQLite divides towards zero; minutes are counted downwards, also before 1970.
    downwards = case((written < 0, _MICROSECONDS_A_MINUTE - 1), else_=0)
    written_minute = (written - downwards) // _MICROSECONDS_A_MINUTE
    texts = (
        type_coerce(column, Text) for column in (_c.id, _c.unit, _c.slot, _c.purpose, _c.recheck_of)
    )
    return (
        row_text_of(READING),
        _c.digest,
        _c.steps,
        _c.minutes_after,
        marks,
        type_coerce(written_minute, Integer),
        *texts,
    )


READ_COLUMNS = _read_columns()


def read_series(engine: Engine, query: Query) -> Series:
    """The columns of all readings that the query finds, in order of instant."""
    pages = read_pages(engine, query, READ_COLUMNS, _columns_of_page)
    if not pages:
        return Series((), (), (), (), (), (), (), (), (), (), ())
    return Series(*(tuple(chain.from_iterable(parts)) for parts in zip(*pages, strict=True)))


def _columns_of_page(page: Rows) -> tuple[Iterable[Any], ...]:
    """The columns of `Series` for one page, in its order."""
    columns = list(zip(*page, strict=True))
    if not are_sound(columns[_ROW_TEXT], columns[_DIGEST]):
        rows = [
            row
            if is_sound(row[_ROW_TEXT], row[_DIGEST])
            else _stand_in(row[0], row[2], row[_ROW_TEXT])
            for row in page
        ]
        columns = list(zip(*rows, strict=True))
    (
        instants,
        wall_minutes,
        _rowids,
        _row_texts,
        _digests,
        steps,
        minutes_after,
        marks,
        written_minutes,
        ids,
        units,
        slots,
        purposes,
        rechecks_of,
    ) = columns
    return (
        ids,
        instants,
        wall_minutes,
        written_minutes,
        steps,
        map(_UNITS.__getitem__, units),
        map(_judged, slots, minutes_after),
        map(_PURPOSES.__getitem__, purposes),
        marks,
        minutes_after,
        rechecks_of,
    )


def _stand_in(instant: int, rowid: int, row_text: bytes | None) -> tuple[Any, ...]:
    """A row for a damaged reading: a place in the order, no number, and the mark."""
    reading = damaged_reading(instant, rowid, row_text)
    placed = microseconds(reading.at.instant)
    return (
        placed,
        reading.at.wall_minute,
        rowid,
        b"",
        b"",
        0,
        None,
        int(Mark.DAMAGED),
        reading.at.wall_minute,
        str(reading.id),
        reading.glucose.unit.value,
        reading.slot.value,
        Purpose.EXTRA.value,
        None,
    )
