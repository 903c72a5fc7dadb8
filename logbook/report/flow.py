"""Text that runs from page to page: headings, paragraphs, short lists."""

from __future__ import annotations

from logbook.report.document import Document, Page
from logbook.report.options import LEADING
from logbook.report.text import Block, Rich, Span, baseline_below_top, draw_line, wrapped

_HANGING = 12.0


class Flow:
    """Writes downwards and begins a new page when one is full, upright or `sideways`."""

    def __init__(
        self,
        document: Document,
        page: Page | None = None,
        y: float = 0.0,
        *,
        sideways: bool = False,
    ) -> None:
        self.document = document
        self._sideways = sideways
        self._page = page
        self._y = y

    @property
    def page(self) -> Page:
        """The page that is being written."""
        if self._page is None:
            return self.new_page()
        return self._page

    @property
    def y(self) -> float:
        """How far down it is written."""
        return self._y if self._page is not None else self.page.top

    @property
    def width(self) -> float:
        """How wide text can be."""
        return self.page.right - self.page.left

    def new_page(self) -> Page:
        """Go on on a new page."""
        page = self._page = self.document.new_page(sideways=self._sideways)
        self._y = page.top
        return page

    def has_room(self, height: float) -> bool:
        """Whether `height` points are left on the page."""
        return self.y - height >= self.page.bottom

    def gap(self, height: float) -> None:
        """Leave some room, unless the page begins here."""
        if self.y < self.page.top:
            self._y -= height

    def heading(
        self, text: str, *, is_title: bool = False, bookmark: bool = False, lines_below: int = 2
    ) -> None:
        """A heading that is never the last line of a page: `lines_below` stand under it."""
        size = self.document.print.title_size if is_title else self.document.print.text_size
        self.gap(size * 0.6)
        lines = wrapped(self.document.faces, (Span(text, bold=True),), size, self.width)
        needed = (len(lines) + lines_below) * size * LEADING
        if not self.has_room(needed):
            self.new_page()
        if bookmark:
            self.page.bookmark(text)
        for line in lines:
            baseline = self.y - baseline_below_top(size)
            draw_line(self.page, self.page.left, baseline, line, size)
            self._y -= size * LEADING

    def paragraph(self, rich: Rich, *, size: float | None = None, hanging: float = 0.0) -> None:
        """Text over as many lines and pages as it takes, all but its first line `hanging` in."""
        size = self.document.print.text_size if size is None else size
        lines = wrapped(self.document.faces, rich, size, self.width, hanging)
        for number, line in enumerate(lines):
            if not self.has_room(size * LEADING):
                self.new_page()
            left = self.page.left + (hanging if number else 0.0)
            draw_line(self.page, left, self.y - baseline_below_top(size), line, size)
            self._y -= size * LEADING

    def entry(self, rich: Rich) -> None:
        """One entry of a list: its further lines stand in, so that the next is seen to begin."""
        self.paragraph(rich, hanging=_HANGING)

    def block(self, block: Block) -> None:
        """Something that stays in one piece."""
        if not self.has_room(block.height):
            self.new_page()
        block.draw(self.page, self.page.left, self.y)
        self._y -= block.height
