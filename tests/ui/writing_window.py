"""A real window with *Write down* on a real log, and a hand that presses and a clock that is moved.

Presses are real events with event times: the hand finds what lies under the middle of a button, and
fails when something else does. No test waits: time passes when the test says so.
"""

from __future__ import annotations

import gc
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from unittest.mock import patch
from uuid import uuid4

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sites import SIDES, Hand, Place, Site, SiteUse
from logbook.domain.slots import Slot
from logbook.domain.ticks import Told
from logbook.preferences import Preferences
from logbook.ui.desk import Desk
from logbook.ui.main_window import MainWindow
from logbook.ui.page import LaterPage, Page
from logbook.ui.pages.help import Help
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.big_button import BigButton
from logbook.ui.theme import register_fonts
from logbook.wording.manner import Manner, set_manner

ZONE = "America/New_York"
NOON = datetime(2026, 3, 31, 16, 4, tzinfo=UTC)  # 12:04 in New York, a Tuesday


class Writer:
    """The window, its log, the clock, and what the hand did (`clicks`, `keys`)."""

    def __init__(self, window: MainWindow, book: Book, clock: list[datetime]) -> None:
        self.window = window
        self.book = book
        self.clock = clock
        self.clicks = 0
        self.keys = 0
        self.event_time = 10_000

    @property
    def page(self) -> WriteDown:
        page = self.window.pages["write_down"]
        assert isinstance(page, WriteDown)
        return page

    @property
    def message(self) -> str:
        return self.window.bar.text

    @property
    def readings(self) -> list[Reading]:
        return self.book.readings()

    def words(self) -> str:
        """Everything that can be read on the page now."""
        from logbook.ui.parts.texts import Words

        return "\n".join(
            words.text() for words in self.page.findChildren(Words) if words.isVisible()
        )

    # --- the hand ---------------------------------------------------------------------------------

    def button(self, text: str) -> BigButton:
        seen = [one for one in self.window.findChildren(BigButton) if one.isVisible()]
        found = [one for one in seen if text in (one.text(), one.accessibleName())]
        assert len(found) == 1, f"“{text}”: {len(found)} of {[one.text() for one in seen]}"
        return found[0]

    def press(self, *texts: str) -> None:
        for text in texts:
            self.click(self.button(text))

    def click(self, widget: QWidget, *, later: int = 1_000, held: int = 90) -> None:
        """Press and release in the middle; `later` milliseconds after the last event."""
        settle()
        spot = widget.mapTo(self.window, widget.rect().center())
        there = self.window.childAt(spot)
        assert there is not None, f"{widget} lies outside the window"
        assert there is widget or widget.isAncestorOf(there), f"{there} lies over {widget}"
        self.down(widget, later=later)
        self.up(widget, later=held)
        self.clicks += 1
        settle()

    def down(self, widget: QWidget, *, later: int = 1_000) -> None:
        self._mouse(QEvent.Type.MouseButtonPress, widget, widget.rect().center(), later)

    def up(self, widget: QWidget, *, later: int = 90, at: QPoint | None = None) -> None:
        spot = widget.rect().center() if at is None else at
        self._mouse(QEvent.Type.MouseButtonRelease, widget, spot, later)

    def _mouse(self, kind: QEvent.Type, widget: QWidget, spot: QPoint, later: int) -> None:
        self.event_time += later
        is_down = kind is QEvent.Type.MouseButtonPress
        event = QMouseEvent(
            kind,
            QPointF(spot),
            QPointF(widget.mapToGlobal(spot)),
            Qt.MouseButton.LeftButton,
            Qt.MouseButton.LeftButton if is_down else Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
        )
        event.setTimestamp(self.event_time)
        QApplication.sendEvent(widget, event)

    def type(self, text: str) -> None:
        """Digits, point, and by name Tab, Enter, Space, Escape, Backspace: "12 8 Tab Enter"."""
        names = {
            "Tab": (Qt.Key.Key_Tab, "\t"),
            "Enter": (Qt.Key.Key_Return, "\r"),
            "Space": (Qt.Key.Key_Space, " "),
            "Escape": (Qt.Key.Key_Escape, "\x1b"),
            "Backspace": (Qt.Key.Key_Backspace, "\b"),
        }
        for word in text.split():
            for key, said in [names[word]] if word in names else _characters(word):
                self.key(key, said)

    def key(self, key: Qt.Key, text: str, *, later: int = 300, repeats: int = 0) -> None:
        self.keys += 1
        steps = [(QEvent.Type.KeyPress, False)] + [(QEvent.Type.KeyPress, True)] * repeats
        steps.append((QEvent.Type.KeyRelease, False))
        for kind, is_repeat in steps:
            self.event_time += later
            focused: QWidget | None = self.window.focusWidget()
            target = self.window if focused is None else focused
            event = QKeyEvent(kind, key, Qt.KeyboardModifier.NoModifier, text, is_repeat)
            event.setTimestamp(self.event_time)
            QApplication.sendEvent(target, event)
        settle()

    def fill(self, field: QLineEdit, text: str) -> None:
        field.setText(text)
        settle()

    # --- the clock --------------------------------------------------------------------------------

    def pass_time(self, **span: float) -> None:
        self.clock[0] += timedelta(**span)
        self.window.beat()
        settle()


def _characters(word: str) -> Sequence[tuple[Qt.Key, str]]:
    return [(Qt.Key(ord(character)), character) for character in word]


def settle() -> None:
    """Let the layouts come to rest."""
    for _round in range(3):
        QApplication.processEvents()


@contextmanager
def writing_window(
    folder: Path,
    *,
    unit: Unit = Unit.MG_DL,
    country: str = "US",
    percent: int = 100,
    contrast: str = "light",
    size: tuple[int, int] = (1280, 660),
    now: datetime = NOON,
    prepare: Callable[[Book], None] | None = None,
    settings: LogSettings | None = None,
    pages: Sequence[type[Page] | LaterPage] = (WriteDown,),
    heard_ring: bool | None = None,
    player: tuple[str, ...] = (),
) -> Iterator[Writer]:
    """A window on the log in `folder`, made when it is not there, closed and gone at the end.

    `player` plays its sounds; without one nothing is heard, whatever this computer has.
    """
    register_fonts()
    set_manner(Manner("en_US"))
    QApplication.setStyle("Fusion")
    clock = [now]
    path = folder / "my.logbook"
    if path.exists():
        book = Book.open(path, lambda: clock[0])
    else:
        chosen = settings or LogSettings(unit=unit, country=country, home_zone=ZONE)
        book = Book.create(path, chosen, lambda: clock[0])
    try:
        if prepare is not None:
            prepare(book)
        desk = Desk(
            book,
            lambda: clock[0],
            lambda: ZONE,
            preferences=Preferences(text_percent=percent, contrast=contrast, heard_ring=heard_ring),
            preferences_path=folder / "config" / "preferences.json",
            state_folder=folder / "state",
        )
        with patch("logbook.ui.ring.find_player", return_value=player):
            window = MainWindow(desk, pages, Help)
        try:
            window.resize(*size)
            window.show()
            settle()
            yield Writer(window, book, clock)
        finally:
            window.close()
            window.deleteLater()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
            settle()
            del window, desk
            gc.collect()
    finally:
        book.close()


def tell_lows(person: Writer, insulin: Told, tablets: Told) -> None:
    """Answer both questions of the last page of the first start."""
    person.click(person.page.first_start.insulin.buttons[insulin])
    person.click(person.page.first_start.tablets.buttons[tablets])


def habit(book: Book) -> None:
    """Three weeks of checks at 7:05, 12:05 and 22:05, with the fingers of the left hand."""
    left = [
        Site(Hand.LEFT, place, side)
        for side in SIDES
        for place in (Place.MIDDLE, Place.RING, Place.LITTLE)
    ]
    unit = book.settings.unit
    low, span = (90, 110) if unit is Unit.MG_DL else (50, 60)
    readings: list[Reading] = []
    for day in range(20, 0, -1):
        for slot, hour in ((Slot.FASTING, 7), (Slot.BEFORE_LUNCH, 12), (Slot.BEDTIME, 22)):
            wall = datetime(2026, 3, 31, hour, 5) - timedelta(days=day)
            at = Moment.from_wall(wall, ZONE)
            number = len(readings)
            readings.append(
                Reading(
                    uuid4(),
                    Glucose.number(low + number * 37 % span, unit),
                    at,
                    at.instant,
                    slot,
                    site=left[number % 6],
                    site_use=SiteUse.USED,
                )
            )
    book.add(*readings)
