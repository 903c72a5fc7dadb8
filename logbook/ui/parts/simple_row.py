"""What the simple page has instead of the list of pages.

At the left in small text, where it takes no height from the number; across the top in large text.
"""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.page_list import PersonButton
from logbook.ui.theme import GAP, Look
from logbook.wording import _


class SimpleList(QWidget):
    """Whom to phone, what waits, and the helper's way to the other pages."""

    wanted = Signal(str)

    def __init__(self, look: Look, *, is_row: bool) -> None:
        super().__init__()
        self._look, self._is_row = look, is_row
        self.setProperty("isPageList", True)
        kind = ButtonKind.OTHER if is_row else ButtonKind.TALL
        self.phone = BigButton(look, _("Phone"), kind)
        self.waiting = BigButton(look, "", ButtonKind.NOTICE)
        self.waiting.hide()
        self.helper = BigButton(look, _("For my helper"), ButtonKind.OTHER)
        self.phone.clicked.connect(self._want_phone)
        self.waiting.clicked.connect(self._want_waiting)
        self.helper.clicked.connect(self._want_helper)
        layout: QBoxLayout = QHBoxLayout(self) if is_row else QVBoxLayout(self)
        layout.setContentsMargins(8, 12, 8, 8)
        layout.setSpacing(GAP)
        self.person = PersonButton(look)
        layout.addWidget(self.phone)
        if not is_row:
            for button in (self.phone, self.waiting, self.helper):
                button.let_wrap()
        layout.addWidget(self.waiting)
        if is_row:
            layout.addWidget(self.person, 100)
        else:
            layout.insertWidget(0, self.person)
        layout.addStretch(1)
        layout.addWidget(self.helper)
        look.changed.connect(self.update)

    def show_waiting(self, text: str) -> None:
        """Name what waits; empty for nothing."""
        # There is no room for a sentence.
        self.waiting.setText(_("To do"))
        self.waiting.describe(text)
        self.waiting.setVisible(bool(text))

    def _want_phone(self) -> None:
        self.wanted.emit("phone")

    def _want_waiting(self) -> None:
        self.wanted.emit("waiting")

    def _want_helper(self) -> None:
        self.wanted.emit("helper")

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._look.theme.colours.list_back))
        painter.end()
