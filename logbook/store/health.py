"""The check: the whole log, its journal and its copies are read, and what is not sound is told.

It alters nothing, takes no lock and works on damaged files. The log is read from a private copy of
its pages, so a long check keeps no writer waiting.
"""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from pathlib import Path
from uuid import UUID

from sqlalchemy import Engine

from logbook.domain.errors import DamagedLog
from logbook.domain.health import Finding, FindingKind, Health
from logbook.store.audit import Audit, audit_log
from logbook.store.changes import read_state
from logbook.store.copies import copy_pages, list_copies
from logbook.store.engine import Access, make_engine, reading, translating
from logbook.store.files import (
    Beside,
    copying_to_scratch,
    make_scratch_folder,
    recognise,
)
from logbook.store.journal_lines import read_lines
from logbook.store.opening import open_as_it_is


def check_log(path: Path) -> Health:
    """Check the log at `path`.

    Raises what `recognise` raises for a path that holds no log at all. Must not be called while
    this process has the log open (see `recognise`); then `check_open` does the same.
    """
    with translating(path):
        path = path.resolve()
        recognise(path)
    try:
        engine = open_as_it_is(path)
    except DamagedLog:
        return _health(path, Audit({(FindingKind.STRUCTURE, path.name): 1}), None, None)
    try:
        return check_open(engine, path)
    finally:
        engine.dispose()


def check_open(engine: Engine, path: Path, *, with_copies: bool = True) -> Health:
    """Check the log that `engine` has open, and its copies unless that would take too long.

    Raises `CannotWrite` when there is no room for the private copy.
    """
    journal_size = _size(Beside(path).journal)
    folder = make_scratch_folder()
    try:
        with copying_to_scratch(), translating(path):
            copy = folder / path.name
            pooled = engine.raw_connection()
            try:
                source = pooled.driver_connection
                assert isinstance(source, sqlite3.Connection)
                copy_pages(source, copy)
            finally:
                pooled.close()
        audit, log_id = _audit(copy)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    return _health(path, audit, log_id, journal_size, with_copies=with_copies)


def _audit(copy: Path) -> tuple[Audit, UUID | None]:
    engine = make_engine(copy, Access.READ)
    try:
        with reading(engine) as connection:
            audit = audit_log(connection)
            try:
                return audit, read_state(connection).log_id
            except (DamagedLog, ValueError):
                return audit, None
    except DamagedLog:
        return Audit({(FindingKind.STRUCTURE, copy.name): 1}), None
    finally:
        engine.dispose()


def _health(
    path: Path,
    audit: Audit,
    log_id: UUID | None,
    journal_size: int | None,
    *,
    with_copies: bool = True,
) -> Health:
    findings = audit.findings
    if audit.changes:
        findings += _compare_journal(Beside(path).journal, audit, journal_size)
    copies = list_copies(Beside(path).copies, log_id) if with_copies else []
    findings += [Finding(FindingKind.COPY, copy.name) for copy in copies if not copy.is_good]
    return Health(tuple(findings), audit.records, audit.changes, tuple(copies))


def _compare_journal(journal: Path, audit: Audit, size_before: int | None) -> list[Finding]:
    """The journal held against the changes. What a writer adds meanwhile is no finding."""
    in_log = {sha256.hex() for sha256 in audit.change_sha256.values()}
    here: set[str] = set()
    counts = dict.fromkeys((FindingKind.JOURNAL_UNKNOWN, FindingKind.JOURNAL_LINE), 0)
    position = 0
    try:
        for line in read_lines(journal):
            position += line.size
            if line.sha256 is None or hashlib.sha256(line.text).hexdigest() != line.sha256:
                counts[FindingKind.JOURNAL_LINE] += 1
            elif line.sha256 in in_log:
                here.add(line.sha256)
            elif size_before is None or position <= size_before:
                counts[FindingKind.JOURNAL_UNKNOWN] += 1
    except OSError:
        return [Finding(FindingKind.JOURNAL_MISSING, journal.name)]
    counts[FindingKind.JOURNAL_BEHIND] = len(in_log - here)
    return [Finding(kind, journal.name, count) for kind, count in counts.items() if count]


def _size(path: Path) -> int | None:
    try:
        return path.stat().st_size
    except OSError:
        return None
