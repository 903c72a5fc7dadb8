"""The command `demo`: an invented log and its visit report, in a folder of their own."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from logbook.book import Book
from logbook.commands.fresh_files import nothing_left_on_failure
from logbook.commands.reading_log import period_of
from logbook.demo.making import make_demo_log
from logbook.domain.errors import AlreadyThere, CannotWrite
from logbook.domain.moments import Moment
from logbook.places import documents_folder, fresh_path, private_folder
from logbook.report.options import Paper, ReportOptions
from logbook.wording import _
from logbook.wording.dates import day_text

LOG_NAME = "demo.logbook"
REPORT_NAME = "visit-report.pdf"


@dataclass(frozen=True, slots=True)
class DemoMade:
    """Where the two files lie."""

    log: Path
    report: Path


def make_demo(
    folder: Path | None, now: Moment, clock: Callable[[], datetime], paper: Paper
) -> DemoMade:
    """Make the log and its report in `folder`, or in a fresh one where the person finds it.

    Raises `AlreadyThere` when a file of that name is there, and the disk's errors; then nothing of
    the two is left.
    """
    from logbook.report.visit import write_visit_report

    if folder is None:
        name = _("Fingerstick Logbook demo, {day}").format(day=day_text(now.wall.date()))
        folder = fresh_path(documents_folder(), name)
    made = DemoMade(folder / LOG_NAME, folder / REPORT_NAME)
    for path in (made.log, made.report):
        if path.exists():
            raise AlreadyThere(path)
    is_new_folder = not folder.exists()
    if not is_new_folder and not folder.is_dir():
        raise CannotWrite(folder, why="exists")
    try:
        private_folder(folder)
    except OSError as error:
        raise CannotWrite(folder, why="permission") from error
    try:
        with nothing_left_on_failure(made.log, made.report):
            make_demo_log(made.log, now)
            with Book.open(made.log, clock, read_only=True) as book:
                data = book.visit_data(period_of(book, None, None, now.wall.date()), now)
            write_visit_report(data, made.report, ReportOptions(paper=paper))
    except BaseException:
        if is_new_folder:
            with suppress(OSError):
                folder.rmdir()
        raise
    return made
