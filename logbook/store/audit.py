"""Reading everything there is, and telling what is not as it was written.

For copies, imports and migrations, which must not carry damage along, and for the check. Nothing is
altered here, and what can't be read does not end the reading.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Row, literal, select

from logbook.domain.errors import DamagedLog
from logbook.domain.health import Finding, FindingKind
from logbook.store import tables
from logbook.store.changes import DIGEST_ROOM, header_of, read_state, record_values_of
from logbook.store.lines import Header, RecordValues, in_batches, line_pieces, sha256_of
from logbook.store.older import kinds_in
from logbook.store.records import RecordKind
from logbook.store.schema import schema_sha256
from logbook.store.statements import row_text_of
from logbook.store.verify import ROWID, is_sound

_ROWS_AT_ONCE = 2_000
_CHANGES_AT_ONCE = 500
# SQLite's own check stops after so many complaints; one is enough to know.
_COMPLAINTS = 100


@dataclass
class Audit:
    """What an audit saw."""

    counts: dict[tuple[FindingKind, str], int] = field(default_factory=dict)
    records: int = 0
    changes: int = 0
    change_sha256: dict[int, bytes] = field(default_factory=dict)

    def find(self, kind: FindingKind, subject: str) -> None:
        """Count one more of these."""
        self.counts[kind, subject] = self.counts.get((kind, subject), 0) + 1

    @property
    def findings(self) -> list[Finding]:
        """Everything that was found, once each with its count."""
        return [Finding(kind, subject, n) for (kind, subject), n in self.counts.items()]


def audit_log(connection: Connection) -> Audit:
    """Read the whole log within one transaction."""
    audit = Audit()
    _audit_structure(connection, audit)
    digests = sum(_audit_rows(connection, kind, audit) for kind in kinds_in(connection))
    _audit_changes(connection, audit)
    try:
        state = read_state(connection)
    except DamagedLog:
        audit.find(FindingKind.STRUCTURE, tables.log.name)
        return audit
    try:
        if state.schema_sha256 != schema_sha256(connection):
            audit.find(FindingKind.STRUCTURE, "")
    except DamagedLog:
        audit.find(FindingKind.STRUCTURE, "")
    if int.from_bytes(state.digest) != (digests + state.last_sequence) % DIGEST_ROOM:
        audit.find(FindingKind.LOG_DIGEST, tables.log.name)
    there = audit.change_sha256
    # Counted, not listed: a damaged last sequence may be any number.
    if len(there) != state.last_sequence or max(there, default=0) != state.last_sequence:
        audit.find(FindingKind.SEQUENCE, tables.changes.name)
    return audit


def _audit_structure(connection: Connection, audit: Audit) -> None:
    """SQLite's own checks. They know nothing of values that changed: that is for the digests."""
    try:
        complaints = connection.exec_driver_sql(f"PRAGMA integrity_check({_COMPLAINTS})").all()
        for (complaint,) in complaints:
            if complaint != "ok":
                audit.find(FindingKind.STRUCTURE, "")
    except DamagedLog:
        audit.find(FindingKind.STRUCTURE, "")
    try:
        for row in connection.exec_driver_sql("PRAGMA foreign_key_check").all():
            audit.find(FindingKind.REFERENCE, str(row[0]))
    except DamagedLog:
        audit.find(FindingKind.STRUCTURE, "")


def _audit_rows(connection: Connection, kind: RecordKind, audit: Audit) -> int:
    """Verify every row of a kind; returns the sum of the digests as they stand there."""
    total = 0
    table = kind.table
    columns = (row_text_of(kind), table.c.digest)
    after = -1
    while True:
        keys = select(ROWID).select_from(table).where(literal(after) < ROWID).order_by(ROWID)
        try:
            found = connection.execute(
                select(ROWID, *columns)
                .select_from(table)
                .where(literal(after) < ROWID)
                .order_by(ROWID)
                .limit(_ROWS_AT_ONCE)
            ).all()
        except DamagedLog:
            try:
                rowids = connection.scalars(keys.limit(_ROWS_AT_ONCE)).all()
            except DamagedLog:
                audit.find(FindingKind.ROW, table.name)
                return total
            found = [_read_row(connection, kind, rowid) for rowid in rowids]
        for _, row_text, digest in found:
            audit.records += 1
            # On a page that took the place of another anything may stand there.
            total += int.from_bytes(digest) if isinstance(digest, bytes) else 0
            if not is_sound(row_text, digest):
                audit.find(FindingKind.ROW, table.name)
        if len(found) < _ROWS_AT_ONCE:
            return total
        after = found[-1][0]


def _read_row(connection: Connection, kind: RecordKind, rowid: int) -> Row[tuple[object, ...]]:
    table = kind.table
    digest, row_text = b"", None
    for columns in ((table.c.digest,), (row_text_of(kind), table.c.digest)):
        statement = select(*columns).select_from(table).where(literal(rowid) == ROWID)
        row: Row[Any] | None = None
        with suppress(DamagedLog):
            row = connection.execute(statement).one_or_none()
        if row is None:  # its key led to it and its page does not
            return (rowid, None, digest)  # type: ignore[return-value]
        row_text, digest = row[0], row[-1]
    return (rowid, row_text, digest)  # type: ignore[return-value]


# --- changes -------------------------------------------------------------------------------------


def _audit_changes(connection: Connection, audit: Audit) -> None:
    """Follow the changes from the first to the last, each with the one before it."""
    previous = b""
    after = 0
    while True:
        try:
            some = _sequences_after(connection, after)
        except DamagedLog:
            audit.find(FindingKind.CHANGE, "")
            return
        if not some:
            return
        for sequence, found in _read_or_none(connection, some).items():
            if found is None:
                audit.find(FindingKind.CHANGE, "")
                audit.change_sha256[sequence] = b""
                continue
            header, records = found
            audit.changes += 1
            audit.change_sha256[sequence] = header.sha256
            is_whole = len(records) == header.count
            pieces = line_pieces(header, previous, in_batches(records))
            if not is_whole or sha256_of(pieces) != header.sha256:
                audit.find(FindingKind.CHANGE, "")
            previous = header.sha256
        after = some[-1]


def _sequences_after(connection: Connection, after: int) -> Sequence[int]:
    """The next sequences that are there; never all that might be, should one be damaged."""
    sequence = tables.changes.c.sequence
    statement = select(sequence).where(sequence > after).order_by(sequence)
    return connection.scalars(statement.limit(_CHANGES_AT_ONCE)).all()


_Change = tuple[Header, Sequence[RecordValues]]


def _read_or_none(connection: Connection, sequences: Sequence[int]) -> dict[int, _Change | None]:
    """The changes with their records; None for each that can't be read."""
    try:
        some = _read_changes(connection, sequences[0], sequences[-1] + 1)
        if len(some) == len(sequences):
            return dict(sorted(some.items()))
    except (DamagedLog, ValueError, TypeError):
        pass
    found: dict[int, _Change | None] = {}
    for sequence in sequences:
        try:
            found[sequence] = _read_changes(connection, sequence, sequence + 1).get(sequence)
        except (DamagedLog, ValueError, TypeError):
            found[sequence] = None
    return found


def _read_changes(connection: Connection, first: int, end: int) -> dict[int, _Change]:
    c, r = tables.changes.c, tables.change_records.c
    headers = connection.execute(
        select(*tables.changes.columns).where(c.sequence >= first, c.sequence < end)
    ).all()
    records: dict[int, list[RecordValues]] = defaultdict(list)
    for sequence, *values in connection.execute(
        select(r.sequence, r.kind, r.record_id, r.before, r.after)
        .where(r.sequence >= first, r.sequence < end)
        .order_by(r.sequence, r.position)
    ):
        records[sequence].append(record_values_of(connection, values))
    found = [header_of(connection, row) for row in headers]
    return {header.sequence: (header, records[header.sequence]) for header in found}
