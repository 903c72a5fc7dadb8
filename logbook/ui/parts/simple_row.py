"""What stands above the simple page, and the name of the person where there are several logs."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.theme import GAP, Look
from logbook.wording import _


class SimpleRow(QWidget):
    """Whom to phone, what waits, and the helper's way to the other pages."""

    wanted = Signal(str)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setProperty("isPageList", True)
        self.phone = BigButton(look, _("Phone"), ButtonKind.OTHER)
        self.waiting = BigButton(look, "", ButtonKind.NOTICE)
        self.waiting.hide()
        self.helper = BigButton(look, _("For my helper"), ButtonKind.OTHER)
        self.phone.clicked.connect(self._want_phone)
        self.waiting.clicked.connect(self._want_waiting)
        self.helper.clicked.connect(self._want_helper)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 8, 8, 8)
        row.setSpacing(GAP)
        row.addWidget(self.phone)
        row.addWidget(self.waiting)
        row.addStretch(1)
        row.addWidget(self.helper)

    def show_waiting(self, text: str) -> None:
        """Name what waits; empty for nothing."""
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


class PersonStrip(QWidget):
    """Whose log this is, across the top; a press leads to the others."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self.setProperty("isPageList", True)
        self.button = BigButton(look, "", ButtonKind.NOTICE).let_wrap()
        self.button.describe(_("Leads to the other log"))
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 0)
        column.addWidget(self.button)
        self.hide()

    def show_person(self, name: str) -> None:
        """Name the person; empty for a log that is the only one."""
        self.button.setText(_("{name}: this is your log").format(name=name) if name else "")
        self.setVisible(bool(name))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._look.theme.colours.list_back))
        painter.end()
