"""The steps of what a person can do: which records become what.

Each function is called within the transaction that writes its steps, reads what is there, verified,
and alters nothing. Corrections, crossings out and doubts are ordinary steps of a reading.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from uuid import UUID

from sqlalchemy import Connection

from logbook.domain.actions import Record
from logbook.domain.errors import NoSuchRecord, NotSaved
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.store.changes import Step, StepsInTurn
from logbook.store.records import KIND_OF_TYPE, READING, SETTING, RecordKind, Stored
from logbook.store.setting_rows import settings_to_rows
from logbook.store.small_records import read_stored
from logbook.store.verify import find_stored

# What a reading says; `replace` may alter only its circumstances.
_WHAT_IT_SAYS = (
    "instant",
    "offset_seconds",
    "zone",
    "zone_assumed",
    "written_at",
    "unit",
    "kind",
    "steps",
    "written",
    "slot",
    "source",
    "crossed_out_at",
    "crossed_out_reason",
    "earlier",
)


def adding(records: Sequence[Record]) -> Sequence[Step]:
    """New records."""
    return StepsInTurn(len(records), lambda place: _added(_kind_of(records[place]), records[place]))


def _added(kind: RecordKind, record: Record) -> Step:
    stored = _stored(kind, record)
    return Step(kind, str(stored[kind.key]), None, stored)


def replacing(connection: Connection, records: Sequence[Record]) -> list[Step]:
    """New versions of records; those that are as they were are left out.

    Raises `NoSuchRecord`, `DamagedLog`, and `NotSaved` (why=correct_instead) for a reading that
    would say something else.
    """
    steps = []
    for record in records:
        kind = _kind_of(record)
        after = _stored(kind, record)
        key = str(after[kind.key])
        before = find_stored(connection, kind, key)
        if kind is READING and any(before[name] != after[name] for name in _WHAT_IT_SAYS):
            raise NotSaved(key, why="correct_instead")
        if before != after:
            steps.append(Step(kind, key, before, after))
    return steps


def keeping(connection: Connection, records: Sequence[Record]) -> list[Step]:
    """New records, and new versions of those that are in the log; see `adding` and `replacing`."""
    steps = []
    for record in records:
        try:
            steps += replacing(connection, [record])
        except NoSuchRecord:
            steps += adding([record])
    return steps


def altering(
    connection: Connection, reading_id: UUID, alter: Callable[[Reading], Reading]
) -> list[Step]:
    """One reading, made another by `alter`; nothing when that changes nothing.

    Raises `NoSuchRecord`, and `DamagedLog` for a damaged one: it would be laundered.
    """
    key = str(reading_id)
    before = find_stored(connection, READING, key)
    after = _stored(READING, alter(READING.record(before)))
    return [] if after == before else [Step(READING, key, before, after)]


def setting(connection: Connection, settings: LogSettings) -> list[Step]:
    """The settings that differ from the present ones; one that is not there has its default."""
    present = {str(stored["name"]): stored for stored in read_stored(connection, SETTING)}
    defaults = settings_to_rows(LogSettings())
    steps = []
    for name, row in settings_to_rows(settings).items():
        before, after = present.get(name), SETTING.stored(row)
        if after != (SETTING.stored(defaults[name]) if before is None else before):
            steps.append(Step(SETTING, name, before, after))
    return steps


def _kind_of(record: Record) -> RecordKind:
    return KIND_OF_TYPE[type(record)]


def _stored(kind: RecordKind, record: Record) -> Stored:
    try:
        return kind.stored(record)
    except ValueError as error:
        raise NotSaved(error, why="refused") from error
