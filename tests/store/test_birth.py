"""A log is born whole under its name, or not at all; and it is its owner's alone."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.domain.errors import AlreadyThere, DiskFull, LogbookError, LogReadOnly
from logbook.domain.settings import LogSettings
from logbook.store import birth, files
from logbook.store.tables import NEWEST_VERSION
from tests.store.records import Clock, make_log, make_reading


def names_in(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_a_new_log_is_told_by_its_header(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook")
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (0x46534C42,)
        assert connection.execute("PRAGMA user_version").fetchone() == (NEWEST_VERSION,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert files.recognise(path) == NEWEST_VERSION
    assert path.read_bytes()[68:72] == b"FSLB"


def test_two_logs_have_different_identities(tmp_path: Path) -> None:
    identities = set()
    for name in ("a", "b"):
        with closing(sqlite3.connect(make_log(tmp_path / name))) as connection:
            identities.update(connection.execute("SELECT log_id, writer FROM log").fetchone())
    assert len(identities) == 4


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077, 0o777])
def test_files_and_folders_are_their_owners_alone(tmp_path: Path, umask: int) -> None:
    before = os.umask(umask)
    try:
        path = tmp_path / "new" / "folders" / "a.logbook"
        with Book.create(path, LogSettings(), Clock()) as book:
            book.add(make_reading(1))
            book.make_copy()
    finally:
        os.umask(before)
    for one in (tmp_path / "new").rglob("*"):
        wanted = 0o700 if one.is_dir() else 0o600
        assert one.stat().st_mode & 0o777 == wanted, one
    assert (tmp_path / "new").stat().st_mode & 0o777 == 0o700


def test_the_rollback_journal_is_its_owners_alone_too(tmp_path: Path) -> None:
    before = os.umask(0)
    try:
        path = make_log(tmp_path / "a.logbook")
        with closing(sqlite3.connect(path, isolation_level=None)) as connection:
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("UPDATE log SET born_at = 1")
            rollback = files.Beside(path).rollback
            assert rollback.stat().st_mode & 0o777 == 0o600
            connection.execute("ROLLBACK")
    finally:
        os.umask(before)


@pytest.mark.parametrize("there", ["file", "folder", "link", "link to nothing", "log"])
def test_nothing_is_overwritten(tmp_path: Path, there: str) -> None:
    path = tmp_path / "a.logbook"
    match there:
        case "file":
            path.write_text("mine")
        case "folder":
            path.mkdir()
        case "link":
            (tmp_path / "other").write_text("mine")
            path.symlink_to(tmp_path / "other")
        case "link to nothing":
            path.symlink_to(tmp_path / "nothing")
        case _:
            make_log(path, make_reading(1))
    before = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    with pytest.raises(AlreadyThere):
        Book.create(path, LogSettings(), Clock())
    after = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    # A lock file may be new; everything that was there is as it was.
    assert {p: after[p] for p in before} == before
    assert not [name for name in names_in(tmp_path) if ".birth-" in name]


def test_a_name_taken_in_the_last_moment_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.logbook"
    sync = files.sync_file

    def sync_and_take(unfinished: Path) -> None:
        sync(unfinished)
        path.write_text("mine")

    monkeypatch.setattr(birth, "sync_file", sync_and_take)
    with pytest.raises(AlreadyThere):
        Book.create(path, LogSettings(), Clock())
    assert path.read_text() == "mine"
    assert names_in(tmp_path) == {"a.logbook", "a.logbook.lock"}


def test_where_there_are_no_links_a_log_is_born_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(_from: Path, _to: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_links)
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    with Book.open(path, Clock()) as book:
        assert len(book.readings()) == 1
    with pytest.raises(AlreadyThere):
        Book.create(path, LogSettings(), Clock())
    assert not [name for name in names_in(tmp_path) if ".birth-" in name]


@pytest.mark.parametrize(
    ("step", "error", "told"),
    [
        ("make_private", OSError(28, "No space left on device"), DiskFull),
        ("sync_file", OSError(28, "No space left on device"), DiskFull),
        ("sync_file", OSError(5, "Input/output error"), LogbookError),
        ("name_without_overwriting", OSError(30, "Read-only file system"), LogReadOnly),
    ],
)
def test_a_birth_that_fails_leaves_nothing(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    step: str,
    error: OSError,
    told: type[LogbookError],
) -> None:
    def fail(*_arguments: Path) -> None:
        raise error

    monkeypatch.setattr(birth, step, fail)
    with pytest.raises(told):
        Book.create(tmp_path / "a.logbook", LogSettings(), Clock())
    assert names_in(tmp_path) == {"a.logbook.lock"}
    monkeypatch.undo()
    make_log(tmp_path / "a.logbook")  # the lock was let go of


def test_what_a_kill_left_of_a_birth_is_removed_at_the_next_start(tmp_path: Path) -> None:
    path = tmp_path / "a.logbook"
    left = [tmp_path / f".a.logbook.birth-1234{end}" for end in ("", "-journal")]
    other = tmp_path / ".b.logbook.birth-1234"
    for one in (*left, other):
        one.write_bytes(b"half")
    make_log(path)
    assert not any(one.exists() for one in left)
    assert other.exists()  # another log's; its own next start removes it
    left[0].write_bytes(b"half")
    Book.open(path, Clock()).close()
    assert not left[0].exists()
