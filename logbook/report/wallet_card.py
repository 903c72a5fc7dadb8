"""The wallet card: two faces to cut out and fold, as large as a bank card."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.report.document import DARK, Document, Page
from logbook.report.options import MM
from logbook.report.own_facts import OwnFacts, medicines_now, phone_texts
from logbook.report.text import Block, Span, paragraph, stacked
from logbook.wording import _
from logbook.wording.own_sheets import helper_steps

# A bank card, ISO/IEC 7810 ID-1: 85.60 by 53.98 mm.
_WIDTH, _HEIGHT = 85.6 * MM, 53.98 * MM
_INSET = 3.0 * MM

# In points. What does not fit in the first is set in the next, and never in a smaller one.
_SIZES = (10.0, 9.0, 8.0)
_TITLE = 12.0
_LEADING = 1.2


def write_wallet_card(document: Document, facts: OwnFacts) -> None:
    """A page with the card twice: one for the pocket, one for the bag."""
    page = document.new_page()
    size = document.print.text_size
    page.text(page.left, page.top - size, _("Cut along the lines, fold in the middle."), size)
    top = page.top - 3 * size
    for number in range(2):
        y = top - number * (_HEIGHT + 12 * MM)
        _draw_face(document, page, page.left, y, _front(facts))
        _draw_face(document, page, page.left + _WIDTH, y, _back(facts))
        fold = page.left + _WIDTH
        page.path(((fold, y), (fold, y - _HEIGHT)), line=0.6, grey=DARK, dash="3 3")


def _front(facts: OwnFacts) -> list[tuple[str, Sequence[str]]]:
    settings = facts.settings
    who = [settings.person_name.strip()] if settings.person_name.strip() else []
    if settings.born.strip():
        who.append(_("born {born}").format(born=settings.born.strip()))
    return [
        (_("I have diabetes"), who),
        ("", phone_texts(facts)),
        (_("My medicines"), medicines_now(facts)),
    ]


def _back(facts: OwnFacts) -> list[tuple[str, Sequence[str]]]:
    steps = helper_steps(facts.emergency, only_glucose=facts.needs_glucose)
    return [(_("Confused or sleepy? I may be low."), steps)]


def _draw_face(
    document: Document,
    page: Page,
    x: float,
    top: float,
    parts: Sequence[tuple[str, Sequence[str]]],
) -> None:
    page.box(x, top - _HEIGHT, _WIDTH, _HEIGHT, line=0.6, grey=DARK)
    room = _HEIGHT - 2 * _INSET
    block = next(
        (made for size in _SIZES if (made := _face(document, parts, size)).height <= room),
        None,
    )
    if block is None:
        block = _cut(document, parts, room)
    block.draw(page, x + _INSET, top - _INSET)


def _face(
    document: Document,
    parts: Sequence[tuple[str, Sequence[str]]],
    size: float,
    most_lines: int | None = None,
) -> Block:
    faces, width = document.faces, _WIDTH - 2 * _INSET
    blocks: list[Block] = []
    for title, lines in parts:
        if title and lines:
            blocks.append(_bold(document, title, _TITLE if not blocks else size, width))
        elif title and not blocks:
            blocks.append(_bold(document, title, _TITLE, width))
        blocks += [
            paragraph(faces, line, size, width, leading=_LEADING, most_lines=most_lines)
            for line in lines
        ]
    return stacked(blocks, gap=1.5)


def _bold(document: Document, text: str, size: float, width: float) -> Block:
    return paragraph(document.faces, (Span(text, bold=True),), size, width, leading=_LEADING)


def _cut(document: Document, parts: Sequence[tuple[str, Sequence[str]]], room: float) -> Block:
    """In the smallest letters, one line each; what is left over is said to stand elsewhere."""
    kept = [(title, list(lines)) for title, lines in parts]
    more = _("More on my plan sheet.")
    while kept and kept[-1][1]:
        block = _face(document, [*kept, ("", [more])], _SIZES[-1], most_lines=1)
        if block.height <= room:
            return block
        kept[-1][1].pop()
    return _face(document, [*kept[:-1], ("", [more])], _SIZES[-1], most_lines=1)
