"""The birth of a log: whole under its name, or not there at all.

It is made under another name in the same folder, committed once, synced, and only then given its
name, without overwriting. So a file of no bytes under a log's name is always damage, and a kill at
any moment leaves nothing that has to be cleared away by hand.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from uuid import uuid4

from sqlalchemy import Connection, insert

from logbook.domain.errors import AlreadyThere
from logbook.domain.settings import LogSettings
from logbook.store import tables
from logbook.store.changes import Step, write_change
from logbook.store.engine import Access, make_engine, translating, writing
from logbook.store.files import (
    Beside,
    make_private,
    name_without_overwriting,
    sync_file,
    sync_folder,
)
from logbook.store.records import SETTING
from logbook.store.schema import schema_sha256
from logbook.store.setting_rows import settings_to_rows
from logbook.store.tables import (
    APPLICATION_ID,
    NEWEST_VERSION,
    ChangeKind,
    revision_name,
)


def give_birth(path: Path, settings: LogSettings, at: datetime) -> None:
    """Make a new log at `path`. The caller holds its lock.

    Raises `AlreadyThere`; then, as with every other error, nothing of it is left.
    """
    beside = Beside(path)
    if path.exists() or path.is_symlink():
        raise AlreadyThere(path)
    unfinished = path.with_name(f"{beside.births}{uuid4().hex}")
    with translating(path):
        try:
            make_private(unfinished)
            _fill(unfinished, path, settings_steps(settings), at)
            sync_file(unfinished)
            name_without_overwriting(unfinished, path)
        except FileExistsError:
            raise AlreadyThere(path) from None
        finally:
            remove_unfinished(path)


def settings_steps(settings: LogSettings) -> Sequence[Step]:
    """Every setting as a step that brings it into an empty log."""
    return [
        Step(SETTING, name, None, SETTING.stored(row))
        for name, row in settings_to_rows(settings).items()
    ]


def _fill(unfinished: Path, path: Path, steps: Sequence[Step], at: datetime) -> None:
    engine = make_engine(unfinished, Access.WRITE, told_as=path)
    try:
        with writing(engine) as connection:
            make_tables(connection)
            connection.execute(
                insert(tables.log),
                {
                    "only": 1,
                    "log_id": uuid4(),
                    "writer": uuid4(),
                    "born_at": at,
                    "last_sequence": 0,
                    "schema_sha256": schema_sha256(connection),
                    "digest": bytes(32),
                },
            )
            write_change(connection, ChangeKind.BEGIN, steps, at)
            connection.commit()
    finally:
        engine.dispose()


def make_tables(connection: Connection) -> None:
    """Make an empty file one of ours: its identity, its version and every table."""
    connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version = {NEWEST_VERSION}")
    tables.metadata.create_all(connection)
    connection.execute(
        insert(tables.alembic_version), {"version_num": revision_name(NEWEST_VERSION)}
    )


def remove_unfinished(path: Path) -> None:
    """Remove what an interrupted birth left beside `path`. The caller holds the log's lock."""
    begins = Beside(path).births
    removed = [one for one in path.parent.iterdir() if one.name.startswith(begins)]
    for one in removed:
        one.unlink(missing_ok=True)
    if removed:
        sync_folder(path.parent)
