"""Erasing words for good: they are in no file any more, and everything else is as it was.

What is searched are the bytes of every file beside the log. The control is the same search before.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from uuid import uuid4

import pytest

from logbook.book import Book, check_log, rebuild_log
from logbook.domain.actions import Action
from logbook.domain.errors import DamagedLog
from logbook.domain.medicine_notes import MedicineNote, NotAsPlanned
from logbook.domain.moments import Moment
from logbook.domain.visits import Contact, Question
from logbook.store.erasing import WORDS
from logbook.store.records import KINDS
from tests.store.records import BEGIN, ZONE, Clock, make_log, make_reading

WRITTEN = "Aunt Wilhelmina said so"
EARLIER = "Not for the doctor"
OTHER = "after a long walk"


def holding(path: Path, words: str, *, with_copies: bool = False) -> list[str]:
    """The files beside the log that hold these words."""
    wanted = words.encode()
    files = [one for one in path.parent.rglob("*") if one.is_file()]
    return sorted(
        one.name
        for one in files
        if wanted in one.read_bytes() and (with_copies or "-copies" not in str(one.parent))
    )


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Three readings; the note of the second was written, changed, undone, and put back."""
    path = make_log(tmp_path / "a.logbook", make_reading(1, note=OTHER), make_reading(2))
    with Book.open(path, Clock()) as book:
        reading = book.readings()[1]
        book.replace(replace(reading, note=EARLIER))
        book.replace(replace(reading, note=WRITTEN))
        book.undo()
        book.put_back()
        book.add(make_reading(3))
    return path


def test_every_kind_whose_words_may_go_has_those_words() -> None:
    """A name that is no column would erase nothing, and nobody would be told."""
    for kind, columns in WORDS.items():
        assert set(columns) <= {column.name for column in KINDS[kind].table.columns}, kind


def test_the_words_of_a_medicine_note_go_and_the_note_stays(tmp_path: Path) -> None:
    at = Moment.at(BEGIN, ZONE)
    path = make_log(tmp_path / "a.logbook")
    note = MedicineNote(uuid4(), NotAsPlanned.MISSED, at, BEGIN, WRITTEN)
    with Book.open(path, Clock()) as book:
        book.add(note)
        assert holding(path, WRITTEN) == ["a.logbook", "a.logbook-changes.txt"]
        book.erase_words(note)
        assert book.medicine_notes() == [replace(note, text="")]
        assert book.check().is_sound
    assert holding(path, WRITTEN) == []


def test_the_words_are_in_no_file_but_the_copies_and_the_log_is_sound(log: Path) -> None:
    assert holding(log, WRITTEN) == ["a.logbook", "a.logbook-changes.txt"]
    assert holding(log, EARLIER) == ["a.logbook", "a.logbook-changes.txt"]
    with Book.open(log, Clock()) as book:
        before = book.series()
        changed = book.erase_words(book.readings()[1])
        assert changed.done.action is Action.ERASE
        assert book.check().is_sound
        series = book.series()
        assert [reading.note for reading in book.readings()] == [OTHER, "", ""]
    assert (series.ids, series.steps, series.instants) == (
        before.ids,
        before.steps,
        before.instants,
    )
    assert holding(log, WRITTEN) == []
    assert holding(log, EARLIER) == []
    assert holding(log, OTHER) == ["a.logbook", "a.logbook-changes.txt"]
    assert holding(log, WRITTEN, with_copies=True)
    assert check_log(log).is_sound


def test_the_journal_makes_the_same_log_again_without_the_words(log: Path, tmp_path: Path) -> None:
    with Book.open(log, Clock()) as book:
        book.erase_words(book.readings()[1])
        wanted = book.readings()
    made = rebuild_log(log.with_name("a.logbook-changes.txt"), tmp_path / "again" / "a.logbook")
    assert made.left_out == 0
    with Book.open(tmp_path / "again" / "a.logbook", Clock()) as book:
        assert book.readings() == wanted
        assert book.check().is_sound


def test_undo_goes_on_past_it_and_never_brings_the_words_back(log: Path) -> None:
    with Book.open(log, Clock()) as book:
        book.erase_words(book.readings()[1])
        for _step in range(4):
            book.undo()
            assert not any(WRITTEN in reading.note for reading in book.readings())
        book.put_back()
        assert not any(WRITTEN in reading.note for reading in book.readings())
        assert book.check().is_sound
    assert holding(log, WRITTEN) == []


def test_what_stood_there_can_still_be_told(log: Path) -> None:
    """Who has the words can show that it was these: the digest is salted, the salt beside it."""
    import hashlib
    import json

    with closing(sqlite3.connect(log)) as connection:
        (last_before,) = connection.execute(
            "SELECT hex(sha256) FROM changes ORDER BY sequence DESC LIMIT 1"
        ).fetchone()
    with Book.open(log, Clock()) as book:
        reading_id = book.readings()[1].id
        book.erase_words(book.readings()[1])
    with closing(sqlite3.connect(log)) as connection:
        (name,) = connection.execute("SELECT name FROM changes WHERE kind = 'erase'").fetchone()
    told = json.loads(name)
    assert told["record"] == str(reading_id)
    assert told["chain"] == last_before.lower()
    digests = {
        hashlib.sha256(f"{told['salt']}{words}".encode()).hexdigest()
        for words in (WRITTEN, EARLIER)
    }
    assert set(told["words"]) == digests


def test_a_kill_before_the_journal_was_written_leaves_no_words_after_the_next_start(
    log: Path,
) -> None:
    journal = log.with_name("a.logbook-changes.txt")
    before = journal.read_bytes()
    with Book.open(log, Clock()) as book:
        book.erase_words(book.readings()[1])
    journal.write_bytes(before)
    assert holding(log, WRITTEN) == ["a.logbook-changes.txt"]
    with Book.open(log, Clock()) as book:
        assert book.check().is_sound
    assert holding(log, WRITTEN) == []


def test_nothing_is_done_to_a_log_whose_changes_are_damaged(log: Path) -> None:
    with closing(sqlite3.connect(log)) as connection:
        connection.execute(
            "UPDATE change_records SET after = replace(after, 'mg/dL', 'mg/dl') "
            "WHERE sequence = (SELECT max(sequence) FROM changes)"
        )
        connection.commit()
    before = log.read_bytes()
    with Book.open(log, Clock()) as book, pytest.raises(DamagedLog):
        book.erase_words(book.readings()[1])
    assert log.read_bytes() == before


def test_a_record_without_words_is_left_alone(log: Path) -> None:
    before = log.read_bytes()
    with Book.open(log, Clock()) as book:
        assert not book.erase_words(book.readings()[2]).kinds
    assert log.read_bytes() == before


def test_names_and_questions_go_too(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    with Book.open(path, Clock()) as book:
        contact = Contact(uuid4(), "person", WRITTEN, "555 0123")
        at = Moment.at(BEGIN, ZONE)
        question = Question(uuid4(), EARLIER, at.instant)
        book.add(contact, question)
        book.erase_words(contact)
        book.erase_words(question)
        assert [(one.name, one.phone) for one in book.contacts()] == [("", "")]
        assert book.check().is_sound
    for words in (WRITTEN, EARLIER, "555 0123"):
        assert holding(path, words) == []


def test_a_version_that_stands_beside_loses_its_words_too(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a" / "a.logbook", make_reading(1, note=OTHER))
    other = tmp_path / "b" / "a.logbook"
    other.parent.mkdir()
    other.write_bytes(path.read_bytes())
    for one, note in ((path, EARLIER), (other, WRITTEN)):
        with Book.open(one, Clock()) as book:
            book.replace(replace(book.readings()[0], note=note))
    with Book.open(path, Clock()) as book:
        book.bring_in(other)
        assert book.disagreements()
        book.erase_words(book.readings()[0])
        assert book.check().is_sound
    for words in (WRITTEN, EARLIER, OTHER):
        assert holding(path, words) == []
