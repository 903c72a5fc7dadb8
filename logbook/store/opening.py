"""Opening the file of a log: to write, to read, and what to do after a kill.

A rollback journal that a kill left is rolled back by whoever opens the log next. A reader may do
that too when it may write the file; when it may not, it reads a private copy of file and journal.
"""

from __future__ import annotations

import shutil
from datetime import datetime
from pathlib import Path

from sqlalchemy import Engine, event, inspect

from logbook.domain.errors import DiskFull, LogbookError, LogReadOnly, NewerLog
from logbook.store import tables
from logbook.store.engine import Access, make_engine, reading, system_error
from logbook.store.files import Beside, copying_to_scratch, make_scratch_folder
from logbook.store.tables import NEWEST_VERSION


def open_to_write(path: Path, at: datetime) -> Engine:
    """An engine for the one writer, on the newest version; an older log is brought to it.

    The caller holds the lock. Raises `NewerLog` and others.
    """
    engine = make_engine(path, Access.WRITE)
    try:
        version = read_version(engine)
        refuse_newer(path, version)
        if version < NEWEST_VERSION:
            from logbook.store.migration import migrate  # Alembic is slow to import

            migrate(path, at, newest=NEWEST_VERSION)
    except BaseException:
        engine.dispose()
        raise
    return engine


def open_to_read(path: Path) -> Engine:
    """An engine that can't write, on the newest version: an older log is read from a private copy.

    What `open_as_it_is` says of the file and of errors holds here too.
    """
    engine = open_as_it_is(path)
    try:
        version = read_version(engine)
    except BaseException:
        engine.dispose()
        raise
    if version < NEWEST_VERSION:
        from logbook.store.older_copy import in_newest_form  # Alembic is slow to import

        engine = in_newest_form(engine, path)
    return engine


def open_as_it_is(path: Path) -> Engine:
    """An engine that can't write, whatever the version.

    It takes no lock and leaves the file as it is, byte for byte. The one exception is a file that a
    kill left half written: that is rolled back to what it was. Raises `NewerLog` for a log whose
    tables are not the ones this program can read.
    """
    engine = make_engine(path, Access.READ)
    try:
        if read_version(engine) > NEWEST_VERSION:
            _refuse_other_tables(engine, path)
    except LogReadOnly:
        engine.dispose()
        engine = _open_after_kill(path)
    except BaseException:
        engine.dispose()
        raise
    return engine


def open_untouched(path: Path) -> Engine:
    """As `open_to_read`, and the file stays as it is even when a kill left it half written."""
    if not Beside(path).rollback.exists():
        return open_to_read(path)
    engine = _open_private_copy(path)
    if read_version(engine) < NEWEST_VERSION:
        from logbook.store.older_copy import in_newest_form

        engine = in_newest_form(engine, path)
    return engine


def _open_after_kill(path: Path) -> Engine:
    engine = make_engine(path, Access.READ_AND_ROLL_BACK)
    try:
        read_version(engine)
    except LogReadOnly:
        engine.dispose()
        return _open_private_copy(path)
    except BaseException:
        engine.dispose()
        raise
    return engine


def _open_private_copy(path: Path) -> Engine:
    folder = make_scratch_folder()
    try:
        copy = folder / path.name
        shutil.copyfile(path, copy)
        rollback = Beside(path).rollback
        if rollback.exists():
            shutil.copyfile(rollback, Beside(copy).rollback)
    except OSError as error:
        shutil.rmtree(folder, ignore_errors=True)
        told = system_error(error, path)
        with copying_to_scratch():
            if isinstance(told, DiskFull):
                raise told from error
        raise LogReadOnly(path, why="cannot_open") from error
    engine = make_engine(copy, Access.READ_AND_ROLL_BACK)

    @event.listens_for(engine, "engine_disposed")
    def remove(_engine: Engine) -> None:
        shutil.rmtree(folder, ignore_errors=True)

    try:
        read_version(engine)
    except LogbookError:
        engine.dispose()
        raise
    return engine


def _refuse_other_tables(engine: Engine, path: Path) -> None:
    with reading(engine) as connection:
        found = inspect(connection)
        for table in tables.metadata.sorted_tables:
            if found.has_table(table.name):
                names = [column["name"] for column in found.get_columns(table.name)]
                if names == table.columns.keys():
                    continue
            raise NewerLog(path, why="tables")


def refuse_newer(path: Path, version: int) -> None:
    """Raise `NewerLog` for a version that this program does not know."""
    if version > NEWEST_VERSION:
        raise NewerLog(path, version=version)


def read_version(engine: Engine) -> int:
    """The version of the log's tables. The first statement, so it also rolls back after a kill."""
    with reading(engine) as connection:
        version: int = connection.exec_driver_sql("PRAGMA user_version").scalar_one()
        return version
