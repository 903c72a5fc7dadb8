"""Targets, meters, settings: told by the change that wrote them when their row is damaged."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.domain.errors import DamagedLog
from logbook.domain.glucose import Unit
from logbook.domain.health import FindingKind
from logbook.domain.settings import LogSettings
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from tests.store.records import Clock, make_log, new_id

UPPER = Limit(Operator.BELOW, 130)
TARGET = Target(
    new_id(1),
    TargetKind.FASTING,
    (Limits(Unit.MG_DL, None, UPPER),),
    date(2026, 1, 1),
    SetBy.PROVIDER,
)
LATER = replace(TARGET, id=new_id(2), holds_from=date(2026, 2, 1))


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = make_log(tmp_path / "a.logbook", TARGET, LATER)
    with Book.open(path, Clock()) as book:
        book.replace(replace(LATER, source="card"))
        book.save_settings(LogSettings(unit=Unit.MMOL_L, person_name="Someone"))
    return path


def alter(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute(statement)
        connection.commit()


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE targets SET printed = replace(printed, '130', '180')",
        "UPDATE targets SET kind = 'elsewhere' WHERE rowid = 2",
        "UPDATE targets SET digest = zeroblob(32)",
        "UPDATE targets SET source = CAST(X'ff' AS TEXT)",
    ],
)
def test_a_damaged_target_is_never_judged_by(log: Path, statement: str) -> None:
    alter(log, statement)
    with Book.open(log, Clock(), read_only=True) as book:
        assert book.targets().all == (TARGET, replace(LATER, source="card"))
        assert FindingKind.ROW in {finding.kind for finding in book.check().findings}


def test_a_target_that_is_missing_is_found_by_the_check(log: Path) -> None:
    """No row is damaged then, so no list can tell."""
    alter(log, "DELETE FROM targets WHERE rowid = 1")
    with Book.open(log, Clock(), read_only=True) as book:
        assert FindingKind.LOG_DIGEST in {finding.kind for finding in book.check().findings}


def test_a_damaged_unit_is_never_believed(log: Path) -> None:
    alter(log, """UPDATE settings SET value = '"mg/dL"' WHERE name = 'unit'""")
    with Book.open(log, Clock()) as book:
        assert book.settings.unit is Unit.MMOL_L
        # Writing the damaged one would launder it; others can be written.
        with pytest.raises(DamagedLog):
            book.save_settings(replace(book.settings, unit=Unit.MG_DL))
        book.save_settings(replace(book.settings, person_name="Someone else"))
        assert book.settings == LogSettings(unit=Unit.MMOL_L, person_name="Someone else")


def test_when_the_change_is_damaged_too_it_is_told(log: Path) -> None:
    alter(log, "UPDATE targets SET printed = replace(printed, '130', '180')")
    alter(log, "UPDATE change_records SET after = replace(after, '130', '180')")
    with Book.open(log, Clock(), read_only=True) as book, pytest.raises(DamagedLog):
        book.targets()
