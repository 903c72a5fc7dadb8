"""Two starts on one log, as real processes: the first window comes forward, a kill bars none."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.domain.settings import LogSettings
from tests.ui.writing_window import NOON

ROOT = Path(__file__).resolve().parents[2]
_AT_MOST = 60.0  # seconds, for a slow machine
_WINDOW = """
import sys
from pathlib import Path
from logbook import app
from logbook.ui import first_window
from logbook.ui.main_window import MainWindow
log, marks = Path(sys.argv[1]), Path(sys.argv[2])
come_forward, listen = MainWindow.come_forward, first_window.listen
def noting(window, page_name=""):
    marks.joinpath("came forward").touch()
    come_forward(window, page_name)
def listening(window, path):
    listen(window, path)
    marks.joinpath("listens").touch()
MainWindow.come_forward, first_window.listen = noting, listening
sys.exit(app.run(log))
"""


class Starts:
    """Starts of the program on one log; all that are left are ended."""

    def __init__(self, folder: Path, short: str) -> None:
        self.log = folder / "my.logbook"
        self.marks = folder / "marks"
        self.marks.mkdir()
        self._environment = {
            **os.environ,
            "QT_QPA_PLATFORM": "offscreen",
            "TMPDIR": short,
            "XDG_CONFIG_HOME": str(folder / "config"),
            "XDG_STATE_HOME": str(folder / "state"),
        }
        self._all: list[subprocess.Popen[str]] = []

    def start(self) -> subprocess.Popen[str]:
        """One more."""
        process = subprocess.Popen(
            [sys.executable, "-c", _WINDOW, str(self.log), str(self.marks)],
            cwd=ROOT,
            env=self._environment,
            stderr=subprocess.PIPE,
            text=True,
        )
        self._all.append(process)
        return process

    def wait_for(self, mark: str) -> None:
        """Until a window noted this."""
        wait_until((self.marks / mark).exists)

    def end(self) -> None:
        for process in self._all:
            if process.poll() is None:
                process.kill()
            process.communicate()


def wait_until(is_so: Callable[[], bool]) -> None:
    deadline = time.monotonic() + _AT_MOST
    while not is_so():
        assert time.monotonic() < deadline
        time.sleep(0.02)


@pytest.fixture
def starts(tmp_path: Path) -> Iterator[Starts]:
    # The name of a local socket has at most 107 bytes.
    with tempfile.TemporaryDirectory() as short:
        made = Starts(tmp_path, short)
        yield made
        made.end()


def test_the_second_start_ends_and_the_first_window_comes_forward(starts: Starts) -> None:
    first = starts.start()
    starts.wait_for("listens")
    second = starts.start()
    assert second.wait(_AT_MOST) == 0
    starts.wait_for("came forward")
    assert first.poll() is None


@pytest.mark.parametrize("is_first_start", [False, True])
def test_of_two_starts_at_once_one_stays_and_nothing_is_complained_of(
    starts: Starts, is_first_start: bool
) -> None:
    if not is_first_start:
        Book.create(starts.log, LogSettings(), lambda: NOON).close()
    both = [starts.start(), starts.start()]
    starts.wait_for("came forward")
    wait_until(lambda: any(one.poll() is not None for one in both))
    (ended,) = [one for one in both if one.poll() is not None]
    assert ended.returncode == 0
    assert ended.stderr is not None
    assert "open elsewhere" not in ended.stderr.read()


def test_after_a_kill_the_next_start_opens_and_is_found_by_the_one_after(starts: Starts) -> None:
    first = starts.start()
    starts.wait_for("listens")
    first.send_signal(signal.SIGKILL)
    first.wait(_AT_MOST)
    assert starts.log.with_name("my.logbook.lock").exists()
    (starts.marks / "listens").unlink()
    third = starts.start()
    starts.wait_for("listens")
    assert starts.start().wait(_AT_MOST) == 0
    starts.wait_for("came forward")
    assert third.poll() is None
