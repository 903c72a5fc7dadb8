"""Journeys with real mouse and key events: catching up, and bringing in a file, counted in clicks.

The aims are this project's own: a row takes no click at all, a clear file four, each taken back by
one.
"""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.places import documents_folder
from logbook.ui.pages.bring_in_preview import PreviewView
from tests.ui.looking_window import looking_window, one_reading


def one(book: Book) -> None:
    book.add(one_reading("2026-03-31 07:15", 128))


def test_a_week_from_the_meters_memory(qtbot: QtBot, tmp_path: Path) -> None:
    """Fourteen rows: two clicks in all, one for the page and one for Save."""
    with looking_window(tmp_path, prepare=one) as looker:
        looker.clicks = 0
        looker.press("Catch up")
        for number in range(7):
            for clock, value in (("1 0 : 0 5 p", 150 + number), ("6 : 1 5 a", 110 + number)):
                typed = " ".join(str(value))
                looker.type(f"{clock} Enter {typed} Enter")
        looker.press("Save all 14")
        assert looker.clicks == 2
        assert len(looker.readings) == 15
        days = {reading.at.wall.date() for reading in looker.readings}
        assert len(days) == 8
        looker.click(looker.window.bar.undo)
        assert len(looker.readings) == 1


def test_a_week_of_two_columns_from_a_paper_sheet(qtbot: QtBot, tmp_path: Path) -> None:
    """Fourteen numbers in seven clicks: the page, paper, the way, two columns (three), Save."""
    with looking_window(tmp_path, prepare=one) as looker:
        looker.clicks = 0
        looker.press("Catch up", "A sheet of paper", "Same column, a day later")
        looker.press_first("Fasting")
        looker.type("M a r c h Space 2 3 Enter")
        for value in range(110, 117):
            looker.type(f"{' '.join(str(value))} Enter")
        looker.press("Another column")
        looker.press_first("Bedtime")
        for value in range(150, 157):
            looker.type(f"{' '.join(str(value))} Enter")
        looker.press("Save all 14")
        assert looker.clicks == 7
        added = [reading for reading in looker.readings if reading.note]
        assert [(one.at.wall.day, one.glucose.steps) for one in added] == [
            (day, steps)
            for number, day in enumerate(range(23, 30))
            for steps in (110 + number, 150 + number)
        ]
        looker.click(looker.window.bar.undo)
        assert len(looker.readings) == 1


def test_a_clear_file_among_the_documents(qtbot: QtBot, tmp_path: Path) -> None:
    """Four clicks: the subject, the file, Go on, Bring in. One takes all of it back."""
    documents = documents_folder()
    documents.mkdir(parents=True, exist_ok=True)
    lines = "Date,Time,mg/dL\n" + "".join(
        f"2026-03-{n:02d},07:15,{100 + n}\n" for n in range(1, 29)
    )
    (documents / "kitchen list.csv").write_text(lines, encoding="utf-8")
    with looking_window(tmp_path, prepare=one) as looker:
        looker.clicks = 0
        looker.press("Bring in a file")
        looker.press_first("kitchen list.csv")
        looker.press("Go on")
        view = looker.view
        assert isinstance(view, PreviewView)
        qtbot.waitUntil(lambda: bool(view.main_text()), timeout=20_000)
        looker.press("Bring in 28")
        qtbot.waitUntil(lambda: looker.view_page.view_name == "main", timeout=20_000)
        assert looker.clicks == 4
        assert len(looker.readings) == 29
        looker.click(looker.window.bar.undo)
        assert len(looker.readings) == 1
