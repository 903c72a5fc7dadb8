"""A real window with *Visit* and *My plan* on a real log, and a hand that presses what it sees."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import uuid4

from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.preferences import Preferences
from logbook.ui.desk import Desk
from logbook.ui.main_window import MainWindow
from logbook.ui.pages.help import Help
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.visit import Visit
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import register_fonts

ZONE = "America/New_York"
NOON = datetime(2026, 11, 25, 17, tzinfo=UTC)  # 12:00 in New York, a Wednesday
TODAY = date(2026, 11, 25)
_LONGEST_JOB_MILLISECONDS = 20_000


@dataclass
class OpenWindow:
    """The window and what belongs to it; `clicks` counts what the hand pressed."""

    window: MainWindow
    book: Book
    desk: Desk
    qtbot: QtBot
    clicks: int = 0
    keys: int = 0
    now: list[datetime] = field(default_factory=lambda: [NOON])

    @property
    def page(self) -> ViewPage:
        page = self.window.page
        assert isinstance(page, ViewPage)
        return page

    @property
    def view(self) -> View:
        return self.page.view

    @property
    def message(self) -> str:
        return self.window.bar.text

    def buttons(self) -> list[BigButton]:
        """Every button in sight of the page and the bar, or below it on a page that scrolls."""
        return [one for one in self.window.findChildren(BigButton) if one.isVisible()]

    def button(self, text: str) -> BigButton:
        """The button with this text (the first line of it, or a screen reader's name)."""
        found = [
            one
            for one in self.buttons()
            if text in (one.text(), one.text().split("\n")[0], one.accessibleName())
        ]
        assert found, f"no button “{text}” among {[one.text() for one in self.buttons()]}"
        assert len(found) == 1, f"“{text}” is there {len(found)} times"
        return found[0]

    def press(self, what: str | BigButton) -> None:
        """Press and let go where the button is seen; first Down where it is not in sight."""
        button = self.button(what) if isinstance(what, str) else what
        self._bring_in_sight(button)
        self.click(button)

    def click(self, widget: QWidget) -> None:
        """One press and release in the middle of a widget, which has to be what lies there."""
        QApplication.processEvents()
        spot = widget.mapTo(self.window, widget.rect().center())
        there = self.window.childAt(spot)
        assert there is not None, f"{widget} is not in the window"
        assert there is widget or widget.isAncestorOf(there), f"{there} lies over {widget}"
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton, pos=widget.rect().center())
        self.clicks += 1
        QApplication.processEvents()

    def _bring_in_sight(self, button: QWidget) -> None:
        QApplication.processEvents()
        scrolled = self._scrolled(button)
        for _turn in range(30):
            if scrolled is None or self._is_in_sight(scrolled, button):
                return
            top = button.mapTo(scrolled.area.viewport(), QPoint(0, 0)).y()
            key = scrolled.down if top > 0 else scrolled.up
            self.click(key)
        raise AssertionError(f"{button.text() if isinstance(button, BigButton) else button}")

    def _scrolled(self, widget: QWidget) -> ScrollPage | None:
        parent = widget.parentWidget()
        while parent is not None:
            if isinstance(parent, ScrollPage) and parent.area.isAncestorOf(widget):
                return parent
            parent = parent.parentWidget()
        return None

    def _is_in_sight(self, scrolled: ScrollPage, widget: QWidget) -> bool:
        viewport = scrolled.area.viewport()
        return viewport.rect().contains(widget.mapTo(viewport, widget.rect().center()))

    def key(self, key: Qt.Key) -> None:
        """Press a key where the keyboard is."""
        QTest.keyClick(self.at_keyboard(), key)
        self.keys += 1

    def at_keyboard(self) -> QWidget:
        """What has the keyboard."""
        found = QApplication.focusWidget()
        assert found is not None, "the keyboard is nowhere"
        return found

    def type_into(self, where: QLineEdit | QPlainTextEdit, text: str) -> None:
        """Click into a field, take out what is there, and type."""
        self._bring_in_sight(where)
        self.click(where.viewport() if isinstance(where, QPlainTextEdit) else where)
        self.clicks -= 1
        where.selectAll()
        QTest.keyClicks(where, text)
        if not text:
            QTest.keyClick(where, Qt.Key.Key_Delete)
        QApplication.processEvents()

    def wait_for_jobs(self) -> None:
        """Until what runs off the main thread is done and told."""
        self.qtbot.waitUntil(lambda: not self.desk.work.is_busy, timeout=_LONGEST_JOB_MILLISECONDS)
        QApplication.processEvents()


@contextmanager
def open_window(
    qtbot: QtBot,
    folder: Path,
    *,
    settings: LogSettings | None = None,
    preferences: Preferences | None = None,
    size: tuple[int, int] = (1280, 660),
) -> Iterator[OpenWindow]:
    """A window on a new log in `folder`, closed and gone at the end."""
    register_fonts()
    now = [NOON]
    book = Book.create(folder / "my.logbook", settings or LogSettings(), lambda: now[0])
    desk = Desk(
        book,
        lambda: now[0],
        lambda: ZONE,
        preferences=preferences or Preferences(paper="letter"),
        preferences_path=folder / "preferences.json",
        state_folder=folder,
    )
    window = MainWindow(desk, [Visit, MyPlan], Help)
    opened = OpenWindow(window, book, desk, qtbot, now=now)
    try:
        window.resize(*size)
        window.show()
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        yield opened
    finally:
        window.close()
        window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        QApplication.processEvents()
        book.close()
        del opened.window, opened.desk
        gc.collect()


def write_readings(book: Book, days: int = 30) -> None:
    """One reading before breakfast on each of the last days, today's included."""
    for back in range(days):
        day = TODAY - timedelta(days=back)
        wall = datetime(day.year, day.month, day.day, 7, 30)
        at = Moment.from_wall(wall, ZONE)
        glucose = Glucose.number(101 + back % 40, Unit.MG_DL)
        book.add(Reading(uuid4(), glucose, at, at.instant, Slot.FASTING))
