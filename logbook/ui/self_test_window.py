"""The window's part of the self-test: every page is shown off screen, and none may stay empty."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFontDatabase, QImage
from PySide6.QtWidgets import QApplication

from logbook.book import Book
from logbook.preferences import Preferences
from logbook.ui.desk import Desk
from logbook.ui.main_window import MainWindow
from logbook.ui.page import LaterPage, Page
from logbook.ui.pages.help import Help
from logbook.ui.theme import FIGURE_FACE, TEXT_FACE, register_fonts

# A page without anything on it has its background and little else.
_FEWEST_COLOURS = 12
_EVERY_PIXELS = 3


def find_blank_pages(
    book: Book,
    clock: Callable[[], datetime],
    zone: str,
    folder: Path,
    page_types: Sequence[type[Page] | LaterPage],
) -> list[str]:
    """Show each page on `book`; the words of those that stayed empty. `folder` takes its files.

    Raises:
        FileNotFoundError: a bundled face is missing.
    """
    if QApplication.instance() is None:
        # No screen is needed for it, and nobody has to see it.
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
        _keep.append(QApplication(["self-test"]))
    register_fonts()
    missing = {TEXT_FACE, FIGURE_FACE} - set(QFontDatabase.families())
    if missing:
        raise FileNotFoundError(", ".join(sorted(missing)))
    desk = Desk(
        book,
        clock,
        lambda: zone,
        preferences=Preferences(),
        preferences_path=folder / "preferences.json",
        state_folder=folder,
    )
    window = MainWindow(desk, page_types, Help)
    try:
        window.resize(1280, 660)
        window.show()
        blank = []
        for kind in page_types:
            window.show_page(kind.name)
            QApplication.processEvents()
            if _is_blank(window.page.grab().toImage()):
                blank.append(kind.label())
        return blank
    finally:
        window.close()
        window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        QApplication.processEvents()


def _is_blank(picture: QImage) -> bool:
    colours = {
        picture.pixel(x, y)
        for x in range(0, picture.width(), _EVERY_PIXELS)
        for y in range(0, picture.height(), _EVERY_PIXELS)
    }
    return len(colours) < _FEWEST_COLOURS


# Qt's application must live as long as the process.
_keep: list[QApplication] = []
