"""Words on a page: titles, headings, sentences and numbers, in the faces of the theme."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from logbook.ui.parts.unbroken import plain, unbroken
from logbook.ui.theme import BODY, NUMBER, SMALL, TITLE, Look

# Up to here a line is easy to find the next one from; 70 characters are 33 times the face's height.
_LINE_IN_HEIGHTS = 33

_FACES = {
    "title": (TITLE, True, "ink"),
    "heading": (BODY, True, "ink"),
    "body": (BODY, False, "ink"),
    "quiet": (SMALL, False, "quiet_ink"),
    "number": (NUMBER, False, "ink"),  # thick strokes close the middle of a 0
}


class Words(QLabel):
    """Plain text in one of the roles title, heading, body, quiet, number; it wraps, never cuts."""

    def __init__(
        self, look: Look, text: str = "", role: str = "body", parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setText(text)
        self.look = look
        self.points, self.is_bold, self.ink = _FACES[role]
        self.setTextFormat(Qt.TextFormat.PlainText)  # what a person typed is never markup
        self.setWordWrap(role != "number")
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(role != "number")
        self.setSizePolicy(policy)
        look.changed.connect(self.restyle)
        self.restyle()

    def setText(self, text: str) -> None:
        super().setText(unbroken(text))

    def text(self) -> str:
        return plain(super().text())

    def restyle(self) -> None:
        """Take the face and colour of the present theme."""
        self.setFont(self.look.font(self.points, bold=self.is_bold, figures=True))
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.WindowText, self.look.colour(self.ink))
        self.setPalette(palette)
        if self.wordWrap():
            self.setMaximumWidth(self.look.theme.pixels(self.points) * _LINE_IN_HEIGHTS)

    def heightForWidth(self, width: int) -> int:
        # A layout asks for its own width, which may be more than a line here ever takes.
        return super().heightForWidth(min(width, self.maximumWidth()))

    def say(self, text: str) -> None:
        """Show other words, and nothing at all when there are none."""
        self.setText(text)
        self.setVisible(bool(text))
