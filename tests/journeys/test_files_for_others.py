"""A person takes the log out of the window as a file, and it is what the window said."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.preferences import Preferences
from logbook.ui import saving_places
from logbook.ui.pages.my_plan_files import FILE_VIEWS
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.texts import Words
from tests.ui.plan_window import OpenWindow, open_window, write_readings

SIZE = (1280, 720)
MOST_PRESSES = 4
"""On My plan: down to Files for others, that, what it is for, and where to."""


@pytest.fixture
def documents(person_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = person_folder / "documents"
    monkeypatch.setattr(saving_places, "documents_folder", lambda: folder)
    return folder


def save_file(opened: OpenWindow, label: str, said: str) -> None:
    before = opened.clicks
    opened.desk.go_to("my_plan")
    opened.press("Files for others")
    opened.press(label)
    opened.press("Documents")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.clicks - before <= MOST_PRESSES
    assert said in opened.message
    assert opened.page.view_name == "files"


def test_readings_for_a_spreadsheet(qtbot: QtBot, tmp_path: Path, documents: Path) -> None:
    with open_window(qtbot, tmp_path, size=SIZE) as opened:
        write_readings(opened.book, 5)
        save_file(opened, "Readings for a spreadsheet", "Saved as “Readings")
    (file,) = documents.iterdir()
    assert file.suffix == ".csv"
    rows = list(csv.DictReader(io.StringIO(file.read_text(encoding="utf-8"), newline="")))
    assert [row["glucose (mg/dL)"] for row in rows] == ["105", "104", "103", "102", "101"]


def test_everything_for_a_spreadsheet(qtbot: QtBot, tmp_path: Path, documents: Path) -> None:
    with open_window(qtbot, tmp_path, size=SIZE) as opened:
        write_readings(opened.book, 5)
        save_file(opened, "Everything for a spreadsheet", "Saved as “Whole log")
    (file,) = documents.iterdir()
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
        assert {"readings.csv", "settings.csv", "control-tests.csv"} <= set(archive.namelist())


def test_a_file_for_a_clinic(qtbot: QtBot, tmp_path: Path, documents: Path) -> None:
    with open_window(qtbot, tmp_path, size=SIZE) as opened:
        write_readings(opened.book, 5)
        save_file(opened, "For the computer of a clinic", "Saved as “Readings for a clinic")
    (file,) = documents.iterdir()
    entries = json.loads(file.read_bytes())["entry"]
    assert [one["resource"]["resourceType"] for one in entries] == ["Patient"] + ["Observation"] * 5


def test_each_view_says_that_it_is_not_encrypted(
    qtbot: QtBot, tmp_path: Path, documents: Path
) -> None:
    with open_window(qtbot, tmp_path, size=SIZE) as opened:
        opened.desk.go_to("my_plan")
        for view in FILE_VIEWS:
            opened.page.turn_to(view)
            opened.wait_for_jobs()
            said = [one.text() for one in opened.view.findChildren(Words) if one.isVisible()]
            assert any("not encrypted" in one for one in said), (view, said)


@pytest.mark.parametrize("percent", [100, 200, 300])
def test_nothing_is_cut_off(qtbot: QtBot, tmp_path: Path, documents: Path, percent: int) -> None:
    preferences = Preferences(paper="letter", text_percent=percent)
    with open_window(qtbot, tmp_path, preferences=preferences, size=SIZE) as opened:
        opened.desk.go_to("my_plan")
        for view in ("files", "files_readings", "files_everything", "files_clinic"):
            opened.page.turn_to(view)
            opened.wait_for_jobs()
            for button in opened.view.findChildren(BigButton):
                if button.isVisible():
                    assert button.height() >= max(48, button.heightForWidth(button.width()))
            assert not any(
                one.area.horizontalScrollBar().isVisible()
                for one in opened.view.findChildren(ScrollPage)
            )
