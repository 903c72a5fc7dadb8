"""The check finds what is not sound, tells it apart, and alters nothing."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import fields
from pathlib import Path

import pytest

from logbook.book import Book, check_log
from logbook.domain.health import FindingKind
from logbook.domain.settings import LogSettings
from tests.store.records import Clock, make_log, make_reading, new_id
from tests.store.test_opening import traces


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return make_log(tmp_path / "a.logbook", *(make_reading(n) for n in range(1, 30)))


def alter(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute("PRAGMA foreign_keys = OFF")
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def test_a_sound_log_is_sound_and_stays_as_it_is(log: Path) -> None:
    before = traces(log.parent)
    health = check_log(log)
    assert health.is_sound
    assert (health.changes, len(health.copies)) == (30, 1)
    assert health.records == 29 + len(fields(LogSettings))  # the readings and the settings
    assert traces(log.parent) == before


def test_an_open_log_is_checked_while_it_is_written(log: Path) -> None:
    with Book.open(log, Clock()) as book:
        book.add(make_reading(40))
        assert book.check().is_sound
        assert check_log(log).is_sound
        book.add(make_reading(41))
        assert book.check().is_sound


@pytest.mark.parametrize(
    ("statement", "found"),
    [
        ("UPDATE readings SET steps = steps + 1 WHERE rowid = 3", {FindingKind.ROW: 1}),
        ("UPDATE readings SET note = 'x' WHERE rowid < 5", {FindingKind.ROW: 4}),
        ("UPDATE settings SET value = '\"mmol/L\"' WHERE name = 'unit'", {FindingKind.ROW: 1}),
        ("DELETE FROM readings WHERE rowid = 3", {FindingKind.LOG_DIGEST: 1}),
        (
            f"UPDATE readings SET recheck_of = '{new_id(99)}' WHERE rowid = 3",
            {FindingKind.ROW: 1, FindingKind.REFERENCE: 1},
        ),
        ("UPDATE log SET digest = zeroblob(32)", {FindingKind.LOG_DIGEST: 1}),
        (
            "UPDATE log SET last_sequence = 29",
            {FindingKind.LOG_DIGEST: 1, FindingKind.SEQUENCE: 1},
        ),
        ("UPDATE changes SET name = 'x' WHERE sequence = 4", {FindingKind.CHANGE: 1}),
        ("UPDATE change_records SET after = '{}' WHERE sequence = 4", {FindingKind.CHANGE: 1}),
        ("DELETE FROM change_records WHERE sequence = 4", {FindingKind.CHANGE: 1}),
        # The next one's line holds the SHA-256 of the one that is missing.
        (
            "DELETE FROM changes WHERE sequence = 4",
            {
                FindingKind.CHANGE: 1,
                FindingKind.SEQUENCE: 1,
                FindingKind.REFERENCE: 1,
                FindingKind.JOURNAL_UNKNOWN: 1,
            },
        ),
    ],
)
def test_each_fault_is_told_by_its_name(
    log: Path, statement: str, found: dict[FindingKind, int]
) -> None:
    alter(log, statement)
    before = traces(log.parent)
    health = check_log(log)
    assert {finding.kind: finding.count for finding in health.findings} == found
    assert not health.is_sound
    assert traces(log.parent) == before


def test_a_file_that_is_zeroed_in_its_middle_is_told(log: Path) -> None:
    content = bytearray(log.read_bytes())
    half = len(content) // 2
    content[half:] = bytes(len(content) - half)
    log.write_bytes(content)
    kinds = {finding.kind for finding in check_log(log).findings}
    assert FindingKind.STRUCTURE in kinds


def test_an_index_that_lies_is_found(log: Path) -> None:
    """No row is damaged then, but a row may be missing from a list."""
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_schema SET sql = sql || ' WHERE rowid <> 3'"
            " WHERE name = 'ix_readings_wall_minute'"
        )
        connection.commit()
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("REINDEX ix_readings_wall_minute")
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_schema SET sql = replace(sql, ' WHERE rowid <> 3', '')"
            " WHERE name = 'ix_readings_wall_minute'"
        )
        connection.commit()
    assert FindingKind.STRUCTURE in {finding.kind for finding in check_log(log).findings}
