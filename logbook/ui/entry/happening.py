"""Writes down what happened without a number."""

from __future__ import annotations

from uuid import UUID, uuid4

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.moments import Moment
from logbook.domain.recheck import RecheckDue
from logbook.domain.sites import Site
from logbook.ui.desk import Desk
from logbook.ui.entry.circumstances import When, when_of
from logbook.ui.entry.fingers import FingerStep, SideStep, finger_news
from logbook.ui.entry.happened_step import HappenedStep
from logbook.ui.entry.saving import meter_in_use
from logbook.ui.entry.when_step import WhenStep
from logbook.ui.parts.hands import Finger
from logbook.wording import _


class AgainFingerStep(FingerStep):
    """Which finger was pricked once more; `not_known` when nobody knows."""

    not_known = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("Which finger did you prick again?"))

    def main_text(self) -> str:
        return _("I do not know")

    def main(self) -> None:
        self.not_known.emit()


class HappeningEntry(QObject):
    """Asks what happened and when. `is_asked` while it does; the page shows its steps.

    `told` carries what happened and, for a failed strip, what was done then.
    """

    step_wanted = Signal(object)
    told = Signal(object, object)

    def __init__(self, desk: Desk, when_step: WhenStep, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._when_step = when_step
        self._when: tuple[Moment | None, When] | None = None
        self.step = HappenedStep(desk)
        self.step.when_chosen.connect(self._choose_when)
        self.step.happened.connect(self._take)
        self._site: Site | None = None
        self.finger_step, self.side_step = AgainFingerStep(desk), SideStep(desk)
        self.finger_step.finger_chosen.connect(self._ask_side)
        self.finger_step.not_known.connect(self._tell_again)
        self.side_step.side_chosen.connect(self._take_site)
        # A finger is asked for by the steps themselves; the page knows the way back from them.
        self.steps = (self.step, self.finger_step, self.side_step)

    @property
    def is_asked(self) -> bool:
        """Whether the question is open."""
        return self._when is not None

    def ask(self, at: Moment | None = None) -> None:
        """Ask what happened, now or at a moment that was told."""
        now, starts_at = self._desk.now(), self._desk.book.settings.day_starts_at
        self._when = (at, When.NOW if at is None else when_of(at, now, starts_at))
        self.step.ask(*self._when)
        self.step_wanted.emit(self.step)

    def ask_again(self) -> None:
        """Back from the question for the time, with nothing changed."""
        if self._when is not None:
            self.ask(self._when[0])

    def leave(self) -> None:
        """Nothing happened."""
        self._when = self._site = None

    def go_back(self, step: QWidget) -> None:
        """From one of its steps to the one before it."""
        if step is self.side_step:
            self._ask_finger()
        else:
            self.ask_again()

    def _take(self, what: What, failure: StripFailure | None) -> None:
        """The finger is asked only where one more was pricked."""
        self._site = None
        if failure is StripFailure.PRICKED_AGAIN and self._desk.book.settings.tracks_fingers:
            self._ask_finger()
        else:
            self.told.emit(what, failure)

    def _ask_finger(self) -> None:
        self.finger_step.show_news(finger_news(self._desk, self._desk.now()))
        self.step_wanted.emit(self.finger_step)
        self.finger_step.set_first_focus()

    def _ask_side(self, finger: Finger) -> None:
        self.side_step.ask(finger)
        self.step_wanted.emit(self.side_step)
        self.side_step.set_first_focus()

    def _take_site(self, site: Site) -> None:
        self._site = site
        self._tell_again()

    def _tell_again(self) -> None:
        self.told.emit(What.STRIP_FAILED, StripFailure.PRICKED_AGAIN)

    def write(self, what: What, failure: StripFailure | None, due: RecheckDue | None) -> bool:
        """Write it down; whether it could be kept. Help with a low of now belongs to that low."""
        desk, now = self._desk, self._desk.now()
        at = self._when[0] if self._when is not None else None
        about = None
        if due is not None and at is None and what.is_helped:
            about = next(iter(desk.book.has_records([UUID(due.about)])), None)
        meter = meter_in_use(desk.book, now) if what is What.STRIP_FAILED else None
        happening = Happening(
            uuid4(),
            what,
            at or now,
            now.instant,
            failure,
            about,
            site=self._site,
            meter_id=None if meter is None else meter.id,
        )
        if desk.write(desk.book.add, happening) is None:
            return False
        self.leave()
        return True

    def _choose_when(self, when: When) -> None:
        if when is When.NOW:
            self.ask()
        else:
            self._when_step.ask(when)
            self.step_wanted.emit(self._when_step)
