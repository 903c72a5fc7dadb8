"""The plain-text journal: every change as a line of text beside the log.

It is a copy of the changes, from which the log can be made again without any database. Each line is
the SHA-256 of what follows it, a space, and the canonical JSON of the change, so it can be checked
with a text editor and `sha256sum`. It follows the log: "saved" waits for the log's COMMIT alone,
and whatever the journal lacks is written into it when the log is opened.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

from sqlalchemy import Connection, select

from logbook.domain.errors import DamagedLog, LogbookError
from logbook.store import tables
from logbook.store.changes import read_header, read_line, read_state
from logbook.store.engine import Access, make_engine, reading
from logbook.store.files import FILE_MODE, Beside, make_private, sync_folder
from logbook.store.tables import ChangeKind

_HEAD = 200  # more than the first line
_BLOCK = 65_536
_SHA256_LETTERS = 64


@dataclass(frozen=True, slots=True)
class JournalState:
    """What was found when the journal was compared with the log.

    `added` lines were missing and are there now; `unknown` lines are of changes that the log does
    not have (kept as they are); `is_writable` is false when lines could not be added.
    """

    added: int = 0
    unknown: int = 0
    is_writable: bool = True


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


class Journal:
    """The journal of the log whose id is `log_id`."""

    def __init__(self, path: Path, log_id: UUID) -> None:
        self.path = path
        self._first_line = f"# Fingerstick Logbook, changes, form 1, log {log_id}\n".encode()
        self._size: int | None = None

    def append(self, sha256: bytes, line: str) -> bool:
        """Add the line of a change that was just committed; False when the journal must be healed.

        Never raises: the change is safe in the log whatever becomes of its copy here.
        """
        try:
            if self._size is None or self.path.stat().st_size != self._size:
                return False
            self._write([_line(sha256, line)])
        except OSError:
            self._size = None
            return False
        return True

    def heal(self, connection: Connection) -> JournalState:
        """Add the lines that are missing since the journal's last one.

        Never raises: a log whose journal can't be written, or can't be told from damaged changes,
        is kept and used all the same, and the check tells.
        """
        try:
            return self._heal(connection)
        except (OSError, DamagedLog):
            self._size = None
            return JournalState(is_writable=False)

    def write_anew(self, connection: Connection) -> None:
        """After words were erased: all lines as the log has them now. Never raises, like `heal`.

        A line of a change that the log has otherwise held the words, so it goes; whatever else the
        log does not know is kept.
        """
        try:
            self._write_all(connection)
        except (OSError, DamagedLog):
            self._size = None

    def _write_all(self, connection: Connection) -> JournalState:
        columns = tables.changes.c
        in_log = {
            str(change_id): sha256.hex()
            for change_id, sha256 in connection.execute(select(columns.id, columns.sha256))
        }
        unknown = [
            line
            for line in (read_lines(self.path) if self.path.exists() else ())
            if line.change_id not in in_log and line.sha256 is not None
        ]
        lines = [
            self._first_line,
            *(f"{one.sha256} ".encode() + one.text + b"\n" for one in unknown),
        ]
        last_sequence = read_state(connection).last_sequence
        self._write_anew(lines, range(1, last_sequence + 1), connection)
        return JournalState(added=last_sequence, unknown=len(unknown))

    def _heal(self, connection: Connection) -> JournalState:
        last_sequence = read_state(connection).last_sequence
        if last_sequence:
            read_header(connection, last_sequence)  # a damaged one may be any number
        self._unfinished.unlink(missing_ok=True)
        if not self.path.exists() or self._first_line.startswith(_head(self.path)):
            return self._begin(connection, last_sequence)
        before, last, torn = _tail(self.path)
        known = self._sequence_of(last, connection)
        if torn:
            if self._is_our_next(torn, known, connection):
                self._take_off(len(torn))
            else:
                self._write([b"\n"])
        elif known is None:
            # A power cut may leave a line with its end, and nothing in places before.
            known_before = self._sequence_of(before, connection)
            if self._is_our_next(last + b"\n", known_before, connection):
                self._take_off(len(last) + 1)
                known = known_before
        self._size = self.path.stat().st_size
        if known is not None:
            missing = range(known + 1, last_sequence + 1)
            self._write_changes(missing, connection)
            return JournalState(added=len(missing))
        return self._heal_whole(connection, last_sequence)

    def _begin(self, connection: Connection, last_sequence: int) -> JournalState:
        """Write all of it."""
        missing = range(1, last_sequence + 1)
        self._write_anew([self._first_line], missing, connection)
        return JournalState(added=len(missing))

    def _sequence_of(self, last: bytes, connection: Connection) -> int | None:
        """The sequence of the last line when the log has that change; 0 for the first line."""
        if last + b"\n" == self._first_line:
            return 0
        line = JournalLine.parse(last)
        sequence = line.sequence
        if sequence is None:
            return None
        with suppress(DamagedLog):
            if read_header(connection, sequence).sha256.hex() == line.sha256:
                return sequence
        return None

    def _is_our_next(self, part: bytes, known: int | None, connection: Connection) -> bool:
        """Whether the journal's end is what got to the disk of the line after `known`."""
        if known is None:
            return False
        with suppress(DamagedLog):
            header = read_header(connection, known + 1)
            whole = _line(header.sha256, read_line(connection, header))
            return len(part) <= len(whole) and all(
                there in (wanted, 0) for there, wanted in zip(part, whole, strict=False)
            )
        return False

    def _take_off(self, size: int) -> None:
        os.truncate(self.path, self.path.stat().st_size - size)

    def _heal_whole(self, connection: Connection, last_sequence: int) -> JournalState:
        """Compare every line: the journal ends with something that the log does not know."""
        if _has_erased(connection):
            # A kill came between the erasing and the journal, which still has the words.
            return self._write_all(connection)
        in_log = {
            sha256.hex(): sequence
            for sequence, sha256 in connection.execute(
                select(tables.changes.c.sequence, tables.changes.c.sha256)
            )
        }
        here: set[int] = set()
        unknown = 0
        for line in read_lines(self.path):
            sequence = in_log.get(line.sha256) if line.sha256 is not None else None
            if sequence is None:
                unknown += 1
            else:
                here.add(sequence)
        missing = [one for one in range(1, last_sequence + 1) if one not in here]
        self._write_changes(missing, connection)
        return JournalState(added=len(missing), unknown=unknown)

    def _write_changes(self, sequences: Sequence[int], connection: Connection) -> None:
        if len(sequences) == 1:
            self._write(_lines_of(sequences, connection))
        elif sequences:
            # Of several lines a power cut may keep the last and lose one in the middle.
            with self.path.open("rb") as file:
                self._write_anew(file, sequences, connection)

    def _write_anew(
        self, lines: Iterable[bytes], sequences: Sequence[int], connection: Connection
    ) -> None:
        """Put lines, and then those of changes, in the journal's place, whole or not at all."""
        make_private(self._unfinished)
        with self._unfinished.open("wb") as file:
            file.writelines(lines)
            file.writelines(_lines_of(sequences, connection))
            file.flush()
            os.fsync(file.fileno())
            size = file.tell()
        self._unfinished.replace(self.path)
        sync_folder(self.path.parent)
        self._size = size

    @property
    def _unfinished(self) -> Path:
        return self.path.with_name(f".{self.path.name}.unfinished")

    def _write(self, lines: Iterable[bytes]) -> None:
        flags = os.O_WRONLY | os.O_APPEND | os.O_CREAT
        descriptor = os.open(self.path, flags, FILE_MODE)
        with open(descriptor, "ab", closefd=True) as file:  # noqa: PTH123 (its mode is set above)
            if hasattr(os, "fchmod"):
                os.fchmod(descriptor, FILE_MODE)
            file.writelines(lines)
            file.flush()
            os.fsync(descriptor)
            self._size = file.tell()


def write_journal(path: Path, log_id: UUID) -> None:
    """Bring the journal of a closed log up to date. The caller holds the log's lock.

    Never raises: the next opening does the same.
    """
    engine = make_engine(path, Access.READ)
    try:
        with suppress(LogbookError), reading(engine) as connection:
            Journal(Beside(path).journal, log_id).heal(connection)
    finally:
        engine.dispose()


def read_lines(path: Path) -> Iterator[JournalLine]:
    """Every line of a journal but the first."""
    with path.open("rb") as file:
        for line in file:
            if not line.startswith(b"#"):
                yield JournalLine.parse(line)


def _has_erased(connection: Connection) -> bool:
    columns = tables.changes.c
    wanted = select(columns.sequence).where(columns.kind == ChangeKind.ERASE).limit(1)
    return connection.scalar(wanted) is not None


def _line(sha256: bytes, text: str) -> bytes:
    return f"{sha256.hex()} {text}\n".encode()


def _lines_of(sequences: Sequence[int], connection: Connection) -> Iterator[bytes]:
    for sequence in sequences:
        with suppress(DamagedLog):  # a damaged change is never copied
            header = read_header(connection, sequence)
            yield _line(header.sha256, read_line(connection, header))


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(_HEAD)


def _tail(path: Path) -> tuple[bytes, bytes, bytes]:
    """The last whole line but one and the last, without their ends, and what comes after."""
    with path.open("rb") as file:
        position = file.seek(0, os.SEEK_END)
        found = b""
        step = _BLOCK
        # A long import is one long line, so each look goes twice as far back.
        while position > 0 and found.count(b"\n") < 3:
            position = max(0, position - step)
            step *= 2
            file.seek(position)
            found = file.read()
    *lines, torn = found.split(b"\n")
    before, last = [b"", b"", *lines][-2:]
    return before, last, torn
