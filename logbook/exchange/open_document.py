"""Reading a sheet of an .ods spreadsheet (OpenDocument 1.3, ISO/IEC 26300) row by row.

Such a file says of each cell what it is and what it shows, so little is left to do but to walk
through its XML; what repeats is written once with a count, which may be any number.
"""

from __future__ import annotations

import re
import zipfile
from collections import deque
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from xml.parsers import expat

from logbook.domain.errors import CannotRead
from logbook.exchange.cells import row_of_cells
from logbook.exchange.layout_check import MOST_COLUMNS
from logbook.exchange.lines import LONGEST_LINE, Row
from logbook.exchange.workbook import MOST_ROWS
from logbook.exchange.zipped import telling_damage

_TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0 "
_OFFICE = "urn:oasis:names:tc:opendocument:xmlns:office:1.0 "
_TEXT = "urn:oasis:names:tc:opendocument:xmlns:text:1.0 "
_STYLE = "urn:oasis:names:tc:opendocument:xmlns:style:1.0 "
_CELLS = (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell")
_BLOCK_BYTES = 64 * 2**10
_LONGEST_COUNT = 10  # digits
_DURATION = re.compile(r"P(?:(\d+)D)?T(\d+)H(\d+)M(\d+)(?:\.\d+)?S", re.ASCII)


@contextmanager
def open_document(path: Path, sheet: str) -> Iterator[tuple[list[str], Iterator[Row]]]:
    """The names of the sheets that can be seen, and the rows of the one named, or of the first.

    One that is hidden comes into question only where no other is, or by its name.

    Raises `CannotRead` (why: spreadsheet_damaged, sheet_missing).
    """
    # Only the reading itself is told as damage, never what is done with the rows.
    with ExitStack() as opened:
        with telling_damage(path):
            file = opened.enter_context(zipfile.ZipFile(path))
            sheets = _sheets(file)
            every = [name for name, _is_hidden in sheets]
            names = [name for name, is_hidden in sheets if not is_hidden] or every
            if not names or (sheet and sheet not in every):
                raise CannotRead(path, why="sheet_missing", sheet=sheet)
        yield names, _rows(path, file, every.index(sheet or names[0]))


def _sheets(file: zipfile.ZipFile) -> list[tuple[str, bool]]:
    """The name of each sheet, and whether its style hides it."""
    found: list[tuple[str, bool]] = []
    hiding: set[str] = set()
    style = ""

    def begun(name: str, attributes: dict[str, str]) -> None:
        nonlocal style
        if name == f"{_STYLE}style":
            style = attributes.get(f"{_STYLE}name", "")
        elif name == f"{_STYLE}table-properties":
            if attributes.get(f"{_TABLE}display") == "false":
                hiding.add(style)
        elif name == f"{_TABLE}table":
            is_hidden = attributes.get(f"{_TABLE}style-name") in hiding
            found.append((attributes.get(f"{_TABLE}name", ""), is_hidden))

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = begun
    for _block in _parsed(file, parser):
        pass
    return found


def _rows(path: Path, file: zipfile.ZipFile, wanted: int) -> Iterator[Row]:
    walk = _Walk(wanted)
    with telling_damage(path):
        for _block in _parsed(file, walk.parser):
            while walk.found:
                number, repeated, cells = walk.found.popleft()
                for place in range(number, number + repeated):
                    if place > MOST_ROWS:
                        raise CannotRead(path, why="too_many_readings", most=MOST_ROWS)
                    if (row := row_of_cells(place, cells)) is None:
                        break
                    yield row
            if walk.is_over:
                return


def _parsed(file: zipfile.ZipFile, parser: expat.XMLParserType) -> Iterator[None]:
    """Feed the parser block by block."""
    with file.open("content.xml") as content:
        while block := content.read(_BLOCK_BYTES):
            parser.Parse(block)
            yield
    parser.Parse(b"", True)
    yield


class _Walk:
    """What was met so far of one sheet. `found` has rows: number, how often, cells."""

    def __init__(self, wanted: int) -> None:
        self.found: deque[tuple[int, int, list[object]]] = deque()
        self.is_over = False
        self._wanted = wanted
        self._sheets = 0
        self._depth = 0
        self._row_number = 1
        self._repeated = 1
        self._cells: list[object] = []
        self._cell_attributes: dict[str, str] | None = None
        self._texts: list[str] = []
        self._text_length = 0
        self._in_note = 0
        self._in_paragraph = 0
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._begun
        self.parser.EndElementHandler = self._ended
        self.parser.CharacterDataHandler = self._said

    @property
    def _is_here(self) -> bool:
        return self._sheets == self._wanted + 1 and self._depth == 1

    def _begun(self, name: str, attributes: dict[str, str]) -> None:
        if name == f"{_TABLE}table":
            self._sheets += self._depth == 0
            self._depth += 1
        elif not self._is_here:
            return
        elif name == f"{_TABLE}table-row":
            self._repeated = _count(attributes, "number-rows-repeated")
            self._cells = []
        elif name in _CELLS:
            self._cell_attributes = attributes
            self._texts, self._text_length = [], 0
        elif name == f"{_OFFICE}annotation":
            self._in_note += 1
        elif self._cell_attributes is not None and not self._in_note:
            self._begun_in_cell(name, attributes)

    def _begun_in_cell(self, name: str, attributes: dict[str, str]) -> None:
        if name == f"{_TEXT}p":
            if self._texts:
                self._keep("\n")
            self._in_paragraph += 1
        elif name == f"{_TEXT}s":
            self._keep(" " * min(_count(attributes, "c", _TEXT), LONGEST_LINE))
        elif name == f"{_TEXT}tab":
            self._keep("\t")
        elif name == f"{_TEXT}line-break":
            self._keep("\n")

    def _ended(self, name: str) -> None:
        if name == f"{_TABLE}table":
            self._depth -= 1
            self.is_over = self._depth == 0 and self._sheets == self._wanted + 1
        elif not self._is_here:
            return
        elif name == f"{_TABLE}table-row":
            if any(cell not in (None, "") for cell in self._cells):
                self.found.append((self._row_number, self._repeated, self._cells))
            self._row_number += self._repeated
        elif name in _CELLS and self._cell_attributes is not None:
            cell = _cell(self._cell_attributes, "".join(self._texts))
            room = MOST_COLUMNS - len(self._cells)
            repeated = _count(self._cell_attributes, "number-columns-repeated")
            self._cells += [cell] * min(repeated, room)
            self._cell_attributes = None
        elif name == f"{_OFFICE}annotation":
            self._in_note -= 1
        elif name == f"{_TEXT}p" and not self._in_note:
            self._in_paragraph -= 1

    def _said(self, text: str) -> None:
        if self._in_paragraph and not self._in_note and self._is_here:
            self._keep(text)

    def _keep(self, text: str) -> None:
        # One character over the longest line is enough to tell that it is too long.
        text = text[: max(LONGEST_LINE + 1 - self._text_length, 0)]
        self._texts.append(text)
        self._text_length += len(text)


def _count(attributes: dict[str, str], name: str, space: str = _TABLE) -> int:
    text = attributes.get(space + name, "1")
    return max(int(text[:_LONGEST_COUNT]), 1)


def _cell(attributes: dict[str, str], shown: str) -> object:
    """The value that a cell is said to have, else what it shows."""
    kind = attributes.get(f"{_OFFICE}value-type", "")
    if kind == "date":
        written = attributes[f"{_OFFICE}date-value"]
        return (datetime if "T" in written else date).fromisoformat(written)
    if kind == "time":
        found = _DURATION.fullmatch(attributes[f"{_OFFICE}time-value"])
        if found is None:
            return shown
        days, hours, minutes, seconds = (int(one or 0) for one in found.groups())
        return timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
    if kind in ("float", "currency", "percentage"):
        return float(attributes[f"{_OFFICE}value"])
    return shown
