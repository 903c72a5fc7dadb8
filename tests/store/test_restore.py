"""Going back to a copy: nothing is deleted, it can be undone, a kill leaves one or the other."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.errors import (
    CannotRead,
    DamagedLog,
    DiskFull,
    LogbookError,
    LogInUse,
    NotALog,
)
from logbook.store import restore as restoring
from logbook.store.restore import find_way_back, restore
from tests.endurance import restores
from tests.endurance.runs import Plan, run_trials
from tests.store.records import Clock, make_log, make_reading

AT = datetime(2026, 5, 1, 8, 30, tzinfo=UTC)


def copies_of(path: Path) -> list[Path]:
    return sorted(path.with_name(path.name + "-copies").glob("*.logbook"))


@pytest.fixture
def log(tmp_path: Path) -> tuple[Path, Path]:
    """A log with two readings, and the copy from when it had one."""
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    (copy,) = copies_of(path)
    with Book.open(path, Clock(datetime(2026, 4, 1, tzinfo=UTC))) as book:
        book.add(make_reading(2))
    return path, copy


def ids_in(path: Path) -> set[object]:
    with Book.open(path, Clock(AT), read_only=True) as book:
        return {reading.id for reading in book.readings()}


def files_beside(path: Path) -> set[str]:
    return {one.name for one in path.parent.iterdir()}


def test_the_log_is_the_copy_and_what_was_there_is_set_aside(log: tuple[Path, Path]) -> None:
    path, copy = log
    before = path.read_bytes()
    journal = path.with_name("a.logbook-changes.txt").read_bytes()
    done = restore(path, copy, AT)
    assert path.read_bytes() == copy.read_bytes()
    assert done.changes == 2
    aside = Path(done.set_aside)
    assert aside.name == "a-set-aside-2026-05-01T083000Z.logbook"
    assert aside.read_bytes() == before
    assert aside.with_name(aside.name + "-changes.txt").read_bytes() == journal
    assert ids_in(path) == {make_reading(1).id}
    assert ids_in(aside) == {make_reading(1).id, make_reading(2).id}
    with Book.open(path, Clock(AT)) as book:
        book.add(make_reading(3))
    assert check_log(path).is_sound
    assert any("-restore." in one.name for one in copies_of(path))
    assert not [name for name in files_beside(path) if name.startswith(".")]


def test_going_back_once_more_undoes_it_byte_for_byte(log: tuple[Path, Path]) -> None:
    path, copy = log
    journal = path.with_name("a.logbook-changes.txt")
    before = path.read_bytes(), journal.read_bytes()
    done = restore(path, copy, AT)
    with Book.open(path, Clock(AT)) as book:
        book.add(make_reading(3))
    again = restore(path, Path(done.set_aside), AT)
    assert (path.read_bytes(), journal.read_bytes()) == before
    assert ids_in(Path(again.set_aside)) == {make_reading(1).id, make_reading(3).id}
    assert Path(done.set_aside).exists()
    with Book.open(path, Clock(AT)) as book:
        assert book.check().is_sound


@pytest.mark.parametrize("how", ["flipped", "empty", "cut", "random", "gone"])
def test_a_damaged_log_is_set_aside_and_the_way_back_is_known(
    log: tuple[Path, Path], how: str
) -> None:
    path, _ = log
    content = bytearray(path.read_bytes())
    match how:
        case "flipped":
            content[8_192] ^= 0xFF
        case "empty":
            content.clear()
        case "cut":
            del content[9_000:]
        case "random":
            content[:] = bytes(range(256)) * 100
    if how == "gone":
        path.unlink()
    else:
        path.write_bytes(content)
    newest = copies_of(path)[-1]
    way = find_way_back(path, AT)
    assert way.copy is not None
    assert way.copy.name == newest.name
    assert (way.copy.changes, way.newer_changes) == (3, 0)
    done = restore(path, newest, AT)
    if how == "gone":
        # What is left of it is its journal, which is kept like the rest.
        assert done.set_aside == ""
        assert "a-set-aside-2026-05-01T083000Z.logbook-changes.txt" in files_beside(path)
    else:
        assert Path(done.set_aside).read_bytes() == bytes(content)
    assert ids_in(path) == {make_reading(1).id, make_reading(2).id}
    with Book.open(path, Clock(AT)) as book:
        assert book.check().is_sound
    if how == "flipped":
        with pytest.raises(DamagedLog):
            restore(path, Path(done.set_aside), AT)
        restore(path, Path(done.set_aside), AT, even_damaged=True)
        assert path.read_bytes() == bytes(content)


def test_a_damaged_copy_is_passed_over_for_one_that_is_good(log: tuple[Path, Path]) -> None:
    path, first = log
    newest = copies_of(path)[-1]
    content = bytearray(newest.read_bytes())
    content[content.index(b"fasting") if b"fasting" in content else 9_000] ^= 1
    newest.write_bytes(content)
    way = find_way_back(path, AT)
    assert way.copy is not None
    assert way.copy.name == first.name
    assert way.newer_changes == 1
    with pytest.raises(DamagedLog):
        restore(path, newest, AT)
    assert ids_in(path) == {make_reading(1).id, make_reading(2).id}


def test_only_a_copy_of_this_log_is_taken(log: tuple[Path, Path], tmp_path: Path) -> None:
    path, copy = log
    before = path.read_bytes()
    other = make_log(tmp_path / "b.logbook", make_reading(5))
    cases: list[tuple[Path, type[LogbookError]]] = [
        (copies_of(other)[0], NotALog),
        (path, CannotRead),
        (tmp_path, NotALog),
        (tmp_path / "a.logbook-changes.txt", NotALog),
    ]
    for wrong, error in cases:
        with pytest.raises(error):
            restore(path, wrong, AT)
    # A log that can't be read any more is known by its journal.
    path.write_bytes(b"")
    with pytest.raises(NotALog) as caught:
        restore(path, copies_of(other)[0], AT)
    assert caught.value.facts["why"] == "other_log"
    path.write_bytes(before)
    with Book.open(path, Clock(AT)), pytest.raises(LogInUse):
        restore(path, copy, AT)
    assert path.read_bytes() == before


def test_a_restore_without_room_changes_nothing(
    log: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    path, copy = log
    before = {one: one.read_bytes() for one in path.parent.rglob("*.logbook*") if one.is_file()}

    def full(_path: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(restoring, "sync_file", full)
    with pytest.raises(DiskFull):
        restore(path, copy, AT)
    monkeypatch.undo()
    for one, content in before.items():
        assert one.read_bytes() == content
    with Book.open(path, Clock(AT)) as book:
        assert len(book.readings()) == 2
    assert not [name for name in files_beside(path) if name.startswith(".")]


@pytest.mark.parametrize("has_links", [True, False])
def test_a_hot_journal_of_a_log_that_cannot_be_read_never_reaches_the_new_one(
    log: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, *, has_links: bool
) -> None:
    path, copy = log
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA cache_size = 1")
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("CREATE TABLE t (x BLOB)")
        for _ in range(50):
            connection.execute("INSERT INTO t VALUES (randomblob(3000))")
        torn = path.with_name("a.logbook-journal").read_bytes()
    assert len(torn) > 512
    path.with_name("a.logbook-journal").write_bytes(torn)
    content = bytearray(path.read_bytes())
    content[:16] = b"no longer SQLite"
    path.write_bytes(content)
    if not has_links:

        def no_links(*_: object) -> None:
            raise OSError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", no_links)
    done = restore(path, copy, AT)
    assert path.read_bytes() == copy.read_bytes()
    assert not path.with_name("a.logbook-journal").exists()
    aside = Path(done.set_aside)
    assert aside.read_bytes() == bytes(content)
    assert aside.with_name(aside.name + "-journal").read_bytes() == torn
    assert not [name for name in files_beside(path) if name.startswith(".")]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork, to kill a process")
def test_a_kill_at_any_step_leaves_the_log_of_before_or_the_copy() -> None:
    outcomes = run_trials(Plan(3, 0, 24, 1, False, None), restores.kill_in_restore)
    assert [one.faults for one in outcomes.values() if one.faults] == []
    counts = [one.counts for one in outcomes.values()]
    assert sum(one.get("killed", 0) for one in counts) > 10
    assert sum(one.get("finished at the next start", 0) for one in counts) > 2


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork, to kill a process")
def test_control_a_restore_that_writes_over_the_log_is_caught() -> None:
    outcomes = run_trials(Plan(3, 0, 40, 1, True, None), restores.kill_in_restore)
    assert any(one.faults for one in outcomes.values())


def test_a_log_of_another_name_may_be_gone_back_to_where_nothing_is(
    log: tuple[Path, Path], tmp_path: Path
) -> None:
    _, copy = log
    folder = tmp_path / "new"
    folder.mkdir()
    shutil.copy(copy, folder / "from-a-stick.logbook")
    done = restore(folder / "my.logbook", folder / "from-a-stick.logbook", AT)
    assert done.set_aside == ""
    assert ids_in(folder / "my.logbook") == {make_reading(1).id}
