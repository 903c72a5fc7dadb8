"""What the commands that only read share: the period, the figures, the visit report."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import CannotWrite
from logbook.domain.low_facts import Looked, who_looked
from logbook.domain.moments import Moment, Period
from logbook.domain.settings import LogSettings
from logbook.domain.summary import Summary, summarise
from logbook.domain.visit_review import VisitReview, review_of

DAYS_WHEN_NONE_ARE_NAMED = 90


def period_of(book: Book, first: date | None, last: date | None, today: date) -> Period:
    """The days asked for; the 90 days ending with the last reading when none are named.

    Raises `BadMoment` (period_backwards) when the first day lies after the last.
    """
    if first is not None and last is not None:
        return Period(first, last)
    span = book.span()
    end = last or (span[1] if span is not None else today)
    if first is None:
        return Period.ending(end, DAYS_WHEN_NONE_ARE_NAMED)
    return Period(first, max(first, end))


@dataclass(frozen=True, slots=True)
class LogFigures:
    """The figures of a period, with what the page of them needs beside."""

    summary: Summary
    settings: LogSettings
    looked: Looked
    review: VisitReview


def figures_of_log(book: Book, first: date | None, last: date | None, now: Moment) -> LogFigures:
    """The figures and the review of the report over the days asked for."""
    period = period_of(book, first, last, now.wall.date())
    data = book.visit_data(period, now)
    settings = data.settings
    summary = summarise(data.series, period, settings, data.targets, data.happenings, data.answers)
    looked = who_looked(data.series, period, settings, summary.lows)
    return LogFigures(summary, settings, looked, review_of(data, summary))


def check_out(out: Path, log: Path) -> None:
    """A report must not take the place of the log or of anything that belongs to it.

    Raises `CannotWrite` (why=exists).
    """
    is_beside_log = out.resolve().parent == log.resolve().parent and out.name.startswith(log.name)
    is_in_copies = out.resolve().parent.name == f"{log.name}-copies"
    if is_beside_log or is_in_copies:
        raise CannotWrite(out, why="exists")
