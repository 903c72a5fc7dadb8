"""The changes: written with the rows, chained, and never a way to launder damage."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from logbook.book import Book
from logbook.domain.errors import DamagedLog, LogbookError, NoSuchRecord, NotSaved
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.health import FindingKind
from logbook.domain.readings import Doubt
from logbook.domain.settings import LogSettings
from logbook.store.log_store import LogStore
from tests.store.records import Clock, make_log, make_reading, new_id
from tests.store.test_opening import traces


def rows(path: Path, sql: str, *values: object) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute(sql, values).fetchall()
        connection.commit()
    return found


def test_the_log_digest_is_the_sum_of_the_rows_and_the_last_sequence(tmp_path: Path) -> None:
    """Computed here anew with nothing but SQLite and hashlib, from the file's own description."""
    path = make_log(tmp_path / "a.logbook", make_reading(1), make_reading(2))
    with Book.open(path, Clock()) as book:
        book.cross_out(new_id(1))
        book.undo()
    total = 0
    kinds = {"readings": "reading", "settings": "setting"}
    with closing(sqlite3.connect(path)) as connection:
        for table, kind in kinds.items():
            for row in connection.execute(f"SELECT * FROM {table}"):
                text = json.dumps([kind, *row[:-1]], ensure_ascii=False, separators=(",", ":"))
                assert hashlib.sha256(text.encode()).digest() == row[-1]
                total += int.from_bytes(row[-1])
        sequence, digest = connection.execute("SELECT last_sequence, digest FROM log").fetchone()
    assert sequence == 5
    assert int.from_bytes(digest) == (total + sequence) % 2**256


def test_the_log_can_be_made_again_from_the_journal_alone(tmp_path: Path) -> None:
    """With json and hashlib only: every line is chained, and the last states are the records."""
    path = make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 4)))
    with Book.open(path, Clock()) as book:
        book.correct(
            new_id(1), Glucose.number(99, Unit.MG_DL), make_reading(1).at, make_reading(1).slot
        )
        book.take_in([make_reading(n) for n in range(10, 20)], "a file.csv")
        book.cross_out(new_id(2), "told twice")
        book.undo()
    previous = ""
    records: dict[tuple[str, str], Any] = {}
    first, *lines = path.with_name("a.logbook-changes.txt").read_text("utf-8").splitlines()
    assert first.startswith("# Fingerstick Logbook")
    for number, line in enumerate(lines, start=1):
        sha256, text = line[:64], line[65:]
        assert hashlib.sha256(text.encode()).hexdigest() == sha256
        change = json.loads(text)
        assert (change["sequence"], change["previous"]) == (number, previous)
        previous = sha256
        for record in change["records"]:
            key = (record["kind"], record["id"])
            assert records.get(key) == record["before"]
            records[key] = record["after"]
    kept = {key[1]: record for key, record in records.items() if key[0] == "reading" and record}
    with closing(sqlite3.connect(path)) as connection:
        connection.row_factory = sqlite3.Row
        for row in connection.execute("SELECT * FROM readings"):
            record = kept.pop(row["id"])
            in_file = {name: row[name] for name in row.keys() if name != "digest"}  # noqa: SIM118
            filled = {
                name: record.get(name, {int: 0, str: "", type(None): None}[type(value)])
                for name, value in in_file.items()
            }
            assert filled == in_file
    assert kept == {}


WRITES: dict[str, Callable[[Book], object]] = {
    "correct": lambda b: b.correct(
        new_id(1), Glucose.number(99, Unit.MG_DL), make_reading(1).at, make_reading(1).slot
    ),
    "cross out": lambda b: b.cross_out(new_id(1)),
    "bring back": lambda b: b.bring_back(new_id(1)),
    "doubt": lambda b: b.doubt(new_id(1), Doubt.METER),
    "replace": lambda b: b.replace(replace(make_reading(1), note="new")),
    "undo": lambda b: b.undo(),
    "take in": lambda b: b.take_in([make_reading(5)], "file"),
    "copy": lambda b: b.make_copy(),
}


@pytest.mark.parametrize("write", WRITES)
@pytest.mark.parametrize("column", ["steps", "note", "digest", "slot"])
def test_no_way_of_writing_launders_a_damaged_reading(
    tmp_path: Path, column: str, write: str
) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1, steps=128))
    value = {"steps": 129, "note": "x", "digest": bytes(32), "slot": "night"}[column]
    rows(path, f"UPDATE readings SET {column} = ?", value)
    before = rows(path, "SELECT * FROM readings")
    copies = list(path.with_name("a.logbook-copies").iterdir())
    with Book.open(path, Clock()) as book:
        with pytest.raises(DamagedLog) as caught:
            WRITES[write](book)
        assert caught.value.facts["why"] == "digest"
        assert caught.value.subject == str(path)
        assert [reading.is_damaged for reading in book.readings()] == [True]
    assert rows(path, "SELECT * FROM readings") == before
    assert list(path.with_name("a.logbook-copies").iterdir()) == copies


def test_other_readings_can_be_written_beside_a_damaged_one(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1, steps=128), make_reading(2))
    rows(path, "UPDATE readings SET steps = 129 WHERE steps = 128")
    with Book.open(path, Clock()) as book:
        book.add(make_reading(3))
        book.cross_out(new_id(2))
        assert [reading.is_damaged for reading in book.readings()] == [True, False, False]
        found = {finding.kind for finding in book.check().findings}
    assert found == {FindingKind.ROW}


@pytest.mark.parametrize(
    ("sql", "error"),
    [
        ("UPDATE change_records SET after = replace(after, 'fasting', 'bedtime')", DamagedLog),
        ("UPDATE changes SET instant = instant + 1 WHERE sequence = 2", DamagedLog),
        ("DELETE FROM change_records WHERE sequence = 2", DamagedLog),
    ],
)
def test_a_damaged_change_is_not_taken_back(
    tmp_path: Path, sql: str, error: type[LogbookError]
) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(12))
    rows(path, sql)
    with Book.open(path, Clock()) as book:
        with pytest.raises(error):
            book.undo()
        assert book.readings() == [make_reading(12)]
        assert FindingKind.CHANGE in {finding.kind for finding in book.check().findings}


def test_a_change_that_fails_midway_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    with Book.open(path, Clock()) as book:
        before = traces(tmp_path)
        with pytest.raises(NotSaved) as caught:
            book.add(make_reading(2), make_reading(3), make_reading(1))
        assert caught.value.facts["why"] == "already_there"
        with pytest.raises(NoSuchRecord):
            book.add(make_reading(4, recheck_of=uuid4()))
        with pytest.raises(NoSuchRecord):
            book.replace(make_reading(7))
        with pytest.raises(NoSuchRecord):
            book.cross_out(new_id(7))
        assert book.readings() == [make_reading(1)]
        assert traces(tmp_path) == before


def test_replace_never_alters_what_a_reading_says(tmp_path: Path) -> None:
    reading = make_reading(1, steps=128)
    path = make_log(tmp_path / "a.logbook", reading)
    with Book.open(path, Clock()) as book:
        for other in (
            make_reading(1, steps=129),
            replace(reading, slot=make_reading(2).slot),
            replace(reading, at=make_reading(2).at),
            replace(reading, written_at=reading.written_at + timedelta(seconds=1)),
        ):
            with pytest.raises(NotSaved) as caught:
                book.replace(other)
            assert caught.value.facts["why"] == "correct_instead"
        assert book.readings() == [reading]


def test_a_row_of_its_own_that_is_missing_is_told(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook")
    rows(path, "DELETE FROM log")
    with pytest.raises(DamagedLog):
        Book.open(path, Clock())


def test_a_log_put_back_by_hand_beside_a_newer_change_number_is_told(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    rows(path, "UPDATE log SET last_sequence = last_sequence + 1")
    store = LogStore.open(path, Clock(), read_only=True)
    store.close()
    with Book.open(path, Clock()) as book, pytest.raises(DamagedLog):
        book.add(make_reading(2))


def test_settings_are_kept_one_by_one(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        done = book.save_settings(LogSettings(person_name="A", country="NZ")).done
        assert done.count == 2
        assert done.record == LogSettings(person_name="A", country="NZ")
        assert done.earlier == LogSettings()
        assert book.save_settings(LogSettings(person_name="A", country="NZ")).kinds == frozenset()
