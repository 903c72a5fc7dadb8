"""A log that can't be opened: the right sentence, and a page that offers the ways back.

Every damage is done to a real log with a real copy and journal. Whatever lay there is kept, byte
for byte.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from logbook import app
from logbook.book import Book, check_log
from logbook.domain.actions import Action
from logbook.domain.errors import DamagedLog, LogbookError, NewerLog, NoSuchLog, NotALog
from logbook.ui.parts.texts import Words
from logbook.ui.rescue import Outcome, RescueWindow
from logbook.ui.theme import Look, register_fonts
from logbook.wording.copies import cannot_open_text
from logbook.wording.problems import problem_text
from tests.store.records import Clock, make_log, make_reading

AT = datetime(2026, 5, 1, 8, 30, tzinfo=UTC)
ZONE = "America/New_York"


def empty(path: Path) -> None:
    path.write_bytes(b"")


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:5000])


def noise(path: Path) -> None:
    path.write_bytes(bytes(range(7, 256)) * 300)


def head_gone(path: Path) -> None:
    path.write_bytes(b"\xff" * 16 + path.read_bytes()[16:])


def of_another_program(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE songs (name)")


def folder(path: Path) -> None:
    path.unlink()
    path.mkdir()
    (path / "inside.txt").write_text("kept")


def pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def gone(path: Path) -> None:
    path.unlink()


def link_to_nothing(path: Path) -> None:
    path.unlink()
    path.symlink_to(path.with_name("was moved"))


DAMAGES: list[tuple[Callable[[Path], None], type[LogbookError], str]] = [
    (empty, DamagedLog, "The file of your log is empty, as no log ever is"),
    (cut, DamagedLog, "The file of your log has lost its end"),
    (noise, NotALog, "The file where your log should be is no log"),
    (head_gone, DamagedLog, "The file of your log is damaged"),
    (of_another_program, NotALog, "A file of another program lies where your log should be"),
    (folder, NotALog, "A folder lies where your log should be"),
    (pipe, NotALog, "Something that is not a file lies where your log should be"),
    (gone, NoSuchLog, "Your log is no longer at"),
    (link_to_nothing, NoSuchLog, "Your log is no longer at"),
]


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log with a copy that has one reading, and a journal that has two."""
    path = make_log(tmp_path / "my.logbook", make_reading(1))
    book = Book.open(path, Clock(datetime(2026, 4, 1, tzinfo=UTC)))
    book.add(make_reading(2))
    book._store.close()  # without the copy at closing
    return path


@pytest.fixture
def met(monkeypatch: pytest.MonkeyPatch) -> list[LogbookError]:
    """Why the page for ways back came up."""
    errors: list[LogbookError] = []

    def note(_look: Look, _path: Path, error: LogbookError) -> int:
        errors.append(error)
        return 1

    monkeypatch.setattr(app, "_rescue", note)
    return errors


@contextmanager
def rescue(qtbot: QtBot, path: Path, error: LogbookError) -> Iterator[RescueWindow]:
    register_fonts()
    window = RescueWindow(Look(), path, error, lambda: AT, lambda: ZONE)
    window.show()
    try:
        qtbot.waitUntil(lambda: not window._work.is_busy, timeout=20_000)
        QApplication.processEvents()
        yield window
    finally:
        window.close()
        window.deleteLater()
        QApplication.processEvents()


def why_not(path: Path) -> LogbookError:
    with pytest.raises(LogbookError) as caught:
        Book.open(path, Clock(AT)).close()
    return caught.value


def held(path: Path) -> int:
    with Book.open(path, Clock(AT), read_only=True) as book:
        return len(book.readings())


@pytest.mark.parametrize(("damage", "kind", "sentence"), DAMAGES)
def test_each_has_its_sentence_and_brings_up_the_ways_back(
    qtbot: QtBot,
    log: Path,
    met: list[LogbookError],
    damage: Callable[[Path], None],
    kind: type[LogbookError],
    sentence: str,
) -> None:
    damage(log)
    assert app._open_book(log, Look()) == 1
    (error,) = met
    assert type(error) is kind
    assert cannot_open_text(error).startswith(sentence)
    assert str(log.name) in cannot_open_text(error)


@pytest.mark.parametrize("damage", [damage for damage, _kind, _sentence in DAMAGES])
def test_one_press_goes_back_and_keeps_what_lay_there(
    qtbot: QtBot, log: Path, damage: Callable[[Path], None]
) -> None:
    damage(log)
    before = log.read_bytes() if log.is_file() else None
    with rescue(qtbot, log, why_not(log)) as window:
        assert window.main_button.text().startswith("Go back to: ")
        assert not window.begin_new.isVisible()
        QTest.mouseClick(window.main_button, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: not window.isVisible(), timeout=20_000)
        assert window.outcome is Outcome.WENT_BACK
    assert held(log) == 1
    assert check_log(log).is_sound
    with Book.open(log, Clock(AT)) as book:
        assert book.undoable is not None
        assert book.undoable.action is Action.ADD
    kept = [one for one in log.parent.iterdir() if "-set-aside-" in one.name]
    as_it_was = [one for one in kept if one.name.endswith(".logbook")]
    if before is not None:
        assert [one.read_bytes() for one in as_it_was] == [before]
    elif damage is folder:
        assert (as_it_was[0] / "inside.txt").read_text() == "kept"
    elif damage is not gone:
        assert len(as_it_was) == 1


def test_the_journal_brings_back_what_the_copy_does_not_have(qtbot: QtBot, log: Path) -> None:
    noise(log)
    with rescue(qtbot, log, why_not(log)) as window:
        words = " ".join(one.text() for one in window.journal.findChildren(Words))
        assert "It also has what was written after the newest copy." in words
        QTest.mouseClick(window.use_journal, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: not window.isVisible(), timeout=20_000)
        assert window.outcome is Outcome.WENT_BACK
    assert held(log) == 2
    assert check_log(log).is_sound


def test_closing_the_page_changes_nothing(qtbot: QtBot, log: Path) -> None:
    empty(log)
    before = {one.name for one in log.parent.iterdir()}
    with rescue(qtbot, log, why_not(log)) as window:
        window.close_button.click()
        assert window.outcome is Outcome.CLOSED
    assert {one.name for one in log.parent.iterdir()} - {"my.logbook.lock"} <= before
    assert log.read_bytes() == b""


def test_a_new_log_is_offered_only_where_there_is_nothing_to_go_back_to(
    qtbot: QtBot, log: Path
) -> None:
    noise(log)
    shutil.rmtree(log.with_name("my.logbook-copies"))
    log.with_name("my.logbook-changes.txt").unlink()
    with rescue(qtbot, log, why_not(log)) as window:
        assert not window.main_button.isVisible()
        assert not window.use_journal.isVisible()
        QTest.mouseClick(window.begin_new, Qt.MouseButton.LeftButton)
        assert window.outcome is Outcome.BEGIN_NEW


def test_a_start_after_beginning_anew_opens_an_empty_log_and_keeps_the_old_file(
    qtbot: QtBot, log: Path
) -> None:
    noise(log)
    before = log.read_bytes()
    shutil.rmtree(log.with_name("my.logbook-copies"))
    log.with_name("my.logbook-changes.txt").unlink()
    hand = Hand("begin_new")
    said = app._open_book(log, Look())
    hand.stop()
    assert said == "A new log begins. What was there before is kept beside it."
    assert held(log) == 0
    (kept,) = log.parent.glob("*-set-aside-*.logbook")
    assert kept.read_bytes() == before


def test_after_going_back_the_start_goes_on_and_says_so(qtbot: QtBot, log: Path) -> None:
    empty(log)
    hand = Hand("main_button")
    said = app._open_book(log, Look())
    hand.stop()
    assert isinstance(said, str)
    assert said.startswith("Your log is here again. What was there before is kept as my-set-aside-")
    opened = app._open_book(log, Look())
    assert isinstance(opened, tuple)
    with opened[0] as book:
        assert len(book.readings()) == 1


class Hand(QObject):
    """Presses a button of the page for ways back as soon as it can be pressed."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._press)
        self._timer.start(20)

    def stop(self) -> None:
        self._timer.stop()

    def _press(self) -> None:
        for window in QApplication.topLevelWidgets():
            if isinstance(window, RescueWindow) and window.isVisible():
                button = getattr(window, self._name)
                if button.isVisible() and not window._work.is_busy:
                    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def test_a_path_where_nothing_ever_was_begins_a_log(
    qtbot: QtBot, tmp_path: Path, met: list[LogbookError]
) -> None:
    opened = app._open_book(tmp_path / "new" / "my.logbook", Look())
    assert isinstance(opened, tuple)
    opened[0].close()
    assert met == []


def test_a_newer_log_with_other_tables_is_left_as_it_is(
    qtbot: QtBot, log: Path, met: list[LogbookError], monkeypatch: pytest.MonkeyPatch
) -> None:
    with closing(sqlite3.connect(log)) as connection:
        connection.execute("ALTER TABLE readings ADD COLUMN new TEXT")
        connection.execute("PRAGMA user_version = 99")
        connection.commit()
    before = log.read_bytes()
    told: list[str] = []
    monkeypatch.setattr(app, "_tell", lambda _look, text: told.append(text))
    assert app._open_book(log, Look()) == 1
    assert met == []
    assert told == [problem_text(NewerLog(log, why="tables"))]
    assert "cannot read it" in told[0]
    assert log.read_bytes() == before


def test_damage_that_shows_only_when_the_window_is_made_brings_up_the_ways_back_too(
    qtbot: QtBot, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The file opens, and then a page of it that every page of the window needs can't be read."""
    said: list[str] = []
    met: list[LogbookError] = []

    def show(_desk: object, path: Path, message: str) -> tuple[int, None]:
        said.append(message)
        if len(said) == 1:
            raise DamagedLog(path, why="malformed")
        return 0, None

    def rescued(_look: Look, path: Path, error: LogbookError) -> str:
        Book.open(path, Clock(AT)).close()  # the Book of the first window let go of it
        met.append(error)
        return "Your log is here again."

    monkeypatch.setattr(app, "_show", show)
    monkeypatch.setattr(app, "_rescue", rescued)
    monkeypatch.setattr(os, "umask", lambda _mask: 0o022)
    assert app.run(log) == 0
    assert said == ["", "Your log is here again."]
    assert [type(error) for error in met] == [DamagedLog]
