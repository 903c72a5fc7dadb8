"""Watches over a low: how the log says it stands, when it must be said or rung, what was answered.

Everything is told anew from the log (`domain.low_course`), so a restart changes nothing. Only that
somebody is at it just now is kept here (`attend`).
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from uuid import UUID

from PySide6.QtCore import QObject

from logbook.book import Book
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.bedtime import bedtime_of
from logbook.domain.errors import NoSuchRecord
from logbook.domain.happenings import Happening
from logbook.domain.low_alarm import Sound, comes_forward, is_attended, sound_due
from logbook.domain.low_course import BEDTIME, LowCourse, low_course
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.recheck import RecheckDue
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.ticks import TickBook
from logbook.domain.usual_times import LOOKS_BACK_DAYS, usual_times
from logbook.ui.desk import Desk
from logbook.ui.entry.saving import answer_of, recent_period
from logbook.ui.ring import Ring

# The clock went on, or back, by itself: the computer slept, or the clock was set.
_JUMP = timedelta(minutes=2)


@dataclass(frozen=True, slots=True)
class LowRecords:
    """What the log says that bears on its latest low, of the days around a moment."""

    days: Period
    series: Series
    happenings: tuple[Happening, ...]
    answers: tuple[Answer, ...]
    settings: LogSettings
    ticks: TickBook

    def course(self, now: Moment, bedtime: time = BEDTIME) -> LowCourse | None:
        """The latest low as it stands at `now`; None where there is none."""
        return low_course(
            self.series,
            self.happenings,
            self.answers,
            now,
            settings=self.settings,
            ticks=self.ticks,
            bedtime=bedtime,
        )


def days_around(now: Moment, settings: LogSettings) -> Period:
    """The days of which a low is told."""
    today = now.day(settings.day_starts_at)
    # Tomorrow too: a clock that went back must not hide a low.
    return Period(today - timedelta(days=3), today + timedelta(days=1))


def low_records(book: Book, now: Moment) -> LowRecords:
    """Read them from the log."""
    settings = book.settings
    days = days_around(now, settings)
    return LowRecords(
        days,
        book.series(days),
        tuple(book.happenings(days)),
        tuple(book.answers()),
        settings,
        book.ticks(),
    )


def course_now(book: Book, now: Moment, bedtime: time = BEDTIME) -> LowCourse | None:
    """The latest low of the log as it stands; None where there is none."""
    return low_records(book, now).course(now, bedtime)


class LowWatch(QObject):
    """`course` is the latest low as it stands, or None; `due` its recheck while one is asked."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self.ring = Ring(desk)
        self.course: LowCourse | None = None
        # Read once after each change of the log: the clock alone is followed every few seconds.
        self._records: LowRecords | None = None
        desk.news.changed.connect(self._forget)
        self._bedtime: time | None = None
        self._looked_at: datetime | None = None
        self._attended_at: datetime | None = None
        # What was done about the check that is due: `_for` says which one that was.
        self._for: Hashable = None
        self._rang_at: list[datetime] = []
        self._came_at: datetime | None = None

    @property
    def due(self) -> RecheckDue | None:
        """The recheck that is due or to come; None when no low is open."""
        return None if self.course is None else self.course.recheck

    def look(self) -> LowCourse | None:
        """Ask the log again: it may have changed."""
        self._forget()
        return self._derive()

    def attend(self) -> None:
        """Somebody is at it: it is silent and stays where it is, for five minutes."""
        self._attended_at = self._desk.now().instant
        if self.due is not None:
            self.ring.stop()

    def waits_unattended(self, now: Moment) -> bool:
        """Whether the recheck is due and nobody is at it: then it comes before all else."""
        due = self.due
        return (
            due is not None
            and due.is_overdue(now.instant)
            and not is_attended(now.instant, self._attended_at)
        )

    def is_unanswered(self) -> bool:
        """Whether an open low has waited for its recheck for over ten minutes."""
        return self.due is not None and self.course is not None and self.course.is_unanswered

    def must_call(self, now: Moment) -> bool:
        """Whether the page of an open low must come forward; notes what nobody answered."""
        if self._has_jumped(now.instant):
            self._came_at = None
        elif self.course is None:
            return False
        course = self._derive()
        if course is None or not comes_forward(
            course, now.instant, came_at=self._came_at, attended_at=self._attended_at
        ):
            return False
        self._came_at = now.instant
        if course.is_unanswered and not course.is_unanswered_noted:
            self._note(course, Asked.RECHECK_DUE, Said.NOT_ANSWERED)
        return True

    def must_tell_watch(self, now: Moment) -> bool:
        """Whether the later check after a low has become due: told once."""
        if not self._is_watch_due(now) or self._came_at is not None:
            return False
        self._came_at = now.instant
        return True

    def ring_if_due(self, now: Moment) -> None:
        """Ring for a check that waits."""
        if self.course is None:
            return
        sound = sound_due(
            self.course, now.instant, rang_at=self._rang_at, attended_at=self._attended_at
        )
        if sound is not None:
            self._rang_at.append(now.instant)
            self.ring.play(is_loud=sound is Sound.LOUD)

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

    def felt_it_coming(self, said: Said) -> bool:
        """The answer to the one question after a low; whether it could be kept."""
        return self.course is not None and self._note(self.course, Asked.FELT_LOW_COMING, said)

    def _derive(self) -> LowCourse | None:
        now = self._desk.now()
        records = self._records
        if records is None or records.days != days_around(now, records.settings):
            records = self._records = low_records(self._desk.book, now)
        course = records.course(now)
        if course is not None and not course.stage.is_open:
            course = records.course(now, self._usual_bedtime(now))
        self.course, self._looked_at = course, now.instant
        check = None if course is None else (course.about, course.due_at, course.watch_due_at)
        if course is not None and course.stage.is_open:
            # Where the clock went back, the recheck is due at each moment anew.
            check = (course.about, None, None)
        if check != self._for:
            self._for, self._rang_at, self._came_at = check, [], None
            self.ring.stop()
        return course

    def _forget(self) -> None:
        self._records = self._bedtime = None

    def _usual_bedtime(self, now: Moment) -> time:
        if self._bedtime is None:
            book, settings = self._desk.book, self._desk.book.settings
            series = book.series(recent_period(now, settings, LOOKS_BACK_DAYS + 1))
            usual = usual_times(series, now, settings.day_starts_at)
            self._bedtime = bedtime_of(book.plans(), usual, now.day(settings.day_starts_at))
        return self._bedtime

    def _has_jumped(self, now: datetime) -> bool:
        return self._looked_at is None or not timedelta(0) <= now - self._looked_at <= _JUMP

    def _is_watch_due(self, now: Moment) -> bool:
        course = self.course
        return course is not None and not course.stage.is_open and course.is_watch_due(now.instant)

    def _note(self, course: LowCourse, asked: Asked, said: Said) -> bool:
        answer = answer_of(UUID(course.about), asked, said, self._desk.now())
        return self._desk.write(self._desk.book.add, answer) is not None
