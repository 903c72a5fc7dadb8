"""The blocks of page 1 and their order, at a given leading; which of them yield is for others."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from logbook.report.charts import DayPicture
from logbook.report.contents import Contents
from logbook.report.document import DARK, Document, Page, joined_parts
from logbook.report.front_lists import (
    change_lines,
    medicine_lines,
    question_lines,
    target_lines,
    targets_title,
    tick_lines,
)
from logbook.report.front_words import (
    decided_text,
    finding_lines,
    header_rest,
    paper_caution,
    person_line,
    person_name,
    safety_rows,
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
from logbook.wording.decided import Decided, decided_name

LARGE_PICTURE, SMALL_PICTURE = 45 * MM, 35 * MM
DECIDED_BOX = 25 * MM

# So many lines of what was decided at the last visit.
MOST_DECIDED = 2

_GAP = 3.0
_BETWEEN_COLUMNS = 12.0

# Further lines of an entry stand in, so that the next entry is seen to begin.
_HANGING = 8.0


@dataclass(frozen=True, slots=True)
class Yielding:
    """How much page 1 shows. `changes` None means all of them; `most_lines` is for one entry.

    With `is_small` the lists and findings are in the letters of the table.
    """

    questions: int = 3
    picture: float = LARGE_PICTURE
    has_medicines: bool = True
    changes: int | None = None
    most_lines: int | None = None
    findings: int = 3
    is_small: bool = False


@dataclass(frozen=True, slots=True)
class _List:
    """One of the lists above the table. Half a medicine would be dangerous, half a question not."""

    title: str
    lines: list[str]
    most_lines: int | None = None
    size: float | None = None


class FrontBlocks:
    """The blocks of page 1; what does not change with `Yielding` is made once."""

    def __init__(
        self, document: Document, contents: Contents, width: float, leading: float
    ) -> None:
        self._document = document
        self._contents = contents
        self._width = width
        self._leading = leading
        self._text = document.print.text_size
        self._table = document.print.table_size
        self._above = (self._header(), self._safety_strip())
        self._ticks = self._whole(
            _List(_("May affect readings"), tick_lines(contents)), size=self._table
        )
        self._figures = (self._targets(), slot_table(document, contents, width, leading))
        self._trust = self._paragraph(trust_text(contents), width)
        self._caution = self._paragraph(paper_caution(), width, size=self._table)
        has_readings = contents.summary.readings.count > 0
        self._picture = DayPicture(document, contents, width, leading) if has_readings else None

    @property
    def has_picture(self) -> bool:
        """Whether there is anything to draw."""
        return self._picture is not None

    def arrangements(self, yielding: Yielding, decided_box: float = DECIDED_BOX) -> list[Block]:
        """All of page 1 as one block, in the ways it can be laid out, the most readable first."""
        picture = EMPTY
        if yielding.picture and self._picture is not None:
            picture = self._picture.block(yielding.picture)
        header, strip = self._above
        findings = self._findings(yielding)
        below = (picture, findings, self._trust, self._decided_box(decided_box), self._caution)
        return [
            stacked(
                (
                    header,
                    self._decided(yielding),
                    strip,
                    lists,
                    self._ticks,
                    stacked(self._figures, 2),
                    *below,
                ),
                _GAP,
            )
            for lists in self._lists(yielding)
        ]

    def _paragraph(
        self,
        rich: Rich,
        width: float,
        *,
        size: float | None = None,
        most: int | None = None,
        hanging: float = 0.0,
    ) -> Block:
        return paragraph(
            self._document.faces,
            rich,
            size or self._text,
            width,
            most_lines=most,
            leading=self._leading,
            hanging=hanging,
        )

    # --- above the lists --------------------------------------------------------------------------

    def _header(self) -> Block:
        """Name and birth, what kind of paper it is if there is room beside them, and the rest."""
        faces, kind = self._document.faces, _("Fingerstick readings")
        name, size = person_line(self._contents), self._document.print.title_size
        is_long = faces.width(name, size, bold=True) > self._width
        if is_long:
            name = person_name(self._contents)
            size = size if faces.width(name, size, bold=True) <= self._width else self._text
        kind_width = faces.width(kind, self._text, bold=True)
        has_room = faces.width(name, size, bold=True) + kind_width + 2 * self._text <= self._width
        title = self._paragraph((Span(name, bold=True),), self._width, size=size, most=3)
        about = header_rest(self._contents, with_birth=is_long)
        rest = self._paragraph(about, self._width, most=3)

        def draw(page: Page, x: float, top: float) -> None:
            title.draw(page, x, top)
            if has_room:
                baseline = top - baseline_below_top(size, self._leading)
                page.text_right(x + self._width, baseline, kind, self._text, bold=True)

        return stacked((Block(title.height, draw), rest))

    def _decided(self, yielding: Yielding) -> Block:
        """What was decided at the last visit; more than two lines of it stand on page 2."""
        rich = decided_text(self._contents)
        most = min(MOST_DECIDED, yielding.most_lines or MOST_DECIDED)
        return self._paragraph(rich, self._width, most=most) if rich else EMPTY

    def has_whole_decision(self, yielding: Yielding) -> bool:
        """Whether all that was decided is on page 1."""
        rich = decided_text(self._contents)
        return not rich or (
            self._paragraph(rich, self._width).height <= self._decided(yielding).height + 0.1
        )

    def _safety_strip(self) -> Block:
        pad = 5.0
        inner = stacked(
            self._paragraph(row, self._width - 2 * pad - 2) for row in safety_rows(self._contents)
        )

        def draw(page: Page, x: float, top: float) -> None:
            page.box(x, top - inner.height - 6, self._width, inner.height + 6, line=1.8)
            inner.draw(page, x + pad + 1, top - 3)

        return Block(inner.height + 6, draw)

    # --- the lists --------------------------------------------------------------------------------

    def _lists(self, yielding: Yielding) -> Iterable[Block]:
        """Questions, medicines and what changed: in two columns, line by line, or run together."""
        questions, medicines, changes = self._list_parts(yielding)
        half = (self._width - _BETWEEN_COLUMNS) / 2
        shift = half + _BETWEEN_COLUMNS
        if questions.lines and changes.lines:
            left, right = self._items(questions, half), self._items(changes, half)
            taken = self._items(medicines, half)
            columns = (
                stacked((beside(left, right, shift), self._whole(medicines)), 2),
                beside(stacked((left, taken), 2), right, shift),
                beside(left, stacked((taken, right), 2), shift),
            )
            yield min(columns, key=lambda block: block.height)
        yield stacked(
            (
                self._items(questions, self._width),
                self._whole(medicines),
                self._items(changes, self._width),
            ),
            2,
        )
        if yielding.most_lines is None:
            yield stacked((self._whole(part) for part in (questions, medicines, changes)), 2)

    def _list_parts(self, yielding: Yielding) -> tuple[_List, _List, _List]:
        contents, most = self._contents, yielding.most_lines
        size = self._table if yielding.is_small else None
        medicines = medicine_lines(contents)
        if medicines and not yielding.has_medicines:
            medicines = [_("see page 2")]
        return (
            _first_of(_("My questions"), question_lines(contents), yielding.questions, most, size),
            _List(_("Medicines, as written"), medicines, size=size),
            _first_of(_("What changed"), change_lines(contents), yielding.changes, most, size),
        )

    def _items(self, part: _List, width: float) -> Block:
        """Each item in lines of its own, the first behind the bold title."""
        if not part.lines:
            return EMPTY
        first: Rich = (Span(f"{part.title}: ", bold=True), Span(part.lines[0]))
        return stacked(
            self._paragraph(line, width, size=part.size, most=part.most_lines, hanging=_HANGING)
            for line in (first, *part.lines[1:])
        )

    def _whole(self, part: _List, *, size: float | None = None) -> Block:
        """All items behind the bold title in one paragraph."""
        if not part.lines:
            return EMPTY
        rich: Rich = (Span(f"{part.title}: ", bold=True), Span(joined_parts(part.lines)))
        return self._paragraph(rich, self._width, size=size or part.size)

    def _targets(self) -> Block:
        """Right above the table whose shares are held against them, and in its letters."""
        lines = target_lines(self._contents, with_unit=False)
        return self._whole(_List(targets_title(self._contents), lines), size=self._table)

    def _findings(self, yielding: Yielding) -> Block:
        """What repeats, lows first; as many lines as there is room for."""
        part = _first_of(
            _("What repeats"),
            finding_lines(self._contents),
            yielding.findings,
            yielding.most_lines,
            self._table if yielding.is_small else None,
        )
        return self._items(part, self._width)

    # --- under the picture ------------------------------------------------------------------------

    def _decided_box(self, height: float) -> Block:
        """Empty, with a column for each thing that the page after the visit asks for."""
        width = self._width / len(Decided)

        def draw(page: Page, x: float, top: float) -> None:
            page.box(x, top - height, self._width, height, line=1.0)
            baseline = top - 3 - baseline_below_top(self._text)
            page.text(x + 6, baseline, _("Decided today"), self._text, bold=True)
            head = top - 3 - self._text * LEADING
            for number, decided in enumerate(Decided):
                left = x + number * width
                if number:
                    page.path(((left, head), (left, top - height + 4)), line=0.5, grey=DARK)
                baseline = head - baseline_below_top(self._table)
                page.text(left + 6, baseline, decided_name(decided), self._table)

        return Block(height, draw)


def _first_of(
    title: str,
    lines: list[str],
    most: int | None,
    most_lines: int | None,
    size: float | None = None,
) -> _List:
    """The first of `lines`; how many more stand on page 2 is said in the title, never cut off."""
    if most is None or len(lines) <= most:
        return _List(title, lines, most_lines, size)
    more = _("{title} ({count} more on page 2)").format(title=title, count=len(lines) - most)
    return _List(more, lines[:most], most_lines, size)
