"""Finds what repeats for *Look back*, once for the same days, off the main thread for a long log.

What counts as a finding is the domain's (`domain.findings`). Findings over weeks are those of the
last finished week, so that they do not come and go from day to day.
"""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal

from logbook.domain.errors import LogbookError
from logbook.domain.findings.finding import Finding
from logbook.domain.findings.review import days_needed, find_findings
from logbook.domain.moments import Period
from logbook.domain.plan.calendar_days import agreed_profiles
from logbook.ui.desk import Desk
from logbook.ui.pages.look_back_looking import Looked
from logbook.ui.work import Course

# Up to so many readings it takes less time than a person notices.
_MOST_AT_ONCE = 8_000
_BEFORE_LONG_JOB = 100  # milliseconds

Found = tuple[Finding, ...]


class Finder(QObject):
    """`look_for` begins; `found` tells when the answer is there, which `known` then gives."""

    found = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._desk = desk
        self._looked_at: Period | None = None
        self._looked: Looked | None = None
        self._start = QTimer(self)
        self._start.setSingleShot(True)
        self._start.timeout.connect(self._begin)
        self._found: Found | None = None
        self._course: Course | None = None

    def known(self, period: Period) -> Found | None:
        """What was found in these days; None while it is not known yet."""
        return self._found if period == self._looked_at else None

    def look_for(self, looked: Looked) -> None:
        """Find what repeats in these days, unless that is known or on its way."""
        if looked.period == self._looked_at:
            return
        self.forget()
        self._looked_at, self._looked = looked.period, looked
        if len(looked.series) <= _MOST_AT_ONCE:
            self._found = self._job(looked)()
            self.found.emit()
        else:
            # The page is shown first.
            self._start.start(_BEFORE_LONG_JOB)

    def forget(self) -> None:
        """The Book changed."""
        self._start.stop()
        if self._course is not None:
            self._course.cancel()
        self._looked_at = self._looked = self._found = self._course = None

    def _begin(self) -> None:
        """Find them off the main thread."""
        if self._looked is None:
            return
        try:
            job = self._job(self._looked)
        except LogbookError as error:
            self.forget()
            self._desk.told(error)
            return
        course = self._course = self._desk.work.prepare()
        course.done.connect(self._take)
        course.failed.connect(self._fail)
        self._desk.work.start(course, lambda _course: job())

    def _job(self, looked: Looked) -> Callable[[], Found]:
        """All that is needed of the Book is read here, in the main thread."""
        book, period = self._desk.book, looked.period
        reach, span = days_needed(period, as_report=False), book.span()
        is_whole = span is not None and span[0] in period and span[1] in period
        series = looked.series if is_whole else book.series(reach)
        happenings = book.happenings(reach)
        settings, targets, answers = book.settings, book.targets(), book.answers()
        ticks, meal_starts, spells = book.ticks(), book.meal_starts(reach), book.spells()
        profiles = agreed_profiles(book.plans(), book.appointments())
        differences = {
            str(reading.id): reading.differences
            for reading in book.with_circumstances(reach)
            if reading.differences
        }

        def find() -> Found:
            return find_findings(
                series,
                period,
                settings,
                targets,
                happenings,
                answers,
                ticks,
                meal_starts=meal_starts,
                spells=spells,
                differences=differences,
                profiles=profiles,
                as_report=False,
            )

        return find

    def _take(self, found: Found) -> None:
        if self.sender() is self._course:
            self._found, self._course = found, None
            self.found.emit()

    def _fail(self, error: Exception) -> None:
        if self.sender() is not self._course:
            return
        self.forget()
        if not isinstance(error, LogbookError):
            raise error
        self._desk.told(error)
