"""The suite's own strictness: everything that is to fail a test does fail one.

Each fault is made on purpose in a run of its own, under this project's configuration; one test
without a fault stands beside them and must pass.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

FAULTS = """
import logging, os, sqlite3, warnings
import pytest
from PySide6.QtCore import QThread, QTimer, qWarning
from PySide6.QtWidgets import QPushButton, QWidget

kept = []

def test_sound(qtbot, expect_logged):
    widget = QWidget()
    qtbot.addWidget(widget)
    expect_logged("expected words")
    logging.getLogger("logbook").warning("expected words")

def test_logs():
    logging.getLogger("logbook").warning("stray")

def test_logs_not_what_was_expected(expect_logged):
    expect_logged("never said")

def test_warns():
    warnings.warn("stray", UserWarning)

def test_qt_warns(qtbot):
    qWarning("stray")

def test_slot_raises(qtbot):
    def fail():
        raise ValueError("in a slot")
    button = QPushButton()
    qtbot.addWidget(button)
    button.clicked.connect(fail)
    button.click()

def test_leaves_file_open(tmp_path):
    kept.append(sqlite3.connect(tmp_path / "one.logbook"))
    kept[-1].execute("CREATE TABLE t (a)")

def test_leaves_window(qtbot):
    kept.append(QWidget())
    kept[-1].show()

def test_leaves_timer(qtbot):
    kept.append(QTimer())
    kept[-1].start(60_000)

def test_leaves_thread(qtbot):
    kept.append(QThread())
    kept[-1].start()

def test_changes_umask():
    os.umask(0)

@pytest.mark.xfail
def test_passes_against_expectation():
    pass

@pytest.mark.never_declared
def test_zzz():
    pass
"""

DIES = """
import os, signal

def test_lives():
    assert True

def test_dies():
    os.kill(os.getpid(), signal.SIGKILL)

def test_lives_on():
    assert True
"""


@pytest.fixture
def small_project(tmp_path: Path) -> Path:
    """A project with this one's configuration and conftest, and no tests yet."""
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    (tmp_path / "tests").mkdir()
    shutil.copy(ROOT / "tests" / "conftest.py", tmp_path / "tests")
    return tmp_path


def run_tests(project: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", *arguments],
        cwd=project,
        capture_output=True,
        text=True,
        check=False,
        timeout=100,
    )


def test_every_fault_fails_and_a_sound_test_passes(small_project: Path) -> None:
    faults = FAULTS.replace("@pytest.mark.never_declared\n", "")
    (small_project / "tests" / "test_faults.py").write_text(faults, encoding="utf-8")

    # The thread left running ends the process once all is reported; what counts is the report.
    output = run_tests(small_project, "-v", "--no-header").stdout

    lines = output.splitlines()
    failed = {
        line.split("::")[1].split()[0]
        for line in lines
        if line.startswith(("FAILED ", "ERROR ")) and "::" in line
    }
    tests = {
        line.split("(")[0].removeprefix("def ")
        for line in faults.splitlines()
        if line.startswith("def test_")
    }
    assert failed == tests - {"test_sound", "test_zzz"}, output


def test_a_marker_nobody_declared_stops_the_run(small_project: Path) -> None:
    (small_project / "tests" / "test_faults.py").write_text(FAULTS, encoding="utf-8")

    run = run_tests(small_project)

    assert run.returncode != 0
    assert "never_declared" in run.stdout


def test_a_test_that_dies_by_signal_is_named_and_the_others_run(small_project: Path) -> None:
    (small_project / "tests" / "test_dies.py").write_text(DIES, encoding="utf-8")

    run = run_tests(small_project, "-n", "1")

    assert run.returncode != 0
    assert "crashed while running 'tests/test_dies.py::test_dies'" in run.stdout
    assert "1 failed, 2 passed" in run.stdout
