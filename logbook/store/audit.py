"""Reading everything there is, and telling what is not as it was written.

For copies, imports and migrations, which must not carry damage along, and for the check. Nothing is
altered here, and what can't be read does not end the reading.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field

from sqlalchemy import Connection, Row, literal, select

from logbook.domain.errors import DamagedLog
from logbook.domain.health import Finding, FindingKind
from logbook.store import tables
from logbook.store.changes import DIGEST_ROOM, read_state
from logbook.store.lines import Header, RecordValues, line_of
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
    if set(audit.change_sha256) != set(range(1, state.last_sequence + 1)):
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
            total += int.from_bytes(digest or b"")
            if not is_sound(row_text, digest):
                audit.find(FindingKind.ROW, table.name)
        if len(found) < _ROWS_AT_ONCE:
            return total
        after = found[-1][0]


def _read_row(connection: Connection, kind: RecordKind, rowid: int) -> Row[tuple[object, ...]]:
    table = kind.table
    digest = b""
    for columns in ((table.c.digest,), (row_text_of(kind), table.c.digest)):
        statement = select(*columns).select_from(table).where(literal(rowid) == ROWID)
        try:
            row = connection.execute(statement).one()
        except DamagedLog:
            return (rowid, None, digest)  # type: ignore[return-value]
        digest = row[-1]
    return (rowid, *row)  # type: ignore[return-value]


# --- changes -------------------------------------------------------------------------------------


def _audit_changes(connection: Connection, audit: Audit) -> None:
    """Follow the changes from the first to the last, each with the one before it."""
    try:
        last = (
            connection.scalar(
                select(tables.changes.c.sequence)
                .order_by(tables.changes.c.sequence.desc())
                .limit(1)
            )
            or 0
        )
    except DamagedLog:
        audit.find(FindingKind.CHANGE, "")
        return
    previous = b""
    for first in range(1, last + 1, _CHANGES_AT_ONCE):
        end = min(first + _CHANGES_AT_ONCE, last + 1)
        try:
            some = _read_changes(connection, first, end)
        except (DamagedLog, ValueError):
            some = {}
            for sequence in range(first, end):
                try:
                    some |= _read_changes(connection, sequence, sequence + 1)
                except (DamagedLog, ValueError):
                    audit.find(FindingKind.CHANGE, "")
                    audit.change_sha256[sequence] = b""
        for sequence in sorted(some):
            header, records = some[sequence]
            audit.changes += 1
            audit.change_sha256[sequence] = header.sha256
            line = line_of(header, previous, records)
            is_whole = len(records) == header.count
            if not is_whole or hashlib.sha256(line.encode()).digest() != header.sha256:
                audit.find(FindingKind.CHANGE, "")
            previous = header.sha256


def _read_changes(
    connection: Connection, first: int, end: int
) -> dict[int, tuple[Header, Sequence[RecordValues]]]:
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
        records[sequence].append(tuple(values))
    return {row.sequence: (Header(*row), records[row.sequence]) for row in headers}
