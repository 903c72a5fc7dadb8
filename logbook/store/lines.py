"""The line of a change: its canonical text, which is what its SHA-256 is taken over.

The same line stands in the journal. It holds the SHA-256 of the change before it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from logbook.store.row_parts import canonical_json
from logbook.store.tables import ChangeKind
from logbook.store.types import microseconds

# The form of the records' texts in a line. A column that comes or goes leaves it as it is, since
# what a text does not name is empty; only a text that would mean something else raises it.
LINE_VERSION = 1


@dataclass(frozen=True, slots=True)
class Header:
    """A change without its records. `instant` is when it was made, `name` an import's file."""

    sequence: int
    id: UUID
    writer: UUID
    instant: datetime
    kind: ChangeKind
    undoes: UUID | None
    name: str
    count: int
    sha256: bytes


RecordValues = tuple[str, str, str, str]
"""Kind, key, record text before and after; empty texts mean "not there"."""


def line_of(header: Header, previous: bytes, records: Sequence[RecordValues]) -> str:
    """The canonical line of a change: one JSON object with sorted keys, without its own SHA-256."""
    first = canonical_json(
        {
            "id": str(header.id),
            "instant": microseconds(header.instant),
            "kind": header.kind.value,
            "name": header.name,
            "previous": previous.hex(),
        }
    )
    last = canonical_json(
        {
            "sequence": header.sequence,
            "undoes": None if header.undoes is None else str(header.undoes),
            "version": LINE_VERSION,
            "writer": str(header.writer),
        }
    )
    # The records' texts are canonical already; a long import is not parsed to be written again.
    middle = ",".join(
        f'{{"after":{after or "null"},"before":{before or "null"},'
        f'"id":{canonical_json(key)},"kind":"{kind}"}}'
        for kind, key, before, after in records
    )
    return f'{first[:-1]},"records":[{middle}],{last[1:]}'


def signed(header: Header, line: str) -> Header:
    """The header with the SHA-256 of its line."""
    return replace(header, sha256=hashlib.sha256(line.encode()).digest())
