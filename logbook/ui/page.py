"""What all pages have in common: a title, a body that scrolls, and one main action in the bar."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.marks import Sign
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP

MARGIN = 2 * GAP

# A title that takes more of the page than this scrolls with what is below it: in the largest
# letters two lines of title and two rows of buttons leave too little room.
_MOST_TITLE = 0.4


@dataclass(frozen=True, slots=True)
class LaterPage:
    """A page whose module is imported when it is wanted first, so that the start stays quick."""

    name: str
    say_label: Callable[[], str]
    sign: Sign | None
    module: str
    class_name: str

    def label(self) -> str:
        """The page's word in the list."""
        return self.say_label()

    def load(self) -> type[Page]:
        """The page itself."""
        found: type[Page] = getattr(import_module(self.module), self.class_name)
        return found


class Page(QWidget):
    """One page of the window. See the package's docstring for how one is written."""

    name = ""
    sign: Sign | None = None

    @staticmethod
    def label() -> str:
        """The page's word in the list at the left."""
        raise NotImplementedError

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.setObjectName("page")
        self.setProperty("hasNoRing", True)
        self.title = Words(desk.look, role="title", parent=self)
        content = QWidget()
        self.body = QVBoxLayout(content)
        self.body.setContentsMargins(MARGIN, 4, MARGIN, 4)
        self.body.setSpacing(GAP)
        self.long_message = Words(desk.look, role="heading")
        self.long_message.hide()
        self.body.addWidget(self.long_message)
        self.scrolled = ScrollPage(desk.look, content)
        self.bar_actions = QWidget()
        row = QHBoxLayout(self.bar_actions)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        self.main_button: BigButton | None = None
        self._head: QHBoxLayout | None = None
        self.lay_out()

    def lay_out(self) -> None:
        """Title above body; a page that needs its height puts the title elsewhere."""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, GAP, 0, 0)
        column.setSpacing(GAP // 2)
        head = self._head = QHBoxLayout()
        head.setContentsMargins(MARGIN, 0, MARGIN, 0)
        head.addWidget(self.title, 100)
        head.addStretch(1)
        column.addLayout(head)
        column.addWidget(self.scrolled, 1)
        self.scrolled.content.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.LayoutRequest:
            self._place_title()  # a title that scrolls may be another one
        return False

    def event(self, event: QEvent) -> bool:
        is_done = super().event(event)
        if event.type() in (QEvent.Type.Resize, QEvent.Type.LayoutRequest):
            self._place_title()
        return is_done

    def _place_title(self) -> None:
        """Above the body; inside it where the title would leave it too little room."""
        if self._head is None:
            return
        needed = self.title.heightForWidth(self.width() - 2 * MARGIN)
        is_inside = self.body.indexOf(self.title) >= 0
        if (needed > _MOST_TITLE * self.height()) is is_inside:
            return
        if is_inside:
            self.body.removeWidget(self.title)
            self._head.insertWidget(0, self.title, 100)
        else:
            self._head.removeWidget(self.title)
            self.body.insertWidget(0, self.title)
            self.scrolled.to_top()

    def show_long_message(self, text: str) -> None:
        """Show at the top what has no room in the bar; empty takes it away."""
        self.long_message.say(text)
        if text:
            self.scrolled.to_top()

    def set_main_button(self, text: str, slot: Callable[[], None]) -> BigButton:
        """The one main action, at the right of the bar. `slot` is a bound method of a QObject."""
        self.main_button = self.add_action(text, slot, ButtonKind.MAIN)
        return self.main_button

    def add_action(
        self, text: str, slot: Callable[[], None], kind: ButtonKind = ButtonKind.TALL
    ) -> BigButton:
        """Another action in the bar, left of those that were added before."""
        button = BigButton(self.desk.look, text, kind)
        button.clicked.connect(slot)
        row = self.bar_actions.layout()
        assert isinstance(row, QHBoxLayout)
        row.insertWidget(0, button)
        return button

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book again and show it; None means that the day or the manner changed."""

    def shown(self) -> None:
        """The page came up."""

    def open_part(self, part: str) -> None:
        """Show one subject of the page, by its name; a page without subjects shows itself."""

    def beat(self, now: Moment) -> None:
        """A few seconds passed while the page is shown."""

    def watch(self, now: Moment) -> None:
        """A few seconds passed, whether or not the page is shown."""

    def keep_typed(self) -> None:
        """Keep on disk, at once, what was typed and not saved."""

    def words_before_closing(self) -> str:
        """What must be known before the window closes; empty for nothing."""
        return ""

    def words_before_leaving(self) -> str:
        """What must be known before another log is opened instead; empty for nothing."""
        return ""

    def typed(self, event: QKeyEvent) -> bool:
        """A key that no field wanted; True when the page took it."""
        return False
