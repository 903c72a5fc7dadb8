"""An error in the program itself keeps what was typed, says so once, and writes no value down."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.errors import DiskFull, LogbookError, LogReadOnly, NewerLog
from logbook.preferences import Preferences
from logbook.ui.entry.saver import Saver
from logbook.ui.problems import NOTES_NAME, Problems
from logbook.wording.problems import problem_text
from tests.ui.writing_window import Writer, settle, writing_window


@contextmanager
def watched(person: Writer) -> Iterator[Problems]:
    problems = Problems(person.window.desk, person.window)
    problems.met.connect(person.window.keep_typed)
    problems.install()
    try:
        yield problems
    finally:
        problems.restore()


def break_save(monkeypatch: pytest.MonkeyPatch, error: Exception) -> None:
    def fail(_saver: Saver) -> None:
        raise error

    monkeypatch.setattr(Saver, "save", fail)


def test_an_error_in_a_slot_keeps_what_was_typed_and_is_said_once(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    break_save(monkeypatch, ValueError("secret 128"))
    hook_before = sys.excepthook
    with writing_window(tmp_path) as person, watched(person):
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert "something it did not expect" in person.message
        assert person.page.filling.file.path.exists()
        assert person.page.form.keypad.display.text == "128"
        notes = (person.window.desk.state_folder / NOTES_NAME).read_text(encoding="utf-8")
        assert "ValueError" in notes
        assert "secret" not in notes
        assert "128" not in notes.replace(__file__, "")
        # The same again is not said again.
        person.window.desk.say("")
        person.press("Save 128 mg/dL")
        assert person.message == ""
    assert sys.excepthook is hook_before


def test_notes_are_for_this_persons_eyes_only(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    break_save(monkeypatch, RuntimeError("x"))
    with writing_window(tmp_path) as person, watched(person):
        person.press("1", "Save 1 mg/dL")
        path = person.window.desk.state_folder / NOTES_NAME
        assert path.stat().st_mode & 0o777 == 0o600


def test_a_named_error_gets_its_own_sentence(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    break_save(monkeypatch, DiskFull("/somewhere/my.logbook"))
    with writing_window(tmp_path) as person, watched(person):
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert "There is no room left on the disk" in person.message


def test_a_save_that_fails_loses_nothing(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with writing_window(tmp_path) as person:

        def fail(*_records: object) -> None:
            raise DiskFull("/somewhere/my.logbook")

        with monkeypatch.context() as patch:
            patch.setattr(person.book, "add", fail)
            person.press("1", "2", "8", "I used this finger", "Save 128 mg/dL")
            assert "This was not saved" in person.message
            assert person.page.form.keypad.display.text == "128"
            assert person.button("I used this finger").isChecked()
        person.press("Save 128 mg/dL")
        assert len(person.readings) == 1
        settle()


@pytest.mark.parametrize("reason", [NewerLog, LogReadOnly])
def test_a_log_opened_only_to_read_says_why_it_can_not_be_written(
    qtbot: QtBot, tmp_path: Path, reason: type[LogbookError]
) -> None:
    from logbook.book import Book
    from logbook.ui.desk import Desk
    from logbook.ui.main_window import MainWindow
    from logbook.ui.pages.help import Help
    from logbook.ui.pages.write_down import WriteDown

    with writing_window(tmp_path) as person:
        path = person.book.path
    clock = person.clock
    with Book.open(path, lambda: clock[0], read_only=True) as book:
        desk = Desk(
            book,
            lambda: clock[0],
            lambda: "UTC",
            preferences=Preferences(),
            preferences_path=tmp_path / "p.json",
            state_folder=tmp_path / "state",
            only_read_because=reason(path),
        )
        window = MainWindow(desk, [WriteDown], Help)
        qtbot.addWidget(window)
        window.resize(1280, 660)
        window.show()
        settle()
        reader = Writer(window, book, clock)
        reader.press("1", "2", "8", "Save 128 mg/dL")
        assert reader.message == problem_text(reason(path))
        assert reader.readings == []
        assert reader.page.form.keypad.display.text == "128"
