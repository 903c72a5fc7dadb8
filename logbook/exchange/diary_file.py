"""Reading a diary kept as delimited text or in a spreadsheet, by a layout.

Every line becomes a reading, is left out because the layout says so, or is refused with its
reason. How one line is understood is in `line_reader`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from logbook.domain.errors import CannotRead
from logbook.domain.readings import Reading
from logbook.exchange.layout import Layout
from logbook.exchange.line_reader import LineReader
from logbook.exchange.lines import Row, kept_text
from logbook.exchange.note_lines import NoteLine, with_notes
from logbook.exchange.refusals import LineRefused, RefusedLine
from logbook.exchange.tables import open_table

# Fifty years of more than ten checks a day. Judgement without a source.
MOST_READINGS = 200_000
MOST_REFUSED = 50_000
TOLD_EVERY = 500  # lines

# Hears how many lines were read, and which share of the file that is, if known.
Told = Callable[[int, float | None], None]


@dataclass(frozen=True, slots=True)
class FileRead:
    """What a file held.

    `lines` counts the lines of data: not the blank ones, not the headings. `skipped` counts the
    lines that the layout leaves out, by the word it has for them, `noted` those that became part of
    a reading's note. The parts add up to `lines`. `has_more_pages` tells that the file says of
    itself that others go on where it ends. `sheets` are those of a spreadsheet that can be seen,
    the one that was read before all others.
    """

    lines: int
    readings: tuple[Reading, ...]
    skipped: Mapping[str, int]
    refused: tuple[RefusedLine, ...]
    noted: int = 0
    has_more_pages: bool = False
    sheets: tuple[str, ...] = ()


def read_diary(
    path: Path,
    layout: Layout,
    home_zone: str,
    now: datetime,
    *,
    most_readings: int = MOST_READINGS,
    most_refused: int = MOST_REFUSED,
    told: Told | None = None,
) -> FileRead:
    """Read the file at `path`.

    `home_zone` is the IANA zone for a layout without one; it is marked as assumed. `now` (aware)
    is when the readings are written down; a date more than a day later is refused. `told` hears
    now and then how many lines were read and which share of the file that is, if known; what it
    raises ends the reading.

    Raises `CannotRead` (why: missing, directory, special_file, permission, not_text, encoding,
    empty, disk, too_many_readings, too_many_refused, spreadsheet_damaged, spreadsheet_too_large,
    sheet_missing) and `LayoutWrong` (heading_missing, heading_twice).
    """
    found = _Found()
    sheets: list[str] = []
    with open_table(path, layout) as table:
        sheets += table.sheets
        headings = next(table.rows, None) if layout.has_header else None
        if layout.has_header and headings is None:
            raise CannotRead(path, why="empty")
        reader = LineReader(layout, headings, home_zone, now)
        for count, row in enumerate(table.rows):
            if told is not None and count % TOLD_EVERY == 0:
                told(count, table.share())
            found.take(reader, row)
            if max(len(found.readings), len(found.notes)) > most_readings:
                raise CannotRead(path, why="too_many_readings", most=most_readings)
            if len(found.refused) > most_refused:
                raise CannotRead(path, why="too_many_refused", most=most_refused)
    if found.lines == 0 and not layout.has_header:
        raise CannotRead(path, why="empty")
    if layout.sheet in sheets:
        sheets.remove(layout.sheet)
        sheets.insert(0, layout.sheet)
    readings, alone = with_notes(found.readings, found.notes)
    return FileRead(
        found.lines,
        tuple(readings),
        dict(found.skipped + alone),
        tuple(found.refused),
        len(found.notes) - alone.total(),
        sheets=tuple(sheets),
    )


class _Found:
    """What the rows of a file were, as far as it was read."""

    def __init__(self) -> None:
        self.readings: list[Reading] = []
        self.notes: list[NoteLine] = []
        self.refused: list[RefusedLine] = []
        self.skipped: Counter[str] = Counter()

    @property
    def lines(self) -> int:
        return len(self.readings) + len(self.notes) + len(self.refused) + self.skipped.total()

    def take(self, reader: LineReader, row: Row) -> None:
        try:
            result = reader.read(row)
        except LineRefused as refusal:
            self.refused.append(RefusedLine(row.number, refusal.reason, kept_text(row.text)))
            return
        if isinstance(result, Reading):
            self.readings.append(result)
        elif isinstance(result, NoteLine):
            self.notes.append(result)
        else:
            self.skipped[result] += 1
