"""Watches over a low: how the log says it stands, when it must be said or rung, what was answered.

Everything is told anew from the log (`domain.low_course`), so a restart changes nothing.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from uuid import UUID

from PySide6.QtCore import QObject

from logbook.domain.answers import Asked, Said
from logbook.domain.errors import NoSuchRecord
from logbook.domain.low_course import LowCourse, low_course
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.recheck import RecheckDue
from logbook.ui.desk import Desk
from logbook.ui.entry.saving import answer_of
from logbook.ui.ring import Ring

# A due recheck rings so often until it is answered; a later check so often, and so many times.
RINGS_EVERY = timedelta(seconds=20)
WATCH_RINGS_EVERY = timedelta(minutes=5)
_WATCH_RINGS = 3


class LowWatch(QObject):
    """`course` is the latest low as it stands, or None; `due` its recheck while one is asked."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self.ring = Ring(desk)
        self.course: LowCourse | None = None
        self._called_for = ""
        self._rang_at: datetime | None = None
        self._rang_watch: list[datetime] = []
        self._rang_watch_for: datetime | None = None

    @property
    def due(self) -> RecheckDue | None:
        """The recheck that is due or to come; None when no low is open."""
        course = self.course
        if course is None or course.due_at is None or not course.stage.is_open:
            return None
        return RecheckDue(course.about, course.low_at, course.due_at, course.times_low)

    def look(self) -> LowCourse | None:
        """Ask the log again."""
        desk, now = self._desk, self._desk.now()
        settings = desk.book.settings
        today = now.day(settings.day_starts_at)
        # Tomorrow too: a clock that went back must not hide a low.
        days = Period(today - timedelta(days=3), today + timedelta(days=1))
        course = low_course(
            desk.book.series(days),
            desk.book.happenings(days),
            desk.book.answers(),
            now,
            settings=settings,
            ticks=desk.book.ticks(),
        )
        self.course = course
        if self.due is None:
            self._rang_at = None
            if not self._is_watch_due(now):
                self.ring.stop()
        return course

    def must_call(self, now: Moment) -> bool:
        """Whether the person must be called now: once when it is due, once 10 minutes later."""
        if self.course is None:
            return False
        course = self.look()
        if course is None or not course.stage.is_open or not course.is_overdue(now.instant):
            return False
        if course.is_unanswered and not course.is_unanswered_noted:
            self._note(course, Asked.RECHECK_DUE, Said.NOT_ANSWERED)
            self._called_for = course.about
            return True
        if self._called_for != course.about:
            self._called_for = course.about
            return True
        return False

    def ring_if_due(self, now: Moment, *, is_being_typed: bool) -> None:
        """Ring for a check that waits; `is_being_typed` silences it until ten minutes are over."""
        course = self.course
        if course is None:
            return
        if course.stage.is_open and course.is_overdue(now.instant):
            is_loud = course.is_unanswered
            if is_being_typed and not is_loud:
                self.ring.stop()
            elif self._is_time(self._rang_at, now.instant, RINGS_EVERY):
                self._rang_at = now.instant
                self.ring.play(is_loud=is_loud)
        elif self._is_watch_due(now):
            self._ring_watch(now.instant)

    def low_reading(self) -> Reading | None:
        """The reading on which the page of the low hangs; None for a low without a number."""
        if self.course is None:
            return None
        try:
            return self._desk.book.reading(UUID(self.course.about))
        except NoSuchRecord:
            return None

    def will_not_check(self) -> bool:
        """The person will not check again; whether that could be kept."""
        return self.course is not None and self._note(self.course, Asked.RECHECK_DUE, Said.NO)

    def settle_watch(self, said: Said) -> bool:
        """The later check was made or will not be made; whether that could be kept."""
        return self.course is not None and self._note(self.course, Asked.WATCH_CHECK, said)

    def felt_it_coming(self, said: Said) -> bool:
        """The answer to the one question after a low; whether it could be kept."""
        return self.course is not None and self._note(self.course, Asked.FELT_LOW_COMING, said)

    def _is_watch_due(self, now: Moment) -> bool:
        course = self.course
        return course is not None and course.is_watch_due(now.instant)

    def _ring_watch(self, now: datetime) -> None:
        assert self.course is not None
        if self._rang_watch_for != self.course.watch_due_at:
            self._rang_watch_for, self._rang_watch = self.course.watch_due_at, []
        last = self._rang_watch[-1] if self._rang_watch else None
        if len(self._rang_watch) < _WATCH_RINGS and self._is_time(last, now, WATCH_RINGS_EVERY):
            self._rang_watch.append(now)
            self.ring.play()

    @staticmethod
    def _is_time(last: datetime | None, now: datetime, every: timedelta) -> bool:
        # A clock that went back must not make it silent.
        return last is None or not timedelta(0) <= now - last < every

    def _note(self, course: LowCourse, asked: Asked, said: Said) -> bool:
        answer = answer_of(UUID(course.about), asked, said, self._desk.now())
        return self._desk.write(self._desk.book.add, answer) is not None
