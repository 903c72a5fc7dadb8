"""Page 1, which alone answers a provider who has two minutes.

When it is tight, things yield in a fixed order: the third question, the picture's height, the
medicines; then, beyond that order, what changed, longer questions, targets and the picture. The
strip about lows never does. What yielded stands on page 2.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from logbook.report.charts import DayPicture
from logbook.report.contents import Contents
from logbook.report.document import Document, Page
from logbook.report.flow import Flow
from logbook.report.front_words import (
    change_lines,
    header_rest,
    medicine_lines,
    paper_caution,
    person_line,
    safety_rows,
    target_lines,
    trust_text,
)
from logbook.report.options import LEADING, MM
from logbook.report.slot_table import slot_table
from logbook.report.text import (
    EMPTY,
    Block,
    Rich,
    Span,
    baseline_below_top,
    beside,
    paragraph,
    stacked,
)
from logbook.wording import _

_GAP = 5.0
_BOX_HEIGHT = 25 * MM


@dataclass(frozen=True, slots=True)
class Yielding:
    """How much page 1 gives up. The picture grows again into what room is left."""

    questions: int = 3
    picture: float = 45 * MM
    medicines: int | None = None
    changes: int | None = None
    most_lines: int | None = None
    shows_targets: bool = True


@dataclass(frozen=True, slots=True)
class _List:
    """One of the lists on page 1. Half a medicine or half a target would be dangerous."""

    title: str
    lines: list[str]
    can_be_cut: bool = False


_LARGE, _SMALL = 45 * MM, 35 * MM
_IN_ORDER = (
    Yielding(),
    Yielding(2),
    Yielding(2, _SMALL),
    Yielding(2, _SMALL, medicines=0),
    *(Yielding(2, _SMALL, medicines=0, changes=most) for most in (4, 3, 2, 1)),
    *(Yielding(2, _SMALL, medicines=0, changes=most, most_lines=2) for most in (2, 1)),
    Yielding(1, _SMALL, medicines=0, changes=1, most_lines=2),
    Yielding(1, _SMALL, medicines=0, changes=0, most_lines=2),
    Yielding(1, _SMALL, medicines=0, changes=0, most_lines=1),
    Yielding(1, _SMALL, medicines=0, changes=0, most_lines=1, shows_targets=False),
    Yielding(0, 30 * MM, medicines=0, changes=0, most_lines=1, shows_targets=False),
    Yielding(0, 0.0, medicines=0, changes=0, most_lines=1, shows_targets=False),
)


def write_front_page(document: Document, contents: Contents) -> tuple[Page | None, float]:
    """Page 1, then what did not fit on it. Returns a page that may be gone on with, if any."""
    page = document.new_page()
    page.bookmark(_("Page for the visit"))
    room = page.top - page.bottom
    writer = FrontPage(document, contents, page.right - page.left)
    for yielding in _IN_ORDER:
        block = writer.block(yielding)
        if block.height <= room:
            break
    if yielding.picture and block.height < room:
        grown = min(_LARGE, yielding.picture + room - block.height)
        block = writer.block(replace(yielding, picture=grown))
    block.draw(page, page.left, page.top)
    return writer.write_rest(yielding)


class FrontPage:
    """The blocks of page 1."""

    def __init__(self, document: Document, contents: Contents, width: float) -> None:
        self._document = document
        self._contents = contents
        self._width = width
        self._text = document.print.text_size
        self._table = document.print.table_size
        self._above = (self._header(), self._safety_strip())
        self._slots = slot_table(document, contents, width)
        self._below = (
            self._paragraph(trust_text(contents), width),
            self._decided_box(),
            self._paragraph(paper_caution(), width, size=self._table),
        )
        has_readings = contents.summary.readings.count > 0
        self._picture = DayPicture(document, contents, width) if has_readings else None

    def block(self, yielding: Yielding) -> Block:
        """All of page 1 as one block."""
        picture = EMPTY
        if yielding.picture and self._picture is not None:
            picture = self._picture.block(yielding.picture)
        columns = self._lists(yielding)
        return stacked((*self._above, columns, self._slots, picture, *self._below), _GAP)

    def _paragraph(
        self, rich: Rich, width: float, *, size: float | None = None, most: int | None = None
    ) -> Block:
        return paragraph(self._document.faces, rich, size or self._text, width, most_lines=most)

    def _header(self) -> Block:
        """Name and birth, what kind of paper it is if there is room beside them, and the rest."""
        size = self._document.print.title_size
        faces, kind = self._document.faces, _("Fingerstick readings")
        name = person_line(self._contents)
        kind_width = faces.width(kind, self._text, bold=True)
        has_room = faces.width(name, size, bold=True) + kind_width + 2 * self._text <= self._width
        rest = header_rest(self._contents)
        title = self._paragraph((Span(name, bold=True),), self._width, size=size, most=3)

        def draw(page: Page, x: float, top: float) -> None:
            title.draw(page, x, top)
            if has_room:
                baseline = top - baseline_below_top(size)
                page.text_right(x + self._width, baseline, kind, self._text, bold=True)

        return stacked((Block(title.height, draw), self._paragraph(rest, self._width, most=3)))

    def _safety_strip(self) -> Block:
        pad = 5.0
        inner = stacked(
            self._paragraph(row, self._width - 2 * pad - 2) for row in safety_rows(self._contents)
        )

        def draw(page: Page, x: float, top: float) -> None:
            page.box(x, top - inner.height - 6, self._width, inner.height + 6, line=1.8)
            inner.draw(page, x + pad + 1, top - 3)

        return Block(inner.height + 6, draw)

    def _lists(self, yielding: Yielding) -> Block:
        """Questions, medicines, changes and targets, in this order and as low as can be.

        Two columns are low when items are short, whole lines when they are long.
        """
        half = (self._width - 14) / 2
        lists = self._list_lines(yielding)
        items = [self._items(part, half, yielding) for part in lists]
        ways = [stacked((self._whole(part, yielding) for part in lists), 3)]
        ways.extend(
            beside(stacked(items[:part], 3), stacked(items[part:], 3), half + 14)
            for part in range(1, len(items) + 1)
        )
        return min(ways, key=lambda block: block.height)

    def _list_lines(self, yielding: Yielding) -> list[_List]:
        contents = self._contents
        questions = [f"{number}. {text}" for number, text in enumerate(contents.questions, 1)]
        lists = (
            _List(_("My questions"), _some(questions, yielding.questions), can_be_cut=True),
            _List(_("Medicines, as written"), _some(medicine_lines(contents), yielding.medicines)),
            _List(
                _("What changed"), _some(change_lines(contents), yielding.changes), can_be_cut=True
            ),
            _List(
                _("Targets"),
                _some(target_lines(contents), None if yielding.shows_targets else 0),
            ),
        )
        return [part for part in lists if part.lines]

    def _items(self, part: _List, width: float, yielding: Yielding) -> Block:
        """Each item in lines of its own, the first behind the bold title."""
        first: Rich = (Span(f"{part.title}: ", bold=True), Span(part.lines[0]))
        most = yielding.most_lines if part.can_be_cut else None
        return stacked(
            (
                self._paragraph(first, width, most=most),
                *(self._paragraph(line, width, most=most) for line in part.lines[1:]),
            )
        )

    def _whole(self, part: _List, yielding: Yielding) -> Block:
        """All items behind the bold title in one paragraph."""
        rich: Rich = (Span(f"{part.title}: ", bold=True), Span(" · ".join(part.lines)))
        most = yielding.most_lines
        if most is not None:
            most = most * len(part.lines) if part.can_be_cut else None
        return self._paragraph(rich, self._width, most=most)

    def _decided_box(self) -> Block:
        def draw(page: Page, x: float, top: float) -> None:
            page.box(x, top - _BOX_HEIGHT, self._width, _BOX_HEIGHT, line=1.0)
            baseline = top - 3 - baseline_below_top(self._text)
            page.text(x + 6, baseline, _("Decided today"), self._text, bold=True)

        return Block(_BOX_HEIGHT, draw)

    # --- what did not fit -------------------------------------------------------------------------

    def write_rest(self, yielding: Yielding) -> tuple[Page | None, float]:
        """Page 2: what page 1 had no room for, whole. None when nothing is left over."""
        contents = self._contents
        questions = [f"{n}. {text}" for n, text in enumerate(contents.questions, 1)]
        is_cut = yielding.most_lines is not None
        changes, medicines = change_lines(contents), medicine_lines(contents)
        parts = (
            (_("My questions"), questions, len(questions) > yielding.questions or is_cut),
            (_("Medicines, as written"), medicines, yielding.medicines is not None),
            (
                _("What changed"),
                changes,
                is_cut or (yielding.changes is not None and len(changes) > yielding.changes),
            ),
            (_("Targets"), target_lines(contents), not yielding.shows_targets),
        )
        left_over = [(title, lines) for title, lines, is_left in parts if is_left and lines]
        if not left_over:
            return None, 0.0
        flow = Flow(self._document)
        flow.heading(_("More from page 1"), is_title=True, bookmark=True)
        for title, lines in left_over:
            flow.heading(title)
            for line in lines:
                flow.paragraph(line)
        flow.gap(self._text * LEADING)
        return flow.page, flow.y


def _some(lines: list[str], most: int | None) -> list[str]:
    """The first of `lines`, and how many more stand on page 2."""
    if most is None or len(lines) <= most:
        return lines
    if most == 0:
        return [_("see page 2")]
    more = _("({count} more on page 2)").format(count=len(lines) - most)
    return [*lines[: most - 1], f"{lines[most - 1]} {more}"]
