"""The line of a change: its canonical text, which is what its SHA-256 is taken over.

The same line stands in the journal. It holds the SHA-256 of the change before it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar
from uuid import UUID

from logbook.store.row_parts import canonical_json
from logbook.store.tables import ChangeKind
from logbook.store.types import microseconds

# The form of the records' texts in a line. A column that comes or goes leaves it as it is, since
# what a text does not name is empty; only a text that would mean something else raises it.
LINE_VERSION = 1

# So many records are held as rows, parameters and texts at a time.
BATCH = 1_000

T = TypeVar("T")


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


def line_pieces(
    header: Header, previous: bytes, batches: Iterable[Sequence[RecordValues]]
) -> Iterator[bytes]:
    """The same line in pieces: its beginning, its records batch by batch, its end.

    A long import is a long line, of which nobody needs more than a piece at a time.
    """
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
    yield f'{first[:-1]},"records":['.encode()
    comma = ""
    # The records' texts are canonical already; a long import is not parsed to be written again.
    for records in batches:
        middle = ",".join(
            f'{{"after":{after or "null"},"before":{before or "null"},'
            f'"id":{canonical_json(key)},"kind":"{kind}"}}'
            for kind, key, before, after in records
        )
        if middle:
            yield f"{comma}{middle}".encode()
            comma = ","
    yield f"],{last[1:]}".encode()


def in_batches(records: Sequence[T]) -> Iterator[Sequence[T]]:
    """The same records, a batch at a time."""
    return (records[start : start + BATCH] for start in range(0, len(records), BATCH))


def sha256_of(pieces: Iterable[bytes]) -> bytes:
    """The SHA-256 of a line in pieces."""
    found = hashlib.sha256()
    for piece in pieces:
        found.update(piece)
    return found.digest()


def signed(header: Header, pieces: Iterable[bytes]) -> Header:
    """The header with the SHA-256 of its line."""
    return replace(header, sha256=sha256_of(pieces))
