"""The refill list on paper, in large print: what to order, by its exact type."""

from __future__ import annotations

from dataclasses import replace
from datetime import timezone

from logbook.domain.kit.refill import RefillList
from logbook.report.document import About, Document
from logbook.report.flow import Flow
from logbook.report.options import Print, ReportOptions
from logbook.wording import _
from logbook.wording.dates import short_day_text
from logbook.wording.kit import only_what_fits, refill_name, refill_state
from logbook.wording.manner import manner


def refill_paper(wanted: RefillList, options: ReportOptions) -> bytes:
    """The list as a PDF."""
    today = wanted.made_at.wall.date()
    title = _("Refill list")
    day = short_day_text(today, with_year=True)
    about = About(
        title=f"{wanted.person}: {title}" if wanted.person else title,
        person=wanted.person,
        period=title,
        printed=_("printed {day}").format(day=day),
        language=manner().locale.replace("_", "-"),
        made_at=wanted.made_at.instant.astimezone(timezone(wanted.made_at.offset)),
    )
    typed = [wanted.person]
    typed += [text for line, meter in wanted.lines for text in (line.exact_type, meter)]
    document = Document(about, replace(options, print=Print.LARGE), typed)
    flow = Flow(document)
    flow.heading(title, is_title=True)
    flow.page.bookmark(title)
    for line in (wanted.person, day, only_what_fits()):
        if line:
            flow.paragraph(line)
    for one, meter in wanted.lines:
        flow.gap(document.print.text_size * 0.5)
        flow.heading(refill_name(one, meter))
        flow.paragraph(refill_state(one, today))
    return document.finish()
