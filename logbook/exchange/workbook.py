"""Reading a sheet of an .xlsx workbook (Office Open XML, ISO/IEC 29500) row by row."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any, BinaryIO

from logbook.domain.errors import CannotRead
from logbook.exchange.cells import row_of_cells
from logbook.exchange.layout_check import MOST_COLUMNS
from logbook.exchange.lines import Row
from logbook.exchange.zipped import telling_damage

MOST_ROWS = 1_048_576  # what a sheet can have


@contextmanager
def open_workbook(path: Path, sheet: str) -> Iterator[tuple[list[str], Iterator[Row]]]:
    """The names of the sheets that can be seen, and the rows of the one named, or of the first.

    One that is hidden comes into question only where no other is, or by its name.

    Raises `CannotRead` (why: spreadsheet_damaged, sheet_missing).
    """
    # Only what the library does is told as damage, never what is done with the rows.
    with ExitStack() as opened:
        with telling_damage(path):
            book = _loaded(opened.enter_context(path.open("rb")))
            opened.callback(book.close)
            seen = [one for one in book.worksheets if one.sheet_state == "visible"]
            names = [one.title for one in seen or book.worksheets]
            wanted = sheet or next(iter(names), "")
            chosen = next((one for one in book.worksheets if one.title == wanted), None)
            if chosen is None:
                raise CannotRead(path, why="sheet_missing", sheet=sheet)
            # What the file says of its size may be anything.
            chosen.reset_dimensions()
            found = chosen.iter_rows(values_only=True)
        yield names, _rows(path, found)


def _loaded(file: BinaryIO) -> Any:
    # Imported when a spreadsheet is read: it takes longer than all else here.
    from openpyxl import load_workbook

    with warnings.catch_warnings():
        # It warns of pictures and rules for colours, which are of no matter here.
        warnings.simplefilter("ignore")
        return load_workbook(file, read_only=True, data_only=True, keep_links=False)


def _rows(path: Path, found: Iterator[tuple[object, ...]]) -> Iterator[Row]:
    with telling_damage(path):
        for number, cells in enumerate(found, start=1):
            if number > MOST_ROWS:
                raise CannotRead(path, why="too_many_readings", most=MOST_ROWS)
            if cells and (row := row_of_cells(number, cells[:MOST_COLUMNS])) is not None:
                yield row
