"""Buttons that each lead to a view, with how things stand below their names."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal

from logbook.ui.parts.columns import Columns
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.theme import Look


class Subjects(Columns):
    """Emits `opened` with the name of the view whose button was pressed; `buttons` by that name."""

    opened = Signal(str)

    def __init__(
        self, look: Look, subjects: Iterable[tuple[str, str]], *, most: int, least_width: float = 12
    ) -> None:
        super().__init__(look, most=most, least_width=least_width)
        self.buttons: dict[str, SubjectButton] = {}
        for name, text in subjects:
            button = SubjectButton(look, text)
            button.setProperty("view", name)
            button.clicked.connect(self._open)
            self.buttons[name] = button
            self.add(button)

    def say(self, name: str, state: str) -> None:
        """How it stands with one of them."""
        self.buttons[name].say(state)

    def _open(self) -> None:
        self.opened.emit(str(self.sender().property("view")))
