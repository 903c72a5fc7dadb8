"""The way out of the simple page: nothing to remember, and nothing that a stray press does."""

from __future__ import annotations

from datetime import date

from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.texts import Words
from logbook.wording import _


class HelperStep(Step):
    """Shows a number of three figures and opens the other pages when it was typed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("For my helper"))
        self._words = Words(desk.look, role="heading")
        self.column.addWidget(self._words)
        self.typed_number = TextField(desk.look, _("The number"))
        self.typed_number.returnPressed.connect(self.main)
        self.column.addWidget(self.typed_number.row)
        self.column.addWidget(
            Words(desk.look, _("The simple page comes back when the window is opened again."))
        )
        self.column.addStretch(1)
        self.number = ""

    def ask(self) -> None:
        """Show the number of this day."""
        self.number = number_of_day(self.desk.today())
        self._words.setText(
            _("Type {number} to open all pages.").format(number=" ".join(self.number))
        )
        self.typed_number.clear()
        self.typed_number.show_problem("")
        self.typed_number.setFocus()

    def main_text(self) -> str:
        return _("Open all pages")

    def main(self) -> None:
        if "".join(self.typed_number.text().split()) == self.number:
            self.desk.let_helper_in()
            self.left.emit()
        else:
            self.typed_number.show_problem(_("That is another number. Nothing was changed."))


def number_of_day(day: date) -> str:
    """Three figures, others each day, so that no hand learns them."""
    return str(100 + day.toordinal() * 37 % 900)
