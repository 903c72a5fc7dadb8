"""Making a log again from its plain-text journal alone.

The lines are believed as far as they follow from one another: each is what was written (its
SHA-256) and names the change before it. Where two lines follow from the same one, the longest row
of changes is taken. What it does not reach is left out and told.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import insert

from logbook.domain.copies import Rebuilt
from logbook.domain.errors import AlreadyThere, CannotRead, DamagedLog, NothingTaken
from logbook.store import tables
from logbook.store.birth import make_tables, remove_unfinished
from logbook.store.changes import DIGEST_ROOM
from logbook.store.copies import look_at
from logbook.store.engine import Access, make_engine, translating, writing
from logbook.store.files import (
    Beside,
    make_folder,
    make_private,
    name_without_overwriting,
    sync_file,
)
from logbook.store.journal import write_journal
from logbook.store.journal_lines import JournalLine
from logbook.store.lock import WriterLock
from logbook.store.records import KINDS, RecordKind, Stored
from logbook.store.row_parts import canonical_json
from logbook.store.schema import schema_sha256
from logbook.store.statements import insert_rows
from logbook.store.tables import ChangeKind
from logbook.store.types import instant_of

_FIRST_LINE = re.compile(rb"# .*, log ([0-9a-f-]{36})\r?\n", re.ASCII)
_ROWS_AT_ONCE = 2_000


@dataclass(frozen=True, slots=True)
class _Change:
    """A line that is what was written: its number in the file, its SHA-256, and what it says."""

    number: int
    sha256: str
    told: Mapping[str, Any]

    @property
    def sequence(self) -> int:
        return int(self.told["sequence"])

    @property
    def previous(self) -> str:
        return str(self.told["previous"])


def rebuild(journal: Path, to: Path) -> Rebuilt:
    """Make the log at `to` from a journal, with the id and every change of the log it was of.

    It has its name only when it was read back whole. Raises `CannotRead` (missing, directory,
    permission, not_text when it is no journal), `NothingTaken` when no line of it can be believed,
    `AlreadyThere`, `DamagedLog` when what the lines say can't be a log, and the disk's errors.
    """
    log_id, lines, numbers = _read(journal)
    changes = _longest_row(lines)
    if not changes:
        raise NothingTaken(journal)
    to = to.absolute()
    with translating(to):
        make_folder(to.parent)
    lock = WriterLock(to)
    lock.take()
    try:
        with translating(to):
            _make(to, log_id, changes)
        write_journal(to, log_id)
    finally:
        lock.release()
    taken = {change.number for change in changes}
    left_out = [number for number in numbers if number not in taken]
    return Rebuilt(len(changes), len(left_out), min(left_out, default=0))


def _read(journal: Path) -> tuple[UUID, list[_Change], list[int]]:
    """The log's id, the lines that are what was written, and the numbers of all lines."""
    lines, numbers, log_id = [], [], None
    try:
        with journal.open("rb") as file:
            told = _FIRST_LINE.fullmatch(file.readline(200))
            if told is None:
                raise CannotRead(journal, why="not_a_journal")
            log_id = UUID(told[1].decode("ascii"))
            for number, text in enumerate(file, start=2):
                if text.startswith(b"#") or not text.strip():
                    continue
                numbers.append(number)
                change = _change_of(number, text)
                if change is not None:
                    lines.append(change)
    except FileNotFoundError:
        raise CannotRead(journal, why="missing") from None
    except IsADirectoryError:
        raise CannotRead(journal, why="directory") from None
    except PermissionError:
        raise CannotRead(journal, why="permission") from None
    except ValueError:
        raise CannotRead(journal, why="not_a_journal") from None
    return log_id, lines, numbers


def _change_of(number: int, text: bytes) -> _Change | None:
    line = JournalLine.parse(text.removesuffix(b"\n").removesuffix(b"\r") + b"\n")
    if line.sha256 is None or not line.is_whole:
        return None
    try:
        change = _Change(number, line.sha256, json.loads(line.text))
        return change if change.sequence > 0 and change.previous is not None else None
    except (ValueError, KeyError, TypeError):
        return None


def _longest_row(lines: Iterable[_Change]) -> list[_Change]:
    """The longest row of changes from the first on; of two equally long, the one written last."""
    reached: dict[str, _Change] = {}
    last: _Change | None = None
    for change in sorted(lines, key=lambda one: (one.sequence, one.number)):
        before = reached.get(change.previous)
        follows = (
            change.sequence == 1 and not change.previous
            if before is None
            else change.sequence == before.sequence + 1
        )
        if follows:
            reached.setdefault(change.sha256, change)
            last = change
    row = []
    while last is not None:
        row.append(last)
        last = reached.get(last.previous)
    return row[::-1]


def _make(to: Path, log_id: UUID, changes: Sequence[_Change]) -> None:
    if to.exists() or to.is_symlink():
        raise AlreadyThere(to)
    remove_unfinished(to)
    unfinished = to.with_name(f"{Beside(to).births}{uuid4().hex}")
    try:
        make_private(unfinished)
        try:
            _fill(unfinished, to, log_id, changes)
        except (KeyError, TypeError, ValueError) as error:
            raise DamagedLog(to, why="journal") from error
        sync_file(unfinished)
        if not look_at(unfinished)[1]:
            raise DamagedLog(to, why="journal")
        name_without_overwriting(unfinished, to)
    except FileExistsError:
        raise AlreadyThere(to) from None
    finally:
        remove_unfinished(to)


def _fill(unfinished: Path, to: Path, log_id: UUID, changes: Sequence[_Change]) -> None:
    engine = make_engine(unfinished, Access.WRITE, told_as=to)
    try:
        with writing(engine) as connection:
            connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
            make_tables(connection)
            digests = 0
            for kind, rows in _rows_at_the_end(changes).items():
                digests += sum(int.from_bytes(kind.digest(stored)) for stored in rows)
                for first in range(0, len(rows), _ROWS_AT_ONCE):
                    some = rows[first : first + _ROWS_AT_ONCE]
                    added = [(*one.values(), kind.digest(one)) for one in some]
                    insert_rows(connection, kind.table, added)
            for first in range(0, len(changes), _ROWS_AT_ONCE):
                some_changes = changes[first : first + _ROWS_AT_ONCE]
                connection.execute(insert(tables.changes), [_header(one) for one in some_changes])
                records = [record for one in some_changes for record in _records(one)]
                insert_rows(connection, tables.change_records, records)
            last = changes[-1]
            connection.execute(
                insert(tables.log),
                {
                    "only": 1,
                    "log_id": log_id,
                    "writer": UUID(str(last.told["writer"])),
                    "born_at": _instant(changes[0]),
                    "last_sequence": last.sequence,
                    "schema_sha256": schema_sha256(connection),
                    "digest": ((digests + last.sequence) % DIGEST_ROOM).to_bytes(32),
                },
            )
            connection.commit()
    finally:
        engine.dispose()


def _rows_at_the_end(changes: Sequence[_Change]) -> dict[RecordKind, list[Stored]]:
    """What each record is after the last change, in the order in which they came."""
    found: dict[tuple[str, str], Stored] = {}
    for change in changes:
        for record in change.told["records"]:
            key = (str(record["kind"]), str(record["id"]))
            after = record["after"]
            if after is None:
                found.pop(key, None)
            else:
                found[key] = {**KINDS[key[0]].empty, **after}
    rows: dict[RecordKind, list[Stored]] = {}
    for (name, _), stored in found.items():
        rows.setdefault(KINDS[name], []).append(stored)
    return rows


def _header(change: _Change) -> dict[str, object]:
    told = change.told
    return {
        "sequence": change.sequence,
        "id": UUID(str(told["id"])),
        "writer": UUID(str(told["writer"])),
        "instant": _instant(change),
        "kind": ChangeKind(told["kind"]),
        "undoes": None if told["undoes"] is None else UUID(str(told["undoes"])),
        "name": told["name"],
        "count": len(told["records"]),
        "sha256": bytes.fromhex(change.sha256),
    }


def _records(change: _Change) -> list[tuple[object, ...]]:
    return [
        (
            change.sequence,
            position,
            record["kind"],
            record["id"],
            _text(record["before"]),
            _text(record["after"]),
        )
        for position, record in enumerate(change.told["records"])
    ]


def _text(record: Mapping[str, Any] | None) -> str:
    return "" if record is None else canonical_json(record)


def _instant(change: _Change) -> datetime:
    return instant_of(int(change.told["instant"]))
