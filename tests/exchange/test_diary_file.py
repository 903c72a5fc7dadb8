"""What is read of a file by a layout: readings, lines left out, lines refused with their reason."""

import csv
import os
from collections import Counter
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from logbook.domain.errors import CannotRead, LayoutWrong
from logbook.domain.glucose import Kind, Unit
from logbook.domain.readings import Source
from logbook.domain.sites import Hand, Place, Side, Site, SiteUse
from logbook.domain.slots import Slot
from logbook.exchange.diary_file import read_diary
from logbook.exchange.fitting import layouts_that_fit
from logbook.exchange.layout_files import find_layout, read_layout
from logbook.exchange.refusals import Reason, reason_words
from logbook.exchange.sentences import import_problem_text

DATA = Path(__file__).parents[1] / "data"


def _expected(name: str) -> list[tuple[int, str]]:
    with (DATA / name).open(encoding="utf-8") as file:
        return [(int(row["line"]), row["reason"]) for row in csv.DictReader(file)]


@pytest.mark.parametrize(
    ("name", "layout", "readings", "skipped"),
    [
        ("diary_with_every_defect.txt", "four-column-diary", 6, {"regular insulin": 1}),
        ("readings_with_every_defect.csv", "readings-mg-dl", 7, {}),
    ],
)
def test_every_defect_is_refused_with_its_line_and_reason(
    name: str, layout: str, readings: int, skipped: dict[str, int], now: datetime
) -> None:
    found = read_diary(DATA / name, find_layout(layout), "UTC", now)
    expected = _expected(name.rpartition(".")[0] + "_expected.csv")
    assert [(line.number, line.reason.value) for line in found.refused] == expected
    assert len(found.readings) == readings
    assert found.skipped == skipped
    assert found.lines == len(expected) + readings + sum(skipped.values())


def test_the_two_samples_hold_every_reason_there_is() -> None:
    told = {
        reason
        for name in ("diary_with_every_defect", "readings_with_every_defect")
        for _line, reason in _expected(f"{name}_expected.csv")
    }
    of_fhir = {Reason.VALUE_ABSENT, Reason.NOT_A_RESOURCE}  # which a table can't have
    assert told == {reason.value for reason in Reason} - of_fhir
    assert len({reason_words(reason) for reason in Reason}) == len(Reason)


def test_a_refused_line_keeps_its_text(now: datetime) -> None:
    found = read_diary(
        DATA / "diary_with_every_defect.txt", find_layout("four-column-diary"), "UTC", now
    )
    by_reason = {line.reason: line.text for line in found.refused}
    assert by_reason[Reason.DECIMALS_NOT_SHOWN] == "03-02-2026\t7:15\t58\t120.5"
    assert len(by_reason[Reason.LINE_TOO_LONG]) == 1001


def test_a_reading_keeps_what_was_written(now: datetime) -> None:
    found = read_diary(
        DATA / "diary_with_every_defect.txt", find_layout("four-column-diary"), "Europe/Paris", now
    )
    first, low, high, *_rest = found.readings
    assert first.at.wall == datetime(2026, 3, 1, 7, 15)
    assert first.at.zone == "Europe/Paris"
    assert first.at.zone_assumed
    assert first.at.offset == timedelta(hours=1)
    assert first.glucose.written == "128"
    assert first.slot is Slot.FASTING
    assert first.source is Source.IMPORTED
    assert first.written_at == now
    assert first.site_use is SiteUse.NOT_NOTED
    assert (low.glucose.kind, low.glucose.written) == (Kind.READS_LOW, "0Lo")
    assert (high.glucose.kind, high.glucose.written) == (Kind.READS_HIGH, "0Hi")


def test_two_equal_lines_are_two_readings(now: datetime) -> None:
    found = read_diary(
        DATA / "diary_with_every_defect.txt", find_layout("four-column-diary"), "UTC", now
    )
    twice = [r for r in found.readings if r.glucose.steps == 141]
    assert len(twice) == 2
    assert twice[0].id != twice[1].id


def test_columns_by_heading_with_units_sites_and_notes(now: datetime) -> None:
    path = DATA / "readings_with_every_defect.csv"
    found = read_diary(path, find_layout("readings-mg-dl"), "UTC", now)
    first, second, low, *_rest = found.readings
    assert first.site == Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE)
    assert first.site_use is SiteUse.USED
    assert first.note == "slept well, walked"
    assert second.glucose.unit is Unit.MMOL_L
    assert second.glucose.steps == 71
    assert second.minutes_after == 120
    assert second.note == "two lines\nof one note"
    assert low.glucose.kind is Kind.READS_LOW
    assert low.glucose.unit is Unit.MG_DL


def test_decimal_commas_and_semicolons(now: datetime) -> None:
    found = read_diary(
        DATA / "readings-mmol-l.csv", find_layout("readings-mmol-l"), "Europe/Berlin", now
    )
    assert [(str(r.at.wall), r.glucose.text) for r in found.readings] == [
        ("2026-03-01 07:15:00", "7.1"),
        ("2026-03-01 14:10:00", "9.0"),
        ("2026-03-01 22:20:00", "HI"),
        ("2026-03-02 07:05:00", "6.5"),
    ]
    assert found.refused == ()


@pytest.mark.parametrize("name", ["readings-mg-dl", "readings-mmol-l"])
def test_a_shipped_layout_is_found_by_the_headings_of_its_sample(name: str) -> None:
    assert layouts_that_fit(DATA / f"{name}.csv") == [find_layout(name)]


def test_no_layout_fits_a_file_without_headings() -> None:
    assert layouts_that_fit(DATA / "diary_with_every_defect.txt") == []


# --- encodings -----------------------------------------------------------------------------------

LAYOUT = """
delimiter = "comma"
encoding = "{encoding}"
unit = "mg/dL"
[columns]
moment = 1
value = 2
note = 3
[written]
moment = "%Y-%m-%d %H:%M"
"""
LINE = "2026-03-01 07:15,128,süß\n"


def _read(tmp_path: Path, encoding: str, content: bytes, now: datetime) -> list[str]:
    layout = tmp_path / "layout.toml"
    layout.write_text(LAYOUT.format(encoding=encoding), encoding="utf-8")
    path = tmp_path / "diary.csv"
    path.write_bytes(content)
    return [r.note for r in read_diary(path, read_layout(layout), "UTC", now).readings]


@pytest.mark.parametrize(
    ("encoding", "codec"),
    [
        ("utf-8", "utf-8"),
        ("utf-8", "utf-8-sig"),
        ("utf-8-sig", "utf-8-sig"),
        ("latin-1", "latin-1"),
        ("windows-1252", "cp1252"),
        ("utf-16", "utf-16"),
    ],
)
def test_each_encoding_is_read(tmp_path: Path, encoding: str, codec: str, now: datetime) -> None:
    assert _read(tmp_path, encoding, (LINE * 3000).encode(codec), now) == ["süß"] * 3000


@pytest.mark.parametrize(
    ("encoding", "codec"),
    [
        ("utf-8", "latin-1"),
        ("utf-8", "utf-16"),
        ("utf-8", "utf-16-le"),
        ("latin-1", "utf-8-sig"),
        ("latin-1", "utf-16"),
        ("utf-16", "utf-8"),
        ("utf-16", "latin-1"),
        ("windows-1252", "utf-16-be"),
    ],
)
def test_a_wrong_encoding_is_told(tmp_path: Path, encoding: str, codec: str, now: datetime) -> None:
    with pytest.raises(CannotRead) as caught:
        _read(tmp_path, encoding, (LINE * 3000).encode(codec), now)
    assert caught.value.facts["why"] == "encoding"
    assert "diary.csv" in import_problem_text(caught.value)


@pytest.mark.parametrize(("end", "count"), [("\n", 2), ("\r\n", 2), ("\r", 2)])
def test_each_way_to_end_a_line(tmp_path: Path, end: str, count: int, now: datetime) -> None:
    content = (LINE.rstrip() + end) * count
    assert len(_read(tmp_path, "utf-8", content.encode(), now)) == count


def test_a_last_line_without_its_end_is_read(tmp_path: Path, now: datetime) -> None:
    assert _read(tmp_path, "utf-8", (LINE + LINE.rstrip()).encode(), now) == ["süß"] * 2


# --- what can't be read at all -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "content", "why"),
    [
        ("sheet.xlsx", b"PK\x03\x04" + bytes(100), "spreadsheet_damaged"),
        ("picture.png", b"\x89PNG\r\n", "not_text"),
        ("nothing.txt", b"", "empty"),
        ("blank.txt", b"\n \n\t\t\n", "empty"),
    ],
)
def test_files_that_are_no_diary_are_told(
    tmp_path: Path, name: str, content: bytes, why: str, now: datetime
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(CannotRead) as caught:
        read_diary(path, find_layout("four-column-diary"), "UTC", now)
    assert caught.value.facts["why"] == why
    assert name in import_problem_text(caught.value)


def test_missing_files_folders_and_pipes_are_told(tmp_path: Path, now: datetime) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path, why in (
        (tmp_path / "nowhere", "missing"),
        (tmp_path, "directory"),
        (pipe, "special_file"),
    ):
        with pytest.raises(CannotRead) as caught:
            read_diary(path, find_layout("four-column-diary"), "UTC", now)
        assert caught.value.facts["why"] == why


@pytest.mark.parametrize(
    ("headings", "why"),
    [
        ("date,time", "heading_missing"),
        ("date,time,value,value", "heading_twice"),
        ("", "empty"),
    ],
)
def test_headings_that_do_not_fit_are_told(
    tmp_path: Path, headings: str, why: str, now: datetime
) -> None:
    path = tmp_path / "readings.csv"
    path.write_text(f"{headings}\n", encoding="utf-8")
    with pytest.raises((LayoutWrong, CannotRead)) as caught:
        read_diary(path, find_layout("readings-mg-dl"), "UTC", now)
    assert caught.value.facts["why"] == why
    assert import_problem_text(caught.value)


# --- the person's own time -----------------------------------------------------------------------


def test_a_zone_in_the_layout_is_not_assumed(tmp_path: Path, now: datetime) -> None:
    layout = tmp_path / "layout.toml"
    text = LAYOUT.format(encoding="utf-8").replace("unit =", 'zone = "America/Chicago"\nunit =')
    layout.write_text(text, encoding="utf-8")
    path = tmp_path / "diary.csv"
    path.write_text(LINE, encoding="utf-8")
    (reading,) = read_diary(path, read_layout(layout), "Europe/Paris", now).readings
    assert reading.at.zone == "America/Chicago"
    assert not reading.at.zone_assumed


def test_a_time_in_the_skipped_hour_is_kept_as_written(tmp_path: Path, now: datetime) -> None:
    path = tmp_path / "diary.txt"
    path.write_text("03-29-2026\t02:30\t58\t128\n", encoding="utf-8")
    (reading,) = read_diary(path, find_layout("four-column-diary"), "Europe/Paris", now).readings
    assert reading.at.wall == datetime(2026, 3, 29, 2, 30)


def test_a_date_of_tomorrow_is_taken_and_one_later_refused(tmp_path: Path, now: datetime) -> None:
    path = tmp_path / "diary.txt"
    path.write_text("04-01-2026\t11:59\t58\t128\n04-01-2026\t12:01\t58\t129\n", encoding="utf-8")
    found = read_diary(path, find_layout("four-column-diary"), "UTC", now)
    assert [reading.glucose.steps for reading in found.readings] == [128]
    assert Counter(line.reason for line in found.refused) == {Reason.DATE_IN_FUTURE: 1}
