"""A disk that is full or fails: "not saved" is always said, and what was there stays."""

from __future__ import annotations

import resource
import signal
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy.engine.default import DefaultDialect

from logbook.book import Book
from logbook.domain.errors import (
    DamagedLog,
    DiskFull,
    LogbookError,
    LogBusy,
    LogReadOnly,
    NoSuchLog,
    NoSuchRecord,
    NotSaved,
)
from logbook.store.engine import domain_error
from tests.store.records import Clock, make_log, make_reading


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return make_log(tmp_path / "a.logbook", make_reading(1))


@pytest.fixture
def limit_files() -> Iterator[Callable[[int], None]]:
    """Let no file grow beyond a size, as a full disk would."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    before = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    yield lambda size: resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    signal.signal(signal.SIGXFSZ, before)


def test_a_save_that_finds_no_room_is_not_saved_and_succeeds_later(
    log: Path, limit_files: Callable[[int], None]
) -> None:
    many = [make_reading(n, note="x" * 500) for n in range(2, 400)]
    with Book.open(log, Clock()) as book:
        limit_files(log.stat().st_size + 10_000)
        with pytest.raises((DiskFull, NotSaved)):
            book.add(*many)
        assert book.readings() == [make_reading(1)]
        limit_files(resource.getrlimit(resource.RLIMIT_FSIZE)[1])
        assert book.check().is_sound
        book.add(*many)
        assert len(book.readings()) == 399
        assert book.check().is_sound


def test_a_copy_that_finds_no_room_leaves_the_good_ones(
    log: Path, limit_files: Callable[[int], None]
) -> None:
    folder = log.with_name("a.logbook-copies")
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with Book.open(log, Clock()) as book:
        limit_files(log.stat().st_size // 2)
        with pytest.raises((DiskFull, NotSaved)):
            book.make_copy()
        with pytest.raises((DiskFull, NotSaved)):
            book.take_in([make_reading(2)], "file")
        limit_files(resource.getrlimit(resource.RLIMIT_FSIZE)[1])
        assert book.readings() == [make_reading(1)]
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def io_error(code: int) -> sqlite3.OperationalError:
    error = sqlite3.OperationalError("disk I/O error")
    error.sqlite_errorcode = code
    return error


@pytest.mark.parametrize("when", ["before", "after"])
def test_a_commit_that_fails_is_looked_at_again(
    log: Path, monkeypatch: pytest.MonkeyPatch, when: str
) -> None:
    """The last step of a COMMIT syncs the folder: when that fails, the change is there already."""
    commit: Any = DefaultDialect.do_commit

    def failing(dialect: DefaultDialect, connection: sqlite3.Connection) -> None:
        if when == "after":
            commit(dialect, connection)
        raise io_error(sqlite3.SQLITE_IOERR_DIR_FSYNC)

    with Book.open(log, Clock()) as book:
        with monkeypatch.context() as patch:
            patch.setattr(DefaultDialect, "do_commit", failing)
            if when == "before":
                with pytest.raises(NotSaved):
                    book.add(make_reading(2))
            else:
                book.add(make_reading(2))  # found, its folder synced: saved
        there = [make_reading(1), *([make_reading(2)] if when == "after" else [])]
        assert book.readings() == there
        assert book.check().is_sound
        book.add(make_reading(3))
        assert len(book.readings()) == len(there) + 1


@pytest.mark.parametrize(
    ("code", "error"),
    [
        (sqlite3.SQLITE_BUSY, LogBusy),
        (sqlite3.SQLITE_BUSY | 2 << 8, LogBusy),  # an extended code of the same
        (sqlite3.SQLITE_LOCKED, LogBusy),
        (sqlite3.SQLITE_READONLY, LogReadOnly),
        (sqlite3.SQLITE_READONLY_ROLLBACK, LogReadOnly),
        (sqlite3.SQLITE_READONLY_DBMOVED, LogReadOnly),
        (sqlite3.SQLITE_FULL, DiskFull),
        (sqlite3.SQLITE_CORRUPT, DamagedLog),
        (sqlite3.SQLITE_CORRUPT_INDEX, DamagedLog),
        (sqlite3.SQLITE_NOTADB, DamagedLog),
        (sqlite3.SQLITE_IOERR, NotSaved),
        (sqlite3.SQLITE_IOERR_FSYNC, NotSaved),
        (sqlite3.SQLITE_IOERR_WRITE, NotSaved),
        (sqlite3.SQLITE_IOERR_SHORT_READ, DamagedLog),
        (sqlite3.SQLITE_IOERR_READ, DamagedLog),
        (sqlite3.SQLITE_NOMEM, NotSaved),
        (sqlite3.SQLITE_TOOBIG, NotSaved),
        (sqlite3.SQLITE_CANTOPEN, LogReadOnly),
        (sqlite3.SQLITE_CONSTRAINT_CHECK, NotSaved),
        (sqlite3.SQLITE_CONSTRAINT_NOTNULL, NotSaved),
        (sqlite3.SQLITE_CONSTRAINT_UNIQUE, NotSaved),
        (sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY, NotSaved),
        (sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY, NoSuchRecord),
        (sqlite3.SQLITE_MISUSE, None),  # a fault of the program, not of the disk
        (sqlite3.SQLITE_ERROR, None),
    ],
)
def test_each_error_of_the_database_has_its_error_here(
    log: Path, code: int, error: type[LogbookError] | None
) -> None:
    found = domain_error(io_error(code), log)
    assert type(found) is (error or type(None))


def test_a_file_that_is_gone_is_told(log: Path) -> None:
    with Book.open(log, Clock(), read_only=True) as book:
        book._store.engine.dispose()
        log.rename(log.with_name("elsewhere"))
        with pytest.raises(NoSuchLog):
            book.readings()
        log.with_name("elsewhere").rename(log)


def test_a_fault_of_the_program_is_not_called_damage(log: Path) -> None:
    with closing(sqlite3.connect(log)) as connection:
        with pytest.raises(sqlite3.OperationalError) as caught:
            connection.execute("SELEC 1")
        assert domain_error(caught.value, log) is None
