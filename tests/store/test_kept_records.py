"""What was read is handed out again while it holds, and never longer."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path
from unittest.mock import patch

import pytest

from logbook.book import Book
from logbook.domain.moments import Period
from logbook.store.kept_records import KeptRecords
from logbook.store.small_records import read_settings
from tests.store.records import Clock, make_log, make_reading

ALL_DAYS = Period(date(2026, 2, 20), date(2026, 4, 20))


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 6)))


def test_settings_are_read_once_and_again_after_they_changed(log: Path) -> None:
    with (
        Book.open(log, Clock()) as book,
        patch("logbook.store.listing.read_settings", wraps=read_settings) as read,
    ):
        for _ in range(5):
            assert book.settings.person_name == ""
        assert read.call_count == 1
        book.add(make_reading(20))
        assert book.settings.person_name == ""
        assert read.call_count == 1, "a reading does not alter the settings"
        book.save_settings(replace(book.settings, person_name="Anna"))
        assert book.settings.person_name == "Anna"
        book.undo()
        assert book.settings.person_name == ""
        assert read.call_count == 3


def test_every_write_of_readings_is_seen_at_once(log: Path) -> None:
    with Book.open(log, Clock()) as book:
        for number in range(10, 30):
            before = len(book.series(ALL_DAYS))
            book.add(make_reading(number))
            assert len(book.series(ALL_DAYS)) == before + 1
            book.cross_out(make_reading(number).id)
            assert book.series(ALL_DAYS).marks[-1] != 0
            book.undo()
            assert book.series(ALL_DAYS).marks[-1] == 0
        assert len(book.kit().strip_uses) == len(book.readings())


@pytest.mark.parametrize("read_only", [False, True], ids=["write", "read"])
def test_what_another_program_wrote_is_read_anew(log: Path, read_only: bool) -> None:
    with Book.open(log, Clock(), read_only=read_only) as book:
        assert len(book.series(ALL_DAYS)) == 5
        with closing(sqlite3.connect(log)) as connection:
            connection.execute("DELETE FROM readings WHERE id = (SELECT max(id) FROM readings)")
            connection.commit()
        assert len(book.series(ALL_DAYS)) == 4


def test_what_is_read_while_it_changes_is_not_kept(log: Path) -> None:
    kept = KeptRecords(log)

    def read_and_write() -> str:
        kept.wrote(kept.mark(), {"reading"})  # another thread saves meanwhile
        return "old"

    assert kept.get("reading", read_and_write, of="reading") == "old"
    assert kept.get("reading", lambda: "new", of="reading") == "new"


def test_control_what_is_not_written_is_handed_out_again(log: Path) -> None:
    kept = KeptRecords(log)
    assert kept.get("meter", lambda: "first", of="meter") == "first"
    kept.wrote(kept.mark(), {"reading"})
    assert kept.get("meter", lambda: "second", of="meter") == "first"
    kept.wrote(kept.mark(), {"meter"})
    assert kept.get("meter", lambda: "third", of="meter") == "third"


def test_of_all_kinds_is_old_after_any_write_and_few_are_kept(log: Path) -> None:
    kept = KeptRecords(log)
    kept.get("kit", lambda: 1)
    kept.wrote(kept.mark(), {"reading"})
    assert kept.get("kit", lambda: 2) == 2
    for number in range(100):
        kept.get(("series", number), lambda: 0, of="reading")
    assert kept.get("kit", lambda: 3) == 3


def test_a_file_that_can_not_be_looked_at_keeps_nothing(log: Path) -> None:
    kept = KeptRecords(log.with_name("gone"))
    assert kept.get("meter", lambda: 1) == 1
    assert kept.get("meter", lambda: 2) == 2
