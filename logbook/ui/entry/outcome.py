"""What follows Save: the result, the page of a low, and which of two numbers is believed.

A low, and LO, get here without a question; everything asked about them comes afterwards.
"""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

from PySide6.QtCore import QObject, Signal

from logbook.domain.happenings import StripFailure, What
from logbook.domain.readings import Reading
from logbook.domain.slots import Purpose
from logbook.domain.states import state_of_reading
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.believing import Believing
from logbook.ui.entry.doubts import Doubt
from logbook.ui.entry.filling import Filling
from logbook.ui.entry.happened_step import after_happening
from logbook.ui.entry.low_step import LowStep
from logbook.ui.entry.low_watch import LowWatch
from logbook.ui.entry.next_step import next_check_text, next_step, recovery_texts
from logbook.ui.entry.result_step import ResultStep
from logbook.ui.entry.saver import Saved
from logbook.ui.entry.set_up import SetUp
from logbook.wording.emergency import emergency_word
from logbook.wording.terms import strip_failure_text, what_text


class Outcome(QObject):
    """Fills `result_step`, `low_step` and the question of `believing`; the page shows them.

    `step_wanted` asks for one of them, `form_wanted` for the next reading.
    """

    step_wanted = Signal(object)
    form_wanted = Signal()

    def __init__(self, desk: Desk, filling: Filling, low: LowWatch, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._filling, self.low = desk, filling, low
        self._set_up = SetUp(desk)
        self._saved: Saved | None = None
        self._tested_before: Reading | None = None
        self.result_step, self.low_step = ResultStep(desk), LowStep(desk)
        self.believing = Believing(desk, self)
        self.believing.settled.connect(self._show_believed)
        self.result_step.again_wanted.connect(self._test_again)
        self.result_step.set_up_wanted.connect(self._set_up.answer_now)
        self.result_step.set_up_put_off.connect(self._put_set_up_off)
        self.result_step.felt_answered.connect(low.felt_it_coming)
        self.low_step.recheck_wanted.connect(self._begin_recheck)
        self.low_step.will_not_check.connect(self._settle_recheck)
        self.low_step.meant_other.connect(self._correct_low)

    # --- saved ------------------------------------------------------------------------------------

    def show_saved(self, saved: Saved) -> None:
        """Show what was just saved."""
        reading, before = saved.reading, self._tested_before
        self._saved, self._tested_before = saved, None
        if self.low.due is not None and self.low.due.about == str(reading.id):
            self.show_low(saved.doubt)
        elif (
            before is not None
            and reading.purpose is Purpose.REPEAT
            and self.believing.asks(before, reading)
        ):
            self.step_wanted.emit(self.believing.step)
        else:
            self._show_reading(reading, is_second=reading.purpose is Purpose.REPEAT)

    def show_happened(self, what: What, failure: StripFailure | None) -> None:
        """Show what happened without a number; an open low comes first."""
        if self.low.due is not None:
            self.show_low()
            return
        words = what_text(what) if failure is None else strip_failure_text(failure)
        self.result_step.show_happening(words, after_happening(what), self._desk.now())
        self.step_wanted.emit(self.result_step)

    def _show_reading(self, reading: Reading, *, is_second: bool) -> None:
        assert self._saved is not None
        saved, now = self._saved, self._desk.now()
        settings, targets = self._desk.book.settings, self._desk.book.targets()
        day = reading.at.day(settings.day_starts_at)
        state = state_of_reading(reading, day, targets, settings.very_high_above)
        target = targets.for_slot(reading.judged_slot, day)
        emergency = emergency_word(settings.country, settings.emergency_number)
        words = next_step(reading, state, target, emergency, is_second=is_second)
        following = next_check_text(saved.usual, now)
        self.result_step.show_reading(reading, state, words, next_check=following, now=now)
        if saved.due is not None and reading.purpose is Purpose.RECHECK and not state.is_low:
            self.low.is_over(saved.due.about)
            self.result_step.show_recovery(recovery_texts(settings))
        elif not words.tests_again:
            self.result_step.offer_set_up(self._set_up.question())
        self.step_wanted.emit(self.result_step)

    def _show_believed(self, reading: Reading, message: str) -> None:
        self._show_reading(reading, is_second=True)
        self._desk.say(message)

    def _test_again(self) -> None:
        before = self.result_step.reading
        draft = Draft()
        if before is not None:
            draft.slot, draft.is_slot_touched = before.slot, True
            draft.minutes_after = before.minutes_after
        self._tested_before = before
        self._filling.begin(Purpose.REPEAT, draft)
        self._filling.show()

    def _put_set_up_off(self) -> None:
        self._set_up.put_off()
        self.result_step.offer_set_up("")

    # --- lows -------------------------------------------------------------------------------------

    def show_low(self, doubt: Doubt | None = None) -> None:
        """Show the low that is open, or the form when there is none."""
        why, meant = ("", None) if doubt is None else (doubt.why, doubt.meant)
        news = self.low.news(why, meant)
        if news is None:
            self._filling.show()
            return
        self.low_step.show_news(news)
        self.step_wanted.emit(self.low_step)

    def _begin_recheck(self) -> None:
        self._filling.begin(Purpose.RECHECK, Draft(is_slot_touched=True))
        self._filling.show()

    def _settle_recheck(self) -> None:
        if self.low.will_not_check():
            self.form_wanted.emit()

    def _correct_low(self) -> None:
        news, book = self.low_step.news, self._desk.book
        if news is None or news.meant is None:
            return
        reading = book.reading(UUID(news.due.about))
        meant = replace(news.meant, written=news.meant.text)
        self._desk.write(book.correct, reading.id, meant, reading.at, reading.slot)
