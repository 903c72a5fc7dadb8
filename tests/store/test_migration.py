"""Bringing an older log to a newer version: wholly, or not at all.

Here with invented revisions after the newest; a real old log is brought up in `test_revision_1`.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from logbook.book import Book
from logbook.domain.errors import DamagedLog, LogbookError
from logbook.store import migration
from logbook.store.engine import Access, make_engine
from logbook.store.files import make_private
from logbook.store.tables import APPLICATION_ID, NEWEST_VERSION, revision_name
from tests.store.records import make_log, make_reading

NEXT_VERSION = NEWEST_VERSION + 1
AT = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)

# An invented next version: a table is made anew with one column more, and a row is counted.
NEXT = """
from alembic import op
import sqlalchemy as sa

revision = "9999"
down_revision = "0003"


def upgrade():
    with op.batch_alter_table("contacts", table_kwargs={"sqlite_strict": True}) as batch:
        batch.add_column(sa.Column("relation", sa.Text, nullable=False, server_default=""))
    op.execute("CREATE TABLE relations (name TEXT NOT NULL PRIMARY KEY) STRICT")
    op.execute("UPDATE meters SET name = name")
"""

# The same, but it loses the readings that the meters' new table took along.
LOSING = """
from alembic import op

revision = "9999"
down_revision = "0003"


def upgrade():
    op.execute("DELETE FROM readings")
"""

BREAKING_REFERENCES = """
from alembic import op

revision = "9999"
down_revision = "0003"


def upgrade():
    op.execute("UPDATE readings SET recheck_of = '00000000-0000-4000-8000-000000000000'")
"""


@pytest.fixture
def scripts(tmp_path: Path) -> Callable[[str], Path]:
    """A folder of revisions: the real ones and an invented next one."""

    def make(following: str) -> Path:
        folder = tmp_path / "scripts"
        shutil.copytree(migration.SCRIPTS, folder)
        (folder / "versions" / "9999_next.py").write_text(following, encoding="utf-8")
        return folder

    return make


def schema_of(path: Path) -> list[tuple[Any, ...]]:
    with closing(sqlite3.connect(path)) as connection:
        rows = connection.execute(
            "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name"
        ).fetchall()
    return [
        (kind, name, table, None if sql is None else " ".join(sql.replace("( ", "(").split()))
        for kind, name, table, sql in rows
    ]


def contents_of(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as connection:
        version = connection.execute("PRAGMA user_version").fetchone()
        return [str(version), *connection.iterdump()]


def make_empty(path: Path) -> Path:
    make_private(path)
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    return path


def test_all_revisions_make_the_tables_that_a_birth_makes(tmp_path: Path) -> None:
    born = make_log(tmp_path / "born.logbook")
    migrated = make_empty(tmp_path / "migrated.logbook")
    migration.migrate(migrated, AT, newest=NEWEST_VERSION)
    assert schema_of(migrated) == schema_of(born)
    with closing(sqlite3.connect(migrated)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (NEWEST_VERSION,)
        assert connection.execute("SELECT * FROM alembic_version").fetchall() == [
            (revision_name(NEWEST_VERSION),)
        ]


def test_a_next_revision_keeps_every_record(tmp_path: Path, scripts: Callable[[str], Path]) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1), make_reading(2))
    migration.migrate(path, AT, newest=NEXT_VERSION, scripts=scripts(NEXT))
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (NEXT_VERSION,)
        assert connection.execute("SELECT count(*) FROM readings").fetchone() == (2,)
        assert connection.execute("SELECT relation FROM contacts").fetchall() == []
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("PRAGMA foreign_key_check").fetchone() is None
    copies = list((tmp_path / "a.logbook-copies").glob("*-migration.logbook"))
    assert len(copies) == 1
    with Book.open(copies[0], lambda: AT, read_only=True) as book:
        assert len(book.readings()) == 2


class _Stop(Exception):
    pass


def _fail_at(path: Path, scripts: Path, newest: int, statement_number: int) -> bool:
    """Migrate, failing before a statement; whether it got that far."""
    engine = make_engine(path, Access.WRITE)
    seen = 0

    @event.listens_for(engine, "before_cursor_execute")
    def count(*_arguments: object) -> None:
        nonlocal seen
        seen += 1
        if seen == statement_number:
            raise _Stop

    try:
        migration.upgrade(engine, newest, scripts, path)
    except _Stop:
        return True
    finally:
        engine.dispose()
    return False


@pytest.mark.parametrize("from_nothing", [True, False], ids=["all", "next"])
def test_failing_at_any_statement_leaves_the_old_version_whole(
    tmp_path: Path, scripts: Callable[[str], Path], from_nothing: bool
) -> None:
    path = tmp_path / "a.logbook"
    if from_nothing:
        make_empty(path)
        folder, newest = migration.SCRIPTS, NEWEST_VERSION
    else:
        make_log(path, make_reading(1), make_reading(2))
        folder, newest = scripts(NEXT), NEXT_VERSION
    before = contents_of(path)
    number = 1
    while _fail_at(path, folder, newest, number):
        assert contents_of(path) == before, f"statement {number} left something behind"
        number += 1
    assert number > 20
    assert contents_of(path) != before


def test_control_a_migration_without_an_outer_transaction_is_caught(
    tmp_path: Path, scripts: Callable[[str], Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The check above can fail: committing after each revision leaves half an upgrade."""
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    before = contents_of(path)
    run = migration._run_revisions

    def committing(connection: Any, folder: Path, **told: Any) -> None:
        run(connection, folder, **told)
        connection.commit()

    monkeypatch.setattr(migration, "_run_revisions", committing)
    folder = scripts(NEXT)
    number = 1
    was_half_done = False
    while not was_half_done and _fail_at(path, folder, NEXT_VERSION, number):
        was_half_done = contents_of(path) != before
        number += 1
    assert was_half_done


@pytest.mark.parametrize("following", [LOSING, BREAKING_REFERENCES], ids=["rows", "references"])
def test_a_revision_that_harms_records_is_not_committed(
    tmp_path: Path, scripts: Callable[[str], Path], following: str
) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    before = contents_of(path)
    with pytest.raises(LogbookError) as caught:
        migration.migrate(path, AT, newest=NEXT_VERSION, scripts=scripts(following))
    assert isinstance(caught.value, DamagedLog)
    assert contents_of(path) == before
