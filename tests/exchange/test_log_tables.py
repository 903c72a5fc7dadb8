"""The tables of an export: complete, RFC 4180, harmless, and read alike by other readers."""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
import zipfile
from collections.abc import Iterable
from dataclasses import fields, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Question
from logbook.domain.whole_log import WholeLog
from logbook.exchange.log_export import reading_table, table_archive
from logbook.exchange.log_tables import log_tables
from logbook.exchange.safe_cells import formula_free, formula_safe
from logbook.exchange.usable_text import usable_text
from tests.exchange.whole_logs import whole_logs

AT = Moment.from_wall(datetime(2026, 3, 1, 7, 15), "Europe/Berlin")
FORMULA = '=HYPERLINK("http://example.org","look")'
ROOT = Path(__file__).parents[2]


def reading(glucose: Glucose, **more: Any) -> Reading:
    return Reading(UUID(int=1, version=4), glucose, AT, AT.instant, Slot.FASTING, **more)


def as_rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode(), newline="")))


def tables(log: WholeLog) -> dict[str, list[dict[str, str]]]:
    return {table.name: as_rows(table.content(log)) for table in log_tables(log)}


# --- complete -------------------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(whole_logs)
def test_every_record_of_any_log_has_its_row(log: WholeLog) -> None:
    found = tables(log)
    written = {row["id"] for rows in found.values() for row in rows if "id" in row}
    plans = {row["plan"] for row in found["planned-checks"]}
    of_kit = [getattr(log.kit, one.name) for one in fields(log.kit) if one.name != "strip_uses"]
    of_log = [getattr(log, one.name) for one in fields(log) if one.name not in ("settings", "kit")]
    for record in (record for records in of_log + of_kit for record in records):
        assert str(record.id) in (plans if record in log.plans else written)
    earlier = [one for reading in log.readings for one in reading.earlier]
    assert len(found["earlier-values"]) == len(earlier)
    ranges = [one for vial in log.kit.vials for one in vial.ranges]
    assert len(found["control-ranges"]) == len(ranges)
    assert len(found["settings"]) == len(fields(LogSettings))


@settings(max_examples=10, deadline=None, phases=[Phase.generate])
@given(whole_logs, st.data())
def test_every_field_of_a_record_changes_its_row(log: WholeLog, data: st.DataObject) -> None:
    """No field is forgotten: where one differs, the table differs."""
    other = data.draw(whole_logs)
    for name in (one.name for one in fields(WholeLog) if one.name not in ("settings", "kit")):
        before, after = getattr(log, name)[0], getattr(other, name)[0]
        for field in fields(before):
            value = getattr(after, field.name)
            said = getattr(before, field.name)
            # Limits have a test of their own; damage takes the value away; control characters
            # become spaces.
            if field.name in ("printed", "is_damaged") or _usable(value) == _usable(said):
                continue
            changed = replace(before, **{field.name: value})
            assert _with(log, name, changed) != _with(log, name, before), (name, field.name)


def _usable(value: object) -> object:
    return usable_text(str(value)) if isinstance(value, str | CrossedOut) else value


def test_limits_of_a_target_stand_in_each_unit_as_printed() -> None:
    target = Target(
        UUID(int=5, version=4),
        TargetKind.BEFORE_MEALS,
        (
            Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130)),
            Limits(Unit.MMOL_L, None, Limit(Operator.BELOW, 72)),
        ),
        date(2026, 3, 1),
        SetBy.PROVIDER,
    )
    (row,) = tables(WholeLog(LogSettings(), targets=(target,)))["targets"]
    assert (row["lower limit is (mg/dL)"], row["lower limit (mg/dL)"]) == ("at_least", "80")
    assert (row["upper limit is (mg/dL)"], row["upper limit (mg/dL)"]) == ("at_most", "130")
    assert (row["lower limit is (mmol/L)"], row["lower limit (mmol/L)"]) == ("", "")
    assert (row["upper limit is (mmol/L)"], row["upper limit (mmol/L)"]) == ("below", "7.2")


def _with(log: WholeLog, name: str, record: Any) -> list[bytes]:
    only: dict[str, Any] = {name: (record,)}
    changed = replace(log, **only)
    return [table.content(changed) for table in log_tables(changed)]


def test_units_stand_in_the_headings_and_nothing_is_converted() -> None:
    one = reading(Glucose.number(71, Unit.MMOL_L), minutes_after=120)
    a1c = LabA1C(UUID(int=2, version=4), date(2026, 3, 1), 70, A1CUnit.PERCENT, AT.instant)
    found = tables(WholeLog(LogSettings(), readings=(one,), a1cs=(a1c,)))
    (row,) = found["readings"]
    assert (row["glucose (mmol/L)"], row["glucose (mg/dL)"]) == ("7.1", "")
    assert row["after the first bite (minutes)"] == "120"
    assert (row["date"], row["time"]) == ("2026-03-01", "07:15")
    assert row["date and time with offset"] == "2026-03-01T07:15:00+01:00"
    assert found["a1c"][0]["a1c (%)"] == "7"


def test_what_was_corrected_and_crossed_out_is_told() -> None:
    one = reading(Glucose.number(128, Unit.MG_DL)).corrected(
        Glucose.number(182, Unit.MG_DL), AT, Slot.FASTING, AT.instant, "digits swapped"
    )
    found = tables(WholeLog(LogSettings(), readings=(one,)))
    assert found["readings"][0]["glucose (mg/dL)"] == "182"
    assert found["readings"][0]["corrections"] == "1"
    assert found["earlier-values"][0]["glucose (mg/dL)"] == "128"
    assert found["earlier-values"][0]["reason"] == "digits swapped"
    assert found["earlier-values"][0]["reading"] == found["readings"][0]["id"]


def test_a_damaged_reading_has_no_value() -> None:
    damaged = reading(Glucose.reads_low(Unit.MG_DL, ""), is_damaged=True)
    (row,) = tables(WholeLog(LogSettings(), readings=(damaged,)))["readings"]
    assert (row["damaged"], row["glucose (mg/dL)"], row["counts in figures"]) == ("yes", "", "no")


def test_the_page_names_every_table_and_every_heading_of_the_readings() -> None:
    page = (ROOT / "docs" / "export.md").read_text(encoding="utf-8")
    for table in log_tables(WholeLog(LogSettings())):
        assert f"`{table.name}.csv`" in page
        if table.name == "readings":
            for column in table.columns:
                assert f"`{column.heading}`" in page, column.heading


# --- RFC 4180 -------------------------------------------------------------------------------------


@settings(max_examples=25, deadline=None)
@given(whole_logs)
def test_rows_are_as_rfc_4180_wants_them(log: WholeLog) -> None:
    """RFC 4180, section 2: CR LF, the same number of fields in every row, quotes doubled."""
    for table in log_tables(log):
        content = table.content(log).decode()
        assert content.endswith("\r\n")
        outside = "".join(re.split(r'"(?:[^"]|"")*"', content))
        assert '"' not in outside
        assert outside.count("\n") == outside.count("\r\n")
        rows = list(csv.reader(io.StringIO(content, newline=""), strict=True))
        assert {len(row) for row in rows} == {len(table.columns)}


def test_pandas_reads_the_same() -> None:
    pandas = pytest.importorskip("pandas", reason="pandas is not installed")
    numbers = (128, 95, 240)
    log = WholeLog(
        LogSettings(),
        readings=tuple(
            replace(
                reading(Glucose.number(n, Unit.MG_DL), note=f'"n", {n}\nand more'), id=UUID(int=n)
            )
            for n in numbers
        ),
    )
    frame = pandas.read_csv(io.BytesIO(reading_table(log)))
    assert frame["glucose (mg/dL)"].tolist() == list(numbers)
    assert frame["note"].tolist() == [f'"n", {n}\nand more' for n in numbers]
    assert pandas.to_datetime(frame["date and time with offset"]).dt.hour.tolist() == [7, 7, 7]


# --- formulas -------------------------------------------------------------------------------------


@given(st.text(max_size=20) | st.from_regex(r"'{0,2}\s?[=+@\-].{0,3}", fullmatch=True))
def test_a_safe_cell_begins_with_no_sign_of_a_formula_and_comes_back(text: str) -> None:
    """The signs are those of OWASP's page on CSV injection."""
    cell = formula_safe(text)
    assert not cell.lstrip().startswith(("=", "+", "-", "@"))
    assert not cell.startswith(("\t", "\r"))
    assert formula_free(cell) == text


def _suspicious(cells: Iterable[str]) -> list[str]:
    number = re.compile(r"-?[0-9.]+")
    return [one for one in cells if one[:1] in tuple("=+-@\t\r") and not number.fullmatch(one)]


@settings(max_examples=25, deadline=None)
@given(whole_logs)
def test_no_cell_of_any_log_is_a_formula(log: WholeLog) -> None:
    said = replace(log, questions=(Question(UUID(int=3, version=4), FORMULA, AT.instant),))
    cells = [cell for rows in tables(said).values() for row in rows for cell in row.values()]
    assert f"'{FORMULA}" in cells
    assert _suspicious(cells) == []
    assert _suspicious([FORMULA, "-12"]) == [FORMULA]  # the control


def test_a_spreadsheet_program_shows_the_text_and_calculates_nothing(tmp_path: Path) -> None:
    """LibreOffice opens the export and saves it as its own kind of file; that holds no formula."""
    soffice = shutil.which("soffice")
    if soffice is None:
        pytest.skip("LibreOffice (soffice) is not installed")
    notes = (FORMULA, "+1+1", "-1+1", "@SUM(1;1)", "\t=1+1", "  =1+1", "'=1+1", "plain, “quoted”")
    log = WholeLog(
        LogSettings(),
        readings=tuple(
            replace(reading(Glucose.number(100 + n, Unit.MG_DL), note=note), id=UUID(int=n + 1))
            for n, note in enumerate(notes)
        ),
    )
    (tmp_path / "safe.csv").write_bytes(reading_table(log))
    (tmp_path / "control.csv").write_text("note\n=1+1\n", encoding="utf-8")
    subprocess.run(
        [
            soffice,
            f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}",
            "--headless",
            "--infilter=CSV:44,34,76,1,,0,false,true,false,false,false,-1",
            "--convert-to",
            "fods",
            "--outdir",
            str(tmp_path),
            str(tmp_path / "safe.csv"),
            str(tmp_path / "control.csv"),
        ],
        check=True,
        capture_output=True,
        timeout=180,
    )
    made = next(tmp_path.glob("safe*.fods")).read_text(encoding="utf-8")
    assert "table:formula" not in made
    assert 'office:value="107"' in made
    assert "look" in made
    control = next(tmp_path.glob("control*.fods")).read_text(encoding="utf-8")
    assert "table:formula" in control


# --- the archive ----------------------------------------------------------------------------------


def test_the_archive_holds_every_table_and_is_the_same_each_time() -> None:
    log = WholeLog(LogSettings(), readings=(reading(Glucose.number(128, Unit.MG_DL)),))
    content = table_archive(log)
    assert content == table_archive(log)
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert archive.testzip() is None
        for table in log_tables(log):
            assert archive.read(f"{table.name}.csv") == table.content(log)
