"""Whose log is opened: asked at the start where several people keep one here, in large print."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.scroll_page import ScrollPage
from logbook.ui.parts.texts import Words
from logbook.ui.theme import DIGIT, GAP, Look
from logbook.wording import _


class NameButton(BigButton):
    """A name in large print."""

    def _face(self) -> QFont:
        return self.look.font(DIGIT, bold=True)


class LogChooser(QWidget):
    """A window with a button for each name; `chosen` is the log that was pressed, else None."""

    def __init__(self, look: Look, logs: Sequence[tuple[Path, str]]) -> None:
        super().__init__()
        self.chosen: Path | None = None
        self.setObjectName("window")
        self.setWindowTitle(_("Fingerstick Logbook"))
        self.setStyleSheet(look.sheet_rules())
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 32, 32, 32)
        column.setSpacing(2 * GAP)
        column.addWidget(Words(look, _("Whose log do you want to open?"), "title"))
        names = QWidget()
        rows = QVBoxLayout(names)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(2 * GAP)
        self.buttons: list[NameButton] = []
        for path, name in logs:
            text = name or _("A log without a name ({file})").format(file=path.name)
            button = NameButton(look, text, ButtonKind.TALL)
            button.let_wrap().setMinimumHeight(2 * look.theme.key)
            button.setProperty("log", str(path))
            button.clicked.connect(self._choose)
            rows.addWidget(button)
            self.buttons.append(button)
        rows.addStretch(1)
        column.addWidget(ScrollPage(look, names), 1)
        self.leave = BigButton(look, _("Close"), ButtonKind.OTHER)
        self.leave.clicked.connect(self.close)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.leave)
        column.addLayout(row)
        self.resize(900, 600)

    def _choose(self) -> None:
        self.chosen = Path(str(self.sender().property("log")))
        self.close()
