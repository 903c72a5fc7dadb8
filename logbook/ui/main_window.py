"""The window: the list of pages, the page that is shown, the bar. It knows no page by its name.

It hands news of the Book to the pages, keys that no field wanted to the page, and looks at the
clock every few seconds so that the person's new day and waking from sleep are noticed.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time, timedelta
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from logbook.book import Changed, Done
from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.preferences import TEXT_SIZES
from logbook.ui.desk import Desk
from logbook.ui.page import LaterPage, Page
from logbook.ui.page_lists import PageLists
from logbook.ui.pages_page import PagesPage
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.bottom_bar import BottomBar
from logbook.ui.parts.focus_ring import FocusRing
from logbook.ui.parts.tab_order import follow, last_inside
from logbook.ui.theme import ROW_FROM_PERCENT
from logbook.ui.undo_words import put_back_text, returned_text, undo_text, undone_text
from logbook.wording import _
from logbook.wording.numbers import percent_text

BEAT_MILLISECONDS = 5_000
# The clock went on by itself: the computer slept.
_SLEPT = timedelta(minutes=2)


class MainWindow(QWidget):
    """`page_types` are shown in this order; `help_type` is the page behind Help.

    The first page is made at once, the others when they are wanted.
    """

    closing = Signal()

    def __init__(
        self, desk: Desk, page_types: Sequence[type[Page] | LaterPage], help_type: type[Page]
    ) -> None:
        super().__init__()
        self.setObjectName("window")
        self.desk = desk
        desk.setParent(self)
        desk.page_names = frozenset(kind.name for kind in page_types)
        self._page_types = page_types
        self._help_type = help_type
        self._stale: set[str] = set()
        self._came_from = ""
        self._said_before_closing = ""
        self.next_log: Path | None = None
        self._is_alone = False
        self.pages: dict[str, Page] = {}
        self.stack = QStackedWidget()
        self.bar = BottomBar(desk.look)
        self.bar.undo.clicked.connect(self._undo)
        self.bar.put_back.clicked.connect(self._put_back)
        self.bar.for_page.connect(self._show_long_message)
        entries = [(kind.name, kind.label(), kind.sign) for kind in page_types]
        self.lists = PageLists(desk, entries)
        self.side_list, self.row_list = self.lists.both
        for each in self.lists.both:
            each.wanted.connect(self.show_page)
            each.smaller.clicked.connect(self._smaller)
            each.larger.clicked.connect(self._larger)
            each.help.clicked.connect(self._show_help)
            each.waiting.clicked.connect(self._show_waiting)
        for simple in self.lists.simple:
            simple.wanted.connect(self._show_part)
        for person in self.lists.people:
            person.clicked.connect(self._show_logs)
        self._build()
        self._ring = FocusRing(desk.look, self)
        desk.said.connect(self._say)
        desk.sent_to.connect(self.show_page)
        desk.attention_wanted.connect(self.come_forward)
        desk.alone_wanted.connect(self.show_alone)
        desk.waiting_told.connect(self._tell_waiting)
        desk.news.changed.connect(self._hear)
        desk.manner_changed.connect(self.refresh_all)
        desk.simple_changed.connect(self._turn_simple)
        desk.log_wanted.connect(self._leave_for)
        desk.look.changed.connect(self.restyle)
        desk.look.held_too_long.connect(self._tell_long_press)
        self._last_beat = desk.now()
        self._day = desk.today()
        self._pulse = QTimer(self)
        self._pulse.timeout.connect(self.beat)
        self._pulse.start(BEAT_MILLISECONDS)
        self.restyle()
        self.offer_undo()
        self.show_page(page_types[0].name)

    def _build(self) -> None:
        right = QVBoxLayout()
        right.setContentsMargins(0, 0, 0, 0)
        right.setSpacing(0)
        self.lists.add_above(right)
        right.addWidget(self.stack, 1)
        right.addWidget(self.bar)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self.lists.add_beside(row)
        row.addLayout(right, 1)
        self.setMinimumSize(800, 600)
        self.setWindowTitle(_("Fingerstick Logbook"))

    # --- pages --------------------------------------------------------------------------------

    @property
    def page(self) -> Page:
        """The page that is shown."""
        current = self.stack.currentWidget()
        assert isinstance(current, Page)
        return current

    def show_page(self, wanted: str) -> None:
        """Turn to a page, or to a subject of it; it is made when it is wanted first."""
        name, _slash, part = wanted.partition("/")
        if self.desk.is_simple and name != self._page_types[0].name:
            self._say(_("This is on another page. Your helper can open it."))
            return
        if name not in self.pages:
            kind = self._type_of(name)
            if kind is None:
                return
            self._add(kind(self.desk))
            self._stale.add(name)
        page = self.pages[name]
        if self.stack.count() and self.stack.currentWidget() is not page:
            self._say("")
        self.stack.setCurrentWidget(page)
        self.bar.show_actions(page.bar_actions)
        self.lists.show_chosen(name)
        if name in self._stale:
            self._stale.discard(name)
            page.refresh(None)
        page.setFocus(Qt.FocusReason.OtherFocusReason)
        page.shown()
        if part:
            page.open_part(part)

    def _type_of(self, name: str) -> type[Page] | None:
        kinds = [*self._page_types, self._help_type, PagesPage]
        found = next((kind for kind in kinds if kind.name == name), None)
        return found.load() if isinstance(found, LaterPage) else found

    def _add(self, page: Page) -> None:
        self.pages[page.name] = page
        self.stack.addWidget(page)
        self.bar.add_actions(page.bar_actions)
        # The bar was made before the page and lies below it.
        actions = page.bar_actions.findChildren(BigButton)
        follow(last_inside(page), (self.bar.put_back, self.bar.undo, *reversed(actions)))
        if isinstance(page, PagesPage):
            page.offer([(kind.name, kind.label(), kind.sign) for kind in self._page_types])

    def _show_part(self, part: str) -> None:
        self.show_page(f"{self._page_types[0].name}/{part}")

    def _show_logs(self) -> None:
        self.show_page("my_plan/logs")

    def _turn_simple(self) -> None:
        if self.desk.is_simple:
            self.show_page(self._page_types[0].name)
        self.restyle()
        self.refresh_all()

    def _show_waiting(self) -> None:
        self.show_page(f"{self._page_types[0].name}/waiting")

    def _tell_waiting(self, text: str) -> None:
        self.lists.show_waiting(text)

    def _show_help(self) -> None:
        if self.page.name == self._help_type.name:
            self.show_page(self._came_from or self._page_types[0].name)
            return
        self._came_from = self.page.name
        self.show_page(self._help_type.name)

    # --- news and clock -----------------------------------------------------------------------

    def _hear(self, changed: Changed) -> None:
        self._say("")
        self._stale.update(self.pages)
        self._stale.discard(self.page.name)
        self.page.refresh(changed)
        self.offer_undo()
        self.lists.arrange(is_alone=self._is_alone)

    def refresh_all(self) -> None:
        """The day, the language or the unit changed: everything is read again."""
        self._stale.update(self.pages)
        self._stale.discard(self.page.name)
        self.page.refresh(None)
        self.offer_undo()

    def beat(self) -> None:
        """Look at the clock; a new day or a sleep refreshes what is shown."""
        now, day = self.desk.now(), self.desk.today()
        slept = not timedelta(0) <= now.instant - self._last_beat.instant <= _SLEPT
        is_news = slept or day != self._day
        self._last_beat, self._day = now, day
        if is_news:
            self.refresh_all()
        self.page.beat(now)
        for page in self.pages.values():
            page.watch(now)

    def come_forward(self, page_name: str = "") -> None:
        """Show the window above others, with this page."""
        if page_name:
            self.show_page(page_name)
        if self.isMinimized():
            self.showNormal()
        self.raise_()
        self.activateWindow()
        QApplication.alert(self)

    def show_alone(self, is_alone: bool) -> None:
        """Fill the screen with the page that is shown, or give the list of pages back."""
        if is_alone == self._is_alone:
            return
        self._is_alone = is_alone
        state = self.windowState()
        full = Qt.WindowState.WindowFullScreen
        self.setWindowState(state | full if is_alone else state & ~full)
        self.restyle()

    # --- messages and undo --------------------------------------------------------------------

    def offer_undo(self) -> None:
        """Name on the buttons what can be taken back and put back."""
        book, (now, starts_at) = self.desk.book, self._clock()
        undoable, restorable = book.undoable, book.restorable
        if self.desk.is_simple:
            undoable, restorable = map(_of_simple_page, (undoable, restorable))
        self.bar.offer(
            undo_text(undoable, now, starts_at), put_back_text(restorable, now, starts_at)
        )

    def _say(self, text: str) -> None:
        self.bar.say(text)

    def _show_long_message(self, text: str) -> None:
        for page in self.pages.values():
            page.show_long_message(text if page is self.page else "")

    def _clock(self) -> tuple[Moment, time]:
        return self.desk.now(), self.desk.book.settings.day_starts_at

    def _undo(self) -> None:
        done = self.desk.book.undoable
        if done is not None and self.desk.write(self.desk.book.undo) is not None:
            self._say(undone_text(done, *self._clock()))

    def _put_back(self) -> None:
        done = self.desk.book.restorable
        if done is not None and self.desk.write(self.desk.book.put_back) is not None:
            self._say(returned_text(done, *self._clock()))

    def _tell_long_press(self) -> None:
        self._say(_("Press and let go. A long press does nothing."))

    # --- text size ----------------------------------------------------------------------------

    def _smaller(self) -> None:
        self._step(-1)

    def _larger(self) -> None:
        self._step(1)

    def _step(self, direction: int) -> None:
        index = TEXT_SIZES.index(self.desk.preferences.text_percent) + direction
        if 0 <= index < len(TEXT_SIZES):
            if self.desk.prefer(text_percent=TEXT_SIZES[index]):
                self._say(
                    _("Text size is {percent} now.").format(percent=percent_text(TEXT_SIZES[index]))
                )
        elif direction > 0:
            self._say(_("This is the largest text size."))
        else:
            self._say(_("This is the smallest text size."))

    def restyle(self) -> None:
        """Take colours and text size of the present theme."""
        self.setStyleSheet(self.desk.look.sheet_rules())
        is_row = self.desk.look.theme.percent >= ROW_FROM_PERCENT
        self.lists.arrange(is_alone=self._is_alone)
        if not is_row and self.stack.count() and self.page.name == PagesPage.name:
            self.show_page(self._page_types[0].name)

    # --- keys ---------------------------------------------------------------------------------

    def focusNextPrevChild(self, is_next: bool) -> bool:
        self.desk.look.is_by_keys = True
        return super().focusNextPrevChild(is_next)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        self.desk.look.is_by_keys = True
        if event.key() == Qt.Key.Key_F1 and not self.desk.is_simple:
            self._show_help()
        elif event.isAutoRepeat() or not self.page.typed(event):
            event.ignore()

    def come_forward_to_caller(self) -> None:
        """A second start of the program asks for this window."""
        server = self.sender()
        take = getattr(server, "nextPendingConnection", None)
        while take is not None and (caller := take()) is not None:
            caller.close()
            caller.deleteLater()
        self.come_forward()

    def keep_typed(self) -> None:
        """Keep on disk, at once, what was typed and not saved."""
        for page in self.pages.values():
            page.keep_typed()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if not event.isAutoRepeat():
            self.desk.look.presses.key_released(event.text(), event.timestamp())
        event.ignore()

    def stays_to_say(self) -> bool:
        """Whether the window stays open this once, to say what must be known before it closes."""
        words = " ".join(filter(None, (p.words_before_closing() for p in self.pages.values())))
        if not words or words == self._said_before_closing:
            return False
        self._said_before_closing = words
        self._say(_("{words} Close the window again to leave.").format(words=words))
        return True

    def _leave_for(self, log: Path) -> None:
        """Close for another log; an open low is told first, since its check is in this one."""
        words = " ".join(filter(None, (p.words_before_leaving() for p in self.pages.values())))
        if words and words != self._said_before_closing:
            self._said_before_closing = words
            self._say(_("{words} Press it again to leave.").format(words=words))
            return
        self.next_log = log
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        # Only the person is asked; a computer that shuts down is not held up twice.
        if event.spontaneous() and self.stays_to_say():
            event.ignore()
            return
        self.closing.emit()
        self.keep_typed()
        self.desk.work.finish()
        self._pulse.stop()
        event.accept()


def _of_simple_page(done: Done | None) -> Done | None:
    """What can be taken back on the simple page: only what is written there."""
    written = isinstance(done.record, Reading | Happening | Answer) if done is not None else False
    return done if written else None
