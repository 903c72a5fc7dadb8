"""Checked copies: whole, verified, of this log, and never of damage."""

from __future__ import annotations

import shutil
import sqlite3
import threading
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.errors import CannotWrite, DamagedLog, DiskFull
from logbook.domain.health import FindingKind
from logbook.domain.settings import LogSettings
from logbook.store import copies
from logbook.store.copy_scheme import Occasion
from logbook.store.second_folder import choose_second_folder, copy_there, second_folder
from tests.store.records import BEGIN, Clock, make_log, make_reading


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


# --- in use, thinning, a second folder ------------------------------------------------------------


class SetClock:
    """A clock that stands where it is put."""

    def __init__(self, at: datetime = BEGIN) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at


def test_a_copy_is_made_in_use_with_the_first_change_after_an_hour(tmp_path: Path) -> None:
    clock = SetClock()
    with Book.create(tmp_path / "a.logbook", LogSettings(), clock) as book:
        for minutes in (1, 59):
            clock.at = BEGIN + timedelta(minutes=minutes)
            book.add(make_reading(minutes))
        book._store.finish_copy()
        assert copies_of(book.path) == []
        clock.at = BEGIN + timedelta(minutes=60)
        book.add(make_reading(60))
        book._store.finish_copy()
        (copy,) = copies_of(book.path)
        assert copy.name == "a-2026-03-01T130000Z-use.logbook"
        clock.at = BEGIN + timedelta(minutes=90)
        book.add(make_reading(90))
        clock.at = BEGIN + timedelta(minutes=-30)  # set back: as good as an hour gone by
        book.add(make_reading(91))
        book._store.finish_copy()
        assert len(copies_of(book.path)) == 2
    # Nothing changed since, so closing needs no copy of its own.
    assert len(copies_of(tmp_path / "a.logbook")) == 2
    with Book.open(copy, clock, read_only=True) as then:
        assert len(then.readings()) == 3


def test_a_copy_in_use_that_fails_never_reaches_the_one_who_saves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = SetClock()
    with Book.create(tmp_path / "a.logbook", LogSettings(), clock) as book:
        monkeypatch.setattr(copies, "sync_file", lambda _: (_ for _ in ()).throw(OSError(28, "")))
        clock.at += timedelta(hours=2)
        book.add(make_reading(1))
        book._store.finish_copy()
        assert isinstance(book._store._keeper.trouble, DiskFull)
        assert copies_of(book.path) == []
        monkeypatch.undo()
        assert book._store.has_changed
    assert [copy.name for copy in copies_of(tmp_path / "a.logbook")] == [
        "a-2026-03-01T140000Z-close.logbook"
    ]


def test_saving_goes_on_while_a_copy_is_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = SetClock()
    with Book.create(tmp_path / "a.logbook", LogSettings(), clock) as book:
        reached, go_on = threading.Event(), threading.Event()
        verify = copies._verify

        def waiting(*arguments: object) -> None:
            reached.set()
            assert go_on.wait(20)
            verify(*arguments)  # type: ignore[arg-type]

        monkeypatch.setattr(copies, "_verify", waiting)
        clock.at += timedelta(hours=1)
        book.add(make_reading(1))
        assert reached.wait(20)
        book.add(make_reading(2))
        go_on.set()
        assert book._store.has_changed
        (copy,) = copies_of(book.path)
        assert copies.look_at(copy)[1]


def test_copies_are_thinned_and_what_stands_in_was_read_once_more(tmp_path: Path) -> None:
    path = tmp_path / "a.logbook"
    clock = SetClock()
    Book.create(path, LogSettings(), clock).close()
    for number in range(8):
        clock.at = BEGIN + timedelta(hours=number)
        with Book.open(path, clock) as book:
            book.add(make_reading(number + 1))
    assert len(copies_of(path)) == 8
    newest = copies_of(path)[-1]
    content = newest.read_bytes()
    newest.write_bytes(content.replace(b"fasting", b"Fasting"))  # damaged since it was made
    clock.at = BEGIN + timedelta(days=3)
    with Book.open(path, clock) as book:
        book.add(make_reading(20))
    left = [copy.name for copy in copies_of(path)]
    # The damaged one stays as it is and stands for none: the day keeps its newest good one.
    assert left[0] == "a-2026-03-01T180000Z-close.logbook"
    assert newest.name in left
    assert len(left) == 3
    assert newest.read_bytes() != content


def test_a_copy_with_fewer_changes_than_the_log_never_gets_a_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    (old,) = copies_of(path)
    with Book.open(path, Clock()) as book:
        book.add(make_reading(2))

        def stale(_source: sqlite3.Connection, to: Path) -> None:
            shutil.copy(old, to)

        monkeypatch.setattr(copies, "copy_pages", stale)
        with pytest.raises(DamagedLog):
            book.make_copy()
    assert copies_of(path) == [old]


def test_the_second_folder_gets_copies_that_are_checked_too(tmp_path: Path) -> None:
    path = make_log(tmp_path / "home" / "a.logbook", make_reading(1))
    stick = tmp_path / "stick"
    stick.mkdir()
    assert second_folder(path) is None
    choose_second_folder(path, stick)
    known = second_folder(path)
    assert known is not None
    assert (known.folder, known.is_there, known.last_copy_there) == (str(stick), True, None)
    assert known.is_overdue(BEGIN)
    clock = SetClock(BEGIN + timedelta(days=1))
    for number in (2, 3):
        with Book.open(path, clock) as book:
            book.add(make_reading(number))
    (there,) = stick.iterdir()  # one a day will do
    assert there.stat().st_mode & 0o077 == 0
    with Book.open(there, clock, read_only=True) as copy:
        assert [one.id for one in copy.readings()] == [make_reading(n).id for n in (1, 2)]
    known = second_folder(path)
    assert known is not None
    assert known.last_copy_there == clock.at
    assert not known.is_overdue(clock.at + timedelta(days=7))
    assert known.is_overdue(clock.at + timedelta(days=7, seconds=1))


def test_a_stick_that_is_not_there_is_never_made_and_never_in_the_way(tmp_path: Path) -> None:
    path = make_log(tmp_path / "home" / "a.logbook", make_reading(1))
    stick = tmp_path / "stick"
    with pytest.raises(CannotWrite) as caught:
        choose_second_folder(path, stick)
    assert caught.value.facts["why"] == "missing"
    stick.mkdir()
    choose_second_folder(path, stick)
    stick.rmdir()
    with Book.open(path, SetClock(BEGIN + timedelta(days=1))) as book:
        book.add(make_reading(2))
    assert not stick.exists()
    known = second_folder(path)
    assert known is not None
    assert not known.is_there
    assert len([one for one in copies_of(path) if one.suffix == ".logbook"]) == 2
    for own in (path.parent, path.with_name("a.logbook-copies")):
        with pytest.raises(CannotWrite):
            choose_second_folder(path, own)
    choose_second_folder(path, None)
    assert second_folder(path) is None


def test_a_copy_on_the_stick_leaves_what_else_is_there(tmp_path: Path) -> None:
    path = make_log(tmp_path / "home" / "a.logbook", make_reading(1))
    other = make_log(tmp_path / "home" / "b.logbook", make_reading(2))
    stick = tmp_path / "stick"
    stick.mkdir()
    (stick / "holiday.txt").write_text("sun")
    foreign = Path(shutil.copy(copies_of(other)[0], stick / "a-2020-01-01T000000Z-close.logbook"))
    before = foreign.read_bytes()
    with Book.open(path, Clock()) as book:
        log_id = book._store.log_id
    for days in range(40):
        copy_there(path, log_id, BEGIN + timedelta(days=days), stick, Occasion.ASKED)
    assert (stick / "holiday.txt").read_text() == "sun"
    assert foreign.read_bytes() == before
    # The newest of forty asked for is there, and so are all of the last thirty days.
    own = list(stick.glob("a-2026*"))
    assert 30 <= len(own) <= 40
