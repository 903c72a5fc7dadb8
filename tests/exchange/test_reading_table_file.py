"""The table of readings read back: whole, nothing doubled, a reason for what is refused."""

from __future__ import annotations

import csv
import io
import random
import re
import shutil
import subprocess
import zipfile
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID, uuid4

import pytest
from hypothesis import given, settings

from logbook.domain.errors import CannotRead
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Reading, Source
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.whole_log import WholeLog
from logbook.exchange.diary_file import FileRead
from logbook.exchange.log_export import reading_table, table_archive, write_tables
from logbook.exchange.reading_table_file import is_reading_table, read_reading_table
from logbook.exchange.refusals import Reason
from logbook.exchange.sentences import import_problem_text
from logbook.exchange.usable_text import usable_text
from tests.exchange.whole_logs import NOW, reading_lists

HOME = "America/New_York"
ONE = Reading(
    UUID(int=1, version=4),
    Glucose.number(128, Unit.MG_DL, "128"),
    Moment.at(datetime(2026, 3, 1, 7, 15, 23, 5, tzinfo=UTC), "Europe/Berlin"),
    datetime(2026, 3, 1, 7, 16, tzinfo=UTC),
    Slot.FASTING,
    note="after\ngardening, = fine",
)


def log_of(*readings: Reading) -> WholeLog:
    return WholeLog(LogSettings(), readings=readings)


def _one_line_end(text: str) -> str:
    return re.sub("\r\n?", "\n", usable_text(text))


def as_a_table_tells_it(reading: Reading) -> Reading:
    """Line ends and control characters are made alike."""
    crossed_out = reading.crossed_out
    return replace(
        reading,
        note=_one_line_end(reading.note),
        initials=_one_line_end(reading.initials),
        crossed_out=crossed_out and replace(crossed_out, reason=_one_line_end(crossed_out.reason)),
        earlier=tuple(replace(one, reason=_one_line_end(one.reason)) for one in reading.earlier),
    )


@settings(max_examples=100, deadline=None)
@given(reading_lists)
def test_readings_come_back_as_they_were(
    tmp_path_factory: pytest.TempPathFactory, readings: tuple[Reading, ...]
) -> None:
    folder = tmp_path_factory.mktemp("table")
    for name in ("log.csv", "log.zip"):
        write_tables(log_of(*readings), folder / name)
    for name in ("log.csv", "log.zip"):
        assert is_reading_table(folder / name)
        found = read_reading_table(folder / name, HOME, NOW)
        assert found.refused == ()
        assert list(found.readings) == [as_a_table_tells_it(one) for one in readings]


def changed(tmp_path: Path, **cells: str) -> FileRead:
    """The table of one reading with some cells changed by hand."""
    rows = list(csv.reader(io.StringIO(reading_table(log_of(ONE)).decode(), newline="")))
    by_name = {heading.replace(" ", "_"): place for place, heading in enumerate(rows[0])}
    for name, cell in cells.items():
        rows[1][by_name[name]] = cell
    path = tmp_path / "log.csv"
    with path.open("w", encoding="utf-8-sig", newline="") as file:  # as spreadsheets save it
        csv.writer(file).writerows(rows)
    return read_reading_table(path, HOME, NOW)


def test_a_date_or_time_changed_by_hand_decides(tmp_path: Path) -> None:
    (reading,) = changed(tmp_path, time="09:40").readings
    assert reading.at == Moment.from_wall(datetime(2026, 3, 1, 9, 40), "Europe/Berlin")


def test_a_row_added_by_hand_needs_little(tmp_path: Path) -> None:
    table = reading_table(log_of(ONE)).decode()
    path = tmp_path / "log.csv"
    path.write_text(table + "2026-03-02,08:00,,6.5\r\n", encoding="utf-8", newline="")
    _first, added = read_reading_table(path, HOME, NOW).readings
    assert added.glucose == Glucose.number(65, Unit.MMOL_L)
    assert added.at == Moment.from_wall(datetime(2026, 3, 2, 8), HOME, zone_assumed=True)
    assert (added.slot, added.source) == (Slot.OTHER, Source.IMPORTED)
    assert added.written_at == NOW


def test_a_row_copied_by_hand_is_another_reading(tmp_path: Path) -> None:
    rows = reading_table(log_of(replace(ONE, note=""))).decode().splitlines(keepends=True)
    path = tmp_path / "log.csv"
    path.write_text("".join([*rows, rows[1]]), encoding="utf-8", newline="")
    first, second = read_reading_table(path, HOME, NOW).readings
    assert first.id == ONE.id
    assert second.id != ONE.id


REFUSED = [
    ("date", "01.03.2026", Reason.DATE_MISSING_OR_MALFORMED),
    ("date", "1950-03-01", Reason.DATE_TOO_EARLY),
    ("date", "2200-03-01", Reason.DATE_IN_FUTURE),
    ("time", "quarter past", Reason.TIME_MALFORMED),
    ("glucose_(mg/dL)", "a lot", Reason.VALUE_NOT_A_NUMBER),
    ("glucose_(mg/dL)", "", Reason.VALUE_NOT_A_NUMBER),
    ("glucose_(mg/dL)", "128.5", Reason.DECIMALS_NOT_SHOWN),
    ("glucose_(mg/dL)", "2000", Reason.VALUE_IMPOSSIBLE),
    ("glucose_(mmol/L)", "7.1", Reason.UNIT_UNKNOWN),
    ("slot", "elevenses", Reason.CODE_UNKNOWN),
    ("finger", "left.sixth", Reason.SITE_UNKNOWN),
    ("after_the_first_bite_(minutes)", "a while", Reason.MINUTES_NOT_A_NUMBER),
    ("crossed_out_at_(UTC)", "yes", Reason.DATE_MISSING_OR_MALFORMED),
    ("id", "7", Reason.CODE_UNKNOWN),
]


@pytest.mark.parametrize(("name", "cell", "reason"), REFUSED)
def test_a_row_that_says_something_else_is_refused(
    tmp_path: Path, name: str, cell: str, reason: Reason
) -> None:
    found = changed(tmp_path, **{name: cell})
    assert found.readings == ()
    assert [one.reason for one in found.refused] == [reason]


def test_a_damaged_reading_is_left_out_and_counted(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_bytes(reading_table(log_of(ONE, replace(ONE, id=UUID(int=2), is_damaged=True))))
    found = read_reading_table(path, HOME, NOW)
    assert (len(found.readings), sum(found.skipped.values()), found.lines) == (1, 1, 2)


def test_other_files_are_not_taken_for_one(tmp_path: Path) -> None:
    (tmp_path / "other.csv").write_text("date,time,value\n2026-03-01,07:15,128\n", encoding="utf-8")
    (tmp_path / "empty.csv").write_bytes(b"")
    (tmp_path / "bytes.bin").write_bytes(bytes(range(256)))
    with zipfile.ZipFile(tmp_path / "other.zip", "w") as archive:
        archive.writestr("letter.txt", "dear")
    for path in tmp_path.iterdir():
        assert not is_reading_table(path), path


def test_no_damaged_archive_stops_the_reader(tmp_path: Path) -> None:
    """Cut off, or with bytes changed: readings, reasons, or one or two sentences."""
    source = random.Random(2026)
    whole = table_archive(log_of(*(replace(ONE, id=UUID(int=n + 1)) for n in range(50))))
    path = tmp_path / "log.zip"
    told = set()
    for _round in range(300):
        broken = bytearray(
            whole[: source.randrange(len(whole))] if source.random() < 0.3 else whole
        )
        for _slip in range(source.randint(0, 20)):
            broken[source.randrange(len(broken))] = source.randrange(256) if broken else 0
        path.write_bytes(bytes(broken))
        try:
            if is_reading_table(path):
                read_reading_table(path, HOME, NOW)
                told.add("read")
            else:
                told.add("no table")
        except CannotRead as error:
            told.add(import_problem_text(error))
    assert "no table" in told
    assert len(told) >= 3, told


@pytest.mark.parametrize("ending", ["xlsx", "ods"])
@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed")
def test_what_a_spreadsheet_program_saved_comes_back_as_it_was(tmp_path: Path, ending: str) -> None:
    """LibreOffice opens the file and saves it as its own; a crossed-out reading stays one."""
    crossed_out = replace(ONE, id=uuid4(), crossed_out=CrossedOut(ONE.at.instant, "not mine"))
    (tmp_path / "log.csv").write_bytes(reading_table(log_of(ONE, crossed_out)))
    subprocess.run(
        ["soffice", f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless",
         "--convert-to", ending, "--outdir", str(tmp_path), str(tmp_path / "log.csv")],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    path = tmp_path / f"log.{ending}"
    assert is_reading_table(path)
    found = read_reading_table(path, HOME, NOW)
    assert (found.refused, found.skipped) == ((), {})
    assert list(found.readings) == [as_a_table_tells_it(one) for one in (ONE, crossed_out)]
