"""Page 1, which alone answers a provider who has two minutes.

It holds three questions, the medicines, at least the latest three changes, the targets, a large
picture and three findings. When it is tight, things yield in a fixed order: the third finding, the
third question, the picture's height, the size of the letters of lists and findings, and last the
medicines. What changed beyond the latest three takes what room is left. Only a log with far longer
texts than these goes further: one finding is left, lists are in smaller letters, the picture is
lower, entries are cut, then the picture goes. The strip about lows, the targets, two questions and
the latest three changes always stay. What yielded stands whole on page 2.
"""

from __future__ import annotations

from dataclasses import replace

from logbook.report.contents import Contents
from logbook.report.document import Document, Page
from logbook.report.flow import Flow
from logbook.report.front_blocks import (
    DECIDED_BOX,
    LARGE_PICTURE,
    SMALL_PICTURE,
    FrontBlocks,
    Yielding,
)
from logbook.report.front_lists import change_lines, medicine_lines, question_lines
from logbook.report.front_words import finding_lines
from logbook.report.options import LEADING, MM
from logbook.report.text import Block
from logbook.wording import _

LEAST_CHANGES = 3

# Lines stand this close when the page is full, and as everywhere else when it is not.
_TIGHT_LEADING = 1.25

# A short page leaves room: the picture grows into it, then the box.
_LARGEST_PICTURE, _LARGEST_BOX = 75 * MM, 90 * MM

IN_ORDER = (
    Yielding(),
    Yielding(findings=2),
    Yielding(2, findings=2),
    Yielding(2, SMALL_PICTURE, findings=2),
    Yielding(2, SMALL_PICTURE, findings=2, is_small=True),
    Yielding(2, SMALL_PICTURE, has_medicines=False, findings=2),
)
_LEAST = Yielding(2, SMALL_PICTURE, has_medicines=False, findings=1)
_SMALL = replace(_LEAST, picture=25 * MM, is_small=True)
_BEYOND = (
    _LEAST,
    replace(_LEAST, is_small=True),
    _SMALL,
    *(replace(_SMALL, most_lines=most) for most in (4, 3, 2, 1)),
    replace(_SMALL, picture=0.0, most_lines=1),
)


def write_front_page(document: Document, contents: Contents) -> Yielding:
    """Page 1. Returns how much of the lists is on it."""
    page = document.new_page()
    page.bookmark(_("Page for the visit"))
    yielding, block = _fitted(document, contents, page)
    block.draw(page, page.left, page.top)
    return yielding


def _fitted(document: Document, contents: Contents, page: Page) -> tuple[Yielding, Block]:
    """The fullest page 1 there is room for; what is left goes to changes, picture, lines, box."""
    room = page.top - page.bottom
    width = page.right - page.left
    tight = FrontBlocks(document, contents, width, _TIGHT_LEADING)
    changes = len(change_lines(contents))
    shown = min(changes, LEAST_CHANGES)
    levels = (replace(level, changes=shown) for level in (*IN_ORDER, *_BEYOND))
    fits = ((level, found) for level in levels if (found := _first_that_fits(tight, level, room)))
    least, found = next(fits, (None, None))
    if least is None or found is None:
        # Names and notes of whole paragraphs: they run over the edge rather than get lost.
        least = replace(_BEYOND[-1], changes=shown)
        return least, tight.arrangements(least)[0]
    for most in range(changes, shown, -1):
        more = replace(least, changes=most)
        if grown := _first_that_fits(tight, more, room):
            least, found = more, grown
            break
    way, block = found
    if 0 < least.picture < LARGE_PICTURE:
        picture = min(LARGE_PICTURE, least.picture + room - block.height)
        least = replace(least, picture=picture)
        block = tight.arrangements(least)[way]
    loose = FrontBlocks(document, contents, width, LEADING).arrangements(least)[way]
    # Lines break alike at every leading, so the height grows evenly with it.
    growth = max(loose.height - block.height, 0.001)
    share = max(0.0, min(1.0, (room - block.height) / growth))
    opened = FrontBlocks(
        document, contents, width, _TIGHT_LEADING + share * (LEADING - _TIGHT_LEADING)
    )
    over = max(0.0, room - opened.arrangements(least)[way].height)
    if opened.has_picture:
        picture = min(_LARGEST_PICTURE, least.picture + over)
        over -= picture - least.picture
        least = replace(least, picture=picture)
    box = min(_LARGEST_BOX, DECIDED_BOX + over)
    return least, opened.arrangements(least, box)[way]


def _first_that_fits(
    blocks: FrontBlocks, yielding: Yielding, room: float
) -> tuple[int, Block] | None:
    """The most readable arrangement that fits, and which it is."""
    arranged = enumerate(blocks.arrangements(yielding))
    return next(((way, block) for way, block in arranged if block.height <= room), None)


def write_rest(
    document: Document, contents: Contents, yielding: Yielding, *, sideways: bool
) -> tuple[Page | None, float]:
    """Page 2: what page 1 had no room for, whole; `sideways` like the pages that follow.

    Returns a page that may be gone on with and how far down it is used. None when nothing is left.
    """
    questions, changes = question_lines(contents), change_lines(contents)
    findings = finding_lines(contents)
    is_cut = yielding.most_lines is not None
    has_all_changes = yielding.changes is None or len(changes) <= yielding.changes
    parts = (
        (_("Decided at the last visit"), *_decision(document, contents, yielding)),
        (_("My questions"), questions, is_cut or len(questions) > yielding.questions),
        (_("Medicines, as written"), medicine_lines(contents), not yielding.has_medicines),
        (_("What changed"), changes, is_cut or not has_all_changes),
        (_("What repeats"), findings, is_cut or len(findings) > yielding.findings),
    )
    left_over = [(title, lines) for title, lines, is_left in parts if is_left and lines]
    if not left_over:
        return None, 0.0
    flow = Flow(document, sideways=sideways)
    flow.heading(_("More from page 1"), is_title=True, bookmark=True)
    for title, lines in left_over:
        flow.heading(title)
        for line in lines:
            flow.paragraph(line)
    flow.gap(document.print.text_size * LEADING)
    return flow.page, flow.y


def _decision(document: Document, contents: Contents, yielding: Yielding) -> tuple[list[str], bool]:
    """What was decided at the last visit, and whether page 1 had no room for all of it."""
    visit = contents.data.last_appointment
    page = document.pages[0]
    blocks = FrontBlocks(document, contents, page.right - page.left, LEADING)
    return [visit.decided] if visit is not None else [], not blocks.has_whole_decision(yielding)
