"""The plain-text journal: every change as a line of text beside the log.

It is a copy of the changes, from which the log can be made again without any database. Each line is
the SHA-256 of what follows it, a space, and the canonical JSON of the change, so it can be checked
with a text editor and `sha256sum`. It follows the log: "saved" waits for the log's COMMIT alone,
and whatever the journal lacks is written into it when the log is opened.

Behind a long line, an import of years, stands a *mark*: a short line that names the change, written
once the long one is on the disk. So a start need not read the long one to know that it is there.
"""

from __future__ import annotations

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
from logbook.store.journal_lines import (
    LONG_LINE,
    JournalLine,
    is_part,
    line_with_sha256,
    mark_of,
    parts_of,
    read_lines,
    read_mark,
)
from logbook.store.lines import Header
from logbook.store.tables import ChangeKind

_HEAD = 200  # more than the first line
_BLOCK = 65_536


@dataclass(frozen=True, slots=True)
class JournalState:
    """What was found when the journal was compared with the log.

    `added` lines were missing and are there now; `unknown` lines are of changes that the log does
    not have (kept as they are); `is_writable` is false when lines could not be added.
    """

    added: int = 0
    unknown: int = 0
    is_writable: bool = True


class Journal:
    """The journal of the log whose id is `log_id`."""

    def __init__(self, path: Path, log_id: UUID) -> None:
        self.path = path
        self._first_line = f"# Fingerstick Logbook, changes, form 1, log {log_id}\n".encode()
        self._size: int | None = None

    def append(self, header: Header, pieces: Iterable[bytes]) -> bool:
        """Add the line of a change that was just committed; False when the journal must be healed.

        Never raises: the change is safe in the log whatever becomes of its copy here.
        """
        try:
            if self._size is None or self.path.stat().st_size != self._size:
                return False
            for part in parts_of(header, pieces):
                self._write(part)
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
        known = self._marked(connection)
        if known is None:
            known = self._mend_end(connection)
        self._size = self.path.stat().st_size
        if known is not None:
            missing = range(known + 1, last_sequence + 1)
            self._write_changes(missing, connection)
            return JournalState(added=len(missing))
        return self._heal_whole(connection, last_sequence)

    def _marked(self, connection: Connection) -> int | None:
        """The sequence that the mark at the very end names, when the log has that change."""
        *_, last, rest = [b"", *_end(self.path, _HEAD).split(b"\n")]
        return None if rest else self._sequence_of_mark(last, connection)

    def _mend_end(self, connection: Connection) -> int | None:
        """Take off what a power cut left half written; the sequence of the last line then."""
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
                last, known = before, known_before
        if known and len(last) > LONG_LINE and JournalLine.parse(last).is_whole:
            # Its mark did not get to the disk, or it was written before there were marks.
            self._write([mark_of(read_header(connection, known))])
        return known

    def _begin(self, connection: Connection, last_sequence: int) -> JournalState:
        """Write all of it."""
        missing = range(1, last_sequence + 1)
        self._write_anew([self._first_line], missing, connection)
        return JournalState(added=len(missing))

    def _sequence_of(self, last: bytes, connection: Connection) -> int | None:
        """The sequence of the last line when the log has that change; 0 for the first line."""
        if last + b"\n" == self._first_line:
            return 0
        if last.startswith(b"#"):
            return self._sequence_of_mark(last, connection)
        line = JournalLine.parse(last)
        sequence = line.sequence
        if sequence is None:
            return None
        with suppress(DamagedLog):
            if read_header(connection, sequence).sha256.hex() == line.sha256:
                return sequence
        return None

    def _sequence_of_mark(self, line: bytes, connection: Connection) -> int | None:
        marked = read_mark(line)
        if marked is None:
            return None
        sequence, sha256 = marked
        with suppress(DamagedLog):
            if read_header(connection, sequence).sha256.hex() == sha256:
                return sequence
        return None

    def _is_our_next(self, part: bytes, known: int | None, connection: Connection) -> bool:
        """Whether the journal's end is what got to the disk of what comes after `known`."""
        if known is None:
            return False
        with suppress(DamagedLog):
            if known and is_part(part, mark_of(read_header(connection, known))):
                return True
        with suppress(DamagedLog):
            header = read_header(connection, known + 1)
            whole = line_with_sha256(header.sha256, read_line(connection, header))
            return is_part(part, b"".join(whole))
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
            for part in _parts_of(sequences, connection):
                self._write(part)
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
            for part in _parts_of(sequences, connection):
                file.writelines(part)
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


def _has_erased(connection: Connection) -> bool:
    columns = tables.changes.c
    wanted = select(columns.sequence).where(columns.kind == ChangeKind.ERASE).limit(1)
    return connection.scalar(wanted) is not None


def _parts_of(sequences: Sequence[int], connection: Connection) -> Iterator[Iterable[bytes]]:
    for sequence in sequences:
        with suppress(DamagedLog):  # a damaged change is never copied
            header = read_header(connection, sequence)
            yield from parts_of(header, read_line(connection, header))


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(_HEAD)


def _end(path: Path, size: int) -> bytes:
    with path.open("rb") as file:
        file.seek(max(0, file.seek(0, os.SEEK_END) - size))
        return file.read()


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
