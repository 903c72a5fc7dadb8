"""Checked copies of the log: made whole, read back, verified, and only then given their name.

A copy is of the log that made it (it carries the log's id) and is never one of damage: what does
not verify never becomes a copy, and the damaged log stays as it is. Which of them are kept is told
by `copy_scheme`; none goes before the one that stands for it was read once more and is good.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from uuid import UUID, uuid4

from logbook.domain.copies import OlderCopies
from logbook.domain.errors import CannotWrite, DamagedLog, LogbookError
from logbook.domain.health import CopyState
from logbook.store.audit import audit_log
from logbook.store.changes import LogState, read_state
from logbook.store.copy_scheme import KnownCopy, Occasion, last_leaving, leaving, newest_first
from logbook.store.engine import Access, connect, make_engine, reading, translating
from logbook.store.files import (
    Beside,
    forget_cached,
    make_folder,
    make_private,
    name_without_overwriting,
    recognise,
    sync_file,
    sync_folder,
)

__all__ = [
    "UNFINISHED",
    "Occasion",
    "copy_pages",
    "list_copies",
    "look_at",
    "make_copy",
    "named_as_copies",
    "newest_good_copy",
    "older_copies",
    "remove_unfinished_copies",
    "state_of",
    "thin_copies",
]

# So many pages of 4 KiB are copied at a time; between them a save has its turn.
_PAGES_AT_ONCE = 256
UNFINISHED = ".unfinished-"
# In UTC, so that a clock change never turns the order of copies round.
_TIME = "%Y-%m-%dT%H%M%SZ"
_NAME = re.compile(r"-(\d{4}-\d\d-\d\dT\d{6}Z)-([a-z]+)(?:-\d+)?$", re.ASCII)
# Each one that goes costs a reading of another; what is left waits for the next copy.
_READ_AT_MOST = 4


def make_copy(path: Path, at: datetime, occasion: Occasion, folder: Path | None = None) -> Path:
    """Make a checked copy of the log at `path` and return where it lies.

    It lies beside the log, or in `folder`, which must be there. Raises `DamagedLog` when the log
    has damage, `CannotWrite` (why=missing), and the disk's errors; then there is no new copy.
    """
    with translating(folder or path):
        if folder is None:
            folder = Beside(path).copies
            make_folder(folder)
        elif not folder.is_dir():
            raise CannotWrite(folder, why="missing")
        with closing(connect(path, Access.READ)) as source:
            log_id, changes = _whose(source, path)
            unfinished = folder / f"{UNFINISHED}{log_id}-{uuid4().hex}"
            try:
                copy_pages(source, unfinished)
                sync_file(unfinished)
                _verify(unfinished, path, log_id, changes)
                return _name(unfinished, path, at, occasion)
            finally:
                unfinished.unlink(missing_ok=True)


def copy_pages(source: sqlite3.Connection, to: Path) -> None:
    """Copy a log as it is, page by page, without keeping a writer waiting."""
    make_private(to)
    with closing(sqlite3.connect(to)) as copy:
        source.backup(copy, pages=_PAGES_AT_ONCE, sleep=0)


def remove_unfinished_copies(folder: Path, log_id: UUID | None = None) -> None:
    """Remove what an interrupted copying left in a folder of copies, of one log or of all.

    The caller holds the log's lock.
    """
    if folder.is_dir():
        for one in folder.glob(f"{UNFINISHED}{log_id or ''}*"):
            one.unlink(missing_ok=True)


def list_copies(folder: Path, log_id: UUID | None) -> list[CopyState]:
    """The copies in `folder` of the log `log_id` (of any log for None), newest first.

    Each is read in full.
    """
    found = []
    for one, made_at, occasion in named_as_copies(folder):
        state, is_good = look_at(one)
        if state is None or log_id is None or state.log_id == log_id:
            changes = 0 if state is None else state.last_sequence
            size = one.stat().st_size
            found.append(CopyState(one.name, made_at, occasion, is_good, size, changes))
    return sorted(found, key=lambda copy: (copy.made_at, copy.name), reverse=True)


def newest_good_copy(folder: Path, log_id: UUID | None, now: datetime) -> CopyState | None:
    """The newest copy that is proved good by reading it; others are read only until it is found."""
    for known in newest_first(_known(folder, log_id), now):
        copy = folder / known.name
        state, is_good = look_at(copy)
        if state is not None and is_good:
            size = copy.stat().st_size
            return CopyState(
                known.name, known.made_at, known.occasion, is_good, size, state.last_sequence
            )
    return None


def look_at(copy: Path) -> tuple[LogState | None, bool]:
    """What a copy says of itself (None when it can't be read), and whether it is good."""
    state = None
    try:
        recognise(copy)
        engine = make_engine(copy, Access.READ)
        try:
            with reading(engine) as connection:
                state = read_state(connection)
                return state, not audit_log(connection).findings
        finally:
            engine.dispose()
    except (LogbookError, OSError, ValueError):
        return state, False


def thin_copies(folder: Path, log_id: UUID, now: datetime) -> list[str]:
    """Let go of the copies that the scheme no longer keeps; returns their names.

    A copy that is damaged, or of another log, is left where it is. The caller holds the log's lock.
    """
    known = {copy.name: copy for copy in _known(folder, log_id)}
    read: set[str] = set()
    gone: list[str] = []
    with translating(folder):
        while True:
            wanted = leaving(known.values(), now, _local_day)
            if not wanted:
                break
            stands_in = wanted[0].stands_in
            if stands_in.name not in read:
                if len(read) == _READ_AT_MOST:
                    break
                read.add(stands_in.name)
                if not look_at(folder / stands_in.name)[1]:
                    known[stands_in.name] = replace(stands_in, is_good=False)
                    continue
            name = wanted[0].copy.name
            (folder / name).unlink(missing_ok=True)
            gone.append(name)
            del known[name]
        if gone:
            sync_folder(folder)
    return gone


def older_copies(folder: Path, log_id: UUID, since: datetime, now: datetime) -> OlderCopies:
    """The copies made from `since` on, and when the last of them goes."""
    known = [copy for copy in _known(folder, log_id) if since <= copy.made_at]
    return OlderCopies(len(known), last_leaving(known, now, _local_day) if known else None)


def _local_day(at: datetime) -> date:
    return at.astimezone().date()


def named_as_copies(folder: Path) -> Iterator[tuple[Path, datetime, str]]:
    """What is named as a copy in `folder`, with when and for what it was made, told by its name."""
    if not folder.is_dir():
        return
    for one in sorted(folder.iterdir()):
        told = _NAME.search(one.stem)
        if told is not None and not one.name.startswith("."):
            with suppress(ValueError):  # no such day
                yield one, datetime.strptime(told[1], _TIME).replace(tzinfo=UTC), told[2]


def _known(folder: Path, log_id: UUID | None) -> list[KnownCopy]:
    """The copies as far as they can be told without reading them in full."""
    found = []
    for one, made_at, occasion in named_as_copies(folder):
        with suppress(LogbookError, OSError, ValueError):
            state = state_of(one)
            if log_id is None or state.log_id == log_id:
                found.append(KnownCopy(one.name, made_at, occasion, state.last_sequence))
    return found


def state_of(copy: Path) -> LogState:
    """What a copy says of itself, without reading it in full. Raises as opening it does."""
    recognise(copy)
    engine = make_engine(copy, Access.READ)
    try:
        with reading(engine) as connection:
            return read_state(connection)
    finally:
        engine.dispose()


def _whose(source: sqlite3.Connection, path: Path) -> tuple[UUID, int]:
    """The log's id and how many changes it has, which its copy must have at least."""
    row = source.execute("SELECT log_id, last_sequence FROM log").fetchone()
    try:
        return UUID(row[0]), int(row[1])
    except (TypeError, ValueError, AttributeError):
        raise DamagedLog(path, why="identity") from None


def _verify(copy: Path, path: Path, log_id: UUID, changes: int) -> None:
    """Read the copy back, from the disk where the system can do that."""
    forget_cached(copy)
    state, is_good = look_at(copy)
    if not is_good or state is None:
        raise DamagedLog(path, why="digest")
    if state.log_id != log_id or state.last_sequence < changes:
        raise DamagedLog(path, why="copy")


def _name(unfinished: Path, path: Path, at: datetime, occasion: Occasion) -> Path:
    number = 1
    while True:
        again = f"-{number}" if number > 1 else ""
        name = f"{path.stem}-{at.astimezone(UTC).strftime(_TIME)}-{occasion}{again}{path.suffix}"
        try:
            name_without_overwriting(unfinished, unfinished.with_name(name))
        except FileExistsError:
            number += 1
        else:
            return unfinished.with_name(name)
