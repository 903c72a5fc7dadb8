"""A sentence as wide as its place, which asks for no more height than its lines there need."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QFontMetrics

from logbook.ui.parts.texts import Words

_ANY_WIDTH = 16_777_215


class Sentence(Words):
    """For pages that fill the window: a label's own least height is that of a narrow one."""

    def restyle(self) -> None:
        super().restyle()
        self.setMaximumWidth(_ANY_WIDTH)

    def minimumSizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        words = [metrics.horizontalAdvance(word) for word in self.text().split()]
        return QSize(max(words, default=0), metrics.height() if words else 0)
