"""Reading many rows in short transactions, a page by key in each.

A reader that holds its transaction for long keeps Save waiting, so none holds it for more than a
page. When a change came in between two pages, reading starts again: what is handed out is of one
moment. A row that the database itself can't read does not take its neighbours with it.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, TypeVar

from sqlalchemy import (
    ColumnElement,
    Connection,
    Engine,
    Integer,
    literal,
    literal_column,
    select,
    tuple_,
    type_coerce,
)

from logbook.domain.errors import DamagedLog
from logbook.domain.moments import MINUTES_A_DAY
from logbook.store import tables
from logbook.store.engine import fetch_all, reading
from logbook.store.verify import ROWID

# A page of so many rows is read in about 8 ms where it was measured (docs/benchmarks.md).
PAGE_ROWS = 2_000

_MICROSECONDS_A_MINUTE = 60_000_000

T = TypeVar("T")

readings = tables.readings
# The same table once more, for what is read from its indexes. Read as one table, SQLite would take
# a column from the index instead of the row, and a damaged row would pass for sound.
placed = readings.alias("placed")

_PLACED_ROWID = literal_column("placed.rowid", Integer)
_KEYS = (type_coerce(placed.c.instant, Integer), placed.c.wall_minute, _PLACED_ROWID)
_WITH_ROWS = placed.outerjoin(readings, literal_column("readings.rowid") == _PLACED_ROWID)
# The keys by their places, in the two orders for which there is an index.
_BY_INSTANT = (0, 1, 2)
_BY_WALL_MINUTE = (1, 2)


@dataclass(frozen=True, slots=True)
class Query:
    """Which readings, in which order: of instant, or of wall minute. `limit` is the most wanted.

    `wall_minutes` is a half-open range, `older_than` an instant in microseconds. Conditions on the
    id are put to `placed`, others to `readings`.
    """

    wall_minutes: tuple[int, int] | None = None
    older_than: int | None = None
    conditions: tuple[ColumnElement[bool], ...] = ()
    newest_first: bool = False
    limit: int | None = None
    by_wall_minute: bool = False
    page_rows: int = PAGE_ROWS


Keys = tuple[int, ...]
"""Instant in microseconds, wall minute and rowid, in the query's order."""

Rows = Sequence[tuple[Any, ...]]


def read_pages(
    engine: Engine,
    query: Query,
    columns: Sequence[ColumnElement[Any]],
    keep: Callable[[Rows], T],
) -> list[T]:
    """What `keep` makes of each page, in order.

    A row begins with its instant, wall minute and rowid. In place of `columns` a row that can't be
    read has None, as often as there are columns. Raises `DamagedLog` when not even the keys can be
    read.
    """
    while True:
        pages = _read_at_one_moment(engine, query, columns, keep)
        if pages is not None:
            return pages


def _read_at_one_moment(
    engine: Engine,
    query: Query,
    columns: Sequence[ColumnElement[Any]],
    keep: Callable[[Rows], T],
) -> list[T] | None:
    """All the pages, or None when a change came in between."""
    pages: list[T] = []
    sequence: int | None = None
    after: Keys | None = None
    left = sys.maxsize if query.limit is None else query.limit
    while True:
        wanted = min(query.page_rows, left)
        with reading(engine) as connection:
            now = connection.scalar(select(tables.log.c.last_sequence))
            if sequence is not None and now != sequence:
                return None
            sequence = now
            page = _read_page(connection, query, columns, after, wanted)
        if page:
            pages.append(keep(page))
            after = tuple(page[-1][: len(_KEYS)])
        left -= len(page)
        if len(page) < wanted or left == 0:
            return pages


def _read_page(
    connection: Connection,
    query: Query,
    columns: Sequence[ColumnElement[Any]],
    after: Keys | None,
    wanted: int,
) -> Rows:
    ordered = _BY_WALL_MINUTE if query.by_wall_minute else _BY_INSTANT
    conditions = _conditions(query, ordered, after)
    order = [_KEYS[index].desc() if query.newest_first else _KEYS[index].asc() for index in ordered]
    statement = select(*_KEYS, *columns).select_from(_WITH_ROWS)
    statement = statement.where(*conditions).order_by(*order).limit(wanted)
    try:
        return fetch_all(connection, statement)
    except DamagedLog:
        only_keys = select(*_KEYS).select_from(_WITH_ROWS)
        only_keys = only_keys.where(*conditions).order_by(*order).limit(wanted)
        # The keys lie in the index; each row is then tried by itself.
        return [_read_one(connection, columns, keys) for keys in fetch_all(connection, only_keys)]


def _conditions(
    query: Query, ordered: tuple[int, ...], after: Keys | None
) -> list[ColumnElement[bool]]:
    """What holds for a page. There is one bound to each end of the index, the closest."""
    found = list(query.conditions)
    instant = _KEYS[0]
    least: int | None = None
    end = query.older_than
    if query.wall_minutes is not None:
        first_minute, end_minute = query.wall_minutes
        wall_minute = placed.c.wall_minute
        found += [wall_minute >= first_minute, wall_minute < end_minute]
        # The wall minute alone decides; it is never a whole day away from the instant.
        least = (first_minute - MINUTES_A_DAY) * _MICROSECONDS_A_MINUTE
        latest = (end_minute + MINUTES_A_DAY) * _MICROSECONDS_A_MINUTE
        end = latest if end is None else min(end, latest)
    if after is not None:
        place = tuple_(*(_KEYS[index] for index in ordered))
        was = tuple(after[index] for index in ordered)
        found.append(place < was if query.newest_first else place > was)
        if query.newest_first:
            end = after[0] + 1
        else:
            least = after[0]
    if not query.by_wall_minute:
        found += [] if least is None else [instant >= least]
        found += [] if end is None else [instant < end]
    return found


def _read_one(
    connection: Connection, columns: Sequence[ColumnElement[Any]], keys: Keys
) -> tuple[Any, ...]:
    statement = select(*columns).select_from(readings).where(literal(keys[-1]) == ROWID)
    rows: Rows = ()
    with suppress(DamagedLog):
        rows = fetch_all(connection, statement)
    return (*keys, *(rows[0] if rows else (None,) * len(columns)))
