"""The command `export`: the calendar for a phone, read by an independent reader of RFC 5545."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

from logbook.book import Book
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.visits import Appointment
from tests.commands.command_runs import run
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
