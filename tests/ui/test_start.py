"""The start of the window: what is missing is said in words, and one log has one window."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook import app
from logbook.book import Book
from logbook.domain.errors import LogbookError, NewerLog
from logbook.domain.settings import LogSettings
from logbook.screen_check import Lack, Missing, find_missing
from logbook.ui import first_window
from logbook.ui.main_window import MainWindow
from logbook.ui.page import LaterPage
from logbook.ui.problems import ProblemWindow
from logbook.ui.theme import Look, register_fonts
from tests.ui.writing_window import NOON, settle, writing_window

ROOT = Path(__file__).resolve().parents[2]
WITH_SCREEN = {"DISPLAY": ":0"}


def every_library(_name: str) -> bool:
    return True


def test_without_a_screen_it_says_so_before_qt_is_imported(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from logbook.app import run;"
        f"status = run(Path({str(tmp_path / 'my.logbook')!r}));"
        "print('PySide6' in sys.modules, status)"
    )
    without = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    environment = {name: value for name, value in os.environ.items() if name not in without}
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert ran.stdout.split() == ["False", "1"]
    assert ran.stderr.strip() == (
        "There is no screen here, so no window can open. The commands work without."
    )
    assert not (tmp_path / "my.logbook").exists()


def test_missing_libraries_are_named_with_the_line_that_brings_them() -> None:
    gone = {"libxcb-cursor.so.0", "libEGL.so.1"}
    missing = find_missing(WITH_SCREEN, lambda name: name not in gone, "linux")
    assert missing == Missing(Lack.LIBRARIES, "sudo apt install libegl1 libxcb-cursor0")
    assert missing.line in app.missing_text(missing)


def test_a_wayland_screen_needs_no_x11_libraries() -> None:
    missing = find_missing({"WAYLAND_DISPLAY": "wayland-0"}, lambda n: "xcb" not in n, "linux")
    assert missing is None


def test_nothing_is_missing_where_all_is_there() -> None:
    assert find_missing(WITH_SCREEN, every_library, "linux") is None
    assert find_missing({"QT_QPA_PLATFORM": "offscreen"}, every_library, "linux") is None
    assert find_missing({}, every_library, "linux") == Missing(Lack.SCREEN)
    assert find_missing({}, every_library, "win32") is None


def test_the_libraries_that_are_asked_for_are_those_of_the_debian_list() -> None:
    listed = (ROOT / "resources" / "debian-packages").read_text(encoding="utf-8").split()
    missing = find_missing(WITH_SCREEN, lambda _name: False, "linux")
    assert missing is not None
    wanted = set(missing.line.removeprefix("sudo apt install ").split())
    # What every Debian with a desktop has need not be in the list.
    basic = {"libfreetype6", "libglib2.0-0"}
    assert wanted - basic <= set(listed)


# --- opening the log ----------------------------------------------------------------------------


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    sentences: list[str] = []
    monkeypatch.setattr(app, "_tell", lambda _look, text: sentences.append(text))
    return sentences


def opened_at(path: Path) -> tuple[Book, LogbookError | None]:
    opened = app._open_book(path, Look())
    assert isinstance(opened, tuple)
    return opened


def test_a_log_of_a_newer_program_opens_to_be_read_and_keeps_the_reason(
    qtbot: QtBot, tmp_path: Path, told: list[str]
) -> None:
    path = tmp_path / "my.logbook"
    opened_at(path)[0].close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA user_version = 99")
    before = path.read_bytes()
    book, only_read_because = opened_at(path)
    book.close()
    assert book.is_read_only
    assert isinstance(only_read_because, NewerLog)
    assert path.read_bytes() == before
    assert told == []


def test_a_first_start_makes_the_log_in_a_private_folder(
    qtbot: QtBot, tmp_path: Path, told: list[str]
) -> None:
    path = tmp_path / "new folder" / "my.logbook"
    book, only_read_because = opened_at(path)
    book.close()
    assert only_read_because is None
    assert path.parent.stat().st_mode & 0o777 == 0o700
    assert told == []


def test_the_problem_window_says_it_and_closes(qtbot: QtBot) -> None:
    register_fonts()
    window = ProblemWindow(Look(), "The log is empty, as no log ever is.")
    qtbot.addWidget(window)
    window.show()
    settle()
    window.close_button.click()
    assert not window.isVisible()


def test_a_second_start_brings_the_first_window_forward(
    qtbot: QtBot, tmp_path: Path, told: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    came: list[MainWindow] = []
    monkeypatch.setattr(MainWindow, "come_forward", lambda window, _name="": came.append(window))
    with writing_window(tmp_path) as person:
        path = person.book.path
        first_window.listen(person.window, path)
        assert app._open_book(path, Look()) == 0
        qtbot.waitUntil(lambda: bool(came), timeout=2_000)
        assert came == [person.window]
        assert told == []


def test_a_log_in_use_by_no_window_is_told(qtbot: QtBot, tmp_path: Path, told: list[str]) -> None:
    path = tmp_path / "my.logbook"
    with Book.create(path, LogSettings(), lambda: NOON):
        assert app._open_book(path, Look()) == 1
    assert "open elsewhere" in told[0]


_COLLECTING = """
import gc, sys
from pathlib import Path
from PySide6.QtCore import QTimer
from logbook import app
from logbook.ui import first_window
made, told = app._show, []
def show(*arguments):
    told.append(gc.isenabled())
    return made(*arguments)
def listen(window, _path):
    QTimer.singleShot(50, window, lambda: (told.append(gc.isenabled()), window.close()))
app._show, first_window.listen = show, listen
app.run(Path(sys.argv[1]))
print(*told, gc.isenabled(), gc.get_freeze_count())
"""


def test_garbage_is_looked_for_again_once_the_window_is_there(tmp_path: Path) -> None:
    """Not while the start makes everything; then it is, and nothing is held for good."""
    done = subprocess.run(
        [sys.executable, "-c", _COLLECTING, str(tmp_path / "my.logbook")],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.split() == ["False", "True", "True", "0"]


def test_every_page_that_is_named_can_be_loaded(qtbot: QtBot) -> None:
    for offered in app.page_types():
        kind = offered.load() if isinstance(offered, LaterPage) else offered
        assert (kind.name, kind.label()) == (offered.name, offered.label())
        assert offered.sign is not None
