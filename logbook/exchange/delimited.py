"""Reading a diary kept as delimited text, by a layout.

Every line becomes a reading, is left out because the layout says so, or is refused with its
reason. How one line is understood is in `line_reader`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from logbook.domain.errors import CannotRead
from logbook.domain.readings import Reading
from logbook.exchange.layout import Layout
from logbook.exchange.line_reader import LineReader
from logbook.exchange.lines import LONGEST_KEPT_TEXT, open_text, rows
from logbook.exchange.refusals import LineRefused, RefusedLine

# Fifty years of more than ten checks a day. Judgement without a source.
MOST_READINGS = 200_000
MOST_REFUSED = 50_000


@dataclass(frozen=True, slots=True)
class FileRead:
    """What a file held.

    `lines` counts the lines of data: not the blank ones, not the headings. `skipped` counts the
    lines that the layout leaves out, by the word it has for them. The parts add up to `lines`.
    """

    lines: int
    readings: tuple[Reading, ...]
    skipped: Mapping[str, int]
    refused: tuple[RefusedLine, ...]


def read_delimited(
    path: Path,
    layout: Layout,
    home_zone: str,
    now: datetime,
    *,
    most_readings: int = MOST_READINGS,
    most_refused: int = MOST_REFUSED,
) -> FileRead:
    """Read the file at `path`.

    `home_zone` is the IANA zone for a layout without one; it is marked as assumed. `now` (aware)
    is when the readings are written down; a date more than a day later is refused.

    Raises `CannotRead` (why: missing, directory, special_file, permission, not_text, encoding,
    empty, disk, too_many_readings, too_many_refused) and `LayoutWrong` (heading_missing,
    heading_twice).
    """
    readings: list[Reading] = []
    refused: list[RefusedLine] = []
    skipped: Counter[str] = Counter()
    with open_text(path, layout.encoding) as file:
        found = rows(path, file, layout)
        headings = next(found, None) if layout.has_header else None
        if layout.has_header and headings is None:
            raise CannotRead(path, why="empty")
        reader = LineReader(layout, headings, home_zone, now)
        for row in found:
            try:
                result = reader.read(row)
            except LineRefused as refusal:
                refused.append(RefusedLine(row.number, refusal.reason, _kept(row.text)))
            else:
                if isinstance(result, Reading):
                    readings.append(result)
                else:
                    skipped[result] += 1
            if len(readings) > most_readings:
                raise CannotRead(path, why="too_many_readings", most=most_readings)
            if len(refused) > most_refused:
                raise CannotRead(path, why="too_many_refused", most=most_refused)
    count = len(readings) + len(refused) + skipped.total()
    if count == 0 and not layout.has_header:
        raise CannotRead(path, why="empty")
    return FileRead(count, tuple(readings), dict(skipped), tuple(refused))


def _kept(text: str) -> str:
    if len(text) <= LONGEST_KEPT_TEXT:
        return text
    return text[:LONGEST_KEPT_TEXT] + "…"
