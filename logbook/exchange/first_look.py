"""A first look at a file from elsewhere: what it is, its first rows, where its table begins.

What the columns mean is guessed in `draft`, from what is found here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from logbook.domain.errors import CannotRead
from logbook.exchange.form_guess import TextForm, find_text_form
from logbook.exchange.layout import Layout
from logbook.exchange.layout_check import check_layout
from logbook.exchange.lines import Row
from logbook.exchange.pattern_guess import dates_written, moments_written, times_written
from logbook.exchange.tables import kind_of_file, open_table
from logbook.exchange.zipped import TableKind

# Enough to meet every word a person uses; judgement without a source.
ROWS_LOOKED_AT = 2_000
# Titles and addresses above a table take a few lines.
_LINES_ABOVE = 40
_FIGURE = re.compile(r"[0-9]{1,3}(?:[.,][0-9])?", re.ASCII)


@dataclass(frozen=True, slots=True)
class FirstLook:
    """What was found. `form` is None for a spreadsheet, `sheet` empty for a text.

    `lines_before` are passed over before the headings, or before the first row of data where there
    are none. `rows` are the first rows of data. `headings` has a text for each column, which may be
    empty.
    """

    path: Path
    kind: TableKind
    form: TextForm | None
    sheets: tuple[str, ...]
    sheet: str
    lines_before: int
    has_header: bool
    headings: tuple[str, ...]
    rows: tuple[Row, ...]

    @property
    def column_count(self) -> int:
        """How many columns there are."""
        return len(self.headings)

    def cells(self, place: int) -> list[str]:
        """What stands in a column (from 0) of the first rows, trimmed."""
        return [
            row.fields[place].strip() if place < len(row.fields) else ""
            for row in self.rows
            if row.reason is None
        ]


def look_at(path: Path, *, encoding: str = "", delimiter: str = "", sheet: str = "") -> FirstLook:
    """Look at the file at `path`; what is named is taken as said, all else is told from the file.

    Raises `CannotRead`, as `diary_file.read_diary` does, and with why=no_data where there is no
    figure in it.
    """
    kind = kind_of_file(path)
    form = None
    if kind is TableKind.TEXT:
        form = find_text_form(path, encoding)
        if delimiter:
            form = TextForm(form.encoding, delimiter, form.quote)
    with open_table(path, _bare_layout(form, sheet)) as table:
        sheets = table.sheets
        rows = list(islice(table.rows, _LINES_ABOVE + ROWS_LOOKED_AT))
    if not rows:
        raise CannotRead(path, why="empty")
    if len(sheets) < 2 and not any(c.isdigit() for row in rows for c in row.text):
        raise CannotRead(path, why="no_data")  # headings alone, or a letter
    begins = _first_of_data(rows)
    # What is no day yet but has figures is a line of data that can't be read, and is told as one.
    while begins > 0 and _has_figures(rows[begins - 1]):
        begins -= 1
    header = _header_before(rows, begins)
    data = rows[begins : begins + ROWS_LOOKED_AT]
    head = rows[header].fields if header is not None else []
    used = [len(row.fields) for row in data if any(map(str.strip, row.fields))]
    width = max([_width(head), *(min(one, _most_used(data)) for one in used)], default=0)
    first = rows[begins if header is None else header]
    return FirstLook(
        path=path,
        kind=kind,
        form=form,
        sheets=sheets,
        sheet=sheet or (sheets[0] if sheets else ""),
        lines_before=first.number - 1,
        has_header=header is not None,
        headings=tuple((*(one.strip() for one in head), *[""] * width)[:width]),
        rows=tuple(data),
    )


def _bare_layout(form: TextForm | None, sheet: str) -> Layout:
    """A layout by which the rows can be read while nothing is known of the columns."""
    table: dict[str, object] = {
        "unit": "mg/dL",
        "columns": {"moment": 1, "value": 2},
        "written": {"moment": "%Y-%m-%d %H:%M"},
        "sheet": sheet,
    }
    if form is not None:
        table |= {
            "delimiter": form.delimiter, "encoding": form.encoding, "quote": form.quote,
        }  # fmt: skip
    return check_layout(table, "")


def _first_of_data(rows: Sequence[Row]) -> int:
    """The place of the first row with a day in it."""
    for place, row in enumerate(rows[:_LINES_ABOVE]):
        if row.reason is None and (row.moments or any(map(_is_day, row.fields))):
            return place
    return 1 if len(rows) > 1 else 0


def _is_day(cell: str) -> bool:
    return (
        6 <= len(cell.strip()) <= 40
        and any(c.isdigit() for c in cell)
        and (dates_written([cell]) is not None or moments_written([cell]) is not None)
    )


def _has_figures(row: Row) -> bool:
    """Whether a row has a time or a number of its own, or can't be read at all."""
    return (
        row.reason is not None
        or bool(row.moments)
        or any(_FIGURE.fullmatch(cell.strip()) or _is_time(cell) for cell in row.fields)
    )


def _is_time(cell: str) -> bool:
    return any(c.isdigit() for c in cell) and times_written([cell]) is not None


def _header_before(rows: Sequence[Row], begins: int) -> int | None:
    """The row of headings right above the data: at least two texts that are no numbers."""
    if begins == 0 or rows[begins - 1].reason is not None:
        return None
    named = [cell for cell in rows[begins - 1].fields if any(c.isalpha() for c in cell)]
    return begins - 1 if len(named) >= 2 else None


def _width(fields: Sequence[str]) -> int:
    width = len(fields)
    while width and not fields[width - 1].strip():
        width -= 1
    return width


def _most_used(data: Sequence[Row]) -> int:
    return max((_width(row.fields) for row in data), default=0)
