"""Reading a log of an older version without altering it: a private copy in the newest form.

Imported only for an older log, because Alembic is slow to import.
"""

from __future__ import annotations

import shutil
import sqlite3
from pathlib import Path

from sqlalchemy import Engine, event

from logbook.store.copies import copy_pages
from logbook.store.engine import Access, make_engine, translating
from logbook.store.files import copying_to_scratch, make_scratch_folder
from logbook.store.migration import SCRIPTS, upgrade
from logbook.store.tables import NEWEST_VERSION


def in_newest_form(engine: Engine, path: Path) -> Engine:
    """An engine for a private copy of the log that `engine` has open, which is closed.

    The log at `path` stays as it is. Damage is carried along as damage: no row that is not what was
    written gets a digest that fits it. The copy goes with the engine.
    """
    folder = make_scratch_folder()
    try:
        with copying_to_scratch(), translating(path):
            copy = folder / path.name
            _copy(engine, copy)
            _upgrade(copy, path)
        newest = make_engine(copy, Access.READ)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    finally:
        engine.dispose()

    @event.listens_for(newest, "engine_disposed")
    def remove(_engine: Engine) -> None:
        shutil.rmtree(folder, ignore_errors=True)

    return newest


def _copy(engine: Engine, copy: Path) -> None:
    pooled = engine.raw_connection()
    try:
        source = pooled.driver_connection
        assert isinstance(source, sqlite3.Connection)
        copy_pages(source, copy)
    finally:
        pooled.close()


def _upgrade(copy: Path, path: Path) -> None:
    engine = make_engine(copy, Access.WRITE)

    @event.listens_for(engine, "connect")
    def checks_off(connection: object, _record: object) -> None:
        # A damaged row may hold what no CHECK lets in; it is to be shown as damaged all the same.
        connection.execute("PRAGMA ignore_check_constraints = ON")  # type: ignore[attr-defined]

    try:
        upgrade(engine, NEWEST_VERSION, SCRIPTS, path, carries_damage=True)
    finally:
        engine.dispose()
