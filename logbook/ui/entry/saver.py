"""From the draft to the log: what is refused, what is asked about once, and the reading itself."""

from __future__ import annotations

from dataclasses import dataclass, replace
from uuid import UUID

from PySide6.QtCore import QObject, Signal

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Kind
from logbook.domain.levels import LOW_BELOW
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.recheck import RecheckDue
from logbook.domain.slots import Purpose
from logbook.domain.writers import writer_now
from logbook.ui.desk import Desk
from logbook.ui.entry.doubts import Doubt, doubts_before_saving, quiet_doubt
from logbook.ui.entry.filling import Filling
from logbook.ui.entry.low_watch import LowWatch
from logbook.ui.entry.question_step import QuestionStep
from logbook.ui.entry.saving import meter_of, reading_of
from logbook.wording import _
from logbook.wording.numbers import glucose_text

_SAVE_IT = "save"


@dataclass(frozen=True, slots=True)
class Saved:
    """A reading that is in the log now.

    `due` is the recheck that was due before it, `doubt` the quiet doubt about a low.
    """

    reading: Reading
    due: RecheckDue | None
    doubt: Doubt | None


class Saver(QObject):
    """Emits `saved` with a `Saved`; a low and LO get there without any question."""

    saved = Signal(object)
    step_wanted = Signal(object)

    def __init__(self, desk: Desk, filling: Filling, low: LowWatch, parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._filling, self._low = desk, filling, low
        self.is_writing = False
        self.question_step = QuestionStep(desk)
        self.question_step.answered.connect(self._take_answer)

    def press_lo(self) -> None:
        """The meter shows LO: Save says so now."""
        self._filling.set_letters(Kind.READS_LOW)

    def press_hi(self) -> None:
        """The meter shows HI: asked once whether the letters were there."""
        self._filling.set_letters(Kind.READS_HIGH)
        self.question_step.ask(
            _("Did the display show the letters HI?"),
            "HI",
            _("HI means: above what the meter can measure."),
            [(_SAVE_IT, _("Yes, save HI"))],
        )
        self.step_wanted.emit(self.question_step)

    def save(self) -> None:
        """Save the draft, refuse it in words, or ask about it."""
        unit, draft = self._desk.book.settings.unit, self._filling.draft
        if draft.is_empty:
            self._desk.say(_("There is no number yet. Type what the meter shows."))
            return
        try:
            glucose = draft.glucose(unit)
        except LogbookError as refusal:
            self._desk.told(refusal)
            return
        now = self._desk.now()
        if glucose.order_steps >= LOW_BELOW[unit] and self._asks_first(glucose, now):
            return
        self._write(glucose, now)

    def _asks_first(self, glucose: Glucose, now: Moment) -> bool:
        draft = self._filling.draft
        self._filling.show_circumstances(now)
        if draft.at is None and not draft.is_when_told:
            self._desk.say(_("When was it? Choose Now, or the time when the meter showed it."))
            return True
        doubts = doubts_before_saving(self._desk, draft, glucose, self._filling.news.series, now)
        if not doubts:
            return False
        draft.asked = tuple(doubt.code for doubt in doubts)
        doubt, shown = doubts[0], glucose_text(glucose)
        answers = [(_SAVE_IT, _("Yes, save {value}").format(value=shown))]
        if doubt.meant is not None:
            no = _("No, save {value}").format(value=glucose_text(doubt.meant))
            answers.append((doubt.meant.text, no))
        question, why, name = (
            doubt.question(),
            doubt.why,
            self._desk.person_in_sight,
        )
        if name:
            # Of two people, the number may be the other's.
            whose = _("This is the log of {name}.").format(name=name)
            why = f"{whose} {why}"
        beside = "" if doubt.shown_beside is None else glucose_text(doubt.shown_beside)
        self.question_step.ask(question, shown, why, answers, beside=beside)
        self.step_wanted.emit(self.question_step)
        return True

    def _take_answer(self, code: str) -> None:
        if code != _SAVE_IT:
            self._filling.draft.text = code
        glucose = self._filling.draft.glucose(self._desk.book.settings.unit)
        self._write(glucose, self._desk.now())

    def _write(self, glucose: Glucose, now: Moment) -> None:
        filling, news, due = self._filling, self._filling.news, self._low.due
        doubt = None
        if glucose.order_steps < LOW_BELOW[glucose.unit]:
            doubt = quiet_doubt(self._desk, filling.draft, glucose, news.series, now)
        reading = self._reading(glucose, due, now)
        self.is_writing = True
        done = self._desk.write(self._desk.book.add, reading)
        self.is_writing = False
        if done is None:
            filling.keep()
            filling.show()
            return
        self._desk.saved_numbers.note(self._desk.book.path, reading)
        filling.saved()
        self.saved.emit(Saved(reading, due, doubt))

    def _reading(self, glucose: Glucose, due: RecheckDue | None, now: Moment) -> Reading:
        purpose, draft = self._filling.purpose, self._filling.draft
        if due is not None and draft.at is None and purpose is Purpose.PLANNED:
            purpose = Purpose.RECHECK
        known = set() if due is None else self._desk.book.has_records([UUID(due.about)])
        writer = writer_now(self._desk.book.settings, self._desk.preferences.writer)
        reading = reading_of(
            draft,
            glucose,
            now,
            suggested=self._filling.news.fingers.advice.site,
            settings=self._desk.book.settings,
            purpose=purpose,
            # A happening can be checked again too, but no reading can point to one.
            recheck_of=next(iter(known), None),
            meter=meter_of(draft, self._desk.book, now),
        )
        return replace(reading, initials=writer)
