"""Whom to phone, in numbers that can be read from the phone: the program calls nobody."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _, cautions
from logbook.wording.emergency import emergency_word

_ROLES = ("person", "provider", "after_hours")


class PhoneStep(Step):
    """Names and numbers, the person's own first; then the emergency number."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("Whom to phone"))
        self._people = QWidget()
        self._rows = QVBoxLayout(self._people)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setSpacing(GAP)
        self.column.addWidget(self._people)
        self.emergency = Words(desk.look, role="heading")
        self.column.addWidget(self.emergency)
        self.column.addWidget(Words(desk.look, cautions.cannot_call()))
        self.column.addStretch(1)

    def ask(self) -> None:
        """Show the numbers as they are now."""
        clear_layout(self._rows)
        book, settings = self.desk.book, self.desk.book.settings
        contacts = {one.role: one for one in book.contacts() if one.phone.strip()}
        for role in _ROLES:
            contact = contacts.get(role)
            if contact is not None:
                name = contact.name.strip() or _role_text(role)
                self._rows.addWidget(Words(self.desk.look, name, "heading"))
                number = Words(self.desk.look, contact.phone, "number")
                number.setAccessibleName(f"{name}: {contact.phone}")
                self._rows.addWidget(number)
        if not contacts:
            words = _("No number is written down. Write one under People to phone.")
            self._rows.addWidget(Words(self.desk.look, words))
        word = emergency_word(settings.country, settings.emergency_number)
        self.emergency.say(_("In an emergency, call {number}.").format(number=word))


def _role_text(role: str) -> str:
    if role == "provider":
        return _("My provider")
    return _("After hours") if role == "after_hours" else _("Someone to phone")
