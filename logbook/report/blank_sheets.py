"""Sheets to fill in by hand: a week, a month, and seven checks on three days.

The one for the fingers is in `finger_sheet`, with the same head and boxes.
"""

from __future__ import annotations

from collections.abc import Sequence

from logbook.domain.plan.calendar_days import PROFILE_SLOTS
from logbook.domain.plan.editing import slots_of
from logbook.domain.slots import Slot
from logbook.report.document import DARK, Document, Page
from logbook.report.options import MM
from logbook.report.own_facts import OwnFacts
from logbook.report.text import paragraph
from logbook.wording import _, cautions
from logbook.wording.numbers import number_text, unit_text
from logbook.wording.terms import slot_column

_WEEK_SLOTS = (
    Slot.FASTING,
    Slot.AFTER_BREAKFAST,
    Slot.BEFORE_LUNCH,
    Slot.AFTER_LUNCH,
    Slot.BEFORE_DINNER,
    Slot.AFTER_DINNER,
    Slot.BEDTIME,
    Slot.NIGHT,
)
_DAYS_OF_MONTH = 31
_PROFILE_DAYS = 3
_LINE = 0.6
GAP = 4.0

# A number and a clock time written by hand need no more than this; notes get what is left over.
_WIDEST_SLOT = 32 * MM

_NARROWEST_NOTES = 12 * MM

# Between the last line and the footer.
FOOT = 8.0

# Heads and names are printed as large as they fit; 16 points is the least of large print.
LARGE_SIZES = (16.0, 14.0, 12.0)
_ROW_OF_LETTERS = 1.1


def write_week(document: Document, facts: OwnFacts) -> None:
    """Seven rows, a column for each time of day that the plan asks for, and one for notes."""
    page = document.new_page(sideways=True)
    y = draw_head(document, page, facts, _("My week, from"))
    slots = _slots(facts)
    heads = [(_("Day"), ""), *(slot_column(slot) for slot in slots), (_("Notes"), "")]
    room = page.right - page.left
    day = 0.13 * room
    each = min((0.8 * room - day) / len(slots), _WIDEST_SLOT)
    widths = [day, *[each] * len(slots), room - day - each * len(slots)]
    draw_grid(document, page, y, widths, heads, [""] * 7)


def write_month(document: Document, facts: OwnFacts) -> None:
    """31 narrow rows on one page."""
    page = document.new_page()
    y = draw_head(document, page, facts, _("My month"))
    # Without a plan the night is left out: the rest is as much as an upright page has room for.
    slots = [slot for slot in _slots(facts) if facts.plan is not None or slot is not Slot.NIGHT]
    heads = [("", ""), *(slot_column(slot) for slot in slots), (_("Notes"), "")]
    room = page.right - page.left
    day = 0.06 * room
    size = document.print.table_size
    words = [word for slot in slots for word in slot_column(slot)]
    needed = max(document.faces.width(word, size, bold=True) for word in words) + GAP + 2
    each = min(max((0.82 * room - day) / len(slots), needed), _WIDEST_SLOT)
    each = min(each, (room - day - _NARROWEST_NOTES) / len(slots))
    widths = [day, *[each] * len(slots), room - day - each * len(slots)]
    rows = [number_text(day) for day in range(1, _DAYS_OF_MONTH + 1)]
    draw_grid(document, page, y, widths, heads, rows)


def write_profile(document: Document, facts: OwnFacts) -> None:
    """Seven checks on each of three days, with room for the time and for what was eaten."""
    page = document.new_page()
    y = draw_head(document, page, facts, _("Seven checks a day, on 3 days"))
    room = page.right - page.left
    names = [" ".join(filter(None, slot_column(slot))) for slot in PROFILE_SLOTS]
    number = unit_text(facts.settings.unit)
    share = (y - page.bottom - FOOT + document.print.table_size) / _PROFILE_DAYS
    for day in range(1, _PROFILE_DAYS + 1):
        title = _("Day {n}").format(n=number_text(day))
        heads = [(title, ""), (_("Time"), ""), (number, ""), (_("What I ate, how I felt"), "")]
        widths = [0.34 * room, 0.14 * room, 0.14 * room, 0.38 * room]
        draw_grid(document, page, y, widths, heads, names, height=share - document.print.table_size)
        y -= share


def _slots(facts: OwnFacts) -> Sequence[Slot]:
    """The times of day of the plan, in the order of the day; all usual ones without a plan."""
    planned = slots_of(facts.plan) if facts.plan is not None else ()
    return planned or _WEEK_SLOTS


def draw_head(
    document: Document,
    page: Page,
    facts: OwnFacts,
    title: str,
    *,
    has_unit: bool = True,
    size: float = LARGE_SIZES[0],
) -> float:
    """Title with room to write behind it, the unit, and how the hands are made ready."""
    big = document.print.title_size
    y = page.top - big
    end = page.text(page.left, y, title, big, bold=True)
    page.rule(end + 6, y - 2, end + 150, line=_LINE)
    if has_unit:
        page.text_right(page.right, y, unit_text(facts.settings.unit), big, bold=True)
    block = paragraph(document.faces, cautions.hands(), size, page.right - page.left)
    block.draw(page, page.left, y - 0.5 * big)
    return y - 0.5 * big - block.height - 0.5 * size


def draw_grid(
    document: Document,
    page: Page,
    top: float,
    widths: Sequence[float],
    heads: Sequence[tuple[str, str]],
    rows: Sequence[str],
    *,
    height: float | None = None,
    size: float | None = None,
) -> None:
    """Lines and boxes over the given height, a row of heads above; names stand at the left.

    Without a `size` heads and names are as large as they fit.
    """
    whole = top - page.bottom - FOOT if height is None else height
    lines = 2.6 if any(second for _first, second in heads) else 1.5
    if size is None:
        fitting = (one for one in LARGE_SIZES if _fits(document, one, widths, heads, rows))
        size = next(
            (one for one in fitting if whole >= one * (lines + _ROW_OF_LETTERS * len(rows))),
            document.print.table_size,
        )
    head = size * lines
    row = (whole - head) / len(rows)
    x = page.left
    edges = [x]
    for width in widths:
        x += width
        edges.append(x)
    bottom = top - head - row * len(rows)
    for left, width, words in zip(edges, widths, heads, strict=False):
        for line, text in enumerate(filter(None, words)):
            y = top - (1.1 + 1.15 * line) * size
            if width < 3 * size:  # the number of a day, in a narrow box
                page.text_middle(left + width / 2, y, text, size)
            else:
                wide = document.faces.width(text, size, bold=True)
                smaller = min(1.0, (width - GAP) / wide)  # a plan of nine times of day
                page.text(left + GAP, y, text, size * smaller, bold=True)
    for number, name in enumerate(rows):
        y = top - head - row * number
        page.rule(edges[0], y, edges[-1], line=_LINE, grey=DARK)
        page.text(edges[0] + GAP, y - row / 2 - 0.35 * size, name, size)
    page.rule(edges[0], bottom, edges[-1], line=_LINE, grey=DARK)
    for edge in edges:
        page.path(((edge, top), (edge, bottom)), line=_LINE, grey=DARK)
    page.rule(edges[0], top, edges[-1], line=_LINE, grey=DARK)


def _fits(
    document: Document,
    size: float,
    widths: Sequence[float],
    heads: Sequence[tuple[str, str]],
    rows: Sequence[str],
) -> bool:
    """Whether no head is wider than its column at this size, and no name than the first one."""
    wide = document.faces.width
    are_heads_in = all(
        wide(text, size, bold=True) <= width - GAP
        for width, words in zip(widths, heads, strict=False)
        for text in words
    )
    return are_heads_in and all(wide(name, size) <= widths[0] - GAP for name in rows)
