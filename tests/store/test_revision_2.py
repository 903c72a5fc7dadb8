"""A log of version 2 is read as it is, checked, brought to the newest version, and merged with.

It is made here of the log of version 1, by the revision that makes version 2 of it and no other.
"""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.bringing_in import BroughtIn
from logbook.domain.health import FindingKind
from logbook.store import migration
from logbook.store.tables import NEWEST_VERSION
from tests.store import revision_1
from tests.store.records import make_log, make_reading
from tests.store.test_migration import schema_of

AT = datetime(2026, 4, 1, 8, tzinfo=UTC)


def clock() -> datetime:
    return AT


@pytest.fixture(scope="module")
def log_made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("version 2")
    scripts = folder / "scripts"
    shutil.copytree(migration.SCRIPTS, scripts)
    for script in (scripts / "versions").glob("0003*"):
        script.unlink()
    path = Path(shutil.copy(revision_1.FILE, folder / "old.logbook"))
    migration.migrate(path, AT, newest=2, scripts=scripts)
    return path


@pytest.fixture
def log(log_made_once: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(log_made_once, tmp_path / "old.logbook"))


def version_of(path: Path) -> int:
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as connection:
        (version,) = connection.execute("PRAGMA user_version").fetchone()
    return int(version)


def changes_of(path: Path) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as connection:
        rows = connection.execute("SELECT * FROM changes ORDER BY sequence").fetchall()
        return rows + connection.execute("SELECT * FROM change_records").fetchall()


def findings_of(path: Path) -> set[FindingKind]:
    return {one.kind for one in check_log(path).findings}


def test_the_file_is_of_version_2(log: Path) -> None:
    assert version_of(log) == 2
    with closing(sqlite3.connect(log)) as connection:
        names = {row[0] for row in connection.execute("SELECT name FROM sqlite_schema")}
    assert "check_plans" in names
    assert "disagreements" not in names


def test_it_is_read_and_checked_as_it_is(log: Path) -> None:
    before = hashlib.sha256(log.read_bytes()).digest()
    assert findings_of(log) == {FindingKind.JOURNAL_MISSING}
    with Book.open(log, clock, read_only=True) as book:
        assert revision_1.FASTING.id in {one.id for one in book.readings()}
        assert book.disagreements() == []
    assert hashlib.sha256(log.read_bytes()).digest() == before


def test_it_becomes_the_log_that_is_born_today(log: Path, tmp_path: Path) -> None:
    changes = changes_of(log)
    with Book.open(log, clock) as book:
        assert book.check().is_sound
        assert book.undoable is not None
    assert version_of(log) == NEWEST_VERSION
    assert changes_of(log) == changes
    assert schema_of(log) == schema_of(make_log(tmp_path / "born.logbook"))
    assert check_log(log).is_sound
    (copy,) = log.with_name("old.logbook-copies").glob("*-migration.logbook")
    assert version_of(copy) == 2
    assert findings_of(copy) == {FindingKind.JOURNAL_MISSING}


def test_damage_in_its_changes_is_told_and_the_rest_read(log: Path) -> None:
    with Book.open(log, clock, read_only=True) as book:
        count = len(book.readings())
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("UPDATE changes SET name = 'x' WHERE sequence = 3")
        connection.commit()
    with Book.open(log, clock, read_only=True) as book:
        assert len(book.readings()) == count
        found = {one.kind for one in book.check().findings}
    assert FindingKind.CHANGE in found


def test_it_is_merged_with_a_newer_copy_of_itself(log: Path, tmp_path: Path) -> None:
    newer = Path(shutil.copy(log, tmp_path / "newer.logbook"))
    with Book.open(newer, clock) as book:
        book.add(make_reading(40))
        before = hashlib.sha256(log.read_bytes()).digest()
        assert book.look_at_copy(log).is_nothing
        assert hashlib.sha256(log.read_bytes()).digest() == before
    with Book.open(log, clock) as book:
        assert book.bring_in(newer)[1] == BroughtIn(1, 0, 0, 0, 0)
        assert book.check().is_sound
