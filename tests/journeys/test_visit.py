"""What a person does before and after an appointment, press by press, on a real log."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPlainTextEdit
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.ui import printing, saving_places
from logbook.ui.printing import Printers, PrintJob
from tests.ui.plan_window import NOON, OpenWindow, open_window, write_readings


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        write_readings(window.book, 40)
        yield window


def printed(monkeypatch: pytest.MonkeyPatch) -> list[PrintJob]:
    """Two printers, and what was sent to them."""
    sent: list[PrintJob] = []
    monkeypatch.setattr(printing, "find_printers", lambda: Printers(("Den", "Hall"), "Hall"))
    monkeypatch.setattr(printing, "print_out", sent.append)
    return sent


def test_the_report_is_printed_in_at_most_4_clicks_from_the_open_window(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.clicks <= 4
    (job,) = sent
    assert (job.printer, job.copies) == ("Hall", 1)
    assert "Fasting (before breakfast)" in pypdf_text(job.content)
    assert opened.message == "Sent to the printer Hall: 1 copy."


def test_it_is_seen_before_it_is_printed_in_4_clicks(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("See the report")
    opened.wait_for_jobs()
    assert opened.view.preview.place.startswith("page 1 of ")  # type: ignore[attr-defined]
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    assert opened.clicks == 4
    assert len(sent) == 1


def test_the_report_is_saved_in_3_clicks_and_its_place_said(
    opened: OpenWindow, person_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = person_folder / "documents"
    monkeypatch.setattr(saving_places, "documents_folder", lambda: folder)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("Save as PDF")
    opened.press("Documents")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.clicks == 3
    assert opened.message == "Saved as Visit report November 25, 2026 in your Documents folder."
    (file,) = folder.iterdir()
    assert "Fasting (before breakfast)" in pypdf_text(file.read_bytes())


def test_a_question_comes_to_mind_and_is_on_the_paper(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.press("Write or see questions")
    field = opened.view.first_field()
    assert isinstance(field, QPlainTextEdit)
    opened.type_into(field, "May I walk before breakfast?")
    opened.press("Add question")
    opened.press("Back")
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    text = " ".join(pypdf_text(sent[0].content).split())
    assert "May I walk before breakfast?" in text


def test_everything_is_there_after_closing_and_opening(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("Write it down")
        opened.type_into(opened.view.day.field, "December 8")  # type: ignore[attr-defined]
        opened.press("Save appointment")
        opened.press("Write or see questions")
        field = opened.view.first_field()
        assert isinstance(field, QPlainTextEdit)
        opened.type_into(field, "One")
        opened.press("Add question")
    with Book.open(tmp_path / "my.logbook", lambda: NOON, read_only=True) as book:
        assert [one.day for one in book.appointments()] == [date(2026, 12, 8)]
        assert [one.text for one in book.questions()] == ["One"]


def test_the_report_is_printed_by_keyboard(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From the page *Visit*: Enter leads to the main action, Enter takes it; twice over."""
    sent = printed(monkeypatch)
    for _view in ("home", "preview", "print"):
        for _time in (1, 2):
            opened.key(Qt.Key.Key_Return)
            opened.wait_for_jobs()
            opened.wait_for_jobs()
    assert len(sent) == 1
    assert opened.keys <= 8


def pypdf_text(content: bytes) -> str:
    import io

    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    return "\n".join(page.extract_text() for page in pages)
