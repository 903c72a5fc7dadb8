"""Steps around a reading: who writes, whom to phone, the way out of the simple page."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from logbook.domain.writers import writer_now
from logbook.ui.desk import Desk
from logbook.ui.entry.helper_step import HelperStep
from logbook.ui.entry.phone_step import PhoneStep
from logbook.ui.entry.writer_step import WriterStep
from logbook.ui.theme import ROW_FROM_PERCENT
from logbook.wording import _
from logbook.wording.writers import writing_text


class Around(QObject):
    """The steps, and the words about people that stand in the bar; `step_wanted` shows a step."""

    step_wanted = Signal(object)

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self.writer_step, self.phone_step = WriterStep(desk), PhoneStep(desk)
        self.helper_step = HelperStep(desk)
        self.steps = (self.writer_step, self.phone_step, self.helper_step)

    def open(self, part: str) -> None:
        """Show one of the steps by the name of its part."""
        steps: dict[str, WriterStep | PhoneStep | HelperStep] = {
            "writer": self.writer_step,
            "phone": self.phone_step,
            "helper": self.helper_step,
        }
        step = steps.get(part)
        if step is not None:
            # In sight first: only then can the keyboard be in its field.
            self.step_wanted.emit(step)
            step.ask()

    def ask_writer(self) -> None:
        """Who is writing?"""
        self.open("writer")

    def writing_text(self) -> str:
        """Who writes now; empty where there is only one who can."""
        settings = self._desk.book.settings
        if not settings.helpers or self._desk.is_simple:
            return ""
        is_large = self._desk.look.theme.percent >= ROW_FROM_PERCENT
        writer = writer_now(settings, self._desk.preferences.writer)
        return writing_text(writer, is_short=is_large)

    def save_text(self, number: str) -> str:
        """Save with the number, and with the name where there are several logs."""
        # The whole name stands beside the list of pages.
        name = self._desk.person_in_sight.partition(" ")[0]
        if name:
            return _("Save {number} for {name}").format(number=number, name=name)
        return _("Save {number}").format(number=number)
