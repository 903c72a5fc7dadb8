"""The command `export`: tables, a FHIR bundle, and the calendar for a phone.

The calendar is read by an independent reader of RFC 5545; what is in the other files is tested in
`tests/exchange`.
"""

from __future__ import annotations

import csv
import json
import stat
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

from logbook.book import Book
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.visits import Appointment
from tests.commands.command_runs import FULL_DISK, assert_plain, content_of, run
from tests.exchange.calendar_reader import read_calendar


def make_log(folder: Path) -> Path:
    """A log whose plan asks for a check on Mondays; the real clock is the command's."""
    path = folder / "a.logbook"
    today = datetime.now(UTC).date()
    with Book.create(path, LogSettings(), lambda: datetime.now(UTC)) as book:
        checks = (PlannedCheck(Slot.FASTING, time(7, 30), weekdays=(0,)),)
        book.add(CheckPlan(uuid4(), today - timedelta(days=40), checks, datetime.now(UTC)))
        book.add(Appointment(uuid4(), today + timedelta(days=20), time(10, 30), "Dr. Invented"))
    return path


def test_a_year_of_checks_and_the_appointment(tmp_path: Path) -> None:
    log, out = make_log(tmp_path), tmp_path / "plan.ics"
    done = run("export", "--format", "calendar", "--out", out, "--log", log, TZ="UTC")
    assert (done.status, done.err) == (0, "")
    assert str(out) in done.out
    calendar = read_calendar(out.read_bytes())
    by_title = {event.text("SUMMARY"): event for event in calendar.events}
    mondays = by_title["Check: fasting (before breakfast)"].begins()
    today = datetime.now(UTC).date()
    wanted = [
        day for day in (today + timedelta(days=n) for n in range(366)) if date.weekday(day) == 0
    ]
    assert [one.date() for one in mondays] == wanted
    assert all(one.time() == time(7, 30) for one in mondays)
    assert "Appointment: Dr. Invented" in by_title


def test_wrong_use_is_told_and_nothing_is_written(tmp_path: Path) -> None:
    log, out = make_log(tmp_path), tmp_path / "plan.ics"
    for wrong in (("--format", "nonsense", "--out", out), ("--out", out), ("--format", "calendar")):
        done = run("export", *wrong, "--log", log)
        assert done.status == 2, wrong
        assert "Traceback" not in done.err
    assert not out.exists()


def test_it_never_takes_the_place_of_the_log(tmp_path: Path) -> None:
    log = make_log(tmp_path)
    before = log.read_bytes()
    done = run("export", "--format", "calendar", "--out", log, "--log", log)
    assert done.status == 1
    assert log.read_bytes() == before
    missing = run("export", "--format", "calendar", "--out", tmp_path / "no" / "x", "--log", log)
    assert missing.status == 1
    assert missing.err.strip()


def test_tables_go_into_the_file_and_a_folder_beside_it(full_log: Path, tmp_path: Path) -> None:
    before = content_of(full_log)
    out = tmp_path / "out" / "mine.csv"
    out.parent.mkdir()
    done = run("export", "--format", "csv", "--out", out, "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert str(out) in done.out
    assert str(out.parent / "mine-more") in done.out
    assert "not encrypted" in done.out
    with out.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 6
    others = sorted(path.name for path in (out.parent / "mine-more").iterdir())
    assert "control-tests.csv" in others
    assert "readings.csv" not in others
    assert len(others) > 25
    for path in (out, *(out.parent / "mine-more").iterdir()):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert {k: v for k, v in content_of(full_log).items() if not k.startswith("out/")} == before
    again = run("export", "--format", "csv", "--out", out, "--log", full_log)
    assert again.status == 0


def test_a_bundle_goes_into_one_file(full_log: Path, tmp_path: Path) -> None:
    out = tmp_path / "mine.json"
    done = run("export", "--format", "fhir", "--out", out, "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert "6 readings are in" in done.out
    bundle = json.loads(out.read_bytes())
    assert (bundle["resourceType"], len(bundle["entry"])) == ("Bundle", 7)
    assert stat.S_IMODE(out.stat().st_mode) == 0o600


@pytest.mark.parametrize("form", ["csv", "fhir"])
def test_what_can_not_be_written_is_told_and_leaves_nothing(
    form: str, full_log: Path, tmp_path: Path
) -> None:
    before = content_of(full_log)
    missing = tmp_path / "nowhere" / "out.csv"
    assert_plain(run("export", "--format", form, "--out", missing, "--log", full_log), missing)
    assert_plain(run("export", "--format", form, "--out", full_log, "--log", full_log), full_log)
    assert_plain(run("export", "--format", form, "--out", tmp_path, "--log", full_log), tmp_path)
    no_log = tmp_path / "no.logbook"
    assert_plain(run("export", "--format", form, "--out", tmp_path / "x", "--log", no_log), no_log)
    assert content_of(full_log) == before


def test_a_full_disk_leaves_neither_file_nor_folder(full_log: Path, tmp_path: Path) -> None:
    out = tmp_path / "mine.csv"
    before = content_of(full_log)
    program = (*FULL_DISK, "1200")
    done = run("export", "--format", "csv", "--out", out, "--log", full_log, program=program)
    assert_plain(done, out)
    assert content_of(full_log) == before
    assert not (tmp_path / "mine-more").exists()


def test_files_that_tell_themselves_need_no_layout(full_log: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken.json"
    broken.write_text('{"resourceType": "Bundle", "entry": [', encoding="utf-8")
    assert_plain(run("import", broken, "--log", full_log), broken, "line 1")
    empty = tmp_path / "empty.json"
    empty.write_text('{"resourceType": "Bundle", "entry": []}', encoding="utf-8")
    assert_plain(run("import", empty, "--log", full_log), empty)
