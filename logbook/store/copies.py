"""Checked copies beside the log: made whole, read back, verified, and only then given their name.

A copy is of the log that made it (it carries the log's id) and is never one of damage: what does
not verify never becomes a copy, and the damaged log stays as it is.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from uuid import UUID, uuid4

from logbook.domain.errors import DamagedLog, LogbookError
from logbook.domain.health import CopyState
from logbook.store.audit import audit_log
from logbook.store.changes import read_state
from logbook.store.engine import Access, connect, make_engine, reading, translating
from logbook.store.files import (
    Beside,
    make_folder,
    make_private,
    name_without_overwriting,
    recognise,
    sync_file,
)

# So many pages of 4 KiB are copied at a time; between them a save has its turn.
_PAGES_AT_ONCE = 256
_UNFINISHED = ".unfinished-"
# In UTC, so that a clock change never turns the order of copies round.
_TIME = "%Y-%m-%dT%H%M%SZ"
_NAME = re.compile(r"-(\d{4}-\d\d-\d\dT\d{6}Z)-([a-z]+)(?:-\d+)?$", re.ASCII)


class Occasion(StrEnum):
    """What a copy was made for."""

    CLOSE = "close"
    IMPORT = "import"
    MIGRATION = "migration"
    ASKED = "asked"


def make_copy(path: Path, at: datetime, occasion: Occasion) -> Path:
    """Make a checked copy of the log at `path` and return where it lies.

    Raises `DamagedLog` when the log has damage, and the disk's errors; then there is no new copy.
    """
    folder = Beside(path).copies
    unfinished = folder / f"{_UNFINISHED}{uuid4().hex}"
    with translating(path):
        make_folder(folder)
        try:
            with closing(connect(path, Access.READ)) as source:
                copy_pages(source, unfinished)
            _verify(unfinished, path)
            sync_file(unfinished)
            return _name(unfinished, path, at, occasion)
        finally:
            unfinished.unlink(missing_ok=True)


def copy_pages(source: sqlite3.Connection, to: Path) -> None:
    """Copy a log as it is, page by page, without keeping a writer waiting."""
    make_private(to)
    with closing(sqlite3.connect(to)) as copy:
        source.backup(copy, pages=_PAGES_AT_ONCE, sleep=0)


def remove_unfinished_copies(path: Path) -> None:
    """Remove what an interrupted copying left. The caller holds the log's lock."""
    folder = Beside(path).copies
    if folder.is_dir():
        for one in folder.glob(f"{_UNFINISHED}*"):
            one.unlink(missing_ok=True)


def list_copies(path: Path, log_id: UUID | None) -> list[CopyState]:
    """The copies of the log `log_id` (of any log for None), newest first, each read in full."""
    folder = Beside(path).copies
    if not folder.is_dir():
        return []
    found = []
    for one in folder.iterdir():
        told = _NAME.search(one.stem)
        if told is None or one.name.startswith("."):
            continue
        copy_of, is_good = _look_at(one)
        if copy_of is None or log_id is None or copy_of == log_id:
            made_at = datetime.strptime(told[1], _TIME).replace(tzinfo=UTC)
            found.append(CopyState(one.name, made_at, told[2], is_good, one.stat().st_size))
    return sorted(found, key=lambda copy: (copy.made_at, copy.name), reverse=True)


def _look_at(copy: Path) -> tuple[UUID | None, bool]:
    """Whose copy it is (None when it can't be told) and whether it is good."""
    try:
        recognise(copy)
        engine = make_engine(copy, Access.READ)
        try:
            with reading(engine) as connection:
                log_id = read_state(connection).log_id
                return log_id, not audit_log(connection).findings
        finally:
            engine.dispose()
    except (LogbookError, OSError, ValueError):
        return None, False


def _verify(copy: Path, path: Path) -> None:
    engine = make_engine(copy, Access.READ)
    try:
        with reading(engine) as connection:
            findings = audit_log(connection).findings
    finally:
        engine.dispose()
    if findings:
        raise DamagedLog(path, why="digest", count=sum(finding.count for finding in findings))


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
