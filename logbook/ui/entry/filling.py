"""Fills the draft from the form and its steps: number, finger, when, what for, more.

Which step is on screen is the page's: `step_wanted` asks for one. Nothing is written to the
log here.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Kind
from logbook.domain.low_course import LowCourse
from logbook.domain.moments import Moment
from logbook.domain.sites import Site
from logbook.domain.slots import Purpose, Slot
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft, Typed
from logbook.ui.draft_file import DraftFile
from logbook.ui.entry.circumstances import USUAL_MINUTES_AFTER, When, when_of
from logbook.ui.entry.fingers import FingerStep, SideStep
from logbook.ui.entry.form import EntryForm
from logbook.ui.entry.form_news import FormNews, read_form_news
from logbook.ui.entry.more_step import MoreStep
from logbook.ui.entry.plan_ways import PlanWays
from logbook.ui.entry.saving import meter_in_use, meters_in_use
from logbook.ui.entry.when_step import WhenStep
from logbook.ui.parts.hands import Finger
from logbook.wording import _
from logbook.wording.due import due_heading
from logbook.wording.numbers import glucose_text


class Filling(QObject):
    """`draft` is the reading in the making and `purpose` why the check is made."""

    step_wanted = Signal(QWidget)
    number_changed = Signal()
    circumstances_changed = Signal()

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self.file = DraftFile(desk.state_folder, desk.book.path, self)
        self.draft = Draft()
        self.purpose = Purpose.PLANNED
        self._aside: Draft | None = None
        self._news: FormNews | None = None
        self.form = EntryForm(desk)
        self.plan_ways = PlanWays(desk, self.form, self)
        self.finger_step, self.side_step = FingerStep(desk), SideStep(desk)
        self.when_step, self.more_step = WhenStep(desk), MoreStep(desk)
        keypad, fingers, what = self.form.keypad, self.form.fingers, self.form.circumstances
        keypad.typed.connect(self.type)
        keypad.taken_back.connect(self.take_back)
        keypad.cleared.connect(self.clear)
        fingers.confirmed.connect(self._confirm_finger)
        fingers.another_wanted.connect(self._want_finger)
        what.when_chosen.connect(self._choose_when)
        what.slot_chosen.connect(self._choose_slot)
        what.minutes_chosen.connect(self._choose_minutes)
        what.more_wanted.connect(self._want_more)
        self.finger_step.finger_chosen.connect(self._choose_finger)
        self.side_step.side_chosen.connect(self._choose_site)
        self.more_step.changed.connect(self.keep)

    # --- showing ----------------------------------------------------------------------------------

    @property
    def news(self) -> FormNews:
        """What the log says, read when it is needed first after a change."""
        if self._news is None:
            self._news = read_form_news(self._desk, self.purpose)
        return self._news

    def forget_news(self) -> None:
        """The log or the day changed: read again when it is needed."""
        self._news = None

    def show(self) -> None:
        """Bring the form up to date and on screen."""
        now, settings = self._desk.now(), self._desk.book.settings
        if not self.draft.is_slot_touched:
            self.draft.slot = self.news.due.likely_slot
        self.form.keypad.set_unit(settings.unit)
        self.form.set_simple(self._desk.is_simple)
        self.form.fingers.show_news(self.news.fingers, self.draft.site, settings)
        self.plan_ways.show(self.news.due, now, self.purpose)
        is_recheck = self.purpose is Purpose.RECHECK
        self.form.fingers.happened.setText(
            _("Back to the low") if is_recheck else _("Something happened")
        )
        self.form.fingers.happened.setVisible(is_recheck or not self._desk.is_simple)
        self.form.title.setText(self._sentence(now))
        self._show_number()
        self.show_circumstances(now)
        self.step_wanted.emit(self.form)

    def show_circumstances(self, now: Moment) -> None:
        """Show when and what for as they are in the draft; "now" moves with the clock."""
        if self.draft.is_old(now.instant):
            self.draft.is_when_told = False
        if self.draft.at is not None:
            when: When | None = when_of(self.draft.at, now, self._desk.book.settings.day_starts_at)
        else:
            when = When.NOW if self.draft.is_when_told else None
        self.form.circumstances.show_draft(self.draft, now, when)

    def number_text(self) -> str:
        """The number with its unit, as Save repeats it."""
        unit = self._desk.book.settings.unit
        try:
            return glucose_text(self.draft.glucose(unit))
        except LogbookError:
            return _("{number} {unit}").format(number=self.draft.text, unit=unit.value)

    def _sentence(self, now: Moment) -> str:
        if self.purpose is Purpose.RECHECK:
            return _("After your low: what does the meter show?")
        if self.purpose is Purpose.REPEAT:
            return _("Tested again: what does the meter show?")
        starts_at = self._desk.book.settings.day_starts_at
        return due_heading(self.news.due, now, starts_at) or _("What does the meter show?")

    def _show_number(self) -> None:
        self.form.keypad.show_number(self.draft.shown)
        self.number_changed.emit()

    # --- beginning and ending ---------------------------------------------------------------------

    def begin(self, purpose: Purpose, draft: Draft | None = None) -> None:
        """Begin another reading; a number that was typed for it already stays."""
        if self.draft.is_empty or draft is not None:
            self.draft = draft or Draft()
        self.purpose = purpose
        self.forget_news()

    def begin_recheck(self, low: LowCourse | None) -> None:
        """Begin the check after a low; what was typed before the low waits until it is saved."""
        first_at = self.draft.first_typed_at
        is_since = low is not None and first_at is not None and first_at >= low.low_at
        is_of_now = self.draft.at is None and self.draft.is_when_told
        if self.purpose is not Purpose.RECHECK and not (is_since and is_of_now):
            self.set_aside()
        if self.draft.is_empty:
            self.draft = Draft(is_slot_touched=True)
        self.purpose = Purpose.RECHECK
        self.forget_news()

    def set_aside(self) -> None:
        """What was typed waits; it is there again after the next reading."""
        if not self.draft.is_empty:
            self._aside, self.draft = self.draft, Draft()

    def leave_recheck(self) -> None:
        """Back to what was typed before the low, if anything was."""
        self.draft, self._aside = self._aside or Draft(), None
        self.purpose = Purpose.PLANNED
        self.keep()

    def saved(self) -> None:
        """The draft is in the log now."""
        self.file.forget()
        self.draft, self._aside = self._aside or Draft(), None
        self.purpose = Purpose.PLANNED
        self.keep()

    def restore(self) -> bool:
        """Take up the draft that was left; whether there was one."""
        found = self.file.found()
        if found is None or found.is_empty:
            return False
        self.draft = found
        return True

    def keep(self) -> None:
        """Keep the draft on disk in a moment."""
        self.file.keep(self._aside if self._aside and self.draft.is_empty else self.draft)

    # --- the number -------------------------------------------------------------------------------

    def take_key(self, event: QKeyEvent) -> bool:
        """A key of the number, wherever it was typed; whether it was one."""
        text, presses = event.text(), self._desk.look.presses
        if len(text) == 1 and text in "0123456789.,":
            if presses.admits_key(text, event.timestamp()):
                self.type("." if text == "," else text)
            return True
        if event.key() == Qt.Key.Key_Backspace:
            self.take_back()
            return True
        return False

    def type(self, character: str) -> None:
        """A figure or the point."""
        self._desk.say("")
        unit = self._desk.book.settings.unit
        taken = self.draft.type(character, unit, self._desk.clock())
        if taken is Typed.NO_POINT:
            self._desk.say(_("A meter in mg/dL shows no point. Look at the unit on the meter."))
        self._after_number()

    def take_back(self) -> None:
        """Take the last figure away."""
        self._desk.say("")
        self.draft.take_back()
        self._after_number()

    def clear(self) -> None:
        """Take the number away."""
        self._desk.say("")
        self.draft.clear()
        self._after_number()

    def set_letters(self, kind: Kind) -> None:
        """The meter shows LO or HI."""
        self._desk.say("")
        self.draft.set_letters(kind, self._desk.clock())
        self._after_number()

    def _after_number(self) -> None:
        self.keep()
        self._show_number()

    # --- finger, when, what for, more -------------------------------------------------------------

    def _confirm_finger(self) -> None:
        is_confirmed = self.form.fingers.used.isChecked()
        shown = self.draft.site or self.news.fingers.advice.site
        self._choose_site(shown if is_confirmed else None)

    def _want_finger(self) -> None:
        self.finger_step.show_news(self.news.fingers)
        self.step_wanted.emit(self.finger_step)
        self.finger_step.set_first_focus()

    def _choose_finger(self, finger: Finger) -> None:
        self.side_step.ask(finger)
        self.step_wanted.emit(self.side_step)
        self.side_step.set_first_focus()

    def _choose_site(self, site: Site | None) -> None:
        self.draft.site = site
        self.keep()
        self.show()

    def _choose_when(self, when: When) -> None:
        self._desk.say("")
        if when is not When.NOW:
            self.when_step.ask(when)
            self.step_wanted.emit(self.when_step)
            return
        self.draft.at, self.draft.is_when_told = None, True
        self.draft.first_typed_at = self._desk.clock()
        self.keep()
        self.show_circumstances(self._desk.now())

    def take_moment(self, at: Moment) -> None:
        """The time of the check was told."""
        self.draft.at, self.draft.is_when_told = at, True
        self.keep()
        self.show()

    def _choose_slot(self, slot: Slot) -> None:
        self.draft.slot, self.draft.is_slot_touched = slot, True
        self.draft.minutes_after = USUAL_MINUTES_AFTER if slot.is_after_meal else None
        self.keep()
        self.show_circumstances(self._desk.now())
        self.circumstances_changed.emit()

    def _choose_minutes(self, minutes: int) -> None:
        self.draft.minutes_after = minutes
        self.keep()

    def _want_more(self) -> None:
        book, now = self._desk.book, self._desk.now()
        self.more_step.fill(self.draft)
        self.more_step.offer_meters(meters_in_use(book, now), meter_in_use(book, now))
        self.step_wanted.emit(self.more_step)
