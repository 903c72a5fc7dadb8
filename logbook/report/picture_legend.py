"""The legend of the day picture: what its marks, boxes and bars mean, in as few lines as it takes.

What boxes mean stands with the marks where there is room in their line, else in the picture where
nothing is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable

from logbook.domain.states import State
from logbook.report.document import Document, Page
from logbook.report.marks import STATE_MARKS
from logbook.report.options import LEADING
from logbook.report.text import Block
from logbook.wording import _, mark

# Shorter than elsewhere, so that they stand in one line under the picture.
_NAMES = {
    State.VERY_LOW: mark("very low"),
    State.LOW: mark("low"),
    State.BELOW_TARGET: mark("below target"),
    State.IN_TARGET: mark("in target"),
    State.ABOVE_TARGET: mark("above"),
    State.VERY_HIGH: mark("very high"),
    State.NOT_JUDGED: mark("no target"),
}

_Entry = tuple[State | None, str]


def note_of_boxes() -> str:
    """What boxes and bars mean."""
    return _("box: middle half, bar: middle value")


def legend_rows(
    document: Document, seen: Iterable[State], notes: Iterable[str], width: float
) -> list[Block]:
    """What the marks mean, only those in `seen`, then `notes`, in lines `width` points wide."""
    faces, size = document.faces, document.print.table_size
    seen = set(seen)
    entries: list[_Entry] = [(state, _(_NAMES[state])) for state in _NAMES if state in seen]
    entries.extend((None, note) for note in notes)
    rows: list[list[_Entry]] = [[]]
    used = 0.0
    for state, text in entries:
        wide = faces.width(text, size) + (size * 1.5 if state else 0) + size * 0.7
        if rows[-1] and used + wide - size * 0.7 > width:
            rows.append([])
            used = 0.0
        rows[-1].append((state, text))
        used += wide
    return [_legend_row(document, row, size) for row in rows if row]


def _legend_row(document: Document, row: list[_Entry], size: float) -> Block:
    def draw(page: Page, x: float, top: float) -> None:
        baseline = top - size * 1.1
        for state, text in row:
            if state is not None:
                radius = size * 0.27
                at = x + size * 0.7
                page.operators.append(
                    f"q 0.8 w {STATE_MARKS[state](at, baseline + size * 0.32, radius)} Q"
                )
                x += size * 1.5
            page.text(x, baseline, text, size)
            x += document.faces.width(text, size) + size * 0.7

    return Block(size * LEADING, draw)


def free_start(
    taken: Iterable[tuple[float, float]], left: float, right: float, wide: float
) -> float | None:
    """Where `wide` points lie free between `left` and `right`, as far right as can be, or None."""
    end = right
    for start, stop in sorted(taken, key=lambda one: one[1], reverse=True):
        if stop <= end - wide:
            break
        end = min(end, start)
    return end - wide if end - wide >= left else None
