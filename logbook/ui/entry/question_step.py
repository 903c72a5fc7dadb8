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
from logbook.ui.theme import GAP, NUMBER, ROW_FROM_PERCENT, TITLE
from logbook.wording import _


class QuestionStep(Step):
    """Tells the chosen answer's code by `answered`."""

    answered = Signal(str)

    def __init__(self, desk: Desk, *, leads_back: bool = True) -> None:
        super().__init__(desk)
        self._leads_back = leads_back
        self.number, self.beside = Words(desk.look, role="number"), Words(desk.look, role="number")
        self._over_number, self._over_beside = Words(desk.look), Words(desk.look)
        numbers = QHBoxLayout()
        numbers.setSpacing(6 * GAP)
        for over, number in ((self._over_number, self.number), (self._over_beside, self.beside)):
            both = QVBoxLayout()
            both.setSpacing(0)
            both.addWidget(over)
            both.addWidget(number)
            numbers.addLayout(both)
        numbers.addStretch(1)
        self.column.addLayout(numbers)
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
        desk.look.changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Two numbers stay side by side in large text: a title is as large as they then need."""
        is_large = self.desk.look.theme.percent >= ROW_FROM_PERCENT
        for number in (self.number, self.beside):
            number.points = TITLE if is_large and self.beside.text() else NUMBER
            number.restyle()

    def back_text(self) -> str:
        return super().back_text() if self._leads_back else ""

    def ask(
        self,
        question: str,
        number: str,
        why: str,
        answers: Sequence[tuple[str, str]],
        *,
        beside: str = "",
    ) -> None:
        """Show the question; `answers` are codes with the words of their buttons.

        `beside` is a second reading, in type as large: the one that may have been meant.
        """
        self.title.setText(question)
        self.number.say(number)
        self.beside.say(beside)
        self._over_number.say(_("You typed") if beside else "")
        self._over_beside.say(_("Perhaps it was") if beside else "")
        self.restyle()
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
