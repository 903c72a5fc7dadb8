"""One step of writing down: a title, what to do, and perhaps a main action for the bar."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP
from logbook.wording import _


class Step(QWidget):
    """`left` asks for the form with nothing changed; `main_changed` that the bar is renewed."""

    left = Signal()
    main_changed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.title = Words(desk.look, role="title")
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 4, 0, 4)
        self.column.setSpacing(GAP + 4)
        self.column.addWidget(self.title)

    def main_text(self) -> str:
        """What the main action does; empty for none."""
        return ""

    def main(self) -> None:
        """Do it."""

    def beat(self, now: Moment) -> None:
        """A few seconds passed while the step is shown."""

    def typed(self, event: QKeyEvent) -> bool:
        """A key that no field wanted; True when the step took it."""
        return False

    def back_text(self) -> str:
        """What leads back to the form with nothing changed; empty for nothing."""
        return _("Go back")

    def back(self) -> None:
        """Do that."""
        self.left.emit()
