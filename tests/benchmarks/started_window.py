"""One measured process of `start.py`; it imports nothing that the program would not.

    python tests/benchmarks/started_window.py WHAT FOLDER [SIZE] BEGUN

WHAT is build (a log of SIZE readings), bare, ours or save; BEGUN is the monotonic clock before the
process was made. The last line of its output is what was measured, as JSON.
"""

from __future__ import annotations

import json
import shutil
import sys
import time
from pathlib import Path
from typing import Any

READINGS_A_CHANGE = 100
SAVES = 200


def _build(folder: Path, size: int) -> dict[str, Any]:
    from dataclasses import replace
    from datetime import UTC, datetime, timedelta

    from logbook.book import Book
    from logbook.domain.moments import Moment
    from tests.ui.looking_window import BOTH_HANDS, long_series

    now = datetime.now(UTC)
    # The series ends on a day of its own; what counts here is that the last weeks are full.
    readings = sorted(long_series(size), key=lambda one: one.at.instant)
    days = (now.date() - readings[-1].at.wall.date()).days - 1
    moved = []
    for one in readings:
        at = Moment.from_wall(one.at.wall + timedelta(days=days), "America/New_York")
        moved.append(replace(one, at=at, written_at=at.instant))
    with Book.create(folder / "my.logbook", BOTH_HANDS, lambda: now) as book:
        for first in range(0, size, READINGS_A_CHANGE):
            book.add(*moved[first : first + READINGS_A_CHANGE])
    shutil.rmtree(folder / "my.logbook-copies", ignore_errors=True)
    return {"size": size}


def _open_ours(folder: Path, when_painted: Any) -> None:
    """The program's own start; `when_painted(window)` once the key press is in the display."""
    from logbook import app
    from logbook.ui import first_window

    def press(window: Any, _log_path: Path) -> None:
        display = window.pages["write_down"].form.keypad.display
        _press_and_await(window, display, lambda: when_painted(window))

    first_window.listen = press  # type: ignore[assignment]
    app.run(folder / "my.logbook")


def _press_and_await(window: Any, display: Any, then: Any) -> None:
    from PySide6.QtCore import QEvent, QObject, Qt, QTimer
    from PySide6.QtGui import QKeyEvent
    from PySide6.QtWidgets import QApplication

    class Eye(QObject):
        def eventFilter(self, _watched: QObject, event: QEvent) -> bool:  # noqa: N802  (Qt's name)
            if event.type() is QEvent.Type.Paint:
                text = display.text() if callable(display.text) else display.text
                if text == "7":
                    display.removeEventFilter(self)
                    # The painting itself comes after this filter; the next turn is after it.
                    QTimer.singleShot(0, self, then)
            return False

    window.eye = Eye(window)
    display.installEventFilter(window.eye)
    for kind in (QEvent.Type.KeyPress, QEvent.Type.KeyRelease):
        event = QKeyEvent(kind, Qt.Key.Key_7, Qt.KeyboardModifier.NoModifier, "7")
        QApplication.sendEvent(window.focusWidget() or window, event)


def _measure_ours(folder: Path, begun: float) -> dict[str, Any]:
    found: dict[str, Any] = {}

    def tell(window: Any) -> None:
        found.update(_figures(begun))
        window.pages["write_down"].filling.clear()  # no draft for the next start
        window.close()

    _open_ours(folder, tell)
    return found


def _measure_bare(_folder: Path, begun: float) -> dict[str, Any]:
    from PySide6.QtWidgets import QApplication, QLineEdit, QVBoxLayout, QWidget

    application = QApplication([])
    window, field = QWidget(), QLineEdit()
    QVBoxLayout(window).addWidget(field)
    window.resize(1280, 720)
    window.show()
    field.setFocus()
    found: dict[str, Any] = {}

    def tell() -> None:
        found.update(_figures(begun))
        window.close()

    _press_and_await(window, field, tell)
    application.exec()
    return found


def _measure_save(folder: Path, _begun: float) -> dict[str, Any]:
    from PySide6.QtWidgets import QApplication

    seconds: list[float] = []

    def save_often(window: Any) -> None:
        page = window.pages["write_down"]
        page.filling.clear()
        for number in range(SAVES):
            for digit in str(100 + number % 60):
                page.filling.type(digit)
            QApplication.processEvents()
            begun = time.perf_counter()
            page.save_button.click()
            QApplication.processEvents()
            seconds.append(time.perf_counter() - begun)
            assert page.result_step.isVisible()
            page.save_button.click()
            QApplication.processEvents()
            assert page.form.isVisible()
        window.close()

    _open_ours(folder, save_often)
    return {"seconds": seconds}


def _figures(begun: float) -> dict[str, float]:
    usable = time.clock_gettime(time.CLOCK_MONOTONIC) - begun
    held = {}
    for line in Path("/proc/self/status").read_text(encoding="utf-8").splitlines():
        name, _colon, value = line.partition(":")
        if name in ("VmRSS", "VmHWM"):
            held[name] = int(value.split()[0]) / 1024
    return {"usable": usable, "mebibytes": held["VmRSS"], "highest": held["VmHWM"]}


if __name__ == "__main__":
    what, folder, *more = sys.argv[1:]
    begun = float(more[-1])
    if what == "build":
        told = _build(Path(folder), int(more[0]))
    else:
        measure = {"ours": _measure_ours, "bare": _measure_bare, "save": _measure_save}[what]
        told = measure(Path(folder), begun)
    print(json.dumps(told))
