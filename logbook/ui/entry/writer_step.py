"""Who is writing: asked only where the log knows a helper, and kept until another is chosen."""

from __future__ import annotations

from logbook.domain.writers import writer_now
from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.texts import Words
from logbook.wording import _
from logbook.wording.writers import helper_choice_text, person_choice_text


class WriterStep(Step):
    """One big button for the person and for each helper; a press goes back to the number."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("Who is writing?"))
        self.column.addWidget(
            Words(desk.look, _("The initials stand with each reading, here and on the report."))
        )
        self._row = EvenGrid(2)
        self.column.addLayout(self._row)
        self.column.addStretch(1)
        self.buttons: list[BigButton] = []

    def ask(self) -> None:
        """Show who can be chosen now."""
        for button in self.buttons:
            self._row.removeWidget(button)
            button.hide()
            button.deleteLater()
        settings = self.desk.book.settings
        writes = writer_now(settings, self.desk.preferences.writer)
        people = [("", person_choice_text(settings))]
        people += [
            (initials, helper_choice_text(initials, name)) for initials, name in settings.helpers
        ]
        self.buttons = []
        for initials, text in people:
            button = BigButton(self.desk.look, text, ButtonKind.TILE)
            button.setMinimumHeight(self.desk.look.theme.key)
            button.setCheckable(True)
            button.setChecked(initials == writes)
            button.setProperty("initials", initials)
            button.clicked.connect(self._choose)
            self._row.addWidget(button)
            self.buttons.append(button)

    def _choose(self) -> None:
        self.desk.prefer(writer=str(self.sender().property("initials")))
        self.left.emit()
