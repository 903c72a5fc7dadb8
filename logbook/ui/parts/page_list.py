"""The list of pages: words with a drawn sign at the left, or one row at the top for large text.

Text smaller, text larger and Help are always in it, at the same place on every page.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.marks import Sign
from logbook.ui.theme import GAP, Look
from logbook.wording import _

_WIDTH_IN_HEIGHTS = 7.75  # of the body's face


class PageEntry(BigButton):
    """One page in the list; it knows which."""

    wanted = Signal(str)

    def __init__(
        self, look: Look, name: str, text: str, sign: Sign | None, kind: ButtonKind
    ) -> None:
        super().__init__(look, text, kind, sign=sign)
        self.name = name
        self.setCheckable(True)
        self.describe(_("Page"))
        self.clicked.connect(self._want)

    def nextCheckState(self) -> None:
        """Only the window says which page is shown."""

    def _want(self) -> None:
        self.wanted.emit(self.name)


class PersonButton(BigButton):
    """Whose log this is; a press leads to the others. Hidden where there is one log alone."""

    def __init__(self, look: Look) -> None:
        super().__init__(look, "", ButtonKind.NOTICE)
        self.let_wrap()
        self.describe(_("Whose log this is. Leads to the other log."))
        self.hide()

    def show_person(self, name: str) -> None:
        """Name the person; empty for a log that is the only one."""
        self.setText(name)
        self.setAccessibleName(_("Log of {name}").format(name=name) if name else "")
        self.setVisible(bool(name))


class PageList(QWidget):
    """At the left: the pages, what waits, then A−, A+ and Help at the bottom."""

    wanted = Signal(str)

    def __init__(
        self, look: Look, entries: Sequence[tuple[str, str, Sign | None]], *, is_row: bool
    ) -> None:
        super().__init__()
        self._look = look
        self._is_row = is_row
        self.setProperty("isPageList", True)
        self.setAccessibleName(_("Pages"))
        self.entries: list[PageEntry] = []
        self.smaller = BigButton(look, "A−", ButtonKind.OTHER)
        self.smaller.setAccessibleName(_("Smaller text"))
        self.larger = BigButton(look, "A+", ButtonKind.OTHER)
        self.larger.setAccessibleName(_("Larger text"))
        self.help = BigButton(look, _("Help"), ButtonKind.OTHER)
        layout: QBoxLayout = QHBoxLayout(self) if is_row else QVBoxLayout(self)
        layout.setContentsMargins(8, 12, 8, 8)
        layout.setSpacing(GAP)
        self.person = PersonButton(look)
        if not is_row:
            layout.addWidget(self.person)
        for name, text, sign in entries:
            kind = ButtonKind.OTHER if is_row else ButtonKind.LISTED
            entry = PageEntry(look, name, text, sign, kind)
            entry.wanted.connect(self.wanted)
            self.entries.append(entry)
            layout.addWidget(entry)
        # What waits for the person is named on every page, where nothing gives way to it.
        self.waiting = BigButton(look, "", ButtonKind.NOTICE)
        self.waiting.hide()
        if is_row:
            layout.addWidget(self.waiting)
            layout.addWidget(self.person, 100)
        else:
            self.waiting.let_wrap()
        layout.addStretch(1)
        if not is_row:
            layout.addWidget(self.waiting)
            layout.addSpacing(GAP)
        if is_row:
            for button in (self.smaller, self.larger, self.help):
                layout.addWidget(button)
        else:
            foot = QGridLayout()
            foot.setSpacing(GAP)
            foot.addWidget(self.smaller, 0, 0)
            foot.addWidget(self.larger, 0, 1)
            foot.addWidget(self.help, 1, 0, 1, 2)
            layout.addLayout(foot)
        look.changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Take width and colours of the present theme."""
        if not self._is_row:
            self.setFixedWidth(round(self._look.theme.pixels(18) * _WIDTH_IN_HEIGHTS))
        self.update()

    def show_waiting(self, text: str) -> None:
        """Name what waits; empty for nothing."""
        # Beside large text there is no room for a sentence.
        self.waiting.setText(_("To do") if self._is_row else text)
        self.waiting.describe(text)
        self.waiting.setVisible(bool(text))

    def show_chosen(self, name: str) -> None:
        """Mark the page that is shown."""
        for entry in self.entries:
            entry.setChecked(entry.name == name)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._look.theme.colours.list_back))
        painter.end()
