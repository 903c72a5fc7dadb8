"""The self-test: every step works here, each fault is one failed step, and nothing stays behind."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook import self_test
from logbook.book import Book
from logbook.domain.errors import DiskFull
from logbook.domain.readings import Reading
from logbook.ui.desk import Desk
from logbook.ui.page import Page
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.visit import Visit

ROOT = Path(__file__).resolve().parent.parent
STEPS = ["open", "write", "correct", "undo", "plot", "report", "copy", "close", "leave"]


def pages() -> Sequence[type[Page]]:
    return [Visit, MyPlan]


@pytest.fixture(autouse=True)
def temporary_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """All throw-away folders of the test lie here, so that it can be seen that they are gone."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


def failed(results: Sequence[self_test.StepResult]) -> list[str]:
    return [result.step for result in results if not result.is_ok]


def test_every_step_works_and_nothing_is_left(qtbot: QtBot, temporary_folder: Path) -> None:
    results = self_test.run(pages)
    assert [result.step for result in results] == STEPS
    assert failed(results) == [], self_test.result_lines(results)
    assert self_test.result_lines(results)[-1] == "Everything works."
    assert list(temporary_folder.iterdir()) == []


def test_the_persons_own_folders_are_not_touched(qtbot: QtBot, person_folder: Path) -> None:
    before = sorted(person_folder.rglob("*"))
    self_test.run(pages)
    assert sorted(person_folder.rglob("*")) == before


def test_a_full_disk_is_told_in_words(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, temporary_folder: Path
) -> None:
    def fail(*_arguments: object) -> Path:
        raise DiskFull("copy")

    monkeypatch.setattr(Book, "make_copy", fail)
    results = self_test.run(pages)
    assert failed(results) == ["copy"]
    assert "There is no room left on the disk" in results[STEPS.index("copy")].words
    assert self_test.result_lines(results)[-1] == "1 of 9 steps did not work."
    assert list(temporary_folder.iterdir()) == []


def test_an_undo_that_does_nothing_is_caught(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Book, "undo", lambda _self: None)
    results = self_test.run(pages)
    assert "undo" in failed(results)
    assert results[STEPS.index("undo")].words.endswith("100 was expected, 120 was found")


def test_a_correction_without_its_earlier_value_is_caught(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    right = Book.reading
    monkeypatch.setattr(Book, "reading", lambda book, one: _without_past(right(book, one)))
    assert failed(self_test.run(pages))[0] == "correct"


def _without_past(reading: Reading) -> Reading:
    return replace(reading, earlier=())


def test_a_page_that_stays_empty_is_caught(qtbot: QtBot) -> None:
    class Empty(Page):
        name = "empty"

        @staticmethod
        def label() -> str:
            return "An empty page"

        def __init__(self, desk: Desk) -> None:
            super().__init__(desk)
            self.title.hide()

    results = self_test.run(lambda: [Visit, Empty])
    assert failed(results) == ["plot"]
    assert results[STEPS.index("plot")].words.endswith("these stay empty: An empty page")


def test_a_window_without_its_libraries_is_one_failed_step(
    qtbot: QtBot, temporary_folder: Path
) -> None:
    def missing() -> Sequence[type[Page]]:
        raise ImportError("libxcb-cursor.so.0")

    results = self_test.run(missing)
    assert failed(results) == ["plot"]
    assert "libxcb-cursor.so.0" in results[STEPS.index("plot")].words
    assert list(temporary_folder.iterdir()) == []


def test_a_log_that_does_not_open_fails_what_follows_and_says_why(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, temporary_folder: Path
) -> None:
    def fail(*_arguments: object) -> Book:
        raise DiskFull("log")

    monkeypatch.setattr(Book, "create", fail)
    results = self_test.run(pages)
    assert failed(results) == STEPS[:-1]
    assert results[1].words.endswith("there is no open log")
    assert list(temporary_folder.iterdir()) == []


# --- the command ----------------------------------------------------------------------------------


def command(*arguments: str, script: str = "") -> subprocess.CompletedProcess[str]:
    """Run the command where there is no screen, in a process of its own."""
    screens = {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    program = ["-c", script] if script else ["-m", "logbook"]
    return subprocess.run(
        [sys.executable, *program, *arguments],
        cwd=ROOT,
        env={name: value for name, value in os.environ.items() if name not in screens},
        capture_output=True,
        text=True,
        check=False,
        timeout=100,
    )


def test_the_command_says_each_step_and_needs_no_screen(person_folder: Path) -> None:
    before = sorted(person_folder.rglob("*"))
    done = command("self-test")
    lines = done.stdout.splitlines()
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stderr == ""
    assert len(lines) == len(STEPS) + 1
    assert lines[-1] == "Everything works."
    assert all(line.endswith(": yes") for line in lines[:-1])
    assert sorted(person_folder.rglob("*")) == before


def test_the_command_ends_with_1_when_a_step_fails() -> None:
    script = """
import sys
from logbook import cli
from logbook.book import Book
Book.make_copy = lambda self: None
sys.exit(cli.main(["self-test"]))
"""
    done = command(script=script)
    assert done.returncode == 1
    assert "Traceback" not in done.stdout + done.stderr
    assert done.stderr == "1 of 9 steps did not work.\n"
