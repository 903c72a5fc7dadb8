"""How long *Look back* takes with 73,000 noisy readings, and how much memory: beside a bare window.

Run it with `pytest tests/benchmarks/look_back.py -m benchmark -s`. Each measurement is a process of
its own: one with the program's page showing the whole log, one with an empty window of the same
libraries in which the same number of points is drawn as single symbols. Both are measured in the
same run, so that their ratio says something on any machine.
"""

from __future__ import annotations

import gc
import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path
from statistics import median
from typing import Any

import pytest

READINGS = 73_000
# What a person is promised on an ordinary computer.
OPENS_IN_SECONDS = 1.0
REPAINTS_IN_SECONDS = 0.05
MOST_MEBIBYTES = 260

pytestmark = pytest.mark.benchmark


def test_look_back_with_twenty_years_of_readings(tmp_path: Path) -> None:
    path = tmp_path / "long.logbook"
    _run("build", path)
    ours, bare = _run("ours", path), _run("bare", path)
    for name in ("opens", "repaints", "mebibytes"):
        print(f"{name}: {ours[name]:.3f}, bare {bare[name]:.3f}, {ours[name] / bare[name]:.1f} x")
    print(json.dumps({"ours": ours, "bare": bare}))
    assert ours["readings"] == READINGS
    assert ours["opens"] < OPENS_IN_SECONDS
    assert ours["repaints"] < REPAINTS_IN_SECONDS
    assert ours["mebibytes"] < MOST_MEBIBYTES
    # Marks that share a place are drawn as one, so it must be far below drawing each of them.
    assert ours["repaints"] < bare["repaints"]


def _run(what: str, path: Path) -> dict[str, Any]:
    command = [sys.executable, __file__, what, str(path)]
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(Path.cwd())}
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=environment)
    assert done.returncode == 0, done.stderr
    result: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return result


# --- in a process of its own ----------------------------------------------------------------------


def _build(path: Path) -> dict[str, Any]:
    from logbook.book import Book
    from logbook.domain.targets import TargetKind
    from tests.ui.looking_window import BOTH_HANDS, long_series, target
    from tests.ui.writing_window import NOON

    with Book.create(path, BOTH_HANDS, lambda: NOON) as book:
        book.take_in(long_series(READINGS), "invented.csv")
        book.add(target(TargetKind.FASTING, 80, 130), target(TargetKind.AFTER_MEALS, None, 180))
    return {}


def _measure_ours(path: Path) -> dict[str, Any]:
    from PySide6.QtWidgets import QApplication

    from logbook.book import Book
    from logbook.domain.moments import Period
    from logbook.preferences import Preferences
    from logbook.ui.desk import Desk
    from logbook.ui.main_window import MainWindow
    from logbook.ui.pages.fingers import Fingers
    from logbook.ui.pages.help import Help
    from logbook.ui.pages.look_back import LookBack
    from logbook.ui.theme import register_fonts
    from tests.ui.writing_window import NOON, ZONE

    application = QApplication([])
    register_fonts()
    book = Book.open(path, lambda: NOON)
    desk = Desk(
        book,
        lambda: NOON,
        lambda: ZONE,
        preferences=Preferences(),
        preferences_path=path.with_name("preferences.json"),
        state_folder=path.parent,
    )
    window = MainWindow(desk, [Fingers, LookBack], Help)
    window.resize(1280, 660)
    window.show()
    application.processEvents()

    def open_page() -> None:
        window.show_page("look_back")
        application.processEvents()
        window.grab()

    opens_usual = _seconds(open_page)
    page = window.page
    assert isinstance(page, LookBack)
    span = book.span()
    assert span is not None

    def show_all() -> None:
        page.looking.days = Period(*span)
        page.refresh(None)
        application.processEvents()
        window.grab()

    def turn_to(subject: str) -> None:
        page.turn_to(subject)
        application.processEvents()
        window.grab()

    # All that was read before is forgotten; then each picture and table of the whole log.
    opens_all = _seconds(show_all)
    subjects = {
        subject: _seconds(partial(turn_to, subject))
        for subject in ("day", "pairs", "figures", "lows", "repeats", "time")
    }
    chart = page.view.picture.chart  # type: ignore[attr-defined]
    repaints = median(_seconds(chart.grab) for _n in range(15))
    marks = len(page.view.looked.marks)  # type: ignore[attr-defined]
    memory = _mebibytes()
    window.close()
    book.close()
    return {
        "opens": max(opens_usual, opens_all, *subjects.values()),
        "opens_usual": opens_usual,
        "opens_all": opens_all,
        **{f"opens_{subject}": seconds for subject, seconds in subjects.items()},
        "repaints": repaints,
        "mebibytes": memory,
        "readings": marks,
    }


def _measure_bare(path: Path) -> dict[str, Any]:
    import random

    from PySide6.QtWidgets import QApplication

    application = QApplication([])
    chance = random.Random(5)
    points = [(float(n), chance.gauss(140, 45)) for n in range(READINGS)]

    def open_window() -> Any:
        import pyqtgraph

        plot = pyqtgraph.PlotWidget()
        plot.resize(1060, 280)
        plot.addItem(pyqtgraph.ScatterPlotItem(pos=points, size=13, symbol="o"))
        plot.show()
        application.processEvents()
        plot.grab()
        return plot

    begun = time.perf_counter()
    plot = open_window()
    opens = time.perf_counter() - begun
    repaints = median(_seconds(plot.grab) for _n in range(7))
    memory = _mebibytes()
    plot.close()
    return {"opens": opens, "repaints": repaints, "mebibytes": memory}


def _seconds(work: Callable[[], object]) -> float:
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def _mebibytes() -> float:
    """What the process holds in memory now (Linux)."""
    gc.collect()
    for line in Path("/proc/self/status").read_text(encoding="utf-8").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise AssertionError("no VmRSS")


if __name__ == "__main__":
    measure = {"build": _build, "ours": _measure_ours, "bare": _measure_bare}[sys.argv[1]]
    print(json.dumps(measure(Path(sys.argv[2]))))
