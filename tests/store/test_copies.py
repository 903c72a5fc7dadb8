"""Checked copies: whole, verified, of this log, and never of damage."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.errors import DamagedLog, DiskFull
from logbook.domain.health import FindingKind
from logbook.domain.settings import LogSettings
from logbook.store import copies
from tests.store.records import Clock, make_log, make_reading


def copies_of(path: Path) -> list[Path]:
    folder = path.with_name(path.name + "-copies")
    return sorted(folder.iterdir()) if folder.is_dir() else []


def test_a_copy_is_made_at_close_when_something_changed(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    (copy,) = copies_of(path)
    assert copy.name.startswith("a-2026-03-01T")
    assert copy.name.endswith("-close.logbook")
    Book.open(path, Clock()).close()
    with Book.open(path, Clock()) as book:
        book.save_settings(book.settings)  # nothing that differs, so nothing that changed
    assert copies_of(path) == [copy]
    with Book.open(path, Clock(datetime(2026, 4, 1, tzinfo=UTC))) as book:
        book.add(make_reading(2))
    assert len(copies_of(path)) == 2


def test_a_copy_is_the_log_and_can_be_opened_as_one(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1), make_reading(2))
    (copy,) = copies_of(path)
    with closing(sqlite3.connect(path)) as one, closing(sqlite3.connect(copy)) as other:
        assert list(one.iterdump()) == list(other.iterdump())
        for pragma in ("application_id", "user_version", "journal_mode"):
            asked = f"PRAGMA {pragma}"
            assert one.execute(asked).fetchone() == other.execute(asked).fetchone()
    moved = shutil.copy(copy, tmp_path / "moved.logbook")
    with Book.open(Path(moved), Clock()) as book:
        assert book.readings() == [make_reading(1), make_reading(2)]
        assert book.undoable is not None


def test_two_copies_of_one_second_have_two_names(tmp_path: Path) -> None:
    at = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
    with Book.create(tmp_path / "a.logbook", LogSettings(), lambda: at) as book:
        made = [book.make_copy() for _ in range(3)]
    assert [path.name for path in made] == [
        f"a-2026-03-01T120000Z-asked{end}.logbook" for end in ("", "-2", "-3")
    ]


def test_a_copy_is_made_before_an_import(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        book.add(make_reading(1))
        book.take_in([make_reading(2)], "file.csv")
        (copy,) = copies_of(book.path)
        assert copy.name.endswith("-import.logbook")
    with Book.open(copy, Clock(), read_only=True) as before:
        assert before.readings() == [make_reading(1)]


def test_an_import_whose_copy_fails_does_not_happen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    before = copies_of(path)

    def full(_path: Path) -> None:
        raise OSError(28, "No space left on device")

    with Book.open(path, Clock()) as book:
        monkeypatch.setattr(copies, "sync_file", full)
        with pytest.raises(DiskFull):
            book.take_in([make_reading(2)], "file.csv")
        assert book.readings() == [make_reading(1)]
    assert copies_of(path) == before


def test_a_damaged_log_makes_no_copy_and_keeps_the_good_ones(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    before = {copy: copy.read_bytes() for copy in copies_of(path)}
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE readings SET steps = steps + 1")
        connection.commit()
    with Book.open(path, Clock()) as book:
        book.add(make_reading(2))
        with pytest.raises(DamagedLog):
            book.make_copy()
    assert {copy: copy.read_bytes() for copy in copies_of(path)} == before


def test_a_copy_of_another_log_is_never_offered(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    other = make_log(tmp_path / "b.logbook", make_reading(2))
    (mine,) = copies_of(path)
    shutil.copy(copies_of(other)[0], mine.with_name("a-2027-01-01T000000Z-close.logbook"))
    (mine.parent / "notes.txt").write_text("not a copy")
    health = check_log(path)
    assert [copy.name for copy in health.copies] == [mine.name]
    assert health.copies[0].is_good
    assert health.copies[0].made_at.date() == datetime(2026, 3, 1, tzinfo=UTC).date()
    assert health.is_sound


@pytest.mark.parametrize("how", ["flipped", "empty", "cut", "text"])
def test_a_damaged_copy_is_found(tmp_path: Path, how: str) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    (copy,) = copies_of(path)
    content = bytearray(copy.read_bytes())
    match how:
        case "flipped":
            content[content.index(b"fasting") if b"fasting" in content else 9000] ^= 1
        case "empty":
            content.clear()
        case "cut":
            del content[len(content) // 2 :]
        case _:
            content[:] = b"my readings"
    copy.write_bytes(content)
    (finding,) = check_log(path).findings
    assert (finding.kind, finding.subject) == (FindingKind.COPY, copy.name)


def test_what_a_kill_left_of_a_copy_is_removed_at_the_next_start(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    (copy,) = copies_of(path)
    left = copy.with_name(".unfinished-1234")
    left.write_bytes(b"half")
    assert check_log(path).is_sound
    Book.open(path, Clock()).close()
    assert not left.exists()
