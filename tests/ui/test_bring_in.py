"""Bringing in a file in a real window: what is shown, asked and told, Stop, and Undo."""

from __future__ import annotations

import json
import threading
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import Vial
from logbook.domain.readings import CrossedOut, Source
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.whole_log import WholeLog
from logbook.exchange.fhir_bundle import fhir_bundle
from logbook.exchange.layout_files import kept_layouts
from logbook.exchange.log_export import reading_table, table_archive
from logbook.places import layouts_folder
from logbook.ui import importing
from logbook.ui.pages.bring_in import ColumnsView, PickView, find_files
from logbook.ui.pages.bring_in_preview import PreviewView
from logbook.ui.parts.table import ReadTable
from tests.exchange.sheets import Rows, write_xlsx
from tests.ui.looking_window import (
    Looker,
    check_geometry,
    check_names_and_order,
    looking_window,
    one_reading,
)

CLEAR = (
    "Date,Time,mg/dL,When\n2026-03-01,7:15,128,fasting\n2026-03-01,12:05,141,before lunch\n"
    "2026-03-02,7:10,soon,fasting\n2026-03-02,12:10,119,before lunch\n"
)


def there_already(book: Book) -> None:
    book.add(one_reading("2026-03-01 07:15", 128))


# Two numbers of one time, and one that a meter would show as HI.
DOUBTFUL = CLEAR + "".join(
    f"2026-03-{n:02d},8:15,{120 + n},fasting\n2026-03-{n:02d},8:15,{640 + n},fasting\n"
    for n in range(3, 12)
)


def with_vial(book: Book) -> None:
    meter = Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2025, 1, 1))
    opened = one_reading("2026-03-02 00:00", 100).at.instant
    book.add(
        meter, Vial(uuid4(), meter.id, 50, opened, opened_at=opened, opened_on=date(2026, 3, 2))
    )


def open_file(looker: Looker, path: Path) -> None:
    looker.press("Bring in a file")
    view = looker.view
    assert isinstance(view, PickView)
    view.open_file(path)


def written(tmp_path: Path, content: str, name: str = "old diary.csv") -> Path:
    path = tmp_path / name
    path.write_text(content, encoding="utf-8")
    return path


def preview_of(qtbot: QtBot, looker: Looker) -> PreviewView:
    """The preview, once the file is read."""
    view = looker.view
    assert isinstance(view, PreviewView)
    qtbot.waitUntil(lambda: not looker.window.desk.work.is_busy, timeout=20_000)
    qtbot.waitUntil(lambda: not view.stop.isVisible(), timeout=5_000)
    return view


def bring_in(qtbot: QtBot, looker: Looker, text: str) -> None:
    looker.press(text)
    qtbot.waitUntil(lambda: looker.view_page.view_name == "main", timeout=20_000)


def test_a_clear_file_comes_in_with_three_presses_and_goes_out_with_one(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=there_already) as looker:
        open_file(looker, written(tmp_path, CLEAR))
        assert isinstance(looker.view, ColumnsView)
        looker.clicks = 0
        looker.press("Go on")
        view = preview_of(qtbot, looker)
        words = looker.words()
        assert "2 readings will be added." in words
        assert "1 is in the log already." in words
        assert "1 line can’t be read." in words
        item = view.table.item(0, 1)
        assert item is not None
        assert item.text() == "the value is not a number"
        assert len(looker.readings) == 1  # nothing is written before
        bring_in(qtbot, looker, "Bring in 2")
        assert looker.clicks == 2
        assert looker.message == "2 readings are in the log now. Undo takes them out."
        added = [one for one in looker.readings if one.source is Source.IMPORTED]
        assert sorted(one.glucose.steps or 0 for one in added) == [119, 141]
        assert {one.slot for one in added} == {Slot.BEFORE_LUNCH}
        copies = list((tmp_path / "my.logbook-copies").iterdir())
        assert any("import" in copy.name for copy in copies)
        looker.click(looker.window.bar.undo)
        assert len(looker.readings) == 1


def test_numbers_of_one_minute_and_numbers_no_meter_shows_are_told(
    qtbot: QtBot, tmp_path: Path
) -> None:
    """Some rows at a time; nothing is left out for it."""
    lines = "date,time,mg/dl\n2026-03-03,07:15,640\n" + "".join(
        f"2026-02-{n:02d},07:15,{100 + n}\n2026-02-{n:02d},07:15,{140 + n}\n" for n in range(1, 8)
    )

    def prepare(book: Book) -> None:
        book.add(one_reading("2026-02-01 07:15", 99))
        book.add(Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2025, 1, 1)))

    def row(table: ReadTable, place: int) -> list[str]:
        cells = [table.item(place, column) for column in range(table.columnCount())]
        return [cell.text() for cell in cells if cell is not None]

    with looking_window(tmp_path, prepare=prepare) as looker:
        open_file(looker, written(tmp_path, lines))
        looker.press("Go on")
        view = preview_of(qtbot, looker)
        assert "14 new readings have the same time as another one." in looker.words()
        assert "1 new reading is outside what your meters show." in looker.words()
        shared, beyond = view.shared, view.beyond
        assert shared.table.rowCount() == 5
        assert row(shared.table, 0) == ["Feb 1, 2026, 7:15 AM", "101 mg/dL, 141 mg/dL", "99 mg/dL"]
        assert row(shared.table, 1) == ["Feb 2, 2026, 7:15 AM", "102 mg/dL, 142 mg/dL", "nothing"]
        assert "Rows 1 to 5 of 7" in looker.words()
        looker.press("Show more rows")
        assert shared.table.rowCount() == 2
        assert row(shared.table, 1)[0] == "Feb 7, 2026, 7:15 AM"
        looker.press("Show the first rows again")
        assert shared.table.rowCount() == 5
        assert row(beyond.table, 0) == ["Mar 3, 2026, 7:15 AM", "640 mg/dL", "at most 600 mg/dL"]
        assert not beyond.more.isVisible()
        bring_in(qtbot, looker, "Bring in 15")
        assert len(looker.readings) == 16


def test_nothing_is_said_of_a_file_without_doubts(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=there_already) as looker:
        open_file(looker, written(tmp_path, CLEAR))
        looker.press("Go on")
        view = preview_of(qtbot, looker)
        assert not view.shared.isVisible()
        assert not view.beyond.isVisible()


def test_bringing_it_in_twice_adds_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path) as looker:
        path = written(tmp_path, CLEAR)
        open_file(looker, path)
        looker.press("Go on")
        preview_of(qtbot, looker)
        bring_in(qtbot, looker, "Bring in 3")
        open_file(looker, path)
        looker.press("Go on")
        view = preview_of(qtbot, looker)
        assert "Nothing new is in this file." in looker.words()
        assert "3 are in the log already." in looker.words()
        assert not view.main_text()


@pytest.mark.parametrize("form", ["table", "archive", "bundle"])
def test_what_this_program_wrote_tells_itself(qtbot: QtBot, tmp_path: Path, form: str) -> None:
    """No column is asked about, and a crossed-out reading comes in crossed out."""
    crossed_out = replace(
        one_reading("2026-03-02 07:15", 301),
        crossed_out=CrossedOut(one_reading("2026-03-02 08:00", 100).at.instant, "not mine"),
    )
    log = WholeLog(LogSettings(), readings=(one_reading("2026-03-01 07:15", 128), crossed_out))
    path = tmp_path / {"table": "a.csv", "archive": "a.zip", "bundle": "a.json"}[form]
    if form == "bundle":
        path.write_bytes(fhir_bundle(log, crossed_out.at.instant))
    else:
        path.write_bytes(reading_table(log) if form == "table" else table_archive(log))
    with looking_window(tmp_path, prepare=there_already) as looker:
        open_file(looker, path)
        view = preview_of(qtbot, looker)
        assert "1 reading will be added." in looker.words()
        assert "1 is in the log already." in looker.words()
        assert not view.name.row.isVisible()
        bring_in(qtbot, looker, "Bring in 1")
        (added,) = (one for one in looker.readings if one.glucose.steps == 301)
        assert not added.counts
        assert added.id == crossed_out.id


def test_what_is_not_certain_is_asked(qtbot: QtBot, tmp_path: Path) -> None:
    lines = "day,clock,sugar mmol/L\n03/04/2026,7:15,128\n03/02/2026,7:15,131\n01/02/2026,7:15,90\n"
    with looking_window(tmp_path) as looker:
        open_file(looker, written(tmp_path, lines))
        looker.press("Go on")
        assert looker.title == "What comes first in these days?"
        looker.press("The month first")
        assert looker.title == "In which unit are the numbers?"
        assert "The file says mmol/L, but the numbers can only be mg/dL." in looker.words()
        looker.press("mg/dL")
        preview_of(qtbot, looker)
        bring_in(qtbot, looker, "Bring in 3")
        assert [one.at.wall.date() for one in looker.readings] == [
            date(2026, 1, 2),
            date(2026, 3, 2),
            date(2026, 3, 4),
        ]


def test_a_column_is_chosen_by_the_person(qtbot: QtBot, tmp_path: Path) -> None:
    lines = "03-17-2026\t7:15\t58\t128\n03-17-2026\t9:30\t59\t151\n"
    with looking_window(tmp_path) as looker:
        open_file(looker, written(tmp_path, lines, "data.txt"))
        looker.press_first("The number")
        assert looker.title == "Which column holds the number the meter showed?"
        looker.press_first("Column 4")
        looker.press("Go on")
        preview_of(qtbot, looker)
        bring_in(qtbot, looker, "Bring in 2")
        assert [one.glucose.steps for one in looker.readings] == [128, 151]


def test_words_get_another_meaning(qtbot: QtBot, tmp_path: Path) -> None:
    lines = "date,time,mg/dl,when\n2026-03-01,7:15,128,early\n2026-03-02,7:15,120,fasting\n"
    with looking_window(tmp_path) as looker:
        open_file(looker, written(tmp_path, lines))
        looker.press_first("What the words mean")
        looker.press_first("early")
        looker.press("Night", "Back", "Go on")
        preview_of(qtbot, looker)
        bring_in(qtbot, looker, "Bring in 2")
        assert [one.slot for one in looker.readings] == [Slot.NIGHT, Slot.FASTING]


def test_columns_are_remembered_by_a_name(qtbot: QtBot, tmp_path: Path) -> None:
    lines = "day;clock;sugar\n17.03.2026;7:15;12\n18.03.2026;7:15;14\n"
    with looking_window(tmp_path) as looker:
        open_file(looker, written(tmp_path, lines))
        looker.press("Go on", "mmol/L")
        view = preview_of(qtbot, looker)
        view.name.setText("Kitchen list")
        bring_in(qtbot, looker, "Bring in 2")
        assert list(kept_layouts(layouts_folder())) == ["kitchen-list"]
        more = lines + "19.03.2026;7:15;13\n"
        open_file(looker, written(tmp_path, more, "next.csv"))
        assert "This file is known as “Kitchen list”." in looker.words()
        looker.press("Go on")
        preview_of(qtbot, looker)
        bring_in(qtbot, looker, "Bring in 1")
        assert [one.glucose.unit for one in looker.readings] == [Unit.MMOL_L] * 3


@pytest.mark.parametrize(("answer", "left"), [("Yes, count them", 1), ("No, they are counted", 0)])
def test_strips_are_asked_once_for_the_file(
    qtbot: QtBot, tmp_path: Path, answer: str, left: int
) -> None:
    with looking_window(tmp_path, prepare=with_vial) as looker:
        open_file(looker, written(tmp_path, CLEAR))
        looker.press("Go on")
        view = preview_of(qtbot, looker)
        assert "Did 1 reading of this file use a strip of the vial in use?" in looker.words()
        assert not view.main_text()  # it is answered first
        looker.press(answer)
        bring_in(qtbot, looker, "Bring in 3")
        assert sum(one.meter_id is not None for one in looker.readings) == left


def test_a_spreadsheet_and_another_sheet(qtbot: QtBot, tmp_path: Path) -> None:
    rows: Rows = [["Date", "Time", "mg/dL"], [datetime(2026, 3, 1), time(7, 15), 128]]
    path = write_xlsx(tmp_path / "a.xlsx", {"plan": [["a", "b"], ["c", "d"]], "log": rows})
    with looking_window(tmp_path) as looker:
        open_file(looker, path)
        looker.press_first("How it is written")
        looker.press("log")
        looker.press("Go on")
        preview_of(qtbot, looker)
        bring_in(qtbot, looker, "Bring in 1")
        assert looker.readings[0].glucose.steps == 128


def test_stop_while_it_is_written_leaves_the_log_as_it_was(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first batch is held until Stop was pressed; then it must not be in the log."""
    lines = "date,time,mg/dl\n" + "".join(
        f"2025-{1 + n // 28 % 12:02d}-{1 + n % 28:02d},{n // 400:02d}:15,{90 + n % 100}\n"
        for n in range(1500)
    )
    begun, go = threading.Event(), threading.Event()

    def held(*arguments: object, **named: object) -> object:
        begun.set()
        go.wait(20)
        return importing.bring_in(*arguments, **named)  # type: ignore[arg-type]

    monkeypatch.setattr("logbook.ui.pages.bring_in_preview.bring_in", held)
    with looking_window(tmp_path, prepare=there_already) as looker:
        open_file(looker, written(tmp_path, lines))
        looker.press("Go on")
        view = preview_of(qtbot, looker)
        looker.press(view.main_text())
        qtbot.waitUntil(begun.is_set, timeout=10_000)
        looker.press("Stop")
        go.set()
        qtbot.waitUntil(lambda: not looker.window.desk.work.is_busy, timeout=20_000)
        qtbot.waitUntil(lambda: not view.stop.isVisible(), timeout=5_000)
        assert looker.message == "Stopped. Nothing was brought in."
        assert len(looker.readings) == 1
        assert view.main_text()  # it can be brought in after all


@pytest.mark.parametrize("name", ["log.json", "log.zip", "log.csv"])
def test_stop_while_a_file_is_read_that_tells_itself(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """The job is held until Stop was pressed; it ends where it next tells how far it is."""
    one = one_reading("2026-02-01 07:15", 131)
    log = WholeLog(
        LogSettings(),
        tuple(replace(one, id=uuid4(), glucose=Glucose.number(70 + n, Unit.MG_DL))
              for n in range(600)),
    )  # fmt: skip
    now = one.at.instant + timedelta(days=1)
    path = tmp_path / name
    if name.endswith(".json"):
        path.write_bytes(fhir_bundle(log, now))
    else:
        path.write_bytes(table_archive(log) if name.endswith(".zip") else reading_table(log))
    begun, go = threading.Event(), threading.Event()
    read_to_the_end = []

    def held(*arguments: object, **named: object) -> object:
        begun.set()
        go.wait(20)
        found = importing.read_file(*arguments, **named)  # type: ignore[arg-type]
        read_to_the_end.append(found is not None)
        return found

    monkeypatch.setattr("logbook.ui.pages.bring_in_preview.read_file", held)
    with looking_window(tmp_path, prepare=there_already) as looker:
        open_file(looker, path)
        qtbot.waitUntil(begun.is_set, timeout=10_000)
        looker.press("Stop")
        go.set()
        qtbot.waitUntil(lambda: not looker.window.desk.work.is_busy, timeout=20_000)
        assert read_to_the_end == [False]
        qtbot.waitUntil(lambda: bool(looker.message), timeout=5_000)
        assert looker.message == "Stopped. Nothing was brought in."
        assert len(looker.readings) == 1


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("picture.csv", b"\x89PNG\r\n", "is no text"),
        ("empty.csv", b"", "empty.csv"),
        ("broken.xlsx", b"PK\x03\x04" + bytes(90), "damaged"),
    ],
)
def test_a_file_that_is_none_is_told_in_words(
    qtbot: QtBot, tmp_path: Path, name: str, content: bytes, words: str
) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with looking_window(tmp_path) as looker:
        open_file(looker, path)
        assert isinstance(looker.view, PickView)
        assert words in looker.message


def test_lines_that_were_refused_are_saved(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path) as looker:
        open_file(looker, written(tmp_path, CLEAR))
        looker.press("Go on")
        preview_of(qtbot, looker)
        looker.press("Save these lines as a file")
        assert "Saved as “Lines that were not read of old diary" in looker.message
        saved = [path for path in find_files() if path.name.startswith("Lines that were not read")]
        assert "soon" in saved[0].read_text(encoding="utf-8")


@pytest.mark.parametrize("percent", [100, 200, 300])
def test_nothing_is_cut_off_at_any_text_size(qtbot: QtBot, tmp_path: Path, percent: int) -> None:
    with looking_window(tmp_path, prepare=with_vial, percent=percent) as looker:
        looker.view_page.turn_to("import")
        check_geometry(looker)
        view = looker.view
        assert isinstance(view, PickView)
        view.open_file(written(tmp_path, DOUBTFUL))
        for name in (
            "import_columns",
            "import_column",
            "import_unit",
            "import_order",
            "import_words",
            "import_form",
        ):
            looker.view_page.turn_to(name)
            check_geometry(looker)
            check_names_and_order(looker)
        looker.view_page.turn_to("import_preview")
        preview = preview_of(qtbot, looker)
        assert preview.shared.isVisible()
        assert preview.beyond.isVisible()
        check_geometry(looker)
        check_names_and_order(looker)


def test_other_sheets_and_pages_are_told(qtbot: QtBot, tmp_path: Path) -> None:
    """What lies in another sheet, or in the next answer of a server, is not left out unsaid."""
    rows: Rows = [["Date", "Time", "mg/dL"], [datetime(2026, 3, 1), time(7, 15), 128]]
    book = write_xlsx(tmp_path / "a.xlsx", {"first half": rows, "second half": rows})
    bundle = json.loads(fhir_bundle(WholeLog(LogSettings()), datetime(2026, 3, 1, tzinfo=UTC)))
    bundle["link"] = [{"relation": "next", "url": "https://fhir.example/Observation?page=2"}]
    page = written(tmp_path, json.dumps(bundle), "page.json")
    with looking_window(tmp_path) as looker:
        open_file(looker, book)
        assert "Only the sheet “first half” is read. There is one more." in looker.words()
        looker.press("Back", "Back")
        open_file(looker, page)
        preview_of(qtbot, looker)
        assert "This file is one page of several. Bring in the others too." in looker.words()
