"""The sheet that opens a locked copy: what it is, its words in large print, and how to open it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timezone

from logbook.domain.moments import Moment
from logbook.report.document import About, Document, Page
from logbook.report.flow import Flow
from logbook.report.options import LEADING, Paper, Print, ReportOptions
from logbook.report.text import Block, baseline_below_top
from logbook.wording import _
from logbook.wording.dates import clock_text, day_text, short_day_text
from logbook.wording.manner import manner
from logbook.wording.numbers import number_text

_WORD_SIZE = 24.0
_COLUMNS = 2


@dataclass(frozen=True, slots=True)
class LockedCopy:
    """What the sheet is about: whose log, the file, when it was locked, and its words."""

    person: str
    file_name: str
    made_at: Moment
    phrase: str


def recovery_sheet(copy: LockedCopy, paper: Paper) -> bytes:
    """The sheet as a PDF, one page in large print."""
    made = copy.made_at
    about = About(
        title=_("How to open my locked copy"),
        person=copy.person,
        period="",
        printed=_("printed {day}").format(day=short_day_text(made.wall.date(), with_year=True)),
        language=manner().locale.replace("_", "-"),
        made_at=made.instant.astimezone(timezone(made.offset)),
    )
    options = ReportOptions(paper=paper, print=Print.LARGE)
    document = Document(about, options, (copy.file_name,))
    flow = Flow(document)
    flow.heading(about.title, is_title=True)
    flow.page.bookmark(about.title)
    flow.paragraph(
        _("A locked copy of my glucose log, of {day}, {time}.").format(
            day=day_text(made.wall.date()), time=clock_text(made)
        )
    )
    flow.paragraph(copy.file_name, size=document.print.table_size)
    flow.heading(_("The words that open it"))
    flow.gap(4)
    flow.block(_words_block(copy.phrase.split(), flow.width))
    flow.gap(6)
    flow.paragraph(_("Small letters, in this order. Without these words nobody can open the copy."))
    flow.paragraph(_("Keep this sheet apart from the stick. Whoever has both can read everything."))
    flow.heading(_("How to open it"))
    for number, sentence in enumerate(_steps(), start=1):
        flow.paragraph(f"{number_text(number)}. {sentence}", hanging=22.0)
    return document.finish()


def _steps() -> tuple[str, ...]:
    return (
        _("Plug in the stick. In Fingerstick Logbook, open My plan, then Sharing."),
        _("Press “Bring in another copy”, choose the file, and type the words."),
        _("Without this program: the file is in the open age format, version 1."),
    )


def _words_block(words: list[str], width: float) -> Block:
    """The words with their numbers, downwards in two columns, each on a line of its own."""
    rows = -(-len(words) // _COLUMNS)
    leading = _WORD_SIZE * LEADING

    def draw(page: Page, x: float, top: float) -> None:
        for index, word in enumerate(words):
            column, row = divmod(index, rows)
            left = x + column * width / _COLUMNS
            baseline = top - row * leading - baseline_below_top(_WORD_SIZE)
            page.text(left, baseline, number_text(index + 1), 18.0)
            page.text(left + 30, baseline, word, _WORD_SIZE, bold=True)

    return Block(rows * leading, draw)
