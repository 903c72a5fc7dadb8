"""Several sentences below each other, each a paragraph of its own, so that none hides another."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP, Look


class Sentences(QWidget):
    """As many `Words` as there are sentences."""

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GAP)
        self._words: list[Words] = []

    def say(self, sentences: Sequence[str]) -> None:
        """Show these, and nothing at all when there are none."""
        while len(self._words) < len(sentences):
            words = Words(self._look)
            self._words.append(words)
            self._column.addWidget(words)
        for place, words in enumerate(self._words):
            words.say(sentences[place] if place < len(sentences) else "")
        # Without a place yet it would come up as a window of its own.
        if not sentences or self.parent() is not None:
            self.setVisible(bool(sentences))
