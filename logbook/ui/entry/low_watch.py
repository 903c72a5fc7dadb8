"""Watches over a low: which recheck the log says is due, when it must be said, what was answered.

Everything is told anew from the log (`domain.recheck`), so a restart changes nothing.
"""

from __future__ import annotations

from uuid import UUID

from logbook.domain.answers import Asked, Said
from logbook.domain.errors import NoSuchRecord
from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment
from logbook.domain.recheck import RecheckDue
from logbook.ui.desk import Desk
from logbook.ui.entry.low_step import UNANSWERED_AFTER, LowNews
from logbook.ui.entry.saving import answer_of, due_recheck


class LowWatch:
    """`due` is the recheck that is due after the latest low, or None."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self.due: RecheckDue | None = None
        self._called_for = ""
        self._called_late_for = ""
        self._over_about: UUID | None = None

    def look(self) -> None:
        """Ask the log again."""
        self.due = due_recheck(self._desk.book, self._desk.now())

    def must_call(self, now: Moment) -> bool:
        """Whether the person must be called now: once when it is due, once 10 minutes later."""
        due = self.due
        if due is None or not due.is_overdue(now.instant):
            return False
        if now.instant - due.due_at >= UNANSWERED_AFTER and self._called_late_for != due.about:
            self._called_for = self._called_late_for = due.about
            self._note(due, Said.NOT_ANSWERED, now)
            return True
        if self._called_for != due.about:
            self._called_for = due.about
            return True
        return False

    def news(self, doubt: str = "", meant: Glucose | None = None) -> LowNews | None:
        """What the page of this low shows."""
        if self.due is None:
            return None
        people = [one for one in self._desk.book.contacts() if one.role == "person"]
        name, phone = (people[0].name, people[0].phone) if people else ("", "")
        return LowNews(self.due, self._glucose(self.due), name, phone, doubt, meant)

    def will_not_check(self) -> bool:
        """The person will not check again; whether that could be kept."""
        return self.due is not None and self._note(self.due, Said.NO, self._desk.now())

    def is_over(self, about: str) -> None:
        """The recheck was 70 or more: the one question is about this low."""
        self._over_about = UUID(about)

    def felt_it_coming(self, said: Said) -> bool:
        """The answer to that question; whether it could be kept."""
        if self._over_about is None:
            return False
        answer = answer_of(self._over_about, Asked.FELT_LOW_COMING, said, self._desk.now())
        return self._desk.write(self._desk.book.add, answer) is not None

    def _note(self, due: RecheckDue, said: Said, now: Moment) -> bool:
        answer = answer_of(UUID(due.about), Asked.RECHECK_DUE, said, now)
        return self._desk.write(self._desk.book.add, answer) is not None

    def _glucose(self, due: RecheckDue) -> Glucose | None:
        try:
            return self._desk.book.reading(UUID(due.about)).glucose
        except NoSuchRecord:
            return None
