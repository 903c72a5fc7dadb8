"""The lines of the plain-text journal: what one looks like, and what is to be believed of it."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from logbook.store.lines import Header

# Lines longer than this have a mark behind them.
LONG_LINE = 65_536

_SHA256_LETTERS = 64
_MARK = re.compile(rb"# up to ([0-9]{1,18}): ([0-9a-f]{64})", re.ASCII)


@dataclass(frozen=True, slots=True)
class JournalLine:
    """One line: its SHA-256 as letters (None when it is no such line), the text, and its size."""

    sha256: str | None
    text: bytes
    size: int

    @classmethod
    def parse(cls, line: bytes) -> JournalLine:
        """The parts of a line, given with its end."""
        sha256, space, text = line.removesuffix(b"\n").partition(b" ")
        is_one = bool(space) and len(sha256) == _SHA256_LETTERS and sha256.isalnum()
        return cls(sha256.decode("ascii") if is_one else None, text, len(line))

    @property
    def is_whole(self) -> bool:
        """Whether the text is what was written."""
        return self.sha256 is not None and hashlib.sha256(self.text).hexdigest() == self.sha256

    @property
    def sequence(self) -> int | None:
        """The change's sequence; None when the text is not what it should be."""
        with suppress(ValueError, KeyError, TypeError):
            return int(json.loads(self.text)["sequence"])
        return None

    @property
    def change_id(self) -> str | None:
        """The change's id; None when the text is not what it should be."""
        with suppress(ValueError, KeyError, TypeError):
            return str(json.loads(self.text)["id"])
        return None


def read_lines(path: Path) -> Iterator[JournalLine]:
    """Every change's line. The size of one counts what stands before it and is none."""
    beside = 0
    with path.open("rb") as file:
        for line in file:
            if line.startswith(b"#"):
                beside += len(line)
                continue
            yield replace(JournalLine.parse(line), size=beside + len(line))
            beside = 0


def line_with_sha256(sha256: bytes, pieces: Iterable[bytes]) -> Iterator[bytes]:
    """A change's line as it stands in the journal, piece by piece."""
    yield f"{sha256.hex()} ".encode()
    yield from pieces
    yield b"\n"


def mark_of(header: Header) -> bytes:
    """The mark behind a long line."""
    return f"# up to {header.sequence}: {header.sha256.hex()}\n".encode()


def read_mark(line: bytes) -> tuple[int, str] | None:
    """The sequence and the SHA-256 that a mark names; None when it is no mark."""
    found = _MARK.fullmatch(line)
    return None if found is None else (int(found[1]), found[2].decode("ascii"))


def parts_of(header: Header, pieces: Iterable[bytes]) -> Iterator[Iterable[bytes]]:
    """A change's line, and its mark when it is long: each is to be on the disk before the next.

    Each part comes in pieces, which are to be written before the next part is asked for.
    """
    size = 0

    def measured() -> Iterator[bytes]:
        nonlocal size
        for piece in line_with_sha256(header.sha256, pieces):
            size += len(piece)
            yield piece

    yield measured()
    if size > LONG_LINE:
        yield [mark_of(header)]


def is_part(part: bytes, whole: bytes) -> bool:
    """Whether a part is what a power cut may leave of the whole: its beginning, with gaps."""
    return len(part) <= len(whole) and all(
        there in (wanted, 0) for there, wanted in zip(part, whole, strict=False)
    )
