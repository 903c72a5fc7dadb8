"""Copies in the window: going back to one, taken back with one press; the journal; a stick."""

from __future__ import annotations

import shutil
import time
from datetime import timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book, check_log
from logbook.domain.actions import Action
from logbook.ui import saving_places
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.my_plan_copies import CopiesView, ElsewhereView
from logbook.ui.pages.my_plan_stick import StickView
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.subject_button import SubjectButton
from tests.ui.plan_window import NOON, OpenWindow, open_window, write_readings
from tests.ui.writing_window import writing_window

_LONGEST = 10.0  # seconds; the goal for going back in the window


def rows(opened: OpenWindow) -> list[SubjectButton]:
    """The copies that are shown, the newest first."""
    view = opened.view
    assert isinstance(view, (CopiesView, ElsewhereView))
    opened.qtbot.waitUntil(lambda: not view.copies.is_reading, timeout=20_000)
    return [one for one in view.copies.findChildren(SubjectButton) if one.isVisible()]


def with_copies(opened: OpenWindow) -> None:
    """Copies: of three days ago with 5 readings, of an hour ago with 8, of now with 9."""
    opened.now[0] = NOON - timedelta(days=3)
    write_readings(opened.book, 5)
    opened.book.make_copy()
    opened.now[0] = NOON - timedelta(hours=1)
    write_readings(opened.book, 3)
    opened.book.make_copy()
    opened.now[0] = NOON
    write_readings(opened.book, 1)
    opened.book.make_copy()  # waits for one that is made in use


def row_with(opened: OpenWindow, held: str) -> SubjectButton:
    return next(one for one in rows(opened) if one.accessibleDescription().startswith(held))


def oldest(opened: OpenWindow) -> str:
    return next(one.file for one in opened.book.copies()[::-1] if "asked" in one.file)


def undoable(book: Book) -> Action | None:
    done = book.undoable
    return None if done is None else done.action


def count(opened: OpenWindow) -> int:
    return len(opened.book.readings())


def test_going_back_takes_three_presses_and_is_taken_back_with_one(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        with_copies(opened)
        opened.window.show_page("my_plan")
        opened.clicks = 0
        began = time.monotonic()
        opened.press("Copies")
        # More are made in use; how far each has come depends on its thread.
        assert rows(opened)[0].accessibleDescription().startswith("9 readings")
        opened.press(row_with(opened, "5 readings"))
        opened.press("Go back to this copy")
        assert time.monotonic() - began < _LONGEST
        assert opened.clicks == 3
        assert count(opened) == 5
        assert "Your log is the copy made" in opened.window.bar.text

        opened.clicks = 0
        opened.press("Undo: going back to a copy")
        assert opened.clicks == 1
        assert count(opened) == 9
        opened.press("Put back: going back to a copy")
        assert count(opened) == 5
    assert check_log(tmp_path / "my.logbook").is_sound


def test_after_the_next_entry_undo_takes_that_entry_back(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        with_copies(opened)
        opened.book.go_back_to(Path(oldest(opened)))
        assert undoable(opened.book) is Action.GO_BACK
        write_readings(opened.book, 1)
        assert undoable(opened.book) is Action.ADD
        opened.book.undo()
        assert count(opened) == 5


def test_going_back_can_be_undone_after_a_restart(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        with_copies(opened)
        opened.book.go_back_to(Path(oldest(opened)))
    with Book.open(tmp_path / "my.logbook", lambda: NOON) as book:
        assert undoable(book) is Action.GO_BACK
        book.undo()
        assert len(book.readings()) == 9


def test_a_damaged_copy_is_not_offered_and_that_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        with_copies(opened)
        for one in opened.book.copies():
            content = bytearray(Path(one.file).read_bytes())
            where = content.find(b"fasting") if one.is_as_now else -1
            if where > 0:
                content[where] ^= 0x01
                Path(one.file).write_bytes(content)
        opened.window.show_page("my_plan/copies")
        assert row_with(opened, "8 readings").isEnabled()
        assert not rows(opened)[0].accessibleDescription().startswith("9 readings")
        view = opened.view
        assert isinstance(view, CopiesView)
        assert view.copies.state.text() == "1 copy is damaged and is not offered."


def test_the_journal_makes_the_log_again_and_that_is_undone_too(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        with_copies(opened)
        opened.window.show_page("my_plan/copies")
        opened.clicks = 0
        opened.press("Make the log again from its journal")
        opened.wait_for_jobs()
        opened.press("Use this log")
        assert opened.clicks == 2
        assert count(opened) == 9
        assert opened.book.check().is_sound
        opened.press("Undo: going back to a copy")
        assert count(opened) == 9
        assert opened.book.check().is_sound


def test_a_journal_that_is_gone_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        (tmp_path / "my.logbook-changes.txt").unlink()
        opened.window.show_page("my_plan/copies_journal")
        opened.wait_for_jobs()
        assert opened.page.main_button is not None
        assert not opened.page.main_button.isVisible()


def test_a_stick_gets_copies_and_a_new_computer_takes_them_back(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stick = tmp_path / "media" / "GREEN"
    stick.mkdir(parents=True)
    monkeypatch.setattr(saving_places, "MEDIA_FOLDERS", (tmp_path / "media",))
    monkeypatch.setattr(
        saving_places.find_sticks, "__defaults__", (None, lambda folder: folder == stick)
    )
    old, new = tmp_path / "old", tmp_path / "new"
    old.mkdir()
    new.mkdir()
    with open_window(qtbot, old) as opened:
        write_readings(opened.book, 7)
        opened.window.show_page("my_plan/copies")
        opened.clicks = 0
        opened.press("A copy on a USB stick")
        opened.press("USB stick GREEN")
        opened.wait_for_jobs()
        assert opened.clicks == 2
        assert "found good" in opened.window.bar.text
        known = opened.book.second_folder()
        assert known is not None
        assert known.last_copy_there == NOON
    shutil.rmtree(old)
    with open_window(qtbot, new) as opened:
        opened.window.show_page("my_plan/copies_elsewhere")
        (only,) = rows(opened)
        opened.press(only)
        opened.press("Go back to this copy")
        assert count(opened) == 7


def test_a_stick_that_is_not_plugged_in_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        stick = tmp_path / "GREEN"
        stick.mkdir()
        opened.window.show_page("my_plan/stick")
        view = opened.view
        assert isinstance(view, StickView)
        view.take_folder(str(stick))
        opened.wait_for_jobs()
        shutil.rmtree(stick)
        opened.press("Back")
        opened.press("A copy on a USB stick")
        words = [one.text() for one in opened.view.findChildren(type(opened.page.title))]
        assert any("not plugged in" in text for text in words)
        assert opened.page.main_button is not None
        assert not opened.page.main_button.isVisible()


# --- what waits -----------------------------------------------------------------------------------


def test_an_old_copy_on_the_stick_is_asked_for_in_words_and_not_today_holds_for_the_day(
    qtbot: QtBot, tmp_path: Path
) -> None:
    stick = tmp_path / "GREEN"
    stick.mkdir()
    with writing_window(tmp_path, pages=(WriteDown, MyPlan)) as person:
        person.book.choose_second_folder(stick)
        person.book.make_copy(stick)
        desk = person.window.desk

        def waiting() -> str:
            person.window.beat()
            button = person.window.side_list.waiting
            return button.text() if button.isVisible() else ""

        person.clock[0] += timedelta(days=6)
        assert waiting() == ""
        person.clock[0] += timedelta(days=3)
        assert waiting() == "The last copy of your log on “GREEN” is 9 days old."
        person.click(person.window.side_list.waiting)
        person.press("Not today")
        assert waiting() == ""
        person.clock[0] += timedelta(days=1)
        assert waiting() == "The last copy of your log on “GREEN” is 10 days old."
        person.clicks = 0
        person.click(person.window.side_list.waiting)
        person.press("Make a copy there", "Make a copy there now")
        assert person.clicks == 3
        qtbot.waitUntil(lambda: not desk.work.is_busy, timeout=20_000)
        person.press("Write down")
        assert waiting() == ""
