"""A real window with *Fingers* and *Look back* on a real log, and what is checked of every view."""

from __future__ import annotations

import gc
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from uuid import uuid4

from PySide6.QtCore import QEvent, QPoint, QRect, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import HandsPricked, LogSettings
from logbook.domain.sites import SIDES, Hand, Place, Site, SiteUse
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Appointment, Medicine
from logbook.preferences import Preferences
from logbook.ui.desk import Desk
from logbook.ui.main_window import MainWindow
from logbook.ui.pages.fingers import Fingers
from logbook.ui.pages.help import Help
from logbook.ui.pages.look_back import LookBack
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.tab_order import way_from
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import register_fonts
from logbook.wording.manner import Manner, set_manner
from tests.ui.writing_window import NOON, ZONE, Writer, settle

TODAY = date(2026, 3, 31)
BOTH_HANDS = LogSettings(home_zone=ZONE, country="US", hands_pricked=HandsPricked.BOTH)
_LEAST_SIDE, _LEAST_GAP = 44, 8


class Looker(Writer):
    """The window, its log, the clock and the hand; a press first brings its button in sight."""

    @property
    def view_page(self) -> ViewPage:
        page = self.window.page
        assert isinstance(page, ViewPage)
        return page

    @property
    def view(self) -> View:
        return self.view_page.view

    def settings(self) -> LogSettings:
        """The log's settings as they are now."""
        return self.book.settings

    @property
    def title(self) -> str:
        return self.view_page.title.text()

    def words(self) -> str:
        """Everything that can be read on the page now."""
        shown = [self.window.page.title, *self.view.findChildren(Words)]
        return "\n".join(words.text() for words in shown if words.isVisible())

    def press(self, *texts: str) -> None:
        for text in texts:
            button = self.button(text)
            self._bring_in_sight(button)
            self.click(button)

    def starting_with(self, text: str) -> list[BigButton]:
        """The buttons whose spoken name begins like this, from above to below."""
        found = [
            one
            for one in self.view.findChildren(BigButton)
            if one.isVisible() and (one.accessibleName() or one.text()).startswith(text)
        ]
        return sorted(found, key=lambda one: one.mapTo(self.window, QPoint(0, 0)).y())

    def press_first(self, text: str) -> None:
        button = self.starting_with(text)[0]
        self._bring_in_sight(button)
        self.click(button)

    def _bring_in_sight(self, button: QWidget) -> None:
        settle()
        scrolled = self.view_page.scrolled
        if not scrolled.content.isAncestorOf(button):
            return
        viewport = scrolled.area.viewport()
        for _turn in range(40):
            if viewport.rect().contains(button.mapTo(viewport, button.rect().center())):
                return
            is_below = button.mapTo(viewport, QPoint(0, 0)).y() > 0
            self.click(scrolled.down if is_below else scrolled.up)
            self.clicks -= 1
        raise AssertionError(f"can't be brought in sight: {button}")


@contextmanager
def looking_window(
    folder: Path,
    page: str = "look_back",
    *,
    prepare: Callable[[Book], object] | None = None,
    settings: LogSettings = BOTH_HANDS,
    percent: int = 100,
    contrast: str = "light",
    size: tuple[int, int] = (1280, 660),
    now: datetime = NOON,
) -> Iterator[Looker]:
    """A window on a new log in `folder`, closed and gone at the end."""
    register_fonts()
    set_manner(Manner("en_US"))
    QApplication.setStyle("Fusion")
    clock = [now]
    book = Book.create(folder / "my.logbook", settings, lambda: clock[0])
    try:
        if prepare is not None:
            prepare(book)
        desk = Desk(
            book,
            lambda: clock[0],
            lambda: ZONE,
            preferences=Preferences(text_percent=percent, contrast=contrast),
            preferences_path=folder / "config" / "preferences.json",
            state_folder=folder / "state",
        )
        window = MainWindow(desk, [Fingers, LookBack], Help)
        try:
            window.resize(*size)
            window.show_page(page)
            window.show()
            settle()
            yield Looker(window, book, clock)
        finally:
            window.close()
            window.deleteLater()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
            settle()
            del window, desk
            gc.collect()
    finally:
        book.close()


# --- logs -----------------------------------------------------------------------------------------


def target(
    kind: TargetKind, lowest: int | None, highest: int, holds_from: date = date(2020, 1, 1)
) -> Target:
    lower = None if lowest is None else Limit(Operator.AT_LEAST, lowest)
    limits = Limits(Unit.MG_DL, lower, Limit(Operator.AT_MOST, highest))
    return Target(uuid4(), kind, (limits,), holds_from, SetBy.PROVIDER)


def one_reading(wall: str, steps: int, slot: Slot = Slot.FASTING, **more: object) -> Reading:
    at = Moment.from_wall(datetime.fromisoformat(wall), ZONE)
    return Reading(uuid4(), Glucose.number(steps, Unit.MG_DL), at, at.instant, slot, **more)  # type: ignore[arg-type]


def full_log(book: Book) -> None:
    """Forty days with everything that a picture, a list or the hands can show."""
    chance = random.Random(11)
    sites = [
        Site(hand, place, side)
        for hand in Hand
        for place in (Place.MIDDLE, Place.RING, Place.LITTLE)
        for side in SIDES
    ]
    readings = []
    hours = (
        (7, Slot.FASTING),
        (12, Slot.BEFORE_LUNCH),
        (14, Slot.AFTER_LUNCH),
        (22, Slot.BEDTIME),
    )
    for back in range(40):
        day = TODAY - timedelta(days=back)
        for hour, slot in hours if back else hours[:1]:
            wall = f"{day} {hour:02d}:{chance.randrange(60):02d}"
            steps = chance.choice([48, 62, 75, *[chance.randrange(80, 200)] * 9, 320])
            site = chance.choice(sites)
            # The first bite was 75 to 90 minutes before; the checks before lunch vary.
            more = {"minutes_after": 75 + 5 * (back % 4)} if slot is Slot.AFTER_LUNCH else {}
            readings.append(
                one_reading(wall, steps, slot, site=site, site_use=SiteUse.USED, **more)
            )
    book.take_in(readings, "invented.csv")
    book.add(
        target(TargetKind.FASTING, 80, 130),
        target(TargetKind.BEFORE_MEALS, 80, 130),
        target(TargetKind.AFTER_MEALS, None, 180),
        target(TargetKind.BEDTIME, 90, 150),
        target(TargetKind.FASTING, 90, 150, date(2026, 3, 16)),
        Medicine(uuid4(), "Invented evening tablet", date(2026, 3, 24)),
        Spell(uuid4(), SpellKind.ILL, date(2026, 3, 8), date(2026, 3, 11)),
        Appointment(uuid4(), date(2026, 3, 3)),
    )


def long_series(count: int) -> list[Reading]:
    """`count` noisy readings, seven a day, the last one yesterday."""
    chance = random.Random(5)
    slots = (
        Slot.FASTING,
        Slot.AFTER_BREAKFAST,
        Slot.BEFORE_LUNCH,
        Slot.AFTER_LUNCH,
        Slot.BEFORE_DINNER,
        Slot.AFTER_DINNER,
        Slot.BEDTIME,
    )
    readings = []
    for number in range(count):
        back, place = divmod(number, 7)
        day = TODAY - timedelta(days=1 + back)
        wall = f"{day} {7 + 2 * place:02d}:{chance.randrange(60):02d}"
        steps = min(600, max(40, int(chance.gauss(140, 45))))
        readings.append(one_reading(wall, steps, slots[place]))
    return readings


# --- what holds on every view ---------------------------------------------------------------------


def check_geometry(looker: Looker) -> None:
    """Nothing clipped, overlapped or too small, wherever the page is scrolled to."""
    settle()
    window, content = looker.window, looker.view_page.scrolled.content
    room = content.width()
    for part in looker.view.findChildren(QWidget):
        if not part.isVisible() or part.window() is not window:
            continue
        if isinstance(part, Words | BigButton | QLineEdit):
            left = part.mapTo(content, QPoint(0, 0)).x()
            assert left >= 0, _named(part)
            assert left + part.width() <= room, f"{_named(part)} reaches over the page"
            _check_inside_parents(part, content)
    for words in looker.view.findChildren(Words):
        if words.isVisible() and words.text():
            _check_words(words)
    buttons = [one for one in looker.view.findChildren(BigButton) if one.isVisible()]
    in_bar = looker.view_page.bar_actions.findChildren(BigButton)
    buttons += [one for one in in_bar if one.isVisible()]
    for button in buttons:
        _check_button(button)
    _check_gaps([one for one in buttons if content.isAncestorOf(one)], content)


def _check_inside_parents(part: QWidget, content: QWidget) -> None:
    parent = part.parentWidget()
    while parent is not None and parent is not content:
        box = QRect(part.mapTo(parent, QPoint(0, 0)), part.size())
        assert parent.rect().contains(box), f"{_named(part)} is cut off by {parent}"
        parent = parent.parentWidget()


def _check_words(words: Words) -> None:
    metrics = QFontMetrics(words.font())
    flags = Qt.TextFlag.TextWordWrap if words.wordWrap() else Qt.TextFlag.TextSingleLine
    needed = metrics.boundingRect(QRect(0, 0, words.width(), 10_000), int(flags), words.text())
    assert needed.height() <= words.height() + 1, f"{_named(words)} is too low"
    assert needed.width() <= words.width() + 1, f"{_named(words)} is too narrow"
    assert words.font().pixelSize() >= 14 * 4 / 3 - 1, f"{_named(words)} is too small"


def _check_button(button: BigButton) -> None:
    assert button.width() >= _LEAST_SIDE, _named(button)
    assert button.height() >= _LEAST_SIDE, _named(button)
    assert button.accessibleName() or button.text(), "a button without a name"
    box = button.text_box()
    metrics = QFontMetrics(button.font())
    flags = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignCenter)
    needed = metrics.boundingRect(QRect(0, 0, box.width(), 10_000), flags, button.text())
    assert needed.height() <= box.height() + 1, f"{_named(button)} is too low"
    assert needed.width() <= box.width() + 1, f"{_named(button)} is too narrow"


def _check_gaps(buttons: list[BigButton], content: QWidget) -> None:
    boxes = [(QRect(one.mapTo(content, QPoint(0, 0)), one.size()), one) for one in buttons]
    for index, (box, one) in enumerate(boxes):
        near = box.adjusted(-_LEAST_GAP + 1, -_LEAST_GAP + 1, _LEAST_GAP - 1, _LEAST_GAP - 1)
        for other_box, other in boxes[index + 1 :]:
            assert not near.intersects(other_box), f"{_named(one)} lies close to {_named(other)}"


def check_names_and_order(looker: Looker) -> None:
    """Every place the keyboard stops at has a name, and Tab goes down the page."""
    stops = [
        part
        for part in looker.view.findChildren(QWidget)
        if part.isVisible()
        and part.focusPolicy() & Qt.FocusPolicy.TabFocus
        and part.focusProxy() is None
    ]
    assert stops
    for stop in stops:
        assert stop.accessibleName() or (isinstance(stop, BigButton) and stop.text()), type(stop)
    first = stops[0]
    chain = [first, *(part for part in way_from(first) if part in stops)]
    content = looker.view_page.scrolled.content
    boxes = [QRect(one.mapTo(content, QPoint(0, 0)), one.size()) for one in chain]
    start = boxes.index(min(boxes, key=lambda box: (box.top(), box.left())))
    boxes = boxes[start:] + boxes[:start]
    for before, after in pairwise(boxes):
        # Down, or to the right (the next column may begin higher up).
        is_on = after.top() >= before.top() - 4 or after.left() >= before.right()
        assert is_on, f"Tab goes back from {before} to {after}"


def _named(part: QWidget) -> str:
    text = part.text() if isinstance(part, Words | BigButton | QLineEdit) else ""
    return f"“{text or part.accessibleName()}” ({type(part).__name__})"


def is_scrolled(looker: Looker) -> bool:
    """Whether the page is longer than the window."""
    scrolled: ScrollPage = looker.view_page.scrolled
    return scrolled.up.isVisible()
