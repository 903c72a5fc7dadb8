"""Making a locked copy with its sheet, and opening one, for the commands."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import CannotWrite
from logbook.domain.moments import Moment
from logbook.exchange.locked_copy import is_locked, lock_log, locked_name, unlocked
from logbook.exchange.phrases import WORDS_FOR_COPY, make_phrase, phrase_of
from logbook.report.options import Paper
from logbook.report.recovery_sheet import LockedCopy, recovery_sheet
from logbook.whole_file import written_aside
from logbook.wording import _


def make_locked_copy(book: Book, folder: Path, sheet: Path, now: Moment, paper: Paper) -> Path:
    """A locked copy of the log in `folder`, read back, and the sheet that opens it at `sheet`.

    The sheet is on the disk before the copy has its name, so there is never a copy without words.
    Raises `CannotWrite` (why=missing, with_sheet and others); then neither is there.
    """
    if not folder.is_dir():
        raise CannotWrite(folder, why="missing")
    if sheet.resolve().parent == folder.resolve():
        raise CannotWrite(sheet, why="with_sheet")
    out = folder / locked_name(book.path, now)
    phrase = make_phrase(WORDS_FOR_COPY)
    told = LockedCopy(book.settings.person_name, out.name, now, phrase)
    with written_aside(sheet, recovery_sheet(told, paper)):
        lock_log(book.make_copy, out, phrase)
    return out


@contextmanager
def opened(file: Path) -> Iterator[Path]:
    """`file` itself, or what is locked in it once the person has typed its words."""
    if not is_locked(file):
        yield file
        return
    print(_("The words on the sheet:"), file=sys.stderr, flush=True)  # noqa: T201
    with unlocked(file, phrase_of(sys.stdin.readline(), WORDS_FOR_COPY)) as path:
        yield path
