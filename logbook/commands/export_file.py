"""The command `export`: the log, or its plan, in a file for other programs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

from logbook.book import Book
from logbook.commands.plain_line import one_line
from logbook.commands.reading_log import check_out
from logbook.domain.moments import Moment
from logbook.domain.whole_log import WholeLog
from logbook.whole_file import write_whole
from logbook.wording import _, ngettext
from logbook.wording.numbers import number_text, readings_text

FORMATS = ("csv", "fhir", "calendar")


def export_log(
    log: Path, form: str, out: Path, now: Moment, clock: Callable[[], datetime]
) -> Iterator[str]:
    """Write `out` in one of `FORMATS` and say what is in it. Raises `CannotWrite`."""
    check_out(out, log)
    with Book.open(log, clock, read_only=True) as book:
        if form == "calendar":
            from logbook.exchange.plan_calendar import calendar_of_year

            calendar = calendar_of_year(book.plan_facts(), book.kit(), book.settings, now)
            write_whole(out, calendar)
            yield _("The calendar is in {file}.").format(file=one_line(out))
            return
        whole = book.whole_log()
    if form == "fhir":
        from logbook.exchange.fhir_bundle import fhir_bundle

        write_whole(out, fhir_bundle(whole, now.instant))
        yield from _what_is_there(whole, out)
    else:
        from logbook.exchange.log_export import ARCHIVE_ENDING, folder_of_others, write_tables

        write_tables(whole, out)
        yield from _what_is_there(whole, out)
        if out.suffix.lower() != ARCHIVE_ENDING:
            yield _("The other tables are in {folder}.").format(
                folder=one_line(folder_of_others(out))
            )
    yield _("It is not encrypted: whoever has the file can read it.")


def _what_is_there(log: WholeLog, out: Path) -> Iterator[str]:
    count = len(log.readings)
    yield ngettext("{readings} is in {file}.", "{readings} are in {file}.", count).format(
        readings=readings_text(count), file=one_line(out)
    )
    if damaged := sum(reading.is_damaged for reading in log.readings):
        yield ngettext(
            "{n} reading is damaged and has no value there.",
            "{n} readings are damaged and have no value there.",
            damaged,
        ).format(n=number_text(damaged))
