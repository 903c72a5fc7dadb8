"""The lancet in the device: since when, how many punctures; a new one, with the reason."""

from __future__ import annotations

from uuid import uuid4

from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.kit.lancets import LancetChange, LancetChangeReason
from logbook.ui.pages.fingers_subject import lancet_now
from logbook.ui.pages.fingers_words import lancet_sentences
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.terms import lancet_reason_text


class LancetView(View):
    """The sentences, the reason, and *New lancet* as the main action."""

    back = "hands"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.told = Sentence(self.look)
        self.habit = Sentence(self.look)
        self.reason = Choice(
            self.look,
            _("Why is a new one put in?"),
            [(reason, lancet_reason_text(reason)) for reason in LancetChangeReason],
            columns=2,
        )
        self.reason.choose(LancetChangeReason.USUAL)
        for button in self.reason.buttons.values():
            button.setMinimumHeight(self.look.theme.key)
        self.went = SubjectButton(
            self.look,
            _("How the last prick went"),
            _("It hurt, or not enough blood came; and the depth that was set"),
        )
        self.went.clicked.connect(self._tell_prick)
        for part in (self.told, self.habit, self.reason, self.went):
            self.column.addWidget(part)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("The lancet in the device")

    def main_text(self) -> str:
        return _("New lancet")

    def first_field(self) -> QWidget:
        return self.reason.buttons[self.reason.value]

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            now, settings = self.desk.now(), self.desk.book.settings
            lancet = lancet_now(self.desk, now)
        except LogbookError as error:
            self.desk.told(error)
            return
        told = lancet_sentences(lancet, settings.lancet_habit, now, settings.day_starts_at)
        self.told.say(" ".join(told))
        self.habit.say(_("You can change the habit in My plan."))

    def _tell_prick(self) -> None:
        self.page.turn_to("puncture")

    def do_main(self) -> None:
        now = self.desk.now()
        change = LancetChange(uuid4(), now, now.instant, self.reason.value)
        if self.desk.write(self.desk.book.add, change) is not None:
            self.reason.choose(LancetChangeReason.USUAL)
            self.desk.say(_("A new lancet is in the device."))
