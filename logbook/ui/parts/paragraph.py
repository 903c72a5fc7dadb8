"""Words that tell their true height where their place is wider than a line may be."""

from __future__ import annotations

from logbook.ui.parts.form_rows import FormRows
from logbook.ui.parts.texts import Words


class Paragraph(Words):
    """A layout asks for the height in its own width; these words never get wider than a line."""

    def heightForWidth(self, width: int) -> int:
        return super().heightForWidth(min(width, self.maximumWidth()))


class Form(FormRows):
    """Rows of a form whose sentences are paragraphs."""

    def add_words(self, text: str, role: str = "body") -> Words:
        words = Paragraph(self._look, text, role)
        self.add_widget(words)
        return words
