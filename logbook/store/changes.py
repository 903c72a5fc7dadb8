"""Changes: the one door through which anything in the log is added, altered or taken back.

A change is a list of steps, each one record before and after. It is written in the transaction that
alters the rows, with the SHA-256 of its line; each line holds the SHA-256 of the change before it,
so a line that is missing or altered shows. Which change can be taken back is told by `undo`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import Any, overload
from uuid import UUID, uuid4

from sqlalchemy import Connection, Row, insert, select, update

from logbook.domain.errors import DamagedLog, NoSuchRecord
from logbook.store import tables
from logbook.store.engine import log_of
from logbook.store.lines import (
    Header,
    RecordValues,
    in_batches,
    line_pieces,
    sha256_of,
    signed,
)
from logbook.store.records import KINDS, RecordKind, Stored
from logbook.store.statements import insert_rows, parameters, statements_of
from logbook.store.tables import ChangeKind
from logbook.store.verify import verify_present

DIGEST_ROOM = 2**256
_NOT_YET_SIGNED = bytes(32)
_HEADERS_AT_ONCE = 60


@dataclass(frozen=True, slots=True)
class Step:
    """One record of a change: what it was before and after; None means that it was not there."""

    kind: RecordKind
    key: str
    before: Stored | None
    after: Stored | None

    @property
    def backwards(self) -> Step:
        """The step that takes this one back."""
        return Step(self.kind, self.key, self.after, self.before)


class StepsInTurn(Sequence[Step]):
    """The steps of a long change, each made when it is wanted and let go of again."""

    def __init__(self, count: int, make: Callable[[int], Step]) -> None:
        self._places = range(count)
        self._make = make

    def __len__(self) -> int:
        return len(self._places)

    @overload
    def __getitem__(self, place: int) -> Step: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[Step]: ...

    def __getitem__(self, place: int | slice) -> Step | Sequence[Step]:
        if isinstance(place, slice):
            return [self._make(one) for one in self._places[place]]
        return self._make(self._places[place])


@dataclass(frozen=True, slots=True)
class Written:
    """A change that was just written, with the pieces of its line for the journal."""

    header: Header
    steps: Sequence[Step]
    kinds: frozenset[RecordKind]
    pieces: tuple[bytes, ...]


Told = Callable[[int, int], None]
"""Called with how many records of how many are written; what it raises undoes all of them."""


@dataclass(frozen=True, slots=True)
class LogState:
    """Where the log stands: who it is, its last change and its digest."""

    log_id: UUID
    writer: UUID
    last_sequence: int
    digest: bytes
    schema_sha256: bytes


def read_state(connection: Connection) -> LogState:
    """The log's own row. Raises `DamagedLog` (why=identity) when it is missing or torn."""
    c = tables.log.c
    columns = (c.log_id, c.writer, c.last_sequence, c.digest, c.schema_sha256)
    row = connection.execute(select(*columns)).one_or_none()
    if row is None or tuple(map(type, row)) != (UUID, UUID, int, bytes, bytes):
        raise DamagedLog(log_of(connection), why="identity")
    return LogState(*row)


def write_change(
    connection: Connection,
    kind: ChangeKind,
    steps: Sequence[Step],
    at: datetime,
    *,
    name: str = "",
    undoes: UUID | None = None,
    told: Told | None = None,
) -> Written:
    """Alter the rows and write down that, how and when. The caller commits.

    A long change is written batch by batch, so that it needs little memory; `told` hears of each.

    Raises `DamagedLog` (why=digest) when a row is not what it should be before, and (why=sequence)
    when the log's own row and its last change do not agree.
    """
    state = read_state(connection)
    last = read_header(connection, state.last_sequence) if state.last_sequence else None
    sequence = state.last_sequence + 1
    unsigned = Header(
        sequence, uuid4(), state.writer, at, kind, undoes, name, len(steps), _NOT_YET_SIGNED
    )
    _insert_header(connection, unsigned)
    work = _Work(connection, sequence, steps, told)
    previous = last.sha256 if last is not None else b""
    pieces = tuple(line_pieces(unsigned, previous, work.batches()))
    header = signed(unsigned, pieces)
    changes = tables.changes
    connection.execute(
        update(changes).where(changes.c.sequence == sequence).values(sha256=header.sha256)
    )
    digest = (int.from_bytes(state.digest) - state.last_sequence + work.difference + sequence) % (
        DIGEST_ROOM
    )
    connection.execute(
        update(tables.log).values(last_sequence=sequence, digest=digest.to_bytes(32))
    )
    return Written(header, steps, frozenset(work.kinds), pieces)


def _insert_header(connection: Connection, header: Header) -> None:
    connection.execute(
        insert(tables.changes),
        {
            "sequence": header.sequence,
            "id": header.id,
            "writer": header.writer,
            "instant": header.instant,
            "kind": header.kind,
            "undoes": header.undoes,
            "name": header.name,
            "count": header.count,
            "sha256": header.sha256,
        },
    )


class _Work:
    """The records of one change, written batch by batch."""

    def __init__(
        self, connection: Connection, sequence: int, steps: Sequence[Step], told: Told | None
    ) -> None:
        self._connection = connection
        self._sequence = sequence
        self._steps = steps
        self._told = told
        self.difference = 0
        self.kinds: set[RecordKind] = set()

    def batches(self) -> Iterator[list[RecordValues]]:
        """Write each batch, and hand its texts on to the change's line."""
        start = 0
        for some in in_batches(self._steps):
            self.kinds.update(step.kind for step in some)
            self.difference += apply_steps(self._connection, some)
            records = [_record_values(step) for step in some]
            insert_rows(
                self._connection,
                tables.change_records,
                [(self._sequence, place, *record) for place, record in enumerate(records, start)],
            )
            start += len(some)
            if self._told is not None:
                self._told(start, len(self._steps))
            yield records


def apply_steps(connection: Connection, steps: Sequence[Step]) -> int:
    """Alter the rows; returns by how much the sum of the rows' digests grows."""
    difference = 0
    for _key, group in groupby(steps, key=_kind_and_action):
        together = list(group)
        kind = together[0].kind
        before = [(step.key, step.before) for step in together if step.before is not None]
        after = [
            (step.key, step.after, kind.digest(step.after))
            for step in together
            if step.after is not None
        ]
        verify_present(connection, kind, dict(before))
        difference -= sum(int.from_bytes(kind.digest(stored)) for _, stored in before)
        difference += sum(int.from_bytes(digest) for *_, digest in after)
        if not before:
            rows = [(*stored.values(), digest) for _, stored, digest in after]
            insert_rows(connection, kind.table, rows)
        elif not after:
            removed = [{"at_key": key} for key, _ in before]
            connection.execute(statements_of(kind).removal, removed)
        else:
            replaced = [
                {"at_key": key, **parameters(stored, digest)} for key, stored, digest in after
            ]
            connection.execute(statements_of(kind).replacement, replaced)
    return difference


def _kind_and_action(step: Step) -> tuple[str, tuple[bool, bool]]:
    return step.kind.name, (step.before is not None, step.after is not None)


def _record_values(step: Step) -> RecordValues:
    texts = (
        "" if stored is None else step.kind.record_text(stored)
        for stored in (step.before, step.after)
    )
    return (step.kind.name, step.key, *texts)  # type: ignore[return-value]


# --- reading changes -----------------------------------------------------------------------------

_header_columns = tuple(tables.changes.columns)
# In the order of the columns; a damaged page may hold anything.
_HEADER_TYPES = (int, UUID, UUID, datetime, ChangeKind, UUID | None, str, int, bytes)


def read_header(connection: Connection, sequence: int) -> Header:
    """The change with this sequence. Raises `DamagedLog` (why=sequence) when there is none."""
    row = connection.execute(
        select(*_header_columns).where(tables.changes.c.sequence == sequence)
    ).one_or_none()
    if row is None:
        raise DamagedLog(log_of(connection), why="sequence", sequence=sequence)
    return header_of(connection, row)


def header_of(connection: Connection, row: Row[Any]) -> Header:
    """The header that a whole row of `changes` is. Raises `DamagedLog` (why=change) for others."""
    values: tuple[Any, ...] = tuple(row)
    fits = zip(_HEADER_TYPES, values, strict=True)
    if not all(isinstance(value, kind) for kind, value in fits):
        raise DamagedLog(log_of(connection), why="change")
    return Header(*values)


def read_headers_backwards(connection: Connection) -> Iterator[Header]:
    """All changes, the newest first; read only as far as is asked for."""
    c = tables.changes.c
    before = sys.maxsize
    while True:
        rows = connection.execute(
            select(*_header_columns)
            .where(c.sequence < before)
            .order_by(c.sequence.desc())
            .limit(_HEADERS_AT_ONCE)
        ).all()
        for row in rows:
            yield header_of(connection, row)
        if len(rows) < _HEADERS_AT_ONCE:
            return
        before = rows[-1].sequence


def read_record_values(
    connection: Connection, sequence: int, *, limit: int | None = None
) -> list[RecordValues]:
    """The records of a change as texts, in order; at most `limit` of them.

    Raises `DamagedLog` (why=change) when they are no texts.
    """
    c = tables.change_records.c
    statement = (
        select(c.kind, c.record_id, c.before, c.after)
        .where(c.sequence == sequence)
        .order_by(c.position)
        .limit(limit)
    )
    return [record_values_of(connection, row) for row in connection.execute(statement)]


def record_values_of(connection: Connection, row: Sequence[Any]) -> RecordValues:
    """The texts of a record that a row holds. Raises `DamagedLog` (why=change) for others."""
    if not all(isinstance(value, str) for value in row):
        raise DamagedLog(log_of(connection), why="change")
    kind_name, key, before, after = row
    return kind_name, key, before, after


def read_line(connection: Connection, header: Header) -> list[bytes]:
    """The line of a change in pieces, verified. Raises `DamagedLog` (why=change)."""
    records = read_record_values(connection, header.sequence)
    pieces = list(_pieces(connection, header, records))
    if sha256_of(pieces) != header.sha256:
        raise DamagedLog(log_of(connection), why="change", sequence=header.sequence)
    return pieces


def read_steps(connection: Connection, header: Header) -> Sequence[Step]:
    """The steps of a change, verified. Raises `DamagedLog` (why=change)."""
    records = read_record_values(connection, header.sequence)
    if sha256_of(_pieces(connection, header, records)) != header.sha256:
        raise DamagedLog(log_of(connection), why="change", sequence=header.sequence)
    return StepsInTurn(len(records), lambda place: step_of(records[place]))


def _pieces(
    connection: Connection, header: Header, records: Sequence[RecordValues]
) -> Iterator[bytes]:
    previous = read_header(connection, header.sequence - 1).sha256 if header.sequence > 1 else b""
    return line_pieces(header, previous, in_batches(records))


def step_of(values: RecordValues) -> Step:
    """The step of one record's texts."""
    kind_name, key, before, after = values
    kind = KINDS[kind_name]
    return Step(
        kind,
        key,
        kind.from_record_text(before) if before else None,
        kind.from_record_text(after) if after else None,
    )


def last_known(connection: Connection, kind: RecordKind) -> dict[str, Stored]:
    """Every record of a kind as the verified changes left it, by key.

    For when a row is damaged. Raises `DamagedLog` (why=change) when a change is damaged too.
    """
    c = tables.change_records.c
    statement = (
        select(c.sequence, c.record_id, c.after)
        .where(c.kind == kind.name)
        .order_by(c.sequence, c.position)
    )
    found: dict[str, tuple[int, str]] = {}
    for sequence, key, after in connection.execute(statement):
        found[key] = (sequence, after)
    for sequence in {sequence for sequence, _ in found.values()}:
        read_line(connection, read_header(connection, sequence))
    return {key: kind.from_record_text(after) for key, (_, after) in found.items() if after}


def find_change(connection: Connection, change_id: UUID) -> Header:
    """The change with this id. Raises `NoSuchRecord`."""
    row = connection.execute(
        select(*_header_columns).where(tables.changes.c.id == change_id)
    ).one_or_none()
    if row is None:
        raise NoSuchRecord(change_id)
    return header_of(connection, row)
