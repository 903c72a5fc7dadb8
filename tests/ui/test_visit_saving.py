"""The report as a file: the places that are offered, the name it gets, and what can go wrong."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from logbook.domain.errors import CannotWrite
from logbook.ui import saving_places
from logbook.ui.pages import visit_out
from logbook.ui.pages.visit_out import SaveView
from logbook.ui.saving_places import SavingPlace, find_places, free_path
from tests.ui.plan_window import OpenWindow, open_window, write_readings

NAME = "Visit report November 25, 2026"


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        write_readings(window.book, 5)
        yield window


@pytest.fixture
def documents(person_folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = person_folder / "documents"
    monkeypatch.setattr(saving_places, "documents_folder", lambda: folder)
    return folder


# --- places and names -----------------------------------------------------------------------------


def test_sticks_are_found_below_both_media_folders(documents: Path, tmp_path: Path) -> None:
    media, run_media = tmp_path / "media", tmp_path / "run"
    sticks = [media / "STICK ONE", run_media / "someone" / "STICK TWO"]
    not_mounted = media / "empty"
    for folder in (*sticks, not_mounted):
        folder.mkdir(parents=True)
    places = find_places((media, run_media, tmp_path / "nowhere"), lambda one: one in sticks)
    assert [(place.name, place.folder) for place in places] == [
        ("Documents", documents),
        ("USB stick STICK ONE", sticks[0]),
        ("USB stick STICK TWO", sticks[1]),
    ]
    assert places[1].phrase == "on the USB stick STICK ONE"


def test_a_desktop_is_offered_when_there_is_one(documents: Path, person_folder: Path) -> None:
    assert [place.name for place in find_places(())] == ["Documents"]
    (person_folder / "home" / "Desktop").mkdir()
    assert [place.name for place in find_places(())] == ["Documents", "Desktop"]


def test_a_file_that_is_there_gets_a_number(tmp_path: Path) -> None:
    first = free_path(tmp_path, NAME, ".pdf")
    assert first.name == f"{NAME}.pdf"
    first.touch()
    second = free_path(tmp_path, NAME, ".pdf")
    assert second.name == f"{NAME} 2.pdf"
    second.symlink_to(tmp_path / "nowhere")  # a link that leads nowhere is there too
    assert free_path(tmp_path, NAME, ".pdf").name == f"{NAME} 3.pdf"


def test_a_name_fits_every_stick(tmp_path: Path) -> None:
    assert free_path(tmp_path, "Bericht 25/11: a*b?", ".pdf").name == "Bericht 25 11 a b.pdf"


def test_a_full_stick_is_told_as_such(
    opened: OpenWindow, documents: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(path: Path, _content: bytes) -> None:
        raise CannotWrite(path, why="system", errno=errno.ENOSPC)

    monkeypatch.setattr(visit_out, "write_whole", fail)
    opened.press("Save as PDF")
    opened.press("Documents")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.message == (
        "There is no room left in your Documents folder. Make room, or choose another place."
    )


# --- the view -------------------------------------------------------------------------------------


def test_the_place_is_said_in_words_and_nothing_is_written_over(
    opened: OpenWindow, documents: Path
) -> None:
    for stem in (NAME, f"{NAME} 2"):
        opened.press("Save as PDF")
        opened.press("Documents")
        opened.wait_for_jobs()
        opened.wait_for_jobs()
        assert opened.message == f"Saved as “{stem}” in your Documents folder."
        assert opened.page.view_name == "home"
    files = sorted(documents.iterdir())
    assert [one.name for one in files] == [f"{NAME} 2.pdf", f"{NAME}.pdf"]
    assert len(pypdf.PdfReader(files[1]).pages) >= 1
    assert {one.stat().st_mode & 0o777 for one in files} == {0o600}


def test_a_place_that_can_not_be_written_is_said_and_another_can_be_taken(
    opened: OpenWindow, documents: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    full = tmp_path / "a file, not a folder"
    full.touch()
    places = [
        SavingPlace(full, "USB stick FULL", "on the USB stick FULL"),
        SavingPlace(documents, "Documents", "in your Documents folder"),
    ]
    monkeypatch.setattr(visit_out, "find_places", lambda: places)
    opened.press("Save as PDF")
    opened.press("USB stick FULL")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.message == (
        "The report could not be saved on the USB stick FULL. Choose another place."
    )
    assert opened.page.view_name == "save"
    opened.press("Documents")
    opened.wait_for_jobs()
    assert opened.message == f"Saved as “{NAME}” in your Documents folder."
    assert [one.name for one in documents.iterdir()] == [f"{NAME}.pdf"]


def test_a_stick_that_is_plugged_in_later_is_found(
    opened: OpenWindow, documents: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    places = [SavingPlace(documents, "Documents", "in your Documents folder")]
    monkeypatch.setattr(visit_out, "find_places", lambda: list(places))
    opened.press("Save as PDF")
    opened.press("I plugged in a USB stick")
    assert opened.message == "No other stick was found. Wait a moment after plugging it in."
    stick = tmp_path / "STICK"
    stick.mkdir()
    places.append(SavingPlace(stick, "USB stick STICK", "on the USB stick STICK"))
    opened.press("I plugged in a USB stick")
    opened.press("USB stick STICK")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.message == f"Saved as “{NAME}” on the USB stick STICK."
    assert (stick / f"{NAME}.pdf").is_file()


def test_another_folder_is_chosen_in_the_systems_own_window(
    opened: OpenWindow, documents: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    opened.press("Save as PDF")
    view = opened.view
    assert isinstance(view, SaveView)
    opened.press("Another folder")
    (dialog,) = view.findChildren(QFileDialog)
    assert not dialog.isHidden()
    dialog.fileSelected.emit(str(folder))
    dialog.reject()
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert (folder / f"{NAME}.pdf").is_file()
    assert opened.message == f"Saved as “{NAME}” in the folder {folder}."


def test_closing_the_window_while_the_report_is_made_leaves_nothing(
    qtbot: QtBot, tmp_path: Path, documents: Path
) -> None:
    with open_window(qtbot, tmp_path) as window:
        write_readings(window.book, 5)
        window.press("Save as PDF")
        window.press("Documents")
    left = [one.name for one in documents.iterdir()] if documents.exists() else []
    assert left in ([], [f"{NAME}.pdf"])
