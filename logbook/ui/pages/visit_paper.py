"""The report that the page *Visit* shows, prints and saves: chosen, made off the main thread, kept.

It is made when it is first wanted and thrown away when the log or a choice changes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from enum import Enum
from functools import partial

from PySide6.QtCore import QObject, QTimer, Signal

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.moments import Period
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment
from logbook.report.options import Paper, Print, ReportOptions
from logbook.report.usual_paper import usual_paper
from logbook.ui.desk import Desk
from logbook.ui.parts.paper_file import PaperFile
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.manner import manner
from logbook.wording.problems import problem_text


class Span(Enum):
    """The periods that can be asked for by one button."""

    SINCE_VISIT = "since_visit"
    DAYS_14 = 14
    DAYS_30 = 30
    DAYS_90 = 90
    DATES = "dates"


@dataclass(frozen=True, slots=True)
class ReportChoices:
    """What was chosen for the report; `span` None takes the usual one, `dates` is for any dates."""

    span: Span | None = None
    dates: Period | None = None
    print: Print = Print.STANDARD
    grid_days: int | None = 28
    appendix: bool = False


class State(Enum):
    """How far the report is."""

    NOT_MADE = "not_made"
    MAKING = "making"
    MADE = "made"
    FAILED = "failed"


class ReportPaper(QObject):
    """Keeps the choices and the finished report; `changed` tells that either is another now."""

    changed = Signal()

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._course: Course | None = None
        self._is_gathering = False
        self.choices = ReportChoices()
        self.state = State.NOT_MADE
        self.content = b""
        self.problem = ""
        self._file: PaperFile | None = None

    @property
    def file(self) -> PaperFile | None:
        """The finished report as pages to look at; None while there is none."""
        if self._file is None and self.state is State.MADE:
            self._file = PaperFile(self.content)
        return self._file

    @property
    def span(self) -> Span:
        """The span in use: since the last visit when there was one, else 90 days."""
        last = last_visit(self._desk.book, self._desk.today())
        wanted = self.choices.span
        if wanted is Span.DATES and self.choices.dates is None:
            wanted = None
        if wanted is None or (wanted is Span.SINCE_VISIT and last is None):
            return Span.SINCE_VISIT if last is not None else Span.DAYS_90
        return wanted

    @property
    def period(self) -> Period:
        """The days that the report is about; the last one is today unless dates were chosen."""
        today, span = self._desk.today(), self.span
        if span is Span.DATES and self.choices.dates is not None:
            return self.choices.dates
        last = last_visit(self._desk.book, today)
        if span is Span.SINCE_VISIT and last is not None:
            return Period(last.day, today)
        return Period.ending(today, int(span.value))

    @property
    def options(self) -> ReportOptions:
        """What was chosen, as the report takes it."""
        choices = self.choices
        return ReportOptions(
            paper=chosen_paper(self._desk.preferences.paper),
            print=choices.print,
            grid_days=choices.grid_days,
            appendix=choices.appendix,
            manner=manner(),
        )

    @property
    def name(self) -> str:
        """What the report is called, as a title and as a file: "Visit report November 25, 2026"."""
        return _("Visit report {day}").format(day=day_text(self._desk.today()))

    @property
    def making_text(self) -> str:
        """What is said while it is made."""
        return _("Making the report ...")

    @property
    def failed_text(self) -> str:
        """What is said when it could not be made."""
        return _("The report could not be made. What is in the log is safe.")

    def note_given_out(self) -> None:
        """It was printed or saved: for the list before the next visit."""
        coming = next_visit(self._desk.book, self._desk.today())
        if coming is not None:
            self._desk.prefer(printed_for=str(coming.id))

    def choose(self, choices: ReportChoices) -> None:
        """Other choices: a report made with the earlier ones is no longer shown."""
        if choices != self.choices:
            self.choices = choices
            self.spoil()

    def spoil(self) -> None:
        """The log or a choice changed: what was made is thrown away."""
        course, self._course = self._course, None
        if course is not None:
            course.cancel()
            self._end_before_start(course)
        self.state, self.content, self.problem = State.NOT_MADE, b"", ""
        file, self._file = self._file, None
        self.changed.emit()
        if file is not None:
            file.close()  # after everybody was told to let go of it

    def want(self) -> None:
        """Make the report unless it is there or being made; `changed` tells when it is."""
        if self.state in (State.MADE, State.MAKING):
            return
        course = self._course = self._desk.work.prepare()
        course.done.connect(self._made)
        course.failed.connect(self._failed)
        self.state, self._is_gathering = State.MAKING, True
        self.changed.emit()
        # Reading the log takes a moment: whoever waits is told so first.
        QTimer.singleShot(0, self, self._gather)

    def _gather(self) -> None:
        """Read what the report is made from, then make it off the main thread."""
        course = self._course
        if course is None or not self._is_gathering:
            return
        try:
            job = self.job()
        except LogbookError as error:
            self._end_before_start(course)
            self._fail(problem_text(error))
            return
        self._is_gathering = False
        self._desk.work.start(course, job)

    def job(self) -> Callable[[Course], bytes]:
        """What makes it off the main thread, from what is read out of the log now."""
        data = self._desk.book.visit_data(self.period, self._desk.now())
        return partial(_make, data, self.options)

    def _end_before_start(self, course: Course) -> None:
        if self._is_gathering:
            self._is_gathering = False
            course.ended.emit(course)

    def _made(self, content: bytes) -> None:
        if self.sender() is not self._course:
            return  # of a job that was too late to be stopped
        self._course = None
        self.state, self.content = State.MADE, content
        self.changed.emit()

    def _failed(self, error: Exception) -> None:
        if self.sender() is not self._course:
            return
        if isinstance(error, LogbookError):
            self._fail(problem_text(error))
            return
        self._fail(self.failed_text)
        raise error

    def _fail(self, words: str) -> None:
        self._course = None
        self.state, self.problem = State.FAILED, words
        self.changed.emit()


def last_visit(book: Book, today: date) -> Appointment | None:
    """The last appointment before `today`, from which "since the last visit" counts."""
    past = [appointment for appointment in book.appointments() if appointment.day < today]
    return past[-1] if past else None


def next_visit(book: Book, today: date) -> Appointment | None:
    """The next appointment, today's included."""
    coming = [appointment for appointment in book.appointments() if appointment.day >= today]
    return coming[0] if coming else None


def next_after(book: Book, day: date) -> Appointment | None:
    """The first appointment after a day."""
    coming = [appointment for appointment in book.appointments() if appointment.day > day]
    return coming[0] if coming else None


def chosen_paper(preferred: str) -> Paper:
    """The paper of this computer: as chosen, else as usual in the country of the manner."""
    return Paper(preferred) if preferred else usual_paper(manner().locale)


def with_span(choices: ReportChoices, span: Span, dates: Period | None = None) -> ReportChoices:
    """The same choices for another span of days."""
    return replace(choices, span=span, dates=dates or choices.dates)


def _make(data: VisitData, options: ReportOptions, _course: Course) -> bytes:
    from logbook.report.visit import visit_report

    return visit_report(data, options)
