"""Does everything work on this computer? One round through a throw-away log, told step by step.

For whoever installs or packages the program: each step uses the parts that can be missing or
broken in an installation (the database, the fonts, the pictures, the paper, the window). The log
lies in a folder of its own that is gone at the end, whatever happens. The person's own log is never
opened. The clock is invented, so that a run is like any other.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID, uuid4

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.wording import _, mark
from logbook.wording.problems import problem_text

if TYPE_CHECKING:
    from logbook.ui.page import LaterPage, Page

    PageTypes = Callable[[], Sequence[type[Page] | LaterPage]]

_ZONE = "America/New_York"
_BEGIN = datetime(2026, 1, 5, 12, 0, tzinfo=UTC)
_DAYS = 14

# In the order in which they are done; a step that needs one that failed fails too, and says so.
_STEPS = {
    "open": mark("A new log opens"),
    "write": mark("Readings are written down and found again"),
    "correct": mark("A reading is corrected, and keeps what it said before"),
    "undo": mark("The correction is taken back and put back"),
    "plot": mark("The pages and their pictures are shown"),
    "report": mark("The visit report is made and can be read"),
    "copy": mark("A checked copy is made"),
    "close": mark("The log closes, and opens again with everything in it"),
    "leave": mark("Nothing is left behind"),
}
_LAST = "leave"


class _StepError(Exception):
    """What a step found wrong, for the person."""


@dataclass(frozen=True, slots=True)
class StepResult:
    """One step: its name, whether it worked, and what is said about it."""

    step: str
    is_ok: bool
    words: str


class _Round:
    """One round; every method is a step, named as in `_STEPS`."""

    def __init__(self, folder: Path, page_types: PageTypes) -> None:
        self._folder = folder
        self._page_types = page_types
        self._path = folder / "self-test.logbook"
        self._now = _BEGIN
        self._book: Book | None = None
        self._ids: list[UUID] = []

    @property
    def book(self) -> Book:
        if self._book is None:
            raise _StepError(_("there is no open log"))
        return self._book

    def clock(self) -> datetime:
        """Every look at it is a second later."""
        self._now += timedelta(seconds=1)
        return self._now

    def do_open(self) -> None:
        self._book = Book.create(self._path, LogSettings(home_zone=_ZONE), self.clock)

    def do_write(self) -> None:
        for day in range(_DAYS):
            at = Moment.at(_BEGIN - timedelta(days=day), _ZONE)
            glucose = Glucose.number(100 + 7 * day, Unit.MG_DL)
            reading = Reading(uuid4(), glucose, at, self.clock(), Slot.FASTING)
            self.book.add(reading)
            self._ids.append(reading.id)
        self._expect(100)

    def do_correct(self) -> None:
        was = self.book.reading(self._first())
        self.book.correct(was.id, Glucose.number(120, Unit.MG_DL), was.at, was.slot)
        self._expect(120)
        if [one.glucose.steps for one in self.book.reading(was.id).earlier] != [100]:
            raise _StepError(_("the earlier value was not kept"))

    def do_undo(self) -> None:
        self.book.undo()
        self._expect(100)
        self.book.put_back()
        self._expect(120)

    def do_plot(self) -> None:
        from logbook.ui.self_test_window import find_blank_pages

        blank = find_blank_pages(self.book, self.clock, _ZONE, self._folder, self._page_types())
        if blank:
            raise _StepError(_("these stay empty: {pages}").format(pages=", ".join(blank)))

    def do_report(self) -> None:
        from logbook.report.options import ReportOptions
        from logbook.report.visit import visit_report
        from logbook.ui.parts.paper_file import PaperFile

        now = Moment.at(self.clock(), _ZONE)
        period = Period.ending(now.day(), _DAYS)
        content = visit_report(self.book.visit_data(period, now), ReportOptions(appendix=True))
        with PaperFile(content) as paper:
            words = " ".join(paper.words(index) for index in range(paper.page_count))
        if "120" not in words.split():
            raise _StepError(_("a reading is missing on it"))

    def do_copy(self) -> None:
        copy = self.book.make_copy()
        if not copy.is_file():
            raise _StepError(_("it is not where it was said to be"))
        with Book.open(copy, self.clock, read_only=True) as copied:
            if len(copied.readings()) != _DAYS:
                raise _StepError(_("readings are missing in it"))

    def do_close(self) -> None:
        book, self._book = self.book, None
        book.close()
        with Book.open(self._path, self.clock, read_only=True) as again:
            if len(again.readings()) != _DAYS or again.reading(self._first()).glucose.steps != 120:
                raise _StepError(_("readings are missing in it"))

    def let_go(self) -> None:
        """Close the log if a step before closing failed."""
        if self._book is not None:
            book, self._book = self._book, None
            book.close()

    def _first(self) -> UUID:
        if not self._ids:
            raise _StepError(_("no reading was written down"))
        return self._ids[0]

    def _expect(self, steps: int) -> None:
        found = self.book.reading(self._first()).glucose.steps
        if found != steps:
            raise _StepError(
                _("{expected} was expected, {found} was found").format(expected=steps, found=found)
            )


def run(page_types: PageTypes) -> list[StepResult]:
    """Do every step and tell how each went; no step raises, and nothing is left on the disk.

    `page_types` tells the pages of the window; it is asked only when the window is due, so that a
    window whose libraries are missing is one failed step.
    """
    results: list[StepResult] = []
    holder = tempfile.TemporaryDirectory(prefix="fingerstick-self-test-")
    try:
        round_ = _Round(Path(holder.name), page_types)
        try:
            steps = [step for step in _STEPS if step != _LAST]
            results += [_result(step, getattr(round_, f"do_{step}")) for step in steps]
        finally:
            round_.let_go()
    finally:
        results.append(_result(_LAST, lambda: _leave(holder)))
    return results


def result_lines(results: Sequence[StepResult]) -> list[str]:
    """What is said about every step, and whether all is well."""
    lines = [result.words for result in results]
    failed = sum(not result.is_ok for result in results)
    if failed:
        lines.append(
            _("{failed} of {total} steps did not work.").format(failed=failed, total=len(results))
        )
    else:
        lines.append(_("Everything works."))
    return lines


def _result(step: str, action: Callable[[], None]) -> StepResult:
    try:
        action()
    except _StepError as error:
        reason = str(error)
    except LogbookError as error:
        reason = problem_text(error)
    except Exception as error:  # noqa: BLE001  (whatever it is, it is what this looks for)
        reason = f"{type(error).__name__}: {error}"
    else:
        return StepResult(step, True, _("{step}: yes").format(step=_(_STEPS[step])))
    words = _("{step}: no, {reason}").format(step=_(_STEPS[step]), reason=reason)
    return StepResult(step, False, words)


def _leave(holder: tempfile.TemporaryDirectory[str]) -> None:
    holder.cleanup()
    if Path(holder.name).exists():
        raise _StepError(_("{folder} could not be removed").format(folder=holder.name))
