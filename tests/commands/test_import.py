"""The command `import`: what it takes in, what it tells, and that it leaves nothing half done."""

import csv
import json
import re
import shutil
import stat
from datetime import date, datetime, time
from pathlib import Path
from uuid import uuid4

import pytest

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from tests.commands.command_runs import (
    DATA,
    DEFECTS,
    DIARY,
    assert_plain,
    clock,
    content_of,
    run,
)
from tests.exchange.sheets import Rows, write_xlsx


def test_import_makes_a_log_and_tells_what_became_of_each_line(log: Path) -> None:
    done = run("import", DEFECTS, *DIARY, "--log", log, TZ="Europe/Paris")
    assert (done.status, done.err) == (0, "")
    counts = dict(re.findall(r"^(\w[\w ]+?)\s{2,}(\d+)$", done.out, re.MULTILINE))
    assert counts == {
        "Lines read": "35",
        "Added": "6",
        "Already there": "0",
        "Skipped": "1",
        "Refused": "28",
        "Same time as another": "2",
    }
    told = re.findall(r"^  Line (\d+): ", done.out, re.MULTILINE)
    with (DATA / "diary_with_every_defect_expected.csv").open(encoding="utf-8") as file:
        assert told == [row["line"] for row in csv.DictReader(file)]
    assert "\x1b" not in done.out
    assert "\x00" not in done.out
    with Book.open(log, clock, read_only=True) as book:
        assert book.settings == LogSettings(unit=Unit.MG_DL, home_zone="Europe/Paris")
        assert len(book.readings()) == 6
        assert all(reading.at.zone_assumed for reading in book.readings())


def test_import_into_the_own_log_makes_its_folder(person_folder: Path) -> None:
    done = run("import", DATA / "readings-mg-dl.csv")
    assert (done.status, done.err) == (0, "")
    own = person_folder / "data" / "fingerstick-logbook" / "my.logbook"
    assert stat.S_IMODE(own.stat().st_mode) == 0o600
    assert stat.S_IMODE(own.parent.stat().st_mode) == 0o700
    assert "mean" in json.loads(run("summary", "--json").out)["figures"]


def test_import_finds_the_layout_by_the_headings(log: Path) -> None:
    done = run("import", DATA / "readings-mmol-l.csv", "--log", log)
    assert (done.status, done.err) == (0, "")
    assert "mmol/L" in done.out
    with Book.open(log, clock, read_only=True) as book:
        assert book.settings.unit is Unit.MMOL_L
        assert [reading.glucose.text for reading in book.readings()] == ["7.1", "9.0", "HI", "6.5"]


def test_import_finds_the_columns_of_a_file_that_no_layout_fits(log: Path, tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text("Day;Clock;Blood glucose mmol/L;Remark\n2026-03-01;07:15;7,1;tired\n")
    refused = run("import", path, "--log", log)
    assert_plain(refused, "--find-columns")
    done = run("import", path, "--find-columns", "--log", log)
    assert (done.status, done.err) == (0, "")
    assert "The number: “Blood glucose mmol/L”" in done.out
    with Book.open(log, clock, read_only=True) as book:
        (reading,) = book.readings()
    assert (reading.glucose, reading.note) == (Glucose.number(71, Unit.MMOL_L), "tired")


@pytest.mark.parametrize(
    ("content", "word"),
    [
        ("day;clock;number\n2026-03-01;07:15;20\n", "unit"),
        ("day;clock;mg/dL\n03/04/2026;07:15;120\n", "month"),
        ("day;mg/dL\n2026-03-01;120\n", "time"),
    ],
)
def test_what_is_not_certain_of_a_files_columns_is_said(
    content: str, word: str, log: Path, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text(content, encoding="utf-8")
    done = run("import", path, "--find-columns", "--log", log)
    assert_plain(done, word)
    assert not log.exists()


def test_importing_twice_adds_nothing(full_log: Path) -> None:
    before = content_of(full_log)
    done = run("import", DEFECTS, *DIARY, "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert re.search(r"^Added +0$", done.out, re.MULTILINE)
    assert re.search(r"^Already there +6$", done.out, re.MULTILINE)
    assert content_of(full_log)["a.logbook"] == before["a.logbook"]


def test_a_typed_reading_is_already_there(log: Path) -> None:
    at = Moment.from_wall(datetime(2026, 3, 1, 7, 15), "UTC")
    typed = Reading(
        id=__import__("uuid").uuid4(),
        glucose=Glucose.number(128, Unit.MG_DL),
        at=at,
        written_at=at.instant,
        slot=Slot.FASTING,
    )
    with Book.create(log, LogSettings(home_zone="UTC"), clock) as book:
        book.add(typed)
    done = run("import", DEFECTS, *DIARY, "--log", log)
    assert re.search(r"^Added +5$", done.out, re.MULTILINE)
    assert re.search(r"^Already there +1$", done.out, re.MULTILINE)


def test_an_import_is_undone_as_one_action(full_log: Path) -> None:
    more = DATA / "readings-mg-dl.csv"
    assert run("import", more, "--log", full_log).status == 0
    with Book.open(full_log, clock) as book:
        # One of the four stands in the other file too: the same minute, unit and value.
        assert len(book.readings()) == 9
        done = book.undoable
        assert done is not None
        assert (done.action, done.count, done.name) == ("import", 3, more.name)
        book.undo()
        assert len(book.readings()) == 6
    done_again = run("import", more, "--log", full_log)
    assert re.search(r"^Added +3$", done_again.out, re.MULTILINE)


def test_a_corrected_and_a_crossed_out_reading_stay_as_they_are(full_log: Path) -> None:
    with Book.open(full_log, clock) as book:
        first, second, *_rest = book.readings()
        book.correct(first.id, Glucose.number(182, Unit.MG_DL), first.at, first.slot)
        book.cross_out(second.id)
    done = run("import", DEFECTS, *DIARY, "--log", full_log)
    assert re.search(r"^Added +0$", done.out, re.MULTILINE)


def test_a_dry_run_changes_nothing(full_log: Path, log: Path, tmp_path: Path) -> None:
    before = content_of(full_log)
    done = run("import", DATA / "readings-mg-dl.csv", "--dry-run", "--log", full_log)
    assert (done.status, done.err) == (0, "")
    assert re.search(r"^Would be added +3$", done.out, re.MULTILINE)
    assert content_of(full_log) == before
    nowhere = tmp_path / "nowhere.logbook"
    done = run("import", DEFECTS, *DIARY, "--dry-run", "--log", nowhere)
    assert (done.status, done.err) == (0, "")
    assert not list(tmp_path.glob("nowhere*"))


def test_refused_lines_go_to_a_file_of_their_own(log: Path, tmp_path: Path) -> None:
    out = tmp_path / "refused.csv"
    done = run("import", DEFECTS, *DIARY, "--refused", out, "--log", log)
    assert (done.status, done.err) == (0, "")
    assert str(out) in done.out
    assert stat.S_IMODE(out.stat().st_mode) == 0o600
    with out.open(encoding="utf-8", newline="") as file:
        told = [(row["number"], row["reason"]) for row in csv.DictReader(file)]
    with (DATA / "diary_with_every_defect_expected.csv").open(encoding="utf-8") as file:
        assert told == [(row["line"], row["reason"]) for row in csv.DictReader(file)]


def test_refused_lines_never_take_the_place_of_diary_or_log(full_log: Path, tmp_path: Path) -> None:
    diary = tmp_path / "diary.txt"
    shutil.copy(DEFECTS, diary)
    before = content_of(full_log)
    journal = next(full_log.parent.glob("a.logbook-*.txt"))
    for out in (diary, full_log, journal):
        assert_plain(
            run("import", diary, *DIARY, "--refused", out, "--log", full_log), out, "already there"
        )
    assert content_of(full_log) == before


@pytest.mark.parametrize("content", ["", "\n\n", "nothing here\n", "03-01-2026\t7:15\t33\t006\n"])
def test_when_nothing_can_be_taken_in_no_log_is_made(
    content: str, log: Path, tmp_path: Path
) -> None:
    path = tmp_path / "diary.txt"
    path.write_text(content, encoding="utf-8")
    assert_plain(run("import", path, *DIARY, "--log", log), "diary.txt")
    assert [one.name for one in tmp_path.iterdir()] == ["diary.txt"]


IMPORT_FAULTS = {
    "missing file": ("nowhere.txt", "four-column-diary", "nowhere.txt"),
    "a folder": (".", "four-column-diary", "folder"),
    "a spreadsheet": ("sheet.xlsx", "four-column-diary", "CSV"),
    "wrong encoding": ("latin.csv", "readings-mg-dl", "UTF-8"),
    "no such layout": ("good.txt", "five-column-diary", "five-column-diary"),
    "layout missing": ("good.txt", "nowhere.toml", "nowhere.toml"),
    "layout wrong": ("good.txt", "wrong.toml", "columns"),
    "layout is a folder": ("good.txt", "./", "folder"),
    "headings missing": ("good.txt", "readings-mg-dl", "date"),
    "none fits": ("good.txt", "", "--layout"),
}


@pytest.mark.parametrize("fault", IMPORT_FAULTS)
@pytest.mark.parametrize("is_there", [False, True])
def test_what_can_not_be_imported_is_told_and_leaves_nothing(
    fault: str, is_there: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = tmp_path / "files"
    files.mkdir()
    (files / "good.txt").write_text("03-01-2026\t7:15\t58\t128\n", encoding="utf-8")
    (files / "sheet.xlsx").write_bytes(b"PK\x03\x04" + bytes(64))
    (files / "latin.csv").write_bytes(b"date,time,value,note\n2026-03-01,07:15,128,s\xfc\xdf\n")
    (files / "wrong.toml").write_text('delimiter = "::"\n', encoding="utf-8")
    log = tmp_path / "logs" / "a.logbook"
    log.parent.mkdir()
    if is_there:
        assert run("import", files / "good.txt", *DIARY, "--log", log).status == 0
    before = content_of(log)
    name, layout, word = IMPORT_FAULTS[fault]
    if layout.startswith((".", "wrong", "nowhere")):
        layout = f"{files}/{layout}"
    refused = log.parent / "refused.csv"
    arguments = ["import", files / name, "--log", log, "--refused", refused]
    done = run(*arguments, *(["--layout", layout] if layout else []))
    assert_plain(done, word)
    assert content_of(log) == before


def test_numbers_of_one_minute_and_numbers_no_meter_shows_are_told(
    log: Path, tmp_path: Path
) -> None:
    """Nothing is left out for it; a file without any says nothing of it."""
    at = Moment.from_wall(datetime(2026, 3, 1, 7, 15), "UTC")
    typed = Reading(uuid4(), Glucose.number(128, Unit.MG_DL), at, at.instant, Slot.FASTING)
    with Book.create(log, LogSettings(home_zone="UTC"), clock) as book:
        book.add(Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2026, 1, 1)), typed)
    table = tmp_path / "a.csv"
    lines = [
        "2026-03-01,07:15,141,mg/dL,,,,",
        "2026-03-02,07:15,90,mg/dL,,,,",
        "2026-03-02,07:15,95,mg/dL,,,,",
    ]
    heading = "Date,Time,Value,Unit,Slot,Minutes after,Site,Note\n"
    table.write_text(heading + "\n".join([*lines, "2026-03-03,07:15,640,mg/dL,,,,"]) + "\n")
    done = run("import", table, "--log", log, "--dry-run")
    told = done.out.splitlines()
    place = next(n for n, line in enumerate(told) if line.startswith("Same time"))
    assert [" ".join(line.split()) for line in told[place : place + 5]] == [
        "Same time as another 3",
        "Mar 1, 2026, 7:15 AM: 141 mg/dL in this file, 128 mg/dL in the log",
        "Mar 2, 2026, 7:15 AM: 90 mg/dL, 95 mg/dL in this file",
        "Outside your meters 1",
        "Mar 3, 2026, 7:15 AM: 640 mg/dL, your meters show at most 600 mg/dL",
    ]
    assert re.search(r"^Added +4$", run("import", table, "--log", log).out, re.MULTILINE)
    table.write_text(heading + "2026-03-04,07:15,120,mg/dL,,,,\n")
    assert "Same time" not in run("import", table, "--log", log).out
    new_log = tmp_path / "new.logbook"
    table.write_text(heading + "\n".join(lines) + "\n")
    assert re.search(
        r"^Same time as another +2$", run("import", table, "--log", new_log).out, re.MULTILINE
    )


def test_a_file_without_times_is_told_that_it_needs_them(log: Path, tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text("day;when;mg/dL\n2026-03-01;in the morning;120\n", encoding="utf-8")
    assert_plain(run("import", path, "--find-columns", "--log", log), "without", "time")
    assert not log.exists()


def test_the_sheet_that_is_read_is_said(log: Path, tmp_path: Path) -> None:
    rows: Rows = [["Date", "Time", "mg/dL"], [datetime(2026, 3, 1), time(7, 15), 128]]
    path = write_xlsx(tmp_path / "a.xlsx", {"first half": rows, "second half": rows})
    done = run("import", path, "--find-columns", "--log", log)
    assert (done.status, done.err) == (0, "")
    assert "Only the sheet “first half” is read. There is one more." in done.out
