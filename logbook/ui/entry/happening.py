"""Writes down what happened without a number."""

from __future__ import annotations

from uuid import UUID, uuid4

from PySide6.QtCore import QObject, Signal

from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.moments import Moment
from logbook.domain.recheck import RecheckDue
from logbook.ui.desk import Desk
from logbook.ui.entry.circumstances import When, when_of
from logbook.ui.entry.happened_step import HappenedStep
from logbook.ui.entry.when_step import WhenStep


class HappeningEntry(QObject):
    """Asks what happened and when. `is_asked` while it does; the page shows its step."""

    step_wanted = Signal(object)

    def __init__(self, desk: Desk, when_step: WhenStep, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._when_step = when_step
        self._when: tuple[Moment | None, When] | None = None
        self.step = HappenedStep(desk)
        self.step.when_chosen.connect(self._choose_when)

    @property
    def is_asked(self) -> bool:
        """Whether the question is open."""
        return self._when is not None

    def ask(self, at: Moment | None = None) -> None:
        """Ask what happened, now or at a moment that was told."""
        self._when = (at, When.NOW if at is None else when_of(at, self._desk.now()))
        self.step.ask(*self._when)
        self.step_wanted.emit(self.step)

    def ask_again(self) -> None:
        """Back from the question for the time, with nothing changed."""
        if self._when is not None:
            self.ask(self._when[0])

    def leave(self) -> None:
        """Nothing happened."""
        self._when = None

    def write(self, what: What, failure: StripFailure | None, due: RecheckDue | None) -> bool:
        """Write it down; whether it could be kept. Help with a low of now belongs to that low."""
        desk, now = self._desk, self._desk.now()
        at = self._when[0] if self._when is not None else None
        about = None
        if due is not None and at is None and what.is_helped:
            about = next(iter(desk.book.has_records([UUID(due.about)])), None)
        happening = Happening(uuid4(), what, at or now, now.instant, failure, about)
        if desk.write(desk.book.add, happening) is None:
            return False
        self._when = None
        return True

    def _choose_when(self, when: When) -> None:
        if when is When.NOW:
            self.ask()
        else:
            self._when_step.ask(when)
            self.step_wanted.emit(self._when_step)
