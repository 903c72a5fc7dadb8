"""What the records of older versions looked like in the file, so that they can be verified.

A copy of years ago is never altered, and a log is verified before it is brought to a newer version.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from functools import cache

from sqlalchemy import Column, Connection, Integer, LargeBinary, MetaData, Table, Text

from logbook.domain.errors import DamagedLog
from logbook.store.records import DISAGREEMENT, HAPPENING, KINDS, RecordKind

# Names only: the CHECKs stand in the file itself.
_HAPPENINGS_OF_1 = Table(
    "happenings",
    MetaData(),
    Column("id", Text, primary_key=True),
    Column("what", Text),
    Column("instant", Integer),
    Column("offset_seconds", Integer),
    Column("zone", Text),
    Column("zone_assumed", Integer),
    Column("wall_minute", Integer),
    Column("written_at", Integer),
    Column("strip_failure", Text),
    Column("about", Text),
    Column("note", Text),
    Column("crossed_out_at", Integer),
    Column("digest", LargeBinary),
)
_KINDS_OF_1 = (
    "reading",
    "happening",
    "answer",
    "target",
    "meter",
    "lancet_change",
    "spell",
    "appointment",
    "question",
    "medicine",
    "contact",
    "setting",
)


def kinds_in(connection: Connection) -> Collection[RecordKind]:
    """The kinds of record that a log of its version has, with the tables of that version.

    The tables themselves tell which it is: they are covered by the log's SHA-256 of its schema, the
    number in the header is not.
    """
    try:
        columns = connection.exec_driver_sql("PRAGMA table_info(happenings)").all()
    except DamagedLog:
        return KINDS.values()
    names = {name for _, name, *_ in columns}
    if names and "site" not in names:
        return _kinds_of_1()
    try:
        columns = connection.exec_driver_sql("PRAGMA table_info(disagreements)").all()
    except DamagedLog:
        return KINDS.values()
    return KINDS.values() if columns else _kinds_of_2()


@cache
def _kinds_of_1() -> Collection[RecordKind]:
    kinds = {name: KINDS[name] for name in _KINDS_OF_1}
    return (kinds | {"happening": replace(HAPPENING, table=_HAPPENINGS_OF_1)}).values()


@cache
def _kinds_of_2() -> Collection[RecordKind]:
    return [kind for kind in KINDS.values() if kind is not DISAGREEMENT]
