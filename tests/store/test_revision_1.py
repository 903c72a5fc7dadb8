"""A log that version 1 of the program made: opened, read, written on, and never laundered.

The file is `tests/data/revision-1.logbook`; what stands in it is told in `revision_1`.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from logbook.book import Action, Book, check_log
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.errors import DamagedLog, NothingToUndo
from logbook.domain.happenings import Happening, What
from logbook.domain.health import FindingKind
from logbook.domain.moments import Moment, Period
from logbook.domain.sites import Hand, Place, Site
from logbook.domain.ticks import About, Tick, Told
from logbook.store import migration
from logbook.store.engine import Access, make_engine
from logbook.store.files import Beside
from logbook.store.tables import NEWEST_VERSION
from tests.commands.command_runs import run
from tests.store import revision_1 as old
from tests.store.records import make_log, new_id
from tests.store.test_migration import contents_of, schema_of

AT = datetime(2026, 4, 1, 12, 0, tzinfo=UTC)


class Clock(old.Clock):
    """The clock of a later day."""

    def __init__(self) -> None:
        super().__init__(AT)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return old.put_copy(tmp_path)


def alter(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute(statement)
        connection.commit()


def everything(book: Book) -> dict[str, Any]:
    """What the Book tells of the records of version 1."""
    return {
        "settings": book.settings,
        "readings": book.readings(),
        "happenings": book.happenings(),
        "answers": book.answers(),
        "targets": book.targets().all,
        "meters": book.meters(),
        "lancets": book.lancet_changes(),
        "spells": book.spells(),
        "appointments": book.appointments(),
        "questions": book.questions(),
        "medicines": book.medicines(),
        "contacts": book.contacts(),
    }


EXPECTED = {
    "settings": replace(old.SETTINGS, low_plan=old.PLAN),
    "readings": old.READINGS,
    "happenings": old.HAPPENINGS,
    "answers": list(old.ANSWERS),
    "targets": (old.TARGET,),
    "meters": [old.METER],
    "lancets": [old.LANCET],
    "spells": [old.SPELL],
    "appointments": [old.APPOINTMENT],
    "questions": [old.QUESTION],
    "medicines": [old.MEDICINE],
    "contacts": [old.CONTACT],
}


def test_the_file_is_of_version_1() -> None:
    with closing(sqlite3.connect(f"{old.FILE.as_uri()}?mode=ro", uri=True)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (1,)
        assert connection.execute("SELECT count(*) FROM changes").fetchone() == (old.CHANGES,)
        columns = [row[1] for row in connection.execute("PRAGMA table_info(happenings)")]
        assert "site" not in columns


# --- brought to the newest version ---------------------------------------------------------------


def test_every_record_reads_as_before(log: Path) -> None:
    with Book.open(log, Clock()) as book:
        assert everything(book) == EXPECTED
        health = book.check()
    assert health.is_sound, health
    assert health.changes == old.CHANGES
    with closing(sqlite3.connect(log)) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (NEWEST_VERSION,)
    # And once more from the file alone.
    assert check_log(log).is_sound
    with Book.open(log, Clock()) as book:
        assert everything(book) == EXPECTED


def test_it_becomes_the_log_that_is_born_today(log: Path, tmp_path: Path) -> None:
    Book.open(log, Clock()).close()
    assert schema_of(log) == schema_of(make_log(tmp_path / "born.logbook"))


def test_digests_are_those_of_the_documented_text(log: Path) -> None:
    """Against SHA-256 and JSON of the standard library alone, as docs/file-format.md tells it."""
    Book.open(log, Clock()).close()
    with closing(sqlite3.connect(log)) as connection:
        rows = connection.execute("SELECT * FROM happenings").fetchall()
        sequence, digest = connection.execute("SELECT last_sequence, digest FROM log").fetchone()
        names = [
            name
            for (name,) in connection.execute(
                "SELECT m.name FROM sqlite_schema m JOIN pragma_table_info(m.name) c"
                " WHERE m.type = 'table' AND c.name = 'digest' AND m.name <> 'log'"
            )
        ]
        total = sequence + sum(
            int.from_bytes(one)
            for name in names
            for (one,) in connection.execute(f"SELECT digest FROM {name}")
        )
    assert len(rows) == 3
    for *values, kept in rows:
        text = json.dumps(["happening", *values], ensure_ascii=False, separators=(",", ":"))
        assert hashlib.sha256(text.encode()).digest() == kept
    assert total % 2**256 == int.from_bytes(digest)


def test_the_copy_made_before_is_the_old_log_and_stays_good(log: Path) -> None:
    before = log.read_bytes()
    Book.open(log, Clock()).close()
    (copy,) = Beside(log).copies.glob("*-migration.logbook")
    assert contents_of(copy) == contents_of(old.FILE)
    assert before != log.read_bytes()
    (state,) = check_log(log).copies
    assert state.is_good
    with Book.open(copy, Clock()) as book:  # a copy is a log that can be opened as one
        assert everything(book) == EXPECTED


def test_what_was_done_under_version_1_is_taken_back_and_put_back(log: Path) -> None:
    with Book.open(log, Clock()) as book:
        assert book.undoable is not None
        assert (book.undoable.action, book.undoable.record) == (Action.REPLACE, old.NOTED)
        assert book.undo().done.earlier == old.NOTED
        assert book.happenings()[0] == old.FELT_LOW
        book.put_back()
        assert book.happenings() == old.HAPPENINGS
        for _ in range(18):  # 21 changes, without the beginning, an undo and what it took back
            book.undo()
            assert book.check().is_sound
        with pytest.raises(NothingToUndo):
            book.undo()
        assert (book.readings(), book.happenings(), book.answers()) == ([], [], [])
        assert book.settings == old.SETTINGS
        for _ in range(18):
            book.put_back()
        assert everything(book) == EXPECTED
        assert book.check().is_sound


def test_what_version_2_knows_is_kept_and_the_journal_goes_on(log: Path) -> None:
    journal = Beside(log).journal
    before = journal.read_bytes()
    at = Moment.at(AT, old.ZONE)
    cannot = Happening(
        new_id(50),
        What.CANNOT_EAT_OR_DRINK,
        at,
        AT,
        site=Site(Hand.LEFT, Place.RING),
        meter_id=old.METER.id,
    )
    still = Answer(new_id(51), old.SPELL.id, Asked.STILL_ILL, Said.YES, AT)
    tick = Tick(new_id(52), About.INSULIN, Told.YES, date(2026, 4, 1), AT)
    with Book.open(log, Clock()) as book:
        for record in (cannot, still, tick):
            book.add(record)
        book.replace(replace(old.STRIP_FAILED, meter_id=old.METER.id))
        assert book.check().is_sound
    after = journal.read_bytes()
    assert after.startswith(before)
    previous = None
    for line in after.splitlines()[1:]:
        sha256, text = line.split(b" ", 1)
        assert hashlib.sha256(text).hexdigest().encode() == sha256
        change = json.loads(text)
        assert previous is None or change["previous"].encode() == previous
        previous = sha256
    assert change["sequence"] == old.CHANGES + 4
    with Book.open(log, Clock()) as book:
        assert book.happenings()[-1] == cannot
        assert book.happenings()[1].meter_id == old.METER.id
        assert book.ticks().all == (tick,)


def test_the_first_change_of_settings_names_only_what_changed(log: Path) -> None:
    with Book.open(log, Clock()) as book:
        assert book.save_settings(book.settings).kinds == frozenset()
        changed = book.save_settings(replace(book.settings, finding_days=14))
        assert changed.done.count == 1
        assert book.settings.finding_days == 14
        book.undo()
        assert book.settings == EXPECTED["settings"]
        assert book.check().is_sound


# --- wholly, or not at all -----------------------------------------------------------------------


class _Stop(Exception):
    pass


def _fail_at(path: Path, statement_number: int) -> bool:
    """Bring it up, failing before a statement; whether it got that far."""
    engine = make_engine(path, Access.WRITE)
    seen = 0

    @event.listens_for(engine, "before_cursor_execute")
    def count(*_arguments: object) -> None:
        nonlocal seen
        seen += 1
        if seen == statement_number:
            raise _Stop

    try:
        migration.upgrade(engine, NEWEST_VERSION, migration.SCRIPTS, path)
    except _Stop:
        return True
    finally:
        engine.dispose()
    return False


def _fail_everywhere(log: Path, is_right: Callable[[], bool]) -> tuple[int, bool]:
    """How many statements there are, and whether all was right after failing at each of them.

    It ends where something is wrong: a log that is half of one version is rightly refused then.
    """
    number, was_right = 1, True
    while was_right and _fail_at(log, number):
        was_right = is_right()
        number += 1
    return number - 1, was_right


def test_failing_at_any_statement_leaves_the_old_log_byte_for_byte(log: Path) -> None:
    before = log.read_bytes()
    statements, was_right = _fail_everywhere(log, lambda: log.read_bytes() == before)
    assert was_right
    assert statements > 60
    assert check_log(log).is_sound
    with Book.open(log, Clock()) as book:
        assert everything(book) == EXPECTED


def test_control_committing_in_the_middle_is_caught(
    log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = log.read_bytes()
    run = migration._run_revisions

    def committing(connection: Any, folder: Path, **told: Any) -> None:
        run(connection, folder, **told)
        connection.commit()

    monkeypatch.setattr(migration, "_run_revisions", committing)
    _, was_right = _fail_everywhere(log, lambda: log.read_bytes() == before)
    assert not was_right


# --- damage --------------------------------------------------------------------------------------

DAMAGES = {
    "happening": "UPDATE happenings SET note = 'in the house' WHERE rowid = 1",
    "happening no check lets in": "UPDATE happenings SET what = 'flood' WHERE rowid = 2",
    "happening no text": "UPDATE happenings SET note = CAST(X'ff' AS TEXT) WHERE rowid = 1",
    "happening's digest": "UPDATE happenings SET digest = zeroblob(32) WHERE rowid = 3",
    "answer": "UPDATE answers SET said = 'yes' WHERE rowid = 1",
    "reading": "UPDATE readings SET steps = 182 WHERE steps = 61",
    "missing happening": "DELETE FROM happenings WHERE rowid = 3",
}


@pytest.mark.parametrize("statement", DAMAGES.values(), ids=DAMAGES)
def test_a_damaged_log_is_not_brought_up(log: Path, statement: str) -> None:
    alter(log, statement)
    before = log.read_bytes()
    with pytest.raises(DamagedLog):
        Book.open(log, Clock())
    assert log.read_bytes() == before
    assert not list(Beside(log).copies.glob("*.logbook"))


@pytest.mark.parametrize("statement", DAMAGES.values(), ids=DAMAGES)
def test_damage_is_told_in_the_old_log_and_in_what_is_read_of_it(log: Path, statement: str) -> None:
    alter(log, statement)
    before = log.read_bytes()
    of_file = {finding.kind for finding in check_log(log).findings}
    assert of_file & {FindingKind.ROW, FindingKind.LOG_DIGEST}
    with Book.open(log, Clock(), read_only=True) as book:
        assert {finding.kind for finding in book.check().findings} == of_file
        told = everything(book)
    # What a damaged row of these says is told by the change that wrote it; a reading as damaged.
    for name in ("happenings", "answers"):
        assert told[name] == EXPECTED[name] or statement.startswith("DELETE")
    assert [r.is_damaged for r in told["readings"]].count(True) == ("readings" in statement)
    assert log.read_bytes() == before


@pytest.mark.parametrize("name", [name for name in DAMAGES if name.startswith("happening")])
def test_the_revision_itself_refuses_a_damaged_happening(log: Path, name: str) -> None:
    """Should the copy before it ever not have looked."""
    alter(log, DAMAGES[name])
    before = contents_of(log) if "no text" not in name else log.read_bytes()
    engine = make_engine(log, Access.WRITE)
    try:
        with pytest.raises(DamagedLog):
            migration.upgrade(engine, NEWEST_VERSION, migration.SCRIPTS, log)
    finally:
        engine.dispose()
    assert (contents_of(log) if "no text" not in name else log.read_bytes()) == before


def test_a_flipped_definition_is_not_given_a_new_sum(log: Path) -> None:
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_schema SET sql = replace(sql, 'ambulance', 'ambulancf')"
            " WHERE name = 'happenings'"
        )
        connection.commit()
    before = log.read_bytes()
    engine = make_engine(log, Access.WRITE)
    try:
        with pytest.raises(DamagedLog):
            migration.upgrade(engine, NEWEST_VERSION, migration.SCRIPTS, log)
    finally:
        engine.dispose()
    assert log.read_bytes() == before
    with Book.open(log, Clock(), read_only=True) as book:
        assert FindingKind.STRUCTURE in {finding.kind for finding in book.check().findings}


# --- only to read --------------------------------------------------------------------------------


def test_reading_leaves_the_old_log_as_it_is(log: Path, tmp_path: Path) -> None:
    before = log.read_bytes()
    files = {path.name for path in tmp_path.iterdir()}
    with Book.open(log, Clock(), read_only=True) as book:
        assert everything(book) == EXPECTED
        assert book.ticks().all == ()
        assert book.kit().meters == (old.METER,)
        period = Period(date(2026, 3, 1), date(2026, 3, 31))
        assert book.visit_data(period, Moment.at(AT, old.ZONE)).noted == tuple(old.READINGS)
        assert book.check().is_sound
        assert book.undoable is not None
    assert log.read_bytes() == before
    assert {path.name for path in tmp_path.iterdir()} == files


def test_the_private_copy_goes_with_the_book(
    log: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    private = tmp_path / "private"
    private.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(private))
    with Book.open(log, Clock(), read_only=True):
        assert len(list(private.iterdir())) == 1
    assert list(private.iterdir()) == []


def test_the_check_reads_the_old_log_itself(log: Path) -> None:
    before = log.read_bytes()
    health = check_log(log)
    assert health.is_sound, health
    assert (health.changes, health.copies) == (old.CHANGES, ())
    assert log.read_bytes() == before


@pytest.mark.parametrize("command", ["summary", "report", "check"])
def test_commands_read_an_old_log(log: Path, tmp_path: Path, command: str) -> None:
    before = log.read_bytes()
    out = tmp_path / "out.pdf"
    more = ["--out", out] if command == "report" else []
    done = run(command, *more, "--log", log)
    assert (done.status, done.err) == (0, "")
    assert done.out
    assert out.exists() == (command == "report")
    assert log.read_bytes() == before
