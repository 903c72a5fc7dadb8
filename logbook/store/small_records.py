"""Reading the records of which a log has few: targets, meters, spells, answers, settings.

Where a row of these is damaged, the record is told by the verified change that wrote it last; the
row stays as it is, for the check to find.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, Engine, select

from logbook.domain.errors import DamagedLog
from logbook.domain.settings import LogSettings
from logbook.store.changes import last_known
from logbook.store.engine import reading
from logbook.store.records import SETTING, RecordKind, Stored
from logbook.store.setting_rows import settings_from_rows
from logbook.store.statements import row_text_of
from logbook.store.verify import is_sound


def read_records(engine: Engine, kind: RecordKind) -> list[Any]:
    """All records of a kind, in no particular order.

    Raises `DamagedLog` when a row is damaged, and the change that wrote it too.
    """
    with reading(engine) as connection:
        return [kind.record(stored) for stored in read_stored(connection, kind)]


def read_settings(engine: Engine) -> LogSettings:
    """The log's settings."""
    with reading(engine) as connection:
        return settings_in(connection)


def settings_in(connection: Connection) -> LogSettings:
    """The log's settings, within a transaction."""
    values = {
        str(stored["name"]): str(stored["value"]) for stored in read_stored(connection, SETTING)
    }
    return settings_from_rows(values)


def read_stored(connection: Connection, kind: RecordKind) -> list[Stored]:
    """All records of a kind as the file holds them, verified."""
    statement = select(row_text_of(kind), kind.table.c.digest)
    try:
        rows = connection.execute(statement).all()
        if all(is_sound(*row) for row in rows):
            return [kind.from_row_text(row[0]) for row in rows]
    except DamagedLog:
        pass
    return list(last_known(connection, kind).values())
