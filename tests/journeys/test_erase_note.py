"""Words written by mistake are erased for good from the list of entries: 3 presses, no dialog."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from uuid import uuid4

from PySide6.QtWidgets import QApplication, QDialog
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.happenings import Happening, What
from logbook.domain.readings import Reading
from logbook.ui.pages.look_back_erase import EraseNoteView
from tests.ui.looking_window import looking_window, one_reading

MISTAKE = "call Wilhelmina about the will"


def with_note(book: Book) -> None:
    reading = one_reading("2026-03-31 07:10", 112)
    book.add(reading)
    book.replace(replace(reading, note=MISTAKE))


def test_the_words_of_a_note_go_after_a_second_press(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=with_note) as looker:
        looker.press("Each reading")
        assert MISTAKE in looker.words()
        looker.clicks = 0
        looker.press("Erase note: 112 mg/dL on Mar 31 at 7:10 AM")
        assert isinstance(looker.view, EraseNoteView)
        looker.press("Erase these words")
        assert "This can't be undone." in looker.message
        assert looker.book.readings()[0].note == MISTAKE
        looker.press("Yes, erase them for good")
        assert looker.clicks == 3
        assert looker.book.readings()[0].note == ""
        assert MISTAKE not in looker.words()
        assert "The words of the note are erased" in looker.message
        assert not [one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog)]
        looker.book.undo()
        assert looker.book.readings()[0].note == ""
    for name in ("my.logbook", "my.logbook-changes.txt"):
        assert MISTAKE.encode() not in (tmp_path / name).read_bytes()


def test_leaving_after_the_first_press_keeps_them(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=with_note) as looker:
        looker.press("Each reading", "Erase note: 112 mg/dL on Mar 31 at 7:10 AM")
        looker.press("Erase these words", "Leave as it is")
        assert looker.book.readings()[0].note == MISTAKE


def test_the_note_of_what_happened_without_a_number_goes_too(qtbot: QtBot, tmp_path: Path) -> None:
    def happened(book: Book) -> None:
        reading: Reading = one_reading("2026-03-31 07:10", 112)
        book.add(reading)
        book.add(Happening(uuid4(), What.FALL, reading.at, reading.written_at, note=MISTAKE))

    with looking_window(tmp_path, prepare=happened) as looker:
        looker.press("Each reading")
        looker.press_first("Erase note")
        looker.press("Erase these words", "Yes, erase them for good")
        assert looker.book.happenings()[0].note == ""
        assert looker.book.check().is_sound


def test_at_double_size_undo_is_not_cut(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=with_note, percent=200) as looker:
        looker.press("Each reading")
        looker.press_first("Erase note")
        undo = looker.window.bar.undo
        qtbot.waitUntil(lambda: undo.height() >= undo.sizeHint().height())
        assert undo.text().startswith("Undo: change of 112 mg/dL")
