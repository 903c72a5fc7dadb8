"""Verifying rows: whether what the file holds is what was written.

Whatever is handed out or altered passes here first. A row whose digest does not fit is damaged; it
is told, never mended by guessing, and never given a new digest.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from itertools import islice

from sqlalchemy import ColumnElement, Connection, Integer, literal_column, select

from logbook.domain.errors import DamagedLog, NoSuchRecord
from logbook.store.engine import log_of
from logbook.store.records import RecordKind, Stored
from logbook.store.statements import key_of, row_text_of

# SQLite takes at least 999 values in one statement.
AT_ONCE = 500

ROWID: ColumnElement[int] = literal_column("rowid", Integer)


def is_sound(row_text: bytes | None, digest: bytes | None) -> bool:
    """Whether a row is what was written. None stands for what could not even be read."""
    return row_text is not None and hashlib.sha256(row_text).digest() == digest


def are_sound(row_texts: Sequence[bytes | None], digests: Sequence[bytes | None]) -> bool:
    """Whether all of many rows are what was written; quicker than asking one by one."""
    sha256 = hashlib.sha256
    try:
        return [sha256(row_text).digest() for row_text in row_texts] == list(digests)  # type: ignore[arg-type]
    except TypeError:
        return False  # one could not even be read


def find_stored(connection: Connection, kind: RecordKind, key: str) -> Stored:
    """One verified row. Raises `NoSuchRecord`, or `DamagedLog` (why=digest)."""
    row = connection.execute(
        select(row_text_of(kind), kind.table.c.digest).where(key_of(kind) == key)
    ).one_or_none()
    if row is None:
        raise NoSuchRecord(key)
    if not is_sound(*row):
        raise DamagedLog(log_of(connection), why="digest", record=key)
    return kind.from_row_text(row[0])


def verify_present(
    connection: Connection, kind: RecordKind, expected: Mapping[str, Stored]
) -> None:
    """Make sure that rows are in the log exactly as `expected`.

    Raises `NoSuchRecord` for one that is missing and `DamagedLog` (why=digest) for one that is not
    what was written, or not what was expected.
    """
    keys = iter(expected)
    while some := list(islice(keys, AT_ONCE)):
        key = key_of(kind)
        found = {
            row[0]: row
            for row in connection.execute(
                select(key, row_text_of(kind), kind.table.c.digest).where(key.in_(some))
            )
        }
        for one in some:
            if one not in found:
                raise NoSuchRecord(one)
            _, row_text, digest = found[one]
            if row_text != kind.row_text(expected[one]).encode() or not is_sound(row_text, digest):
                raise DamagedLog(log_of(connection), why="digest", record=one)
