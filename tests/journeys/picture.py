"""Makes the picture of the README: *Write down* on the invented demonstration log.

    python -m tests.journeys.picture docs/pictures/write-down.png

It needs no screen. The day, the log and the faces are always the same, and so is the picture, but
for what another version of Qt draws differently.
"""

from __future__ import annotations

import os
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from logbook.app import page_types
from logbook.book import Book
from logbook.demo.making import make_demo_log
from logbook.domain.moments import Moment
from logbook.preferences import Preferences
from logbook.ui.desk import Desk
from logbook.ui.main_window import MainWindow
from logbook.ui.pages.help import Help
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.theme import register_fonts
from logbook.wording.manner import Manner, set_manner

ZONE = "America/New_York"
NOW = datetime(2026, 3, 31, 16, 4, tzinfo=UTC)  # 12:04 in New York, an invented day
WIDTH, HEIGHT = 1280, 720
NUMBER = "128"


def make_picture(path: Path) -> None:
    """Draw the window at `path`; its folder is made when it is not there. Needs a QApplication."""
    register_fonts()
    set_manner(Manner("en_US"))
    QApplication.setStyle("Fusion")
    path.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_demo_log(folder / "demo.logbook", Moment.at(NOW, ZONE))
        with Book.open(folder / "demo.logbook", lambda: NOW, read_only=True) as book:
            _draw(book, folder, path)


def _draw(book: Book, folder: Path, path: Path) -> None:
    desk = Desk(
        book,
        lambda: NOW,
        lambda: ZONE,
        preferences=Preferences(),
        preferences_path=folder / "preferences.json",
        state_folder=folder / "state",
    )
    window = MainWindow(desk, page_types(), Help)
    try:
        window.resize(WIDTH, HEIGHT)
        window.show()
        page = window.pages["write_down"]
        assert isinstance(page, WriteDown)
        for digit in NUMBER:
            page.filling.type(digit)
        QApplication.processEvents()
        if not window.grab().save(str(path)):
            raise OSError(f"the picture could not be written: {path}")
    finally:
        window.close()
        window.deleteLater()
        QApplication.processEvents()


if __name__ == "__main__":
    if len(sys.argv) != 2:
        raise SystemExit("python -m tests.journeys.picture FILE.png")
    application = QApplication([])
    make_picture(Path(sys.argv[1]))
