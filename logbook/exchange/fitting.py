"""Finding the shipped layout whose headings a file has, for a person who names none."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from logbook.domain.errors import CannotRead, LayoutWrong
from logbook.exchange.draft import Draft
from logbook.exchange.first_look import look_at
from logbook.exchange.layout import Layout, plain_text
from logbook.exchange.layout_files import find_layout, kept_layouts, shipped_layouts
from logbook.exchange.line_reader import column_places
from logbook.exchange.lines import Row
from logbook.exchange.tables import open_table


def layouts_that_fit(path: Path, kept_in: Path | None = None) -> list[Layout]:
    """The kept layouts with headings that are the headings of the file at `path`, else the shipped.

    A layout without headings fits nothing by itself: it has to be named. A shipped layout nobody
    chose, so it fits only a file that has no other headings, and numbers of its own unit: what
    stands under another heading might say that a line is no reading. Raises `CannotRead` when the
    file can't be read, or is empty.
    """
    kept = []
    for name in kept_layouts(kept_in):
        with suppress(LayoutWrong):  # one that was edited and spoilt fits nothing
            kept.append(find_layout(name, kept_in))
    if fitting := _fitting(path, kept):
        return fitting
    shipped = _fitting(path, map(find_layout, shipped_layouts()))
    return [layout for layout in shipped if _says_all(layout, path)]


def _fitting(path: Path, layouts: Iterable[Layout]) -> list[Layout]:
    fitting = []
    for layout in layouts:
        if layout.has_header:
            headings = _first_row(path, layout)
            if headings is not None and _are_of(headings, layout):
                fitting.append(layout)
    return fitting


def _says_all(layout: Layout, path: Path) -> bool:
    """Whether a layout leaves no heading of a file aside and the numbers can be in its unit."""
    headings = _first_row(path, layout)
    assert headings is not None
    if not {*map(plain_text, headings.fields)} <= {"", *map(str, layout.columns.values())}:
        return False
    draft = Draft.of(look_at(path))
    return draft.evidence.is_by_line or draft.unit_in_force is layout.unit


def _first_row(path: Path, layout: Layout) -> Row | None:
    """The first row, or None where the file is not written in the layout's encoding."""
    try:
        with open_table(path, layout) as table:
            row = next(table.rows, None)
    except CannotRead as error:
        if error.facts.get("why") in ("encoding", "sheet_missing"):
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
