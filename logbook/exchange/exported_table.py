"""Opening a table that an export wrote, whether it lies in an archive or in a file of its own.

What the rows say is read in `reading_table_file` and `earlier_values_file`.
"""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from io import TextIOWrapper
from pathlib import Path
from typing import TextIO

from logbook.domain.errors import CannotRead
from logbook.domain.glucose import Unit
from logbook.exchange.layout_check import check_layout
from logbook.exchange.lines import Row, open_text, rows
from logbook.exchange.safe_cells import formula_free
from logbook.exchange.tables import kind_of_file, open_table
from logbook.exchange.zipped import TableKind

# How an export writes its tables, for the reader of lines.
_WRITTEN_AS = check_layout(
    {
        "delimiter": "comma",
        "header": True,
        "unit": Unit.MG_DL.value,
        "columns": {"date": "date", "time": "time", "value": f"glucose ({Unit.MG_DL})"},
        "written": {"date": "%Y-%m-%d", "time": "%H:%M"},
    },
    "",
)

# More than the largest table of readings that is taken in.
_LARGEST_BYTES = 200_000_000


@dataclass(frozen=True, slots=True)
class ExportedTable:
    """A table while it is open: its headings, none for an empty file, and its other rows.

    `share()` is how much of it was read, from 0 to 1; None where nobody knows.
    """

    headings: tuple[str, ...]
    rows: Iterator[Row]
    share: Callable[[], float | None]


@contextmanager
def open_table_in(path: Path, name: str) -> Iterator[ExportedTable]:
    """The table: the file at `path` itself, or the one that an archive there has by that name.

    The first table of a spreadsheet will do too: people open the file in such a program and save it
    there. Raises `CannotRead`; with why=not_text for an archive without it.
    """
    if is_spreadsheet(path):
        with open_table(path, _WRITTEN_AS) as table:
            first = next(table.rows, None)
            headings = tuple(map(str.strip, first.fields)) if first is not None else ()
            found = (_as_written(row, headings) for row in table.rows)
            yield ExportedTable(headings, found, table.share)
        return
    try:
        with zipfile.ZipFile(path) as archive:
            member = archive.getinfo(f"{name}.csv")
            if member.file_size > _LARGEST_BYTES:
                raise CannotRead(path, why="too_large")
            with archive.open(member) as content, TextIOWrapper(content, "utf-8-sig") as file:
                yield _table(path, file, member.file_size)
        return
    except KeyError as error:  # an archive of something else
        raise CannotRead(path, why="not_text") from error
    except (zlib.error, EOFError, RuntimeError, NotImplementedError) as error:
        raise CannotRead(path, why="archive") from error
    except zipfile.BadZipFile as error:
        if zipfile.is_zipfile(path):
            raise CannotRead(path, why="archive") from error
    except OSError:
        pass  # whoever opens it as text tells why it can't be read
    with open_text(path, "utf-8") as file:
        yield _table(path, file, path.stat().st_size)


def _table(path: Path, file: TextIO, size: int) -> ExportedTable:
    found = rows(path, file, _WRITTEN_AS)
    headings = next(found, None)
    return ExportedTable(
        tuple(headings.fields if headings is not None else ()),
        found,
        lambda: file.buffer.tell() / max(size, 1),
    )


def is_spreadsheet(path: Path) -> bool:
    """Whether the file at `path` is a spreadsheet, and no archive of tables."""
    try:
        return kind_of_file(path) is not TableKind.TEXT
    except CannotRead:
        return False  # an archive of tables; whoever opens it tells what is wrong with it


def _as_written(row: Row, headings: Sequence[str]) -> Row:
    """A row of a spreadsheet with its days and times as an export writes them."""
    fields = list(row.fields)
    for place, moment in row.moments.items():
        if place < len(headings) and headings[place] == "date" and isinstance(moment, date):
            fields[place] = f"{moment:%Y-%m-%d}"
    return replace(row, fields=fields)


class Cells:
    """The cells of one row by the headings of their columns, before they were made safe."""

    def __init__(self, places: dict[str, int], fields: list[str], kept: frozenset[str]) -> None:
        self._places = places
        self._fields = fields
        self._kept = kept

    def __call__(self, heading: str) -> str:
        """The cell, trimmed but where the person's own spaces are kept; empty where none is."""
        place = self._places.get(heading)
        if place is None or place >= len(self._fields):
            return ""
        text = formula_free(self._fields[place])
        return text if heading in self._kept else text.strip()
