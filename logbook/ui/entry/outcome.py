"""What follows Save: the result, the page of a low, and which of two numbers is believed.

A low, and LO, get here without a question; everything asked about them comes afterwards.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

from PySide6.QtCore import QObject, Signal

from logbook.domain.happenings import StripFailure, What
from logbook.domain.kit.vial_life import out_of_date_vial
from logbook.domain.low_course import Stage
from logbook.domain.moments import Moment
from logbook.domain.plausibility import USUAL_DAYS
from logbook.domain.readings import Feeling, Reading
from logbook.domain.repeats import doubted_low, first_of_repeat
from logbook.domain.slots import Purpose
from logbook.domain.spells import Spell, SpellKind
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.believing import Believing
from logbook.ui.entry.doubts import Doubt, quiet_doubt
from logbook.ui.entry.filling import Filling
from logbook.ui.entry.form_news import due_now
from logbook.ui.entry.happened_step import after_happening
from logbook.ui.entry.low_more import LowMore
from logbook.ui.entry.low_step import LowNews, LowStep
from logbook.ui.entry.low_watch import LowWatch
from logbook.ui.entry.next_step import next_step
from logbook.ui.entry.notices import (
    Answered,
    Notice,
    call_notice,
    illness_now,
    open_calls,
    settle_notice,
    sick_day_texts,
)
from logbook.ui.entry.result_step import ResultStep
from logbook.ui.entry.saver import Saved
from logbook.ui.entry.saving import recent_period
from logbook.ui.entry.set_up import SetUp
from logbook.wording import _
from logbook.wording.cautions import CautionFacts
from logbook.wording.due import next_check_sentence
from logbook.wording.kit import out_of_date_reading
from logbook.wording.low_course import course_text
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
        self._is_second_high = False
        self.result_step, self.low_step = ResultStep(desk), LowStep(desk)
        self.low_more = LowMore(desk, self)
        self.believing = Believing(desk, self)
        self.believing.settled.connect(self._show_believed)
        self.result_step.again_wanted.connect(self._test_again)
        self.result_step.unwell_told.connect(self._tell_unwell)
        self.result_step.set_up_wanted.connect(self._set_up.answer_now)
        self.result_step.set_up_put_off.connect(self._put_set_up_off)
        self.result_step.felt_answered.connect(low.felt_it_coming)
        self.result_step.more_wanted.connect(self._tell_more)
        self.result_step.call_answered.connect(self._settle_call)
        self.low_more.step_wanted.connect(self.step_wanted)
        self.low_more.left.connect(self._show_result)
        self.low_step.recheck_wanted.connect(self._begin_recheck)
        self.low_step.will_not_check.connect(self._settle_recheck)
        self.low_step.meant_other.connect(self._correct_low)

    # --- saved ------------------------------------------------------------------------------------

    def show_saved(self, saved: Saved) -> None:
        """Show what was just saved."""
        reading = saved.reading
        if self.low.due is not None and self.low.due.about == str(reading.id):
            self.show_low(saved.doubt)
            return
        before = self._before(reading)
        first = self._tested_before(reading, before)
        self._is_second_high = first is not None
        first = first or doubted_low(reading, before)
        if first is not None and self.believing.asks(first, reading):
            self.step_wanted.emit(self.believing.step)
        else:
            self._show_reading(reading)

    def refresh_result(self) -> None:
        """The reading that is shown was changed meanwhile, by Undo or elsewhere."""
        shown, book = self.result_step.reading, self._desk.book
        if shown is not None and book.has_records([shown.id]):
            now = book.reading(shown.id)
            if now != shown:
                self._show_reading(now)

    def show_happened(self, what: What, failure: StripFailure | None) -> None:
        """Show what happened without a number; an open low comes first."""
        if self.low.due is not None:
            self.show_low()
            return
        words = what_text(what) if failure is None else strip_failure_text(failure)
        self.result_step.show_happening(words, after_happening(what), self._desk.now())
        self.result_step.show_call(self._call_about(None))
        self.step_wanted.emit(self.result_step)

    def begin_illness(self) -> None:
        """Ill from today on: what holds on such a day, the person's own text first."""
        desk = self._desk
        if illness_now(desk, desk.now()) is None:
            spell = Spell(uuid4(), SpellKind.ILL, desk.today())
            if desk.write(desk.book.add, spell) is None:
                return
        ill = illness_now(desk, desk.now())
        texts = () if ill is None else sick_day_texts(desk, ill)
        first, *rest = texts or ("",)
        self.result_step.show_happening(_("Ill"), first, desk.now(), rest)
        self.step_wanted.emit(self.result_step)

    def _show_reading(self, reading: Reading) -> None:
        desk, now = self._desk, self._desk.now()
        course = self.low.course
        is_low_over = course is None or course.about != str(reading.id)
        words = next_step(
            desk, reading, is_second_high=self._is_second_high, is_low_over=is_low_over
        )
        series = desk.book.series(recent_period(now, desk.book.settings, USUAL_DAYS))
        following = next_check_sentence(
            due_now(desk, series, now), now, desk.book.settings.day_starts_at
        )
        self.result_step.show_reading(
            reading, words, next_check=following, now=now, strip=self._strip_text(reading)
        )
        is_recheck = reading.purpose is Purpose.RECHECK and not words.state.is_low
        is_recovered = is_recheck and course is not None and course.stage is Stage.RECOVERED
        if is_recovered:
            assert course is not None
            steps = course_text(course, now, CautionFacts()).steps
            self.result_step.show_recovery(steps, is_measured=self.low.low_reading() is not None)
        # A high that surprises is tested again before anyone is called about it.
        call = None if words.doubts_high else self._call_about(reading)
        if call is not None and words.says_call:
            call = replace(call, text="")
        self.result_step.show_call(call)
        if not (is_recovered or desk.is_simple) and words.is_calm and call is None:
            self.result_step.offer_set_up(self._set_up.question())
        self.step_wanted.emit(self.result_step)

    def _strip_text(self, reading: Reading) -> str:
        """That its strip was past its last day of use; nothing was refused for it."""
        book = self._desk.book
        kit = book.kit()
        found = out_of_date_vial(reading.meter_id, reading.at, kit, book.settings)
        return "" if found is None else out_of_date_reading(found[1])

    def _call_about(self, reading: Reading | None) -> Notice | None:
        """The call to tell now: the gravest one that this reading, or what just happened, made."""
        found = open_calls(self._desk, self._desk.now())
        if reading is not None:
            course = self.low.course
            shown = {str(reading.id), *(() if course is None else course.signs)}
            found = tuple(call for call in found if shown.intersection(call.evidence))
        return call_notice(self._desk, found[0]) if found else None

    def _settle_call(self, notice: Notice, answered: Answered) -> None:
        if settle_notice(self._desk, notice, answered):
            self.result_step.show_call(None)

    def _show_believed(self, reading: Reading, message: str) -> None:
        if self.low.due is not None:
            self.show_low()  # the low is the one that is believed
        else:
            self._show_reading(reading)
        self._desk.say(message)

    def _tell_unwell(self) -> None:
        """The person feels unwell with this number: it is kept, and the step is another one."""
        shown, book = self.result_step.reading, self._desk.book
        if shown is None or not book.has_records([shown.id]):
            return
        now = book.reading(shown.id)
        told = replace(now, feelings=(*now.feelings, Feeling.UNWELL))
        if self._desk.write(book.replace, told) is not None:
            self._show_reading(told)

    # --- tested again -----------------------------------------------------------------------------

    def _test_again(self) -> None:
        before = self.result_step.reading
        draft = Draft()
        if before is not None:
            draft.slot, draft.is_slot_touched = before.slot, True
            draft.minutes_after = before.minutes_after
        self._filling.begin(Purpose.REPEAT, draft)
        self._filling.show()

    def _before(self, reading: Reading) -> list[Reading]:
        """The checks before this one, newest first."""
        # The two may bear one moment: a clock that was set back between them.
        until = Moment.at(reading.at.instant + timedelta(seconds=1), reading.at.zone)
        return self._desk.book.readings(newest_first=True, limit=5, older_than=until)

    def _tested_before(self, reading: Reading, before: list[Reading]) -> Reading | None:
        """The surprising high that this reading tests again, as the log tells it."""
        first = first_of_repeat(reading, before)
        if first is None:
            return None
        step = next_step(self._desk, first, is_second_high=False, is_low_over=True)
        return first if step.doubts_high else None

    def _put_set_up_off(self) -> None:
        self._set_up.put_off()
        self.result_step.offer_set_up("")

    # --- lows -------------------------------------------------------------------------------------

    def show_low(self, doubt: Doubt | None = None) -> None:
        """Show the low that is open, or the form when there is none."""
        course, desk = self.low.course, self._desk
        if course is None or self.low.due is None:
            self._filling.show()
            return
        reading = self.low.low_reading()
        if doubt is None and reading is not None:
            doubt = self._doubt_about(reading)
        people = [one for one in desk.book.contacts() if one.role == "person"]
        self.low_step.show_news(
            LowNews(
                course,
                None if reading is None else reading.glucose,
                people[0] if people else None,
                self.low.ring.can_ring,
                "" if doubt is None else doubt.why,
                None if doubt is None else doubt.meant,
            )
        )
        self.step_wanted.emit(self.low_step)

    def refresh_low(self, now: Moment) -> None:
        """The clock went on while the page of the low is shown."""
        news, course = self.low_step.news, self.low.course
        if news is not None and course is not None and course.about == news.course.about:
            self.low_step.show_news(replace(news, course=course))

    def _doubt_about(self, reading: Reading) -> Doubt | None:
        """The quiet doubt about a low, told anew from the log before it."""
        desk = self._desk
        days = recent_period(reading.at, desk.book.settings, USUAL_DAYS)
        series = desk.book.series(days).before(reading.at.instant)
        return quiet_doubt(desk, Draft(at=reading.at), reading.glucose, series, desk.now())

    def _begin_recheck(self) -> None:
        self.low.attend()
        self._filling.begin_recheck(self.low.course)
        self._filling.show()

    def _settle_recheck(self) -> None:
        if self.low.will_not_check():
            self.form_wanted.emit()

    def _correct_low(self) -> None:
        news, book = self.low_step.news, self._desk.book
        reading = self.low.low_reading()
        if news is None or news.meant is None or reading is None:
            return
        meant = replace(news.meant, written=news.meant.text)
        self._desk.write(book.correct, reading.id, meant, reading.at, reading.slot)

    def _tell_more(self) -> None:
        """What was felt and different, of the low that is over."""
        reading = self.low.low_reading()
        if reading is not None:
            self.low_more.ask(reading)

    def _show_result(self) -> None:
        self.step_wanted.emit(self.result_step)
