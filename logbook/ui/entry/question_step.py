"""One question before saving, asked once: big buttons, and a way back with nothing lost."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.tab_order import follow
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP


class QuestionStep(Step):
    """Tells the chosen answer's code by `answered`."""

    answered = Signal(str)

    def __init__(self, desk: Desk, *, leads_back: bool = True) -> None:
        super().__init__(desk)
        self._leads_back = leads_back
        self.number = Words(desk.look, role="number")
        self.column.addWidget(self.number)
        self.why = Words(desk.look)
        self.column.addWidget(self.why)
        self._answers = QWidget()
        self._rows = QVBoxLayout(self._answers)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(GAP)
        self._buttons: list[BigButton] = []
        row = QHBoxLayout()
        row.addWidget(self._answers)
        row.addStretch(1)
        self.column.addLayout(row)
        self.column.addStretch(1)

    def back_text(self) -> str:
        return super().back_text() if self._leads_back else ""

    def ask(self, question: str, number: str, why: str, answers: Sequence[tuple[str, str]]) -> None:
        """Show the question; `answers` are codes with the words of their buttons."""
        self.title.setText(question)
        self.number.say(number)
        self.why.say(why)
        for button in self._buttons:
            self._rows.removeWidget(button)
            button.hide()
            button.deleteLater()
        self._buttons = []
        for code, words in answers:
            button = BigButton(self.desk.look, words, ButtonKind.TALL)
            button.setProperty("code", code)
            button.describe(question)
            button.clicked.connect(self._tell)
            self._rows.addWidget(button)
            self._buttons.append(button)
        follow(self._answers, self._buttons)

    def _tell(self) -> None:
        self.answered.emit(str(self.sender().property("code")))
