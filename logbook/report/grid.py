"""The grid of days on paper: one row a day, one column a time of day, figures at its foot.

Rows are written straight as PDF text: ten years are some 20,000 readings, and a table that lays
itself out would take longer than everything else. Which reading stands where is decided by
`logbook.domain.day_grid`; the width of columns and what the last one holds by `grid_layout`.
"""

from __future__ import annotations

from logbook.domain.turning_points import TurningPoint
from logbook.report.cells import Cell
from logbook.report.document import BLACK, DARK, Document, Page
from logbook.report.grid_content import GridContent
from logbook.report.grid_layout import Layout, RowText
from logbook.report.grid_words import change_text, day_in, foot_names, foot_rows, sign_notes
from logbook.report.options import LEADING
from logbook.report.text import Line, Span, baseline_below_top, draw_line, wrapped
from logbook.wording import _

_LIGHT_RULE, _WEEK_RULE = 0.82, 0.45


class GridWriter:
    """Writes one group of columns of the grid, all its days, on as many pages as it takes."""

    def __init__(
        self, document: Document, content: GridContent, layout: Layout, title: str
    ) -> None:
        self._document = document
        self._content = content
        self._layout = layout
        self._title = title
        self._size = document.print.table_size
        self._leading = self._size * LEADING
        self._page: Page
        self._y = 0.0
        self._shown: list[str] = []
        self._rules: dict[float, list[str]] = {}
        self._starts: dict[tuple[int, Cell], str] = {}
        self._plain = f"{document.faces.internal_name(bold=False)} {self._size:g} Tf"

    def write(self, page: Page | None = None, y: float = 0.0) -> tuple[Page, float]:
        """Write all rows; begin on `page` under `y`, or on a new page when they fit one better.

        Returns the last page and how far down it is used.
        """
        if page is None or self._begins_better_above(page, y):
            self._begin_page(is_first=True)
        else:
            self._page, self._y = page, y
            self._heading(is_first=True)
        layout, content = self._layout, self._content
        for row in layout.rows(content):
            points = content.points_on.get(row.day) if row.day else None
            height = row.lines * self._leading
            captions = self._captions(points) if points else ()
            if self._y - height - len(captions) * self._leading < self._page.bottom:
                self._begin_page(is_first=False)
            if captions:
                self._draw_captions(captions)
            self._draw_row(row)
        self._draw_foot()
        self._flush()
        return self._page, self._y

    def _begins_better_above(self, page: Page, y: float) -> bool:
        """Whether a page of its own holds the whole grid, or `page` has room for little of it.

        A page that is not turned like the grid has room for nothing.
        """
        if (page.width > page.height) != self._layout.is_sideways:
            return True
        rows = sum(row.lines for row in self._layout.rows(self._content))
        needed = (rows + len(foot_names()) + 8) * self._leading
        room = y - page.bottom
        whole = page.top - page.bottom
        # Columns that go on from others are not begun only to be parted again.
        is_short = not self._layout.is_first or room < whole / 3
        return needed > room and (needed < whole or is_short)

    # --- pages ------------------------------------------------------------------------------------

    def _begin_page(self, *, is_first: bool) -> None:
        if not is_first:
            self._flush()
        self._page = self._document.new_page(sideways=self._layout.is_sideways)
        self._y = self._page.top
        self._heading(is_first=is_first)

    def _heading(self, *, is_first: bool) -> None:
        page, size, document = self._page, self._size, self._document
        title_size = document.print.title_size if is_first else document.print.text_size
        title = self._title if is_first else _("{title}, continued").format(title=self._title)
        if is_first:
            page.bookmark(self._title)
        lines = wrapped(
            document.faces, (Span(title, bold=True),), title_size, page.right - page.left
        )
        for line in lines:
            baseline = self._y - baseline_below_top(title_size)
            draw_line(page, page.left, baseline, line, title_size)
            self._y -= title_size * LEADING
        self._y -= 2
        for column in self._layout.columns:
            for number, text in enumerate(column.head):
                baseline = self._y - number * self._leading - baseline_below_top(size)
                if column.is_left_aligned:
                    page.text(column.x, baseline, text, size, bold=True)
                else:
                    page.text_middle(column.middle, baseline, text, size, bold=True)
        self._y -= 2 * self._leading
        page.rule(page.left, self._y, page.right, line=1.2)

    def _flush(self) -> None:
        """Put what was gathered for this page on it, the lines under the text."""
        out = self._page.operators
        for grey, steps in self._rules.items():
            out.append(f"q 0.5 w {grey:g} G {' '.join(steps)} S Q")
        if self._shown:
            out.extend((f"BT {self._plain}", *self._shown, "ET"))
        self._shown, self._rules = [], {}

    # --- rows -------------------------------------------------------------------------------------

    def _draw_row(self, row: RowText) -> None:
        page, layout, size = self._page, self._layout, self._size
        add = self._shown.append
        baseline = self._y - baseline_below_top(size)
        y = f"{baseline:.2f}"
        if row.day_text:
            add(f"1 0 0 1 {page.left:.2f} {y} Tm {row.day_text}")
        starts = self._starts
        for number, cell in row.cells:
            start = starts.get((number, cell))
            if start is None:
                x = layout.columns[number].start_of(cell)
                start = starts[number, cell] = f"1 0 0 1 {x:.2f} "
            add(f"{start}{y} Tm {cell.shown}")
            if not cell.is_plain:
                cell.draw_marks(page, layout.columns[number].start_of(cell), baseline, size)
        if row.times:
            below = f"{baseline - self._leading:.2f}"
            for x, shown in row.times:
                add(f"1 0 0 1 {x:.2f} {below} Tm {shown}")
        for line, words in enumerate(row.last_column):
            at = baseline - line * self._leading
            for x, word in words:
                add(f"1 0 0 1 {x:.2f} {at:.2f} Tm {word.shown}")
                if word.cell is not None and not word.cell.is_plain:
                    word.cell.draw_marks(page, x, at, size)
        self._y -= row.lines * self._leading
        grey = _WEEK_RULE if row.ends_week else _LIGHT_RULE
        self._rules.setdefault(grey, []).append(
            f"{page.left:.2f} {self._y:.2f} m {page.right:.2f} {self._y:.2f} l"
        )

    def _captions(self, points: list[TurningPoint]) -> list[Line]:
        width = self._layout.right - self._layout.left
        lines: list[Line] = []
        for point in points:
            day = day_in(self._content.summary.period, point.day)
            text = _("{day}: {what}").format(day=day, what=change_text(point, self._content.unit))
            # A few lines say what changed; the whole text stands on page 1 or in the appendix.
            lines.extend(wrapped(self._document.faces, text, self._size, width)[:3])
        return lines

    def _draw_captions(self, lines: list[Line]) -> None:
        page = self._page
        page.rule(page.left, self._y, page.right, line=1.6)
        for line in lines:
            # With the rows, not before them: the page is read in the order in which it is written.
            baseline = self._y - baseline_below_top(self._size)
            shown = " ".join(
                self._document.faces.shown_line(span.text, self._size, bold=span.bold)
                for span in line
            )
            self._shown.append(f"1 0 0 1 {page.left:.2f} {baseline:.2f} Tm {shown}")
            self._y -= self._leading
        page.rule(page.left, self._y, page.right, line=0.5, grey=DARK)

    # --- the foot ---------------------------------------------------------------------------------

    def _draw_foot(self) -> None:
        content, layout, size = self._content, self._layout, self._size
        rows = foot_rows(content) if layout.has_readings else []
        notes = " ".join((*sign_notes(content.cells.signs), content.notes_below))
        notes = notes.strip() if layout.is_first else ""
        width = layout.right - layout.left
        note_lines = wrapped(self._document.faces, notes, size, width) if notes else []
        # Ten years of corrections take pages; a few lines of them stay with the figures.
        needed = (len(rows) + min(len(note_lines), 6)) * self._leading + 8
        if self._y - needed < self._page.bottom:
            self._begin_page(is_first=False)
        self._flush()
        page = self._page
        page.rule(page.left, self._y, page.right, line=1.2)
        for name, of_slot in rows:
            baseline = self._y - baseline_below_top(size)
            page.text(page.left, baseline, name, size, bold=True)
            for column in layout.columns:
                text = of_slot.get(column.slot) if column.slot is not None else None
                if text:
                    page.text_middle(column.middle, baseline, text, size)
            self._y -= self._leading
        page.rule(page.left, self._y, page.right, line=1.2, grey=BLACK)
        self._y -= 6
        for line in note_lines:
            if self._y - self._leading < page.bottom:
                self._flush()
                page = self._page = self._document.new_page(sideways=layout.is_sideways)
                self._y = page.top
            draw_line(page, page.left, self._y - baseline_below_top(size), line, size)
            self._y -= self._leading
