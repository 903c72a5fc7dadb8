"""The question about one row of catching up: the same as is asked about a single reading."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from logbook.domain.catch_up import Row
from logbook.ui.entry.doubts import Doubt
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.sentence import Sentence
from logbook.ui.theme import Look
from logbook.wording import _
from logbook.wording.numbers import glucose_text


class RowQuestion(Card):
    """Emits `answered` with the row to take, or with None to change it."""

    answered = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__(look, _("Is this what the meter shows?"))
        self._row: Row | None = None
        self._meant: Row | None = None
        self.why = Sentence(look)
        self.column.addWidget(self.why)
        buttons = Columns(look, most=3, least_width=9)
        self.yes = BigButton(look, "")
        self.yes.clicked.connect(self._say_yes)
        self.no = BigButton(look, "")
        self.no.clicked.connect(self._say_no)
        self.change = BigButton(look, _("Change the number"))
        self.change.clicked.connect(self._say_change)
        for button in (self.yes, self.no, self.change):
            buttons.add(button)
        self.column.addWidget(buttons)

    def ask(self, row: Row, doubt: Doubt) -> None:
        """Ask about a row."""
        self._row = row
        self._meant = None if doubt.meant is None else replace(row, glucose=doubt.meant)
        shown = glucose_text(row.glucose)
        self.heading.setText(_("Is this what the meter shows: {value}?").format(value=shown))
        self.why.setText(doubt.why)
        self.yes.setText(_("Yes, take {value}").format(value=shown))
        self.no.setVisible(doubt.meant is not None)
        if doubt.meant is not None:
            self.no.setText(_("No, take {value}").format(value=glucose_text(doubt.meant)))
        self.show()

    def first_button(self) -> BigButton:
        """Where the keyboard goes."""
        return self.change

    def parts_in_turn(self) -> list[QWidget]:
        """What is to be in sight, the most wanted last: what is asked, above its answers."""
        return [self.change, self.yes, self.why, self.heading]

    def _say_yes(self) -> None:
        self.answered.emit(self._row)

    def _say_no(self) -> None:
        self.answered.emit(self._meant)

    def _say_change(self) -> None:
        self.answered.emit(None)
