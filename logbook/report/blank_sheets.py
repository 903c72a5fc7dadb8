"""Sheets to fill in by hand: a week, a month, seven checks on three days, and the fingers."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.domain.plan.calendar_days import PROFILE_SLOTS
from logbook.domain.plan.editing import slots_of
from logbook.domain.rotation import sites_in_use
from logbook.domain.slots import Slot
from logbook.report.document import DARK, Document, Page
from logbook.report.own_facts import OwnFacts
from logbook.report.text import paragraph
from logbook.wording import _, cautions
from logbook.wording.numbers import number_text, unit_text
from logbook.wording.sites import site_text
from logbook.wording.terms import slot_column, slot_text

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


def write_week(document: Document, facts: OwnFacts) -> None:
    """Seven rows, a column for each time of day that the plan asks for, and one for notes."""
    page = document.new_page(sideways=True)
    y = _head(document, page, facts, _("My week, from"))
    slots = _slots(facts)
    heads = [(_("Day"), ""), *(slot_column(slot) for slot in slots), (_("Notes"), "")]
    room = page.right - page.left
    day, notes = 0.13 * room, 0.2 * room
    each = (room - day - notes) / len(slots)
    widths = [day, *[each] * len(slots), notes]
    _grid(document, page, y, widths, heads, [""] * 7)


def write_month(document: Document, facts: OwnFacts) -> None:
    """31 narrow rows on one page."""
    page = document.new_page()
    y = _head(document, page, facts, _("My month"))
    slots = _slots(facts)
    heads = [("", ""), *(slot_column(slot) for slot in slots), (_("Notes"), "")]
    room = page.right - page.left
    day, notes = 0.06 * room, 0.18 * room
    each = (room - day - notes) / len(slots)
    rows = [number_text(day) for day in range(1, _DAYS_OF_MONTH + 1)]
    _grid(document, page, y, [day, *[each] * len(slots), notes], heads, rows)


def write_profile(document: Document, facts: OwnFacts) -> None:
    """Seven checks on each of three days, with room for the time and for what was eaten."""
    page = document.new_page()
    y = _head(document, page, facts, _("Seven checks a day, on 3 days"))
    room = page.right - page.left
    names = [slot_text(slot) for slot in PROFILE_SLOTS]
    number = unit_text(facts.settings.unit)
    share = (y - page.bottom) / _PROFILE_DAYS
    for day in range(1, _PROFILE_DAYS + 1):
        title = _("Day {n}").format(n=number_text(day))
        heads = [(title, ""), (_("Time"), ""), (number, ""), (_("What I ate, how I felt"), "")]
        widths = [0.34 * room, 0.14 * room, 0.14 * room, 0.38 * room]
        _grid(document, page, y, widths, heads, names, height=share - document.print.table_size)
        y -= share


def write_hands(document: Document, facts: OwnFacts) -> None:
    """A row for each side of each finger in use, a box for each day of a month."""
    page = document.new_page(sideways=True)
    y = _head(document, page, facts, _("My fingers, month"))
    size = document.print.table_size
    names = [site_text(site) for site in sites_in_use(facts.settings)]
    room = page.right - page.left
    name = max((document.faces.width(text, size) for text in names), default=0.0) + size
    box = (room - name) / _DAYS_OF_MONTH
    heads = [("", ""), *((number_text(day), "") for day in range(1, _DAYS_OF_MONTH + 1))]
    most = min(y - page.bottom, (len(names) + 1) * 3.2 * size)
    _grid(document, page, y, [name, *[box] * _DAYS_OF_MONTH], heads, names, height=most, gap=1.0)


def _slots(facts: OwnFacts) -> Sequence[Slot]:
    """The times of day of the plan, in the order of the day; all usual ones without a plan."""
    planned = slots_of(facts.plan) if facts.plan is not None else ()
    return planned or _WEEK_SLOTS


def _head(document: Document, page: Page, facts: OwnFacts, title: str) -> float:
    """Title with room to write behind it, the unit, and how the hands are made ready."""
    big, size = document.print.title_size, document.print.table_size
    y = page.top - big
    end = page.text(page.left, y, title, big, bold=True)
    page.rule(end + 6, y - 2, end + 150, line=_LINE)
    page.text_right(page.right, y, unit_text(facts.settings.unit), big, bold=True)
    block = paragraph(document.faces, cautions.hands(), size, page.right - page.left)
    block.draw(page, page.left, y - 0.5 * big)
    return y - 0.5 * big - block.height - 0.5 * size


def _grid(
    document: Document,
    page: Page,
    top: float,
    widths: Sequence[float],
    heads: Sequence[tuple[str, str]],
    rows: Sequence[str],
    *,
    height: float | None = None,
    gap: float = 3.0,
) -> None:
    """Lines and boxes over the given height, a row of heads above; names stand at the left."""
    size = document.print.table_size
    has_two = any(second for _first, second in heads)
    head = size * (2.6 if has_two else 1.5)
    whole = top - page.bottom if height is None else height
    row = (whole - head) / len(rows)
    x = page.left
    edges = [x]
    for width in widths:
        x += width
        edges.append(x)
    bottom = top - head - row * len(rows)
    for left, (first, second) in zip(edges, heads, strict=False):
        page.text(left + gap, top - 1.05 * size, first, size, bold=True)
        if second:
            page.text(left + gap, top - 2.2 * size, second, size, bold=True)
    for number, name in enumerate(rows):
        y = top - head - row * number
        page.rule(edges[0], y, edges[-1], line=_LINE, grey=DARK)
        page.text(edges[0] + gap, y - row / 2 - 0.35 * size, name, size)
    page.rule(edges[0], bottom, edges[-1], line=_LINE, grey=DARK)
    for edge in edges:
        page.path(((edge, top), (edge, bottom)), line=_LINE, grey=DARK)
    page.rule(edges[0], top, edges[-1], line=_LINE, grey=DARK)
