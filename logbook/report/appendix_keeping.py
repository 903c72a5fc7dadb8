"""How the log was kept, where the person turned it on: counts alone."""

from __future__ import annotations

from logbook.domain.log_keeping import log_keeping
from logbook.report.contents import Contents
from logbook.report.document import joined_parts, unbroken
from logbook.report.flow import Flow
from logbook.wording import _
from logbook.wording.log_keeping import keeping_rows


def write_keeping(flow: Flow, contents: Contents) -> None:
    """One row for each count; nothing where it is not turned on."""
    data = contents.data
    if not data.settings.tells_how_kept:
        return
    kept = log_keeping(
        data.series,
        data.period,
        data.settings,
        helped=data.helped,
        planned=contents.review.plan,
    )
    flow.heading(_("How the log is kept"))
    rows = keeping_rows(kept)
    told = [_("{what}: {count}").format(what=what, count=count) for what, count in rows]
    flow.paragraph(joined_parts(map(unbroken, told)))
