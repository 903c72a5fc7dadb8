"""How the fingers share the work: the habit, how evenly it goes, and the last uses in words."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.punctures import recent
from logbook.domain.rest import evenness
from logbook.domain.rotation import sites_in_use
from logbook.domain.settings import RotationHabit
from logbook.ui.pages.fingers_subject import FingerSubject, punctures_lately
from logbook.ui.pages.fingers_words import use_sentence
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.sites import evenness_text
from logbook.wording.terms import rotation_habit_text

_USES_SHOWN = 6


class WorkView(View):
    """Three big choices, one sentence on evenness, the last uses."""

    back = "hands"

    def __init__(self, page: ViewPage, subject: FingerSubject) -> None:
        super().__init__(page)
        self.subject = subject
        self.habit = Choice(
            self.look,
            _("Which finger is next?"),
            [(habit, rotation_habit_text(habit)) for habit in RotationHabit],
            columns=3,
        )
        for button in self.habit.buttons.values():
            button.setMinimumHeight(self.look.theme.key)
        self.habit.chosen.connect(self._choose)
        self.evenness = Sentence(self.look)
        self.heading = Sentence(self.look, _("Last uses"), "heading")
        self.uses = [Sentence(self.look) for _n in range(_USES_SHOWN)]
        for part in (self.habit, self.evenness, self.heading):
            self.column.addWidget(part)
        for use in self.uses:
            self.column.addWidget(use)
        self.column.setSpacing(8)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("How evenly your fingers share the work")

    def first_field(self) -> QWidget:
        return self.habit.buttons[self.desk.book.settings.rotation_habit]

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            self._read()
        except LogbookError as error:
            self.desk.told(error)

    def _read(self) -> None:
        now, settings = self.desk.now(), self.desk.book.settings
        self.habit.choose(settings.rotation_habit)
        punctures = punctures_lately(self.desk, now)
        measured = evenness(recent(punctures, settings, now), sites_in_use(settings))
        self.evenness.say(evenness_text(measured))
        newest = list(reversed(punctures))[:_USES_SHOWN]
        texts = [use_sentence(puncture, now, settings.day_starts_at) for puncture in newest]
        if not texts:
            texts = [_("No finger was noted in the last weeks.")]
        for sentence, text in zip(self.uses, [*texts, *[""] * _USES_SHOWN], strict=False):
            sentence.say(text)

    def _choose(self, habit: RotationHabit) -> None:
        book = self.desk.book
        changed = replace(book.settings, rotation_habit=habit)
        if self.desk.write(book.save_settings, changed) is not None:
            self.desk.say(_("From now on: {habit}.").format(habit=rotation_habit_text(habit)))
        else:
            self.habit.choose(book.settings.rotation_habit)
