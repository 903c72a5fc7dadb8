"""Erasing a note's words for good: the one thing that takes something out of a log.

Only words go, never a number, a time or a record. They go from the row, from every change that held
them (and so from *Undo* and *Put back*), and from the journal, which is written anew. The changes
are chained, so each from the first altered one on is signed anew; before that, each of them must be
what was written. One change more tells that words were erased: where, how many times, their salted
SHA-256, and the SHA-256 that the last change had before. It can't be taken back.
"""

from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Sequence
from datetime import datetime
from typing import Any, Final

from sqlalchemy import Connection, bindparam, select, update

from logbook.domain.errors import DamagedLog, NoSuchRecord
from logbook.store import tables
from logbook.store.changes import (
    DIGEST_ROOM,
    Step,
    Written,
    apply_steps,
    read_header,
    read_line,
    read_record_values,
    read_state,
    write_change,
)
from logbook.store.engine import log_of
from logbook.store.lines import RecordValues, line_pieces, signed
from logbook.store.records import DISAGREEMENT, RecordKind, Stored
from logbook.store.row_parts import canonical_json
from logbook.store.tables import ChangeKind
from logbook.store.verify import find_stored

WORDS: Final[dict[str, tuple[str, ...]]] = {
    "reading": ("note",),
    "happening": ("note",),
    "spell": ("note",),
    "appointment": ("with_whom", "place", "decided"),
    "question": ("text",),
    "contact": ("name", "phone"),
    "medicine_note": ("text",),
}
"""Which columns of which kinds hold words that may be erased."""


def erase_words(connection: Connection, kind: RecordKind, key: str, at: datetime) -> Written | None:
    """Erase the words of one record; None when neither it nor its history has any.

    The caller commits, and writes the journal anew. Raises `NoSuchRecord`, and `DamagedLog`
    (why=digest, change, sequence) where something that would be signed anew is damaged.
    """
    if kind.name not in WORDS:
        raise NoSuchRecord(key)
    # Else what is no longer needed stays in the file until something else takes its place.
    connection.exec_driver_sql("PRAGMA secure_delete = ON")
    state = read_state(connection)
    held = _held(connection, kind, key)
    words = sorted(set(_words_in(connection, kind, key, held)))
    if not words:
        return None
    last = read_header(connection, state.last_sequence)
    for sequence in range(held[0], state.last_sequence + 1):
        read_line(connection, read_header(connection, sequence))
    _blank_rows(connection, kind, key)
    places = _blank_changes(connection, kind, key, held)
    _sign_anew(connection, held[0], state.last_sequence)
    salt = secrets.token_hex(16)
    told = {
        "chain": last.sha256.hex(),
        "first": held[0],
        "kind": kind.name,
        "places": places,
        "record": key,
        "salt": salt,
        "words": [hashlib.sha256(f"{salt}{one}".encode()).hexdigest() for one in words],
    }
    return write_change(connection, ChangeKind.ERASE, (), at, name=canonical_json(told))


def _held(connection: Connection, kind: RecordKind, key: str) -> Sequence[int]:
    """The changes that hold a version of the record, or a version that stands beside it."""
    find_stored(connection, kind, key)
    c = tables.change_records.c
    beside = _beside(connection, kind, key)
    keys = [key, *beside]
    return sorted(
        set(connection.scalars(select(c.sequence).where(c.record_id.in_(keys)).distinct()))
    )


def _beside(connection: Connection, kind: RecordKind, key: str) -> list[str]:
    """The disagreements about the record, each of which holds two versions of it."""
    c = tables.disagreements.c
    wanted = select(c.id).where(c.kind == kind.name, c.about == key)
    return [str(one) for one in connection.scalars(wanted)]


def _words_in(connection: Connection, kind: RecordKind, key: str, held: Sequence[int]) -> list[str]:
    found = []
    for sequence in held:
        for name, record_key, *texts in read_record_values(connection, sequence):
            for text in filter(None, texts):
                for version in _versions(name, record_key, json.loads(text), kind, key):
                    found += [str(version[c]) for c in WORDS[kind.name] if version.get(c)]
    return found


def _versions(
    name: str, record_key: str, told: dict[str, Any], kind: RecordKind, key: str
) -> list[dict[str, Any]]:
    """The versions of the record that a record text holds."""
    if (name, record_key) == (kind.name, key):
        return [told]
    if name == DISAGREEMENT.name and (told.get("kind"), told.get("about")) == (kind.name, key):
        return [json.loads(told[side]) for side in ("kept", "other") if told.get(side)]
    return []


def _blanked(
    name: str, record_key: str, told: dict[str, Any], kind: RecordKind, key: str
) -> dict[str, Any]:
    """A record text without the words."""
    if (name, record_key) == (kind.name, key):
        return {column: value for column, value in told.items() if column not in WORDS[kind.name]}
    if _versions(name, record_key, told, kind, key):
        without = dict(told)
        for side in ("kept", "other"):
            if told.get(side):
                version = json.loads(told[side])
                without[side] = canonical_json(_blanked(kind.name, key, version, kind, key))
        return without
    return told


def _blank_rows(connection: Connection, kind: RecordKind, key: str) -> None:
    steps = []
    for each, its_key in (
        (kind, key),
        *((DISAGREEMENT, one) for one in _beside(connection, kind, key)),
    ):
        before = find_stored(connection, each, its_key)
        told = {column: value for column, value in before.items() if value != each.empty[column]}
        after: Stored = {**each.empty, **_blanked(each.name, its_key, told, kind, key)}
        if after != before:
            steps.append(Step(each, its_key, before, after))
    difference = apply_steps(connection, steps)
    digest = (int.from_bytes(read_state(connection).digest) + difference) % DIGEST_ROOM
    connection.execute(update(tables.log).values(digest=digest.to_bytes(32)))


def _blank_changes(connection: Connection, kind: RecordKind, key: str, held: Sequence[int]) -> int:
    """Take the words out of every change; returns in how many places they stood."""
    places = 0
    c = tables.change_records.c
    for sequence in held:
        for position, (name, record_key, *texts) in enumerate(
            read_record_values(connection, sequence)
        ):
            blanked = []
            for text in texts:
                told = json.loads(text) if text else {}
                places += len(_versions(name, record_key, told, kind, key)) if text else 0
                without = _blanked(name, record_key, told, kind, key)
                blanked.append(text if without == told else canonical_json(without))
            if blanked != texts:
                before, after = blanked
                connection.execute(
                    update(tables.change_records)
                    .where(c.sequence == sequence, c.position == position)
                    .values(before=before, after=after)
                )
    return places


def _sign_anew(connection: Connection, first: int, last: int) -> None:
    """Chain the changes from `first` to `last` again."""
    previous = read_header(connection, first - 1).sha256 if first > 1 else b""
    c = tables.changes.c
    statement = update(tables.changes).where(c.sequence == bindparam("at_sequence"))
    statement = statement.values(sha256=bindparam("new_sha256"))
    for sequence in range(first, last + 1):
        header = read_header(connection, sequence)
        records: Sequence[RecordValues] = read_record_values(connection, sequence)
        if len(records) != header.count:
            raise DamagedLog(log_of(connection), why="change", sequence=sequence)
        new = signed(header, line_pieces(header, previous, [records]))
        connection.execute(statement, {"at_sequence": sequence, "new_sha256": new.sha256})
        previous = new.sha256
