"""A small table of the appendix: a first column of names, further columns of figures."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.report.document import BLACK, Page
from logbook.report.flow import Flow
from logbook.report.options import LEADING
from logbook.report.text import Block, baseline_below_top

# Room between neighbouring columns: at least, and at most where there is plenty.
_LEAST_GAP, _MOST_GAP = 6.0, 18.0

# What a heading above a table needs under it: the heads, and the rows that are not parted.
LINES_OF_A_TABLE = 5

Column = tuple[str, Sequence[str]]


def is_one_table(flow: Flow, columns: Sequence[Column]) -> bool:
    """Whether all the columns stand side by side on the page."""
    return len(_groups(flow, columns)) == 1


def write_table(flow: Flow, columns: Sequence[Column], *, left_aligned: int = 1) -> None:
    """The table; where it is too wide, its last columns under it with the names again.

    Every column is as wide as it needs to be, the first `left_aligned` of them left aligned, the
    others right aligned. A long table goes on on the next page under its heads.
    """
    for number, group in enumerate(_groups(flow, columns)):
        if number:
            flow.gap(flow.document.print.table_size * 0.6)
        _write_rows(flow, group, left_aligned)


def _width(flow: Flow, column: Column) -> float:
    faces, size = flow.document.faces, flow.document.print.table_size
    head, texts = column
    return max(faces.width(head, size, bold=True), *(faces.width(text, size) for text in texts), 0)


def _groups(flow: Flow, columns: Sequence[Column]) -> list[list[Column]]:
    names, *rest = columns
    groups: list[list[Column]] = [[names]]
    used = _width(flow, names)
    for column in rest:
        wide = _width(flow, column) + _LEAST_GAP
        if len(groups[-1]) > 1 and used + wide > flow.width:
            groups.append([names])
            used = _width(flow, names)
        groups[-1].append(column)
        used += wide
    return groups


def _write_rows(flow: Flow, columns: Sequence[Column], left_aligned: int) -> None:
    leading = flow.document.print.table_size * LEADING
    widths = [_width(flow, column) for column in columns]
    rows = len(columns[0][1])
    first = 0
    while first < rows:
        room = int((flow.y - flow.page.bottom - 2) / leading) - 1
        # Two rows are not left behind at the foot of a page.
        if room < min(3, rows - first):
            flow.new_page()
            continue
        last = min(rows, first + room)
        part = [(head, texts[first:last]) for head, texts in columns]
        flow.block(_table(flow, part, widths, left_aligned))
        first = last


def _table(
    flow: Flow, columns: Sequence[Column], widths: Sequence[float], left_aligned: int
) -> Block:
    size = flow.document.print.table_size
    spare = (flow.width - sum(widths)) / max(1, len(columns) - 1)
    gap = max(_LEAST_GAP, min(_MOST_GAP, spare))
    leading = size * LEADING
    rows = len(columns[0][1])

    def draw(page: Page, x: float, top: float) -> None:
        for line in range(rows + 1):
            baseline = top - line * leading - baseline_below_top(size)
            at = x
            for number, ((head, texts), width) in enumerate(zip(columns, widths, strict=True)):
                text = texts[line - 1] if line else head
                if number >= left_aligned:
                    page.text_right(at + width, baseline, text, size, bold=not line)
                else:
                    page.text(at, baseline, text, size, bold=not line)
                at += width + gap
        right = x + sum(widths) + gap * (len(columns) - 1)
        page.rule(x, top - leading, right, line=1.0, grey=BLACK)

    return Block((rows + 1) * leading + 2, draw)
