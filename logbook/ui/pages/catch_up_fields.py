"""A field of the line that is typed in catching up, and what is wrong with a day or time in it."""

from __future__ import annotations

from datetime import date, time

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

from logbook.domain.errors import BadMoment
from logbook.ui.parts.form_rows import TextField
from logbook.wording import _
from logbook.wording.dates import clock_text, day_text


class LineField(TextField):
    """A field whose Enter goes on within the line; a page would lead to its main action."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not event.isAutoRepeat():
                self.returnPressed.emit()
            event.accept()
            return
        super().keyPressEvent(event)


def moment_problem(error: BadMoment, today: date) -> str:
    """What is wrong with a day or a time that was typed, and how to write it."""
    meanings = error.facts.get("meanings")
    if isinstance(meanings, tuple):
        return _("Is it morning or afternoon? Write {first} or {second}.").format(
            first=clock_text(meanings[0]), second=clock_text(meanings[1])
        )
    why = str(error.facts.get("why", ""))
    if why.startswith("date"):
        return _("“{text}” is not a day. Write it like {day}.").format(
            text=error.subject.strip(), day=day_text(date(today.year, 11, 25))
        )
    return _("“{text}” is not a time. Write it like {time}.").format(
        text=error.subject.strip(), time=clock_text(time(14, 30))
    )
