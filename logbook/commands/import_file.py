"""The command `import`: the readings of a file become part of the log, as one action.

Nothing is written until the whole file has been read; where no log is, one is made.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Protocol

from logbook.book import Book
from logbook.commands.fresh_files import nothing_left_on_failure
from logbook.domain.errors import CannotWrite, LayoutWrong, NoSuchLog
from logbook.domain.glucose import Unit
from logbook.domain.import_doubts import ImportDoubts, import_doubts
from logbook.domain.readings import Reading
from logbook.domain.series import EMPTY_SERIES
from logbook.domain.settings import LogSettings
from logbook.exchange.diary_file import FileRead, read_diary
from logbook.exchange.draft import NOT_WANTED, Draft
from logbook.exchange.first_look import look_at
from logbook.exchange.fitting import layouts_that_fit
from logbook.exchange.identity import known_references, new_with_doubts
from logbook.exchange.layout import Layout
from logbook.exchange.layout_files import find_layout, kept_layouts, shipped_layouts
from logbook.exchange.refusals import RefusedLine
from logbook.exchange.refused_lines import refused_lines_file
from logbook.exchange.sources import self_telling


@dataclass(frozen=True, slots=True)
class ImportWish:
    """What was asked for.

    `layout` is a path or a name, empty to find one by the headings; with `finds_columns` what each
    column is may be told from the file itself where no layout fits.
    """

    file: Path
    log: Path
    layout: str = ""
    finds_columns: bool = False
    layouts_kept_in: Path | None = None
    refused_out: Path | None = None
    is_dry_run: bool = False


@dataclass(frozen=True, slots=True)
class ImportOutcome:
    """What came of it. `has_made_log` is true when there was no log before.

    `columns` are those that were told from the file itself: each with its place from 0, its heading
    and what it was taken for. `sheets` are those of a spreadsheet, the first of them the one that
    was read.
    """

    wish: ImportWish
    layout_name: str
    columns: tuple[tuple[int, str, str], ...]
    sheets: tuple[str, ...]
    has_more_pages: bool
    lines: int
    added: int
    noted: int
    already_there: int
    skipped: Mapping[str, int]
    refused: tuple[RefusedLine, ...]
    doubts: ImportDoubts
    has_made_log: bool

    @property
    def has_taken_nothing(self) -> bool:
        """Whether no line of the file is in the log now, or would be."""
        return self.added == 0 and self.already_there == 0


def import_file(
    wish: ImportWish, clock: Callable[[], datetime], computer_zone: str
) -> ImportOutcome:
    """Read the file and take in what is new.

    Raises the errors of reading, of layouts and of the Book; then nothing was taken in, and a log
    that was not there before is not there now.
    """
    way = _way_to_read(wish)
    _check_refused_out(wish)
    try:
        with Book.open(wish.log, clock, read_only=wish.is_dry_run) as book:
            return _into_book(wish, way, book, clock())
    except NoSuchLog:
        return _into_new_log(wish, way, clock, computer_zone)


class _Read(Protocol):
    def __call__(self, path: Path, *, home_zone: str, now: datetime) -> FileRead: ...


@dataclass(frozen=True, slots=True)
class _Way:
    """How the file is read: by a layout, or as it tells itself."""

    name: str
    read: _Read
    zone: str = ""
    unit: Unit | None = None
    columns: tuple[tuple[int, str, str], ...] = ()


def _way_to_read(wish: ImportWish) -> _Way:
    if not wish.layout and (told := self_telling(wish.file)) is not None:
        return _Way(told.name, told.read)
    if wish.layout:
        return _by_layout(find_layout(wish.layout, wish.layouts_kept_in))
    fitting = layouts_that_fit(wish.file, wish.layouts_kept_in)
    if len(fitting) == 1:
        return _by_layout(fitting[0])
    if wish.finds_columns:
        return _by_columns_found(wish.file)
    known = sorted({*shipped_layouts(), *kept_layouts(wish.layouts_kept_in)})
    raise LayoutWrong(wish.file, why="none_fits", key="", known=known)


def _by_layout(layout: Layout) -> _Way:
    return _Way(layout.name, partial(read_diary, layout=layout), layout.zone, layout.unit)


def _by_columns_found(file: Path) -> _Way:
    """Raises `LayoutWrong` (why=not_certain) where a column, the unit or a day is not certain."""
    draft = Draft.of(look_at(file))
    if lacks := draft.lacks():
        raise LayoutWrong(file, why="not_certain", key="", lack=lacks[0].value)
    columns = tuple(
        (place, draft.look.headings[place], column)
        for place, column in enumerate(draft.columns)
        if column != NOT_WANTED
    )
    return replace(_by_layout(draft.layout(file.name)), columns=columns)


def _check_refused_out(wish: ImportWish) -> None:
    """The refused lines must not overwrite the file they come from, or the log."""
    out = wish.refused_out
    if out is None:
        return
    taken = [wish.file.resolve(), wish.log.resolve(), Path(wish.layout or wish.file).resolve()]
    is_beside_log = out.resolve().parent == wish.log.resolve().parent and out.name.startswith(
        wish.log.name
    )
    if out.resolve() in taken or is_beside_log:
        raise CannotWrite(out, why="exists")


def _into_book(wish: ImportWish, way: _Way, book: Book, now: datetime) -> ImportOutcome:
    found = way.read(wish.file, home_zone=book.settings.home_zone, now=now)
    added, doubts = new_with_doubts(book, found.readings)
    with refused_lines_file(wish.refused_out, found.refused):
        if added and not wish.is_dry_run:
            book.take_in(added, wish.file.name)
    return _outcome(wish, way, found, len(added), doubts, has_made_log=False)


def _into_new_log(
    wish: ImportWish, way: _Way, clock: Callable[[], datetime], computer_zone: str
) -> ImportOutcome:
    zone = way.zone or computer_zone
    found = way.read(wish.file, home_zone=zone, now=clock())
    readings = known_references(found.readings, (), ())
    with refused_lines_file(wish.refused_out, found.refused):
        if readings and not wish.is_dry_run:
            unit = way.unit or _usual_unit(readings)
            _make_log(wish, LogSettings(unit=unit, home_zone=zone), readings, clock)
    count = len(readings)
    doubts = import_doubts(readings, EMPTY_SERIES, ())
    has_made_log = bool(count) and not wish.is_dry_run
    return _outcome(wish, way, found, count, doubts, has_made_log=has_made_log)


def _usual_unit(readings: Sequence[Reading]) -> Unit:
    in_mg_dl = sum(reading.glucose.unit is Unit.MG_DL for reading in readings)
    return Unit.MG_DL if 2 * in_mg_dl >= len(readings) else Unit.MMOL_L


def _make_log(
    wish: ImportWish,
    settings: LogSettings,
    readings: Sequence[Reading],
    clock: Callable[[], datetime],
) -> None:
    book = Book.create(wish.log, settings, clock)
    # From here on the log is ours, so it may be taken away again.
    with nothing_left_on_failure(wish.log), book:
        book.take_in(readings, wish.file.name)


def _outcome(
    wish: ImportWish,
    way: _Way,
    found: FileRead,
    added: int,
    doubts: ImportDoubts,
    *,
    has_made_log: bool,
) -> ImportOutcome:
    return ImportOutcome(
        wish=wish,
        layout_name=way.name,
        columns=way.columns,
        sheets=found.sheets,
        has_more_pages=found.has_more_pages,
        lines=found.lines,
        added=added,
        noted=found.noted,
        already_there=len(found.readings) - added,
        skipped=found.skipped,
        refused=found.refused,
        doubts=doubts,
        has_made_log=has_made_log,
    )
