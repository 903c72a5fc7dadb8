"""A document of printed pages: sheets, what is drawn on them, footers, bookmarks and metadata.

Pages hold PDF operators as text until the end, when their number is known and the footers can say
"page 2 of 7". Coordinates are points from the lower left corner. What is drawn is for others.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from logbook.report.fonts import FIRST_FACES, SUBSTITUTE_WIDTH, Faces, cleaned, registered_font
from logbook.report.options import LEADING, MARGIN, Print, ReportOptions
from logbook.wording import _

# Streams stay in bytes: writing them as ASCII letters makes files a quarter longer and takes time.
rl_config.useA85 = 0

PROGRAM = "Fingerstick Logbook"

# Shades of grey, told apart on any printer.
BLACK, DARK, MIDDLE = 0.0, 0.25, 0.6


@dataclass(slots=True)
class Page:
    """One sheet. `top` is where the next thing may begin; drawing does not move it."""

    width: float
    height: float
    faces: Faces
    footer_height: float
    operators: list[str] = field(default_factory=list)
    bookmarks: list[tuple[str, int]] = field(default_factory=list)
    replacements: int = 0

    @property
    def left(self) -> float:
        """Left edge of what may be drawn."""
        return MARGIN

    @property
    def right(self) -> float:
        """Right edge of what may be drawn."""
        return self.width - MARGIN

    @property
    def top(self) -> float:
        """Upper edge of what may be drawn."""
        return self.height - MARGIN

    @property
    def bottom(self) -> float:
        """Lower edge of what may be drawn, above the footer."""
        return MARGIN + self.footer_height

    def text(self, x: float, y: float, text: str, size: float, *, bold: bool = False) -> float:
        """Text from `x` on, its letters standing on `y`; returns where it ends."""
        out = self.operators
        for run in self.faces.runs(text, bold=bold):
            if run.font is None:
                x = self._substitutes(x, y, len(run.text), size)
                continue
            out.append(f"BT 1 0 0 1 {x:.2f} {y:.2f} Tm {self.faces.shown(run, size)} ET")
            x += registered_font(run.font).stringWidth(run.text, size)
        return x

    def _substitutes(self, x: float, y: float, count: int, size: float) -> float:
        wide = SUBSTITUTE_WIDTH * size
        self.replacements += count
        for _number in range(count):
            self.box(x + 0.06 * size, y - 0.14 * size, wide - 0.12 * size, size * 0.96, line=0.6)
            mark = (wide - self.faces.width("?", size)) / 2
            self.text(x + mark, y, "?", size)
            x += wide
        return x

    def text_right(self, x: float, y: float, text: str, size: float, *, bold: bool = False) -> None:
        """Text that ends at `x`."""
        self.text(x - self.faces.width(text, size, bold=bold), y, text, size, bold=bold)

    def text_middle(
        self, x: float, y: float, text: str, size: float, *, bold: bool = False
    ) -> None:
        """Text with its middle at `x`."""
        self.text(x - self.faces.width(text, size, bold=bold) / 2, y, text, size, bold=bold)

    def rule(
        self, x1: float, y: float, x2: float, *, line: float = 0.5, grey: float = BLACK
    ) -> None:
        """A level line."""
        self.path(((x1, y), (x2, y)), line=line, grey=grey)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        line: float | None = 0.75,
        fill: float | None = None,
        grey: float = BLACK,
    ) -> None:
        """A rectangle from its lower left corner; `fill` and `grey` are shades, 0 is black.

        Its line lies inside.
        """
        inset = 0.0 if line is None else line / 2
        x, y, width, height = x + inset, y + inset, width - 2 * inset, height - 2 * inset
        shades = "" if fill is None else f"{fill:g} g "
        drawn = "B" if fill is not None and line is not None else ("f" if line is None else "S")
        width_of_line = "" if line is None else f"{line:g} w {grey:g} G "
        self.operators.append(
            f"q {shades}{width_of_line}{x:.2f} {y:.2f} {width:.2f} {height:.2f} re {drawn} Q"
        )

    def path(
        self,
        points: Sequence[tuple[float, float]],
        *,
        line: float = 0.75,
        grey: float = BLACK,
        dash: str = "",
    ) -> None:
        """A line through `points`; `dash` holds lengths of dashes and gaps, as "3 2"."""
        (x, y), *rest = points
        steps = " ".join(f"{a:.2f} {b:.2f} l" for a, b in rest)
        dashes = f"[{dash}] 0 d " if dash else ""
        self.operators.append(f"q {line:g} w {grey:g} G {dashes}{x:.2f} {y:.2f} m {steps} S Q")

    def bookmark(self, title: str, level: int = 0) -> None:
        """An entry in the reader's list of contents that leads to this page."""
        self.bookmarks.append((title, level))


@dataclass(frozen=True, slots=True)
class About:
    """What a document says about itself; person, period and day of printing go on every page.

    `nameless` stands in the footer where no person is named.
    """

    title: str
    person: str
    period: str
    printed: str
    language: str
    made_at: datetime
    nameless: str = ""


class Document:
    """The pages of one report, until they become a PDF.

    `typed` is everything in it that a person typed: whether all of it can be printed decides how
    much room the footers need.
    """

    def __init__(self, about: About, options: ReportOptions, typed: Iterable[str] = ()) -> None:
        self.about = about
        self.options = options
        self.print = options.print
        registered_font(FIRST_FACES[0])
        self._buffer = BytesIO()
        self._canvas = Canvas(
            self._buffer,
            pagesize=options.paper.size,
            pageCompression=1,
            initialFontName=FIRST_FACES[0],
            initialFontSize=self.print.text_size,
            lang=about.language,
        )
        # ReportLab keeps no other handle for what fonts need to know.
        self.faces = Faces(self._canvas._doc)  # noqa: SLF001
        self.pages: list[Page] = []
        for text in (about.person, *typed):
            self.faces.runs(text)
        self._has_replacements = bool(self.faces.replaced)
        self._has_two_lines = self.print is Print.LARGE or not self._fits_one_line()

    def new_page(self, *, sideways: bool = False) -> Page:
        """Another page at the end, upright or sideways."""
        width, height = self.options.paper.size
        if sideways:
            width, height = height, width
        page = Page(width, height, self.faces, self.footer_height)
        self.pages.append(page)
        return page

    @property
    def footer_height(self) -> float:
        """Room under the text for the footer, on every page."""
        lines = 1 + self._has_two_lines + self._has_replacements
        return self.print.text_size * LEADING * lines + 4

    def finish(self) -> bytes:
        """The PDF of all pages."""
        about, canvas = self.about, self._canvas
        canvas.setTitle(plain_text(about.title))
        canvas.setAuthor(plain_text(about.person) or _("Not named"))
        canvas.setSubject(_("Fingerstick glucose readings for a visit"))
        canvas.setCreator(PROGRAM)
        canvas.setProducer(PROGRAM)
        canvas.setViewerPreference("DisplayDocTitle", "true")
        made = about.made_at.strftime("D:%Y%m%d%H%M%S%z")
        stamp = f"{made[:-2]}'{made[-2:]}'"
        canvas.setDateFormatter(lambda *_parts: stamp)
        for number, page in enumerate(self.pages, 1):
            self._draw_footer(page, number)
            canvas.setPageSize((page.width, page.height))
            for entry, (title, level) in enumerate(page.bookmarks):
                key = f"page-{number}-{entry}"
                canvas.bookmarkPage(key)
                canvas.addOutlineEntry(title, key, level, closed=False)
            canvas.addLiteral("\n".join(page.operators))
            canvas.showPage()
        canvas.showOutline()
        canvas.save()
        return self._buffer.getvalue()

    def _fits_one_line(self) -> bool:
        """Whether name and day of printing stand beside the widest number of a page."""
        size = self.print.text_size
        width = self.options.paper.size[0] - 2 * MARGIN - 2 * size
        count = self.faces.width(_page_text(8_888, 8_888), size)
        return (
            self.faces.width(joined_parts((self._who, self.about.printed)), size) <= width - count
        )

    @property
    def _who(self) -> str:
        return self.about.person or self.about.nameless or _("Not named")

    def _draw_footer(self, page: Page, number: int) -> None:
        about, size = self.about, self.print.text_size
        count = _page_text(number, len(self.pages))
        y = MARGIN + 0.29 * size
        whole = page.right - page.left
        room = whole - self.faces.width(count, size) - 2 * size
        lines = 1 + self._has_two_lines
        rest: tuple[str, ...] = (self._who, about.period, about.printed)
        if self._has_two_lines:
            upper = joined_parts(rest[:2])
            is_wide = self.faces.width(upper, size) > whole
            upper, rest = (self._who, rest[1:]) if is_wide else (upper, rest[2:])
            page.text(page.left, y + LEADING * size, self._fit(upper, whole), size)
        text = joined_parts(rest)
        if self.faces.width(text, size) > room:
            # The period goes first: the page's heading says it as well.
            text = self._fit(joined_parts(part for part in rest if part != about.period), room)
        page.text(page.left, y, text, size)
        page.text_right(page.right, y, count, size)
        if page.replacements:
            small = self.print.table_size
            note = _("A boxed ? stands for a character that can’t be printed here.")
            note = fitting(self.faces, note, small, whole)
            page.text(page.left, y + lines * LEADING * size, note, small)

    def _fit(self, text: str, room: float) -> str:
        return fitting(self.faces, text, self.print.text_size, room)


def _page_text(number: int, total: int) -> str:
    return _("page {number} of {total}").format(number=number, total=total)


def fitting(faces: Faces, text: str, size: float, room: float, *, bold: bool = False) -> str:
    """`text`, shortened with an ellipsis when it is wider than `room` points."""
    if faces.width(text, size, bold=bold) <= room:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if faces.width(text[:middle].rstrip() + "…", size, bold=bold) <= room:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def plain_text(text: str) -> str:
    """`text` for what is told beside the pages: without control characters and halves of pairs."""
    return "".join(c if c.isprintable() else " " for c in cleaned(text)).strip()


def joined_parts(parts: Iterable[str]) -> str:
    """Parts of a line with a middle dot between them, empty ones left out."""
    return " · ".join(part for part in parts if part)


def kept_together(text: str) -> str:
    """`text` that stays in one line: a day, a low with its time and value."""
    return text.replace(" ", "\N{NO-BREAK SPACE}")


def unbroken(text: str) -> str:
    """`text` whose last word stays with the one before it: a name with its number."""
    head, space, last = text.rpartition(" ")
    return f"{head}\N{NO-BREAK SPACE}{last}" if space else text
