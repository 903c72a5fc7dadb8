"""A log made again from its plain-text journal alone."""

from __future__ import annotations

import hashlib
import json
import random
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.errors import AlreadyThere, CannotRead, NothingTaken
from logbook.store.rebuild import rebuild
from tests.store.records import Clock, make_log, make_reading


def journal_of(path: Path) -> Path:
    return path.with_name(path.name + "-changes.txt")


def dump_of(path: Path) -> list[str]:
    """Everything in the tables but when it was born, in an order of its own."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE log SET born_at = 0")
        return sorted(connection.iterdump())


@pytest.fixture
def lived_in(tmp_path: Path) -> Path:
    """A log with every sort of change in it."""
    path = make_log(tmp_path / "a.logbook")
    chance = random.Random(4)
    with Book.open(path, Clock()) as book:
        for number in range(1, 40):
            book.add(make_reading(number, note="a “note”, ± and \n a line"))
        book.take_in([make_reading(number) for number in range(100, 160)], "file.csv")
        for number in chance.sample(range(1, 40), 10):
            one = book.reading(make_reading(number).id)
            book.correct(one.id, make_reading(7).glucose, one.at, one.slot, "misread")
            book.cross_out(one.id, "not mine")
        book.undo()
        book.undo()
        book.put_back()
    return path


def test_the_rebuilt_log_is_the_log(lived_in: Path, tmp_path: Path) -> None:
    alone = tmp_path / "elsewhere" / "alone.txt"
    alone.parent.mkdir()
    shutil.copy(journal_of(lived_in), alone)
    made = tmp_path / "elsewhere" / "again.logbook"
    told = rebuild(alone, made)
    assert told.changes == check_log(lived_in).changes
    assert (told.left_out, told.first_left_out) == (0, 0)
    assert made.stat().st_mode & 0o777 == 0o600
    with (
        Book.open(lived_in, Clock(), read_only=True) as before,
        Book.open(made, Clock()) as after,
    ):
        assert after.readings() == before.readings()
        assert after.settings == before.settings
        assert after.undoable == before.undoable
        after.undo()
        after.put_back()
    assert check_log(made).is_sound
    fresh = tmp_path / "fresh.logbook"
    rebuild(alone, fresh)
    assert dump_of(fresh) == dump_of(lived_in)


def test_what_does_not_follow_is_left_out_and_told(lived_in: Path, tmp_path: Path) -> None:
    lines = journal_of(lived_in).read_bytes().splitlines(keepends=True)
    lines[20] = lines[20].replace(b"walked", b"talked").replace(b"note", b"nota")
    journal = tmp_path / "damaged.txt"
    journal.write_bytes(b"".join(lines))
    told = rebuild(journal, tmp_path / "b.logbook")
    assert told.changes == 19
    assert told.first_left_out == 21
    assert told.left_out == len(lines) - 20
    assert check_log(tmp_path / "b.logbook").changes == 19


def test_lines_in_another_order_twice_or_cut_short_do_no_harm(
    lived_in: Path, tmp_path: Path
) -> None:
    first, *lines = journal_of(lived_in).read_bytes().splitlines(keepends=True)
    mixed = [*lines, lines[3], b"\n", b"my own note\n"]
    random.Random(2).shuffle(mixed)
    journal = tmp_path / "mixed.txt"
    journal.write_bytes(first + b"".join(mixed) + lines[5][:50])
    told = rebuild(journal, tmp_path / "b.logbook")
    assert (told.changes, told.left_out) == (len(lines), 3)
    assert dump_of(tmp_path / "b.logbook") == dump_of(lived_in)


def test_of_two_rows_of_changes_the_longer_is_taken(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    other = tmp_path / "b.logbook"
    shutil.copy(path, other)
    with Book.open(path, Clock()) as book:
        book.add(make_reading(2))
    with Book.open(other, Clock()) as book:
        for number in (3, 4, 5):
            book.add(make_reading(number))
    both = journal_of(other).read_bytes() + journal_of(path).read_bytes().splitlines(True)[-1]
    journal = tmp_path / "both.txt"
    journal.write_bytes(both)
    told = rebuild(journal, tmp_path / "c.logbook")
    assert told.left_out == 1
    with Book.open(tmp_path / "c.logbook", Clock(), read_only=True) as book:
        assert {one.id for one in book.readings()} == {make_reading(n).id for n in (1, 3, 4, 5)}


def test_nothing_is_overwritten_and_nothing_left_behind(lived_in: Path, tmp_path: Path) -> None:
    before = lived_in.read_bytes()
    with pytest.raises(AlreadyThere):
        rebuild(journal_of(lived_in), lived_in)
    assert lived_in.read_bytes() == before
    folder = tmp_path / "new"
    folder.mkdir()
    text = folder / "notes.txt"
    text.write_text("my notes\n")
    with pytest.raises(CannotRead) as caught:
        rebuild(text, folder / "c.logbook")
    assert caught.value.facts["why"] == "not_a_journal"
    with pytest.raises(CannotRead):
        rebuild(folder / "missing.txt", folder / "c.logbook")
    with pytest.raises(CannotRead):
        rebuild(folder, folder / "c.logbook")
    text.write_bytes(journal_of(lived_in).read_bytes().splitlines(keepends=True)[0])
    with pytest.raises(NothingTaken):
        rebuild(text, folder / "c.logbook")
    assert {one.name for one in folder.iterdir()} == {"notes.txt"}


def test_a_line_that_verifies_and_tells_what_no_log_holds_is_refused(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    first, begin, add = journal_of(path).read_bytes().splitlines(keepends=True)
    told = json.loads(add.split(b" ", 1)[1])
    told["records"][0]["after"]["steps"] = 99_999
    text = json.dumps(told, sort_keys=True, separators=(",", ":")).encode()
    forged = hashlib.sha256(text).hexdigest().encode() + b" " + text + b"\n"
    journal = tmp_path / "forged.txt"
    journal.write_bytes(first + begin + forged)
    with pytest.raises(Exception) as caught:  # noqa: PT011 (the table's own CHECK, or the audit)
        rebuild(journal, tmp_path / "b.logbook")
    assert type(caught.value).__module__ == "logbook.domain.errors"
    assert not (tmp_path / "b.logbook").exists()
