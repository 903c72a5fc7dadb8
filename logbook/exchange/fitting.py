"""Finding the shipped layout whose headings a file has, for a person who names none."""

from __future__ import annotations

from pathlib import Path

from logbook.domain.errors import CannotRead, LayoutWrong
from logbook.exchange.layout import Layout
from logbook.exchange.layout_files import find_layout, shipped_layouts
from logbook.exchange.line_reader import column_places
from logbook.exchange.lines import Row, open_text, rows


def layouts_that_fit(path: Path) -> list[Layout]:
    """The shipped layouts with headings that are the headings of the file at `path`.

    A layout without headings fits nothing by itself: it has to be named. Raises `CannotRead` when
    the file can't be read, or is empty.
    """
    fitting = []
    for name in shipped_layouts():
        layout = find_layout(name)
        if layout.has_header:
            headings = _first_row(path, layout)
            if headings is not None and _are_of(headings, layout):
                fitting.append(layout)
    return fitting


def _first_row(path: Path, layout: Layout) -> Row | None:
    """The first row, or None where the file is not written in the layout's encoding."""
    try:
        with open_text(path, layout.encoding) as file:
            row = next(rows(path, file, layout), None)
    except CannotRead as error:
        if error.facts.get("why") == "encoding":
            return None
        raise
    if row is None:
        raise CannotRead(path, why="empty")
    return row


def _are_of(headings: Row, layout: Layout) -> bool:
    try:
        column_places(layout, headings)
    except LayoutWrong:
        return False
    return True
