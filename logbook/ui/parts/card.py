"""A sheet on the page: what belongs together, with an edge around it."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.theme import GAP, RADIUS, Look


class Card(QWidget):
    """A heading and, below it, whatever is put into `column`."""

    def __init__(self, look: Look, heading: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.setAccessibleName(heading)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(2 * GAP, GAP + 4, 2 * GAP, GAP + 4)
        self.column.setSpacing(GAP)
        self.heading = Paragraph(look, heading, "heading")
        # Never made visible before it has its place: it would come up as a window of its own.
        self.column.addWidget(self.heading)
        self.heading.setVisible(bool(heading))
        look.changed.connect(self.update)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._look.colour("edge"), 1))
        painter.setBrush(self._look.colour("sheet"))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), RADIUS, RADIUS)
        painter.end()
