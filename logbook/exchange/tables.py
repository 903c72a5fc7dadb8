"""The rows of a diary file, whatever it is: delimited text, an .xlsx or an .ods spreadsheet."""

from __future__ import annotations

import stat
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from logbook.domain.errors import CannotRead
from logbook.exchange.layout import Layout
from logbook.exchange.lines import ZIP, Row, open_text, rows
from logbook.exchange.open_document import open_document
from logbook.exchange.workbook import open_workbook
from logbook.exchange.zipped import TableKind, kind_of_zip


@dataclass(frozen=True, slots=True)
class Table:
    """An open file. `share()` is how much of it was read, from 0 to 1; None where nobody knows.

    `sheets` are the names of the sheets of a spreadsheet.
    """

    kind: TableKind
    rows: Iterator[Row]
    share: Callable[[], float | None]
    sheets: tuple[str, ...] = ()


def kind_of_file(path: Path) -> TableKind:
    """What the file at `path` is, told by its first bytes and never by its name.

    Raises `CannotRead` (why: not_text for a zip file that is no spreadsheet; those of
    `zipped.kind_of_zip`). What can't be opened is taken for text: opening it as such will tell why.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return TableKind.TEXT
        with path.open("rb") as file:
            is_zip = file.read(len(ZIP)) == ZIP
    except (OSError, ValueError):
        return TableKind.TEXT
    kind = kind_of_zip(path) if is_zip else TableKind.TEXT
    if kind is None:
        raise CannotRead(path, why="not_text")
    return kind


@contextmanager
def open_table(path: Path, layout: Layout) -> Iterator[Table]:
    """Open a file to read its rows by a layout, after the lines it passes over.

    Of a spreadsheet the delimiter, encoding and quotes of the layout are of no matter. Raises
    `CannotRead`.
    """
    kind = kind_of_file(path)
    if kind is TableKind.TEXT:
        with open_text(path, layout.encoding) as file:
            size = max(path.stat().st_size, 1)
            yield Table(kind, rows(path, file, layout), lambda: min(file.buffer.tell() / size, 1.0))
        return
    opened = open_workbook if kind is TableKind.XLSX else open_document
    with opened(path, layout.sheet) as (sheets, found):
        after = (row for row in found if row.number > layout.lines_before)
        yield Table(kind, after, lambda: None, tuple(sheets))
