"""The connection to the file: how it is opened, its pragmas, its own BEGIN, and its errors.

Every error of the database is translated here, once, for reading and writing alike, into one of
`logbook.domain.errors`. What is none of the disk's or the file's doing stays as it is: a fault of
the program.
"""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from enum import Enum
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, QueuePool, Select, create_engine, event
from sqlalchemy.dialects import registry
from sqlalchemy.dialects.sqlite.pysqlite import SQLiteDialect_pysqlite
from sqlalchemy.engine import ExceptionContext
from sqlalchemy.pool import ConnectionPoolEntry
from sqlalchemy.util import LRUCache

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
from logbook.store.types import NotAsWrittenError

BUSY_SECONDS = 5.0

# STRICT tables came with 3.37; the JSON functions are part of SQLite since 3.38.
LEAST_SQLITE = (3, 38, 0)

_WRITES = "logbook_writes"
_LOG = "logbook_log"


# A statement is made into SQL once for every file, not once for each copy that is looked at.
_MADE_INTO_SQL: LRUCache[Any, Any] = LRUCache(1_000)


class LogDialect(SQLiteDialect_pysqlite):
    """SQLite's, the same for every log: what was made into SQL for one file serves all."""

    supports_statement_cache = True

    def __eq__(self, other: object) -> bool:
        return isinstance(other, LogDialect)

    def __hash__(self) -> int:
        return hash(LogDialect)


registry.register("sqlite.log", __name__, LogDialect.__name__)


class Access(Enum):
    """How a file is opened."""

    WRITE = "write"
    READ = "read"
    # Reading with the right to roll back what a kill left half done, which is a write.
    READ_AND_ROLL_BACK = "read_and_roll_back"


def connect(path: Path, access: Access) -> sqlite3.Connection:
    """A bare connection with every pragma set. Never makes a file."""
    mode = "ro" if access is Access.READ else "rw"
    connection = sqlite3.connect(
        f"{path.absolute().as_uri()}?mode={mode}",
        uri=True,
        timeout=BUSY_SECONDS,
        isolation_level=None,  # BEGIN is ours: the driver's own would commit DDL on the spot
        check_same_thread=False,  # the pool hands a connection to one thread at a time
    )
    try:
        _set_pragmas(connection, access)
    except UnicodeDecodeError as error:
        connection.close()
        raise DamagedLog(path, why="malformed") from error
    except BaseException:
        connection.close()
        raise
    return connection


def _set_pragmas(connection: sqlite3.Connection, access: Access) -> None:
    for pragma in (
        "trusted_schema = OFF",  # nothing in a file handed to us runs anything
        "cell_size_check = ON",  # a page that lies about its cells is damage, found early
        "mmap_size = 0",  # a stray write of this process can't reach the file
        "foreign_keys = ON",
        "synchronous = EXTRA",  # a confirmed change survives a power cut, its folder entry too
    ):
        connection.execute(f"PRAGMA {pragma}")
    if access is Access.WRITE:
        connection.execute("PRAGMA journal_mode = DELETE")
        # Else a long import would shut readers out from its middle on, and the window reads.
        connection.execute("PRAGMA cache_spill = OFF")
    else:
        connection.execute("PRAGMA query_only = ON")


def make_engine(path: Path, access: Access, *, told_as: Path | None = None) -> Engine:
    """An engine for the log at `path`; its errors are about `told_as` while it is in the making."""
    if sqlite3.sqlite_version_info < LEAST_SQLITE:
        raise LogbookError(sqlite3.sqlite_version, why="sqlite_too_old")
    engine = create_engine(
        "sqlite+log://",
        creator=lambda: connect(path, access),
        poolclass=QueuePool,
        pool_size=2,
        execution_options={"compiled_cache": _MADE_INTO_SQL},
    )

    @event.listens_for(engine, "connect")
    def name(_connection: sqlite3.Connection, record: ConnectionPoolEntry) -> None:
        record.info[_LOG] = path

    @event.listens_for(engine, "begin")
    def begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get(_WRITES, False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    @event.listens_for(engine, "handle_error")
    def translate(context: ExceptionContext) -> None:
        error = context.original_exception
        if isinstance(error, sqlite3.Error):
            translated = domain_error(error, path, told_as=told_as)
            if translated is not None:
                raise translated from error
        elif isinstance(error, UnicodeDecodeError):
            # The driver could not even read what SQLite complains about.
            raise DamagedLog(path, why="malformed") from error

    return engine


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """A short read transaction: what is read in it is of one moment.

    It ends with ROLLBACK, since after a damaged page SQLite refuses even an empty COMMIT.
    """
    with engine.connect() as connection, _telling_damage(connection):
        yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """A write transaction. Commit it yourself; what was not committed is rolled back."""
    with engine.connect() as connection, _telling_damage(connection):
        yield connection.execution_options(**{_WRITES: True})


@contextmanager
def _telling_damage(connection: Connection) -> Iterator[None]:
    try:
        yield
    except NotAsWrittenError as error:
        raise DamagedLog(log_of(connection), why="malformed") from error


def log_of(connection: Connection) -> Path:
    """The log that a connection has open, for what an error is about."""
    path: Path = connection.info[_LOG]
    return path


def fetch_all(connection: Connection, statement: Select[Any]) -> list[tuple[Any, ...]]:
    """All rows as the driver gives them: a third faster than rows with names, for long lists."""
    cursor = connection.execute(statement).cursor
    with translating(log_of(connection)):
        return list(cursor.fetchall())


@contextmanager
def translating(path: Path) -> Iterator[None]:
    """Translate the errors of bare connections and of the file system."""
    try:
        yield
    except sqlite3.Error as error:
        translated = domain_error(error, path)
        if translated is None:
            raise
        raise translated from error
    except UnicodeDecodeError as error:
        raise DamagedLog(path, why="malformed") from error
    except OSError as error:
        raise system_error(error, path) from error


def domain_error(
    error: sqlite3.Error, path: Path, *, told_as: Path | None = None
) -> LogbookError | None:
    """The domain's error for one of SQLite's, or None for a fault of the program."""
    told = path if told_as is None else told_as
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        # Python's own, raised for text that is no text any more.
        return DamagedLog(told, why="malformed") if "decode" in str(error) else None
    if code in _BY_CODE:
        make, why = _BY_CODE[code]
        return make(told, why=why)
    primary = code & 0xFF
    if primary == sqlite3.SQLITE_CANTOPEN:
        return NoSuchLog(told) if not path.exists() else LogReadOnly(told, why="cannot_open")
    if primary == sqlite3.SQLITE_ERROR:
        is_damage = any(sign in str(error) for sign in ("JSON", "no such table", "no such column"))
        return DamagedLog(told, why="malformed") if is_damage else None
    if primary in _BY_CODE:
        make, why = _BY_CODE[primary]
        return make(told, why=why)
    return None


def system_error(error: OSError, path: Path) -> LogbookError:
    """The domain's error for one of the system's."""
    if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return DiskFull(path)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return LogReadOnly(path, why="permission")
    return NotSaved(path, why="system", error=error.errno)


_Error = type[LogbookError]
_BY_CODE: dict[int, tuple[_Error, str]] = {
    sqlite3.SQLITE_BUSY: (LogBusy, "busy"),
    sqlite3.SQLITE_LOCKED: (LogBusy, "busy"),
    sqlite3.SQLITE_READONLY: (LogReadOnly, "read_only"),
    sqlite3.SQLITE_PERM: (LogReadOnly, "permission"),
    sqlite3.SQLITE_AUTH: (LogReadOnly, "permission"),
    sqlite3.SQLITE_FULL: (DiskFull, "full"),
    sqlite3.SQLITE_CORRUPT: (DamagedLog, "malformed"),
    sqlite3.SQLITE_NOTADB: (DamagedLog, "malformed"),
    sqlite3.SQLITE_FORMAT: (DamagedLog, "malformed"),
    sqlite3.SQLITE_IOERR: (NotSaved, "disk"),
    sqlite3.SQLITE_IOERR_READ: (DamagedLog, "unreadable"),
    sqlite3.SQLITE_IOERR_SHORT_READ: (DamagedLog, "unreadable"),
    sqlite3.SQLITE_NOMEM: (NotSaved, "memory"),
    sqlite3.SQLITE_TOOBIG: (NotSaved, "too_big"),
    sqlite3.SQLITE_CONSTRAINT: (NotSaved, "refused"),
    sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY: (NotSaved, "already_there"),
    sqlite3.SQLITE_CONSTRAINT_UNIQUE: (NotSaved, "already_there"),
    sqlite3.SQLITE_CONSTRAINT_FOREIGNKEY: (NoSuchRecord, "refers_to_nothing"),
}
