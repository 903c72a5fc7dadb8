"""Each kind of record in its table, in its two texts, and back."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import fields, replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, select

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.errors import NotSaved
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.meter_care import LabComparison, MeterEvent, MeterWhat
from logbook.domain.kit.strips import StripCount
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan, MealStart
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.ticks import About, Tick, Told
from logbook.store.changes import Step
from logbook.store.engine import Access, make_engine, writing
from logbook.store.records import KIND_OF_TYPE, KINDS, READING, SETTING
from logbook.store.setting_rows import settings_from_rows, settings_to_rows
from logbook.store.statements import insert_rows, row_text_of
from logbook.store.tables import metadata
from logbook.store.verify import is_sound
from tests.store.records import BEGIN, make_log, make_reading, new_id
from tests.store.strategies import METER, VIAL, log_settings, record_lists, records, texts

AT = Moment.at(BEGIN, "UTC")
# So large a value is none in the other unit.
LARGE = Glucose.number(600, Unit.MG_DL)
ONE_OF_EACH = (
    METER,
    VIAL,
    StripCount(new_id(20), VIAL.id, AT, BEGIN, 3),
    ControlTest(new_id(21), AT, BEGIN, None, None, None, "1", LARGE),
    MeterEvent(new_id(22), METER.id, MeterWhat.DROPPED, AT, BEGIN),
    LabComparison(new_id(23), None, AT, BEGIN, LARGE, LARGE),
    Tick(new_id(24), About.INSULIN, Told.YES, date(2026, 3, 1), BEGIN),
    LabA1C(new_id(25), date(2026, 3, 1), 71, A1CUnit.PERCENT, BEGIN),
    CheckPlan(new_id(26), date(2026, 3, 1), (), BEGIN),
    MealStart(new_id(27), Slot.AFTER_LUNCH, AT, BEGIN),
    Happening(new_id(28), What.FALL, AT, BEGIN),
    Answer(new_id(29), METER.id, Asked.KIT_LINE, Said.LATER, BEGIN),
)


@pytest.fixture
def engine(tmp_path: Path) -> Iterator[Engine]:
    path = make_log(tmp_path / "a.logbook")
    engine = make_engine(path, Access.WRITE)
    yield engine
    engine.dispose()


def test_every_kind_of_record_has_a_strategy_here() -> None:
    assert set(record_lists) | {LogSettings} == set(KIND_OF_TYPE)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(records)
def test_a_record_comes_back_as_it_was(engine: Engine, record: Any) -> None:
    """Through the file, in a transaction that is rolled back."""
    kind = KIND_OF_TYPE[type(record)]
    stored = kind.stored(record)
    with writing(engine) as connection:
        insert_rows(connection, kind.table, [(*stored.values(), kind.digest(stored))])
        statement = select(row_text_of(kind), kind.table.c.digest)
        row_text, digest = connection.execute(statement).one()
        columns = connection.execute(select(*kind.columns)).one()
    # SQLite makes the very text that the digest was taken over.
    assert row_text == kind.row_text(stored).encode()
    assert is_sound(row_text, digest)
    assert kind.record(kind.from_row_text(row_text)) == record
    # And the column types read what they wrote.
    assert kind.from_row(dict(columns._mapping)) == record


@given(records)
def test_a_record_text_says_everything(record: Any) -> None:
    kind = KIND_OF_TYPE[type(record)]
    stored = kind.stored(record)
    text = kind.record_text(stored)
    assert kind.from_record_text(text) == stored
    assert list(kind.from_record_text(text)) == list(stored)  # the digest wants the table's order
    assert "NaN" not in text or "NaN" in str(record)


@given(log_settings)
@example(LogSettings())
def test_settings_come_back_as_they_were(of_log: LogSettings) -> None:
    rows = settings_to_rows(of_log)
    assert set(rows) == {field.name for field in fields(LogSettings)}
    values = {name: str(SETTING.stored(row)["value"]) for name, row in rows.items()}
    assert settings_from_rows(values) == of_log


def test_a_setting_of_a_newer_version_is_left_alone() -> None:
    assert settings_from_rows({"colour_of_the_lamp": '"red"'}) == LogSettings()


@given(texts)
def test_sqlite_writes_any_text_as_python_does(text: str) -> None:
    with sqlite3.connect(":memory:") as connection:
        (made,) = connection.execute("SELECT CAST(json_array('contact', ?) AS BLOB)", [text])
        assert made[0] == KINDS["contact"].row_text({"id": text}).encode()
    connection.close()


@pytest.mark.parametrize("text", ["a\0b", "\0", "\ud800", "x\udfffy"])
@pytest.mark.parametrize("field", ["note", "initials"])
def test_text_that_no_file_can_hold_is_refused(field: str, text: str) -> None:
    with pytest.raises(NotSaved) as caught:
        READING.stored(replace(make_reading(1), **{field: text}))  # type: ignore[arg-type]
    assert caught.value.facts["why"] == "text"


def test_a_damaged_reading_is_never_written() -> None:
    with pytest.raises(ValueError, match="damaged"):
        READING.stored(make_reading(1, is_damaged=True))


@given(st.data())
def test_two_records_that_differ_have_different_digests(data: st.DataObject) -> None:
    one, other = data.draw(records), data.draw(records)
    digests = [KIND_OF_TYPE[type(r)].digest(KIND_OF_TYPE[type(r)].stored(r)) for r in (one, other)]
    texts_ = [KIND_OF_TYPE[type(r)].row_text(KIND_OF_TYPE[type(r)].stored(r)) for r in (one, other)]
    assert (digests[0] == digests[1]) == (texts_[0] == texts_[1])


def test_a_step_taken_back_twice_is_itself() -> None:
    stored = READING.stored(make_reading(1))
    step = Step(READING, str(stored["id"]), None, stored)
    assert step.backwards == Step(READING, step.key, stored, None)
    assert step.backwards.backwards == step


def test_every_table_is_strict_and_every_constraint_has_a_name(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook")
    connection = sqlite3.connect(path)
    strict = dict(connection.execute("SELECT name, strict FROM pragma_table_list"))
    sql = dict(connection.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'table'"))
    connection.close()
    for table in metadata.tables:
        assert strict[table] == (table != "alembic_version"), table
        assert sql[table].count("CHECK (") == sql[table].count("CONSTRAINT ck_")
        assert sql[table].count("REFERENCES") == sql[table].count("CONSTRAINT fk_")
        assert "CASCADE" not in sql[table]


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("steps", 5),
        ("steps", 1001),
        ("steps", -1),
        ("steps", float("nan")),
        ("steps", "128"),
        ("steps", 128.5),
        ("unit", "mg"),
        ("slot", "lunch"),
        ("is_foreign", 2),
        ("wall_minute", 0),
        ("offset_seconds", 90_000),
        ("id", "1"),
        ("note", None),
        ("note", b"bytes"),
        ("digest", b"short"),
        ("earlier", "{}"),
    ],
)
def test_the_file_itself_refuses_what_no_reading_is(
    tmp_path: Path, column: str, value: object
) -> None:
    """NaN arrives as NULL, which passes every CHECK: so NOT NULL stands beside it."""
    path = make_log(tmp_path / "a.logbook", make_reading(1, steps=128))
    connection = sqlite3.connect(path)
    try:
        if (column, value) == ("steps", "128"):
            # STRICT turns text that is a whole number into that number, and nothing else.
            connection.execute("UPDATE readings SET steps = ?", [value])
            (kept,) = connection.execute("SELECT typeof(steps) FROM readings")
            assert kept == ("integer",)
        else:
            with pytest.raises(sqlite3.IntegrityError):
                connection.execute(f"UPDATE readings SET {column} = ?", [value])
    finally:
        connection.close()


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [
        ("vials", "count", -1),
        ("vials", "packing", "bag"),
        ("vials", "expires", "2027"),
        ("vials", "expires", "March 2027"),
        ("vials", "after_opening", "0d"),
        ("vials", "after_opening", "3 m"),
        ("vials", "after_opening", "9"),
        ("vials", "after_opening", "d"),
        ("vials", "ranges", "{}"),
        ("strip_counts", "left", -1),
        ("strip_counts", "vial_id", None),
        ("control_tests", "steps", 5),
        ("meter_events", "what", "thrown"),
        ("lab_comparisons", "steps", 1001),
        ("lab_comparisons", "laboratory_steps", 1001),
        ("lab_comparisons", "laboratory_unit", "mmol/L"),
        ("lab_comparisons", "was_fasting", 2),
        ("ticks", "told", "maybe"),
        ("lab_a1cs", "steps", 0),
        ("lab_a1cs", "unit", "mg/dL"),
        ("check_plans", "checks", "x"),
        ("meal_starts", "wall_minute", 0),
        ("happenings", "meter_id", "1"),
        ("answers", "asked", "why"),
    ],
)
def test_the_file_itself_refuses_what_no_record_is(
    tmp_path: Path, table: str, column: str, value: object
) -> None:
    path = make_log(tmp_path / "a.logbook", *ONE_OF_EACH)
    connection = sqlite3.connect(path)
    try:
        assert connection.execute(f"SELECT count(*) FROM {table}").fetchone() == (1,)
        with pytest.raises(sqlite3.IntegrityError):
            connection.execute(f'UPDATE {table} SET "{column}" = ?', [value])
    finally:
        connection.close()


def test_the_registry_names_every_table_of_records() -> None:
    of_log = {"log", "changes", "change_records", "alembic_version"}
    assert {kind.table.name for kind in KINDS.values()} | of_log == set(metadata.tables)
    assert KIND_OF_TYPE[Reading] is READING
