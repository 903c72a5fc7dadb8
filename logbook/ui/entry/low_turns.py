"""Whose turn it is while a low is open: its own page, or whatever the person is doing."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer, Signal

from logbook.domain.moments import Moment
from logbook.domain.slots import Purpose
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.filling import Filling
from logbook.ui.entry.low_watch import LowWatch


class LowTurns(QObject):
    """`low_wanted` asks for the page of the low; `page_name` is where it is."""

    low_wanted = Signal()

    def __init__(
        self, desk: Desk, low: LowWatch, filling: Filling, page_name: str, parent: QObject
    ) -> None:
        super().__init__(parent)
        self._desk, self._low, self._filling = desk, low, filling
        self._page_name = page_name
        self._is_aside = False
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._open)

    def is_low_first(self) -> bool:
        """Whether the low comes before the form, with what was typed there kept."""
        if self._low.due is None:
            self._is_aside = False
            return False
        is_recheck = self._filling.purpose is Purpose.RECHECK
        is_busy = self._is_aside or is_recheck or not self._filling.draft.is_empty
        return not is_busy or self._low.waits_unattended(self._desk.now())

    def put_aside(self) -> None:
        """A reading of another time comes first: the low waits, and comes back when it is due."""
        self._low.attend()
        self._is_aside = True
        if self._filling.draft.is_empty:
            self._filling.begin(Purpose.PLANNED, Draft(is_when_told=False))
        self._filling.show()

    def come_back(self) -> None:
        """The low again."""
        self._is_aside = False
        self.low_wanted.emit()

    def look_from_elsewhere(self) -> None:
        """The log changed while another page is shown: what is a low now is shown now."""
        was_about = self._about()
        self._low.look()
        if self._about() not in (None, was_about):
            # Whoever wrote it says so first.
            self._soon.start(0)

    def watch(self, now: Moment) -> None:
        """The clock went on: call the person when a check is due, and ring."""
        if self._low.must_call(now):
            self.come_back()
            self._desk.call_attention(self._page_name)
        elif self._low.must_tell_watch(now):
            self._desk.call_attention(self._page_name)
        self._low.ring_if_due(now)

    def fill_screen(self, *, is_shown: bool) -> None:
        """A recheck that nobody answers fills the screen while its page is shown."""
        self._desk.show_alone(is_alone=is_shown and self._low.is_unanswered())

    def _open(self) -> None:
        if self._low.due is not None:
            self.come_back()
            self._desk.go_to(self._page_name)

    def _about(self) -> tuple[str, bool] | None:
        """Which low is open, and whether it is a very low one; None while none is."""
        course = self._low.course
        if course is None or self._low.due is None:
            return None
        return course.about, course.is_very_low
