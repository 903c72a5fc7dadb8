"""Bringing an older log to the newest version: wholly, or not at all.

One transaction surrounds all revisions and everything that is checked after them. Foreign keys are
off meanwhile, since a table that is made anew would take the rows that refer to it along; they are
checked before COMMIT instead. Imported only for an older log, because Alembic is slow to import.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from alembic.config import Config
from alembic.runtime.environment import EnvironmentContext
from alembic.runtime.migration import MigrationContext, RevisionStep
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, event, inspect, update

from logbook.domain.errors import DamagedLog
from logbook.store.changes import read_state
from logbook.store.copies import Occasion, make_copy
from logbook.store.engine import Access, make_engine, reading, writing
from logbook.store.schema import schema_sha256
from logbook.store.tables import log

SCRIPTS = Path(__file__).parent / "migrations"


def migrate(path: Path, at: datetime, *, newest: int, scripts: Path = SCRIPTS) -> None:
    """Bring the log at `path` to version `newest`. The caller holds the lock.

    A checked copy is made before the first statement, unless the log has no tables yet. Raises
    `DamagedLog` (why=digest before, why=migration after) and the disk's errors; then the log is
    what it was.
    """
    engine = make_engine(path, Access.WRITE)
    try:
        with reading(engine) as connection:
            has_tables = bool(count_rows(connection))
        if has_tables:
            make_copy(path, at, Occasion.MIGRATION)
        upgrade(engine, newest, scripts, path)
    finally:
        engine.dispose()


def upgrade(
    engine: Engine, newest: int, scripts: Path, path: Path, *, carries_damage: bool = False
) -> None:
    """All revisions that are missing, in one transaction.

    `carries_damage` is for a private copy that is only read: what is damaged stays damaged, and
    told, in the newest form. Without it damage raises `DamagedLog`.
    """

    # The pragma does nothing within a transaction, and a connection from the pool may be a new one.
    @event.listens_for(engine, "connect")
    def keys_off(connection: object, _record: object) -> None:
        connection.execute("PRAGMA foreign_keys = OFF")  # type: ignore[attr-defined]

    engine.dispose()
    with writing(engine) as connection:
        rows_before = {} if carries_damage else count_rows(connection)
        is_whole = _has_its_schema(connection)
        if is_whole is False and not carries_damage:
            raise DamagedLog(path, why="malformed")
        _run_revisions(connection, scripts, carries_damage=carries_damage, log_path=path)
        connection.exec_driver_sql(f"PRAGMA user_version = {newest:d}")
        if is_whole:
            connection.execute(update(log).values(schema_sha256=schema_sha256(connection)))
        if not carries_damage:
            _check(connection, rows_before, path)
        connection.commit()


def _has_its_schema(connection: Connection) -> bool | None:
    """Whether the tables are defined as the log says; None for a log that has no tables yet."""
    if not inspect(connection).has_table(log.name):
        return None
    return read_state(connection).schema_sha256 == schema_sha256(connection)


def count_rows(connection: Connection) -> dict[str, int]:
    """How many rows each table has."""
    names: Sequence[str] = (
        connection.exec_driver_sql(
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
        )
        .scalars()
        .all()
    )
    preparer = connection.dialect.identifier_preparer
    return {
        name: connection.exec_driver_sql(
            f"SELECT count(*) FROM {preparer.quote(name)}"  # noqa: S608 (a quoted table name)
        ).scalar_one()
        for name in names
        if name != "alembic_version"
    }


def _run_revisions(connection: Connection, scripts: Path, **told: Any) -> None:
    """Run what is missing; a revision finds what it is told in its context's options."""
    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    directory = ScriptDirectory.from_config(config)

    def steps(revision: tuple[str, ...], _context: MigrationContext) -> list[RevisionStep]:
        # As `alembic.command.upgrade` does, which wants an env.py and its own connection.
        return directory._upgrade_revs("head", revision)  # type: ignore[arg-type]  # noqa: SLF001

    with EnvironmentContext(config, directory, fn=steps) as environment:
        environment.configure(connection=connection, transactional_ddl=False, **told)
        environment.run_migrations()


def _check(connection: Connection, rows_before: dict[str, int], path: Path) -> None:
    """What must hold before COMMIT: every reference leads somewhere, and no row was lost."""
    if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
        raise DamagedLog(path, why="migration")
    rows_after = count_rows(connection)
    if any(rows_after.get(name) != count for name, count in rows_before.items()):
        raise DamagedLog(path, why="migration")
