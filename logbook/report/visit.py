"""The visit report: page 1 for a provider with two minutes, the grid of days, the appendix.

This is the way in. Page 1 is in `front_page`, the grid in `grid`, the appendix in `appendix`, the
person's own large print in `large_print`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import timezone
from pathlib import Path

from logbook.domain.day_grid import day_grid, part_of_series
from logbook.domain.moments import Period
from logbook.domain.summary import summarise
from logbook.domain.visit_data import VisitData
from logbook.report.appendix import write_appendix
from logbook.report.contents import Contents, contents_of
from logbook.report.document import About, Document, Page
from logbook.report.front_page import write_front_page, write_rest
from logbook.report.front_words import short_period_text
from logbook.report.grid import GridWriter
from logbook.report.grid_content import GridContent, GridSource
from logbook.report.grid_layout import Layout, layouts
from logbook.report.grid_words import corrections_text
from logbook.report.large_print import write_own_paper
from logbook.report.options import Paper, Print, ReportOptions
from logbook.whole_file import write_whole
from logbook.wording import _
from logbook.wording.dates import period_text, short_day_text
from logbook.wording.manner import Manner, manner, set_manner
from logbook.wording.numbers import unit_text
from logbook.wording.travel import elsewhere_text

__all__ = ["Paper", "Print", "ReportOptions", "visit_report", "write_visit_report"]


def write_visit_report(data: VisitData, out: Path, options: ReportOptions) -> None:
    """Write the report to `out`, whole or not at all. Raises `CannotWrite`.

    What was at `out` before is replaced only when all of the new report is on the disk.
    """
    write_whole(out, visit_report(data, options))


def visit_report(data: VisitData, options: ReportOptions) -> bytes:
    """The report as a PDF."""
    with _written_as(options.manner):
        contents = contents_of(data)
        document = Document(_about(data), options, contents.typed_texts())
        page: Page | None = None
        y = 0.0
        grid = _grid_content(document, contents)
        groups = layouts(document, grid) if grid is not None else []
        if options.print is Print.LARGE:
            write_own_paper(document, contents)
        else:
            shown = write_front_page(document, contents)
            is_sideways = bool(groups) and groups[0].is_sideways
            page, y = write_rest(document, contents, shown, sideways=is_sideways)
        if grid is not None:
            _write_grids(document, contents, grid, groups, page, y)
        if options.appendix:
            write_appendix(document, contents)
        return document.finish()


def _grid_period(contents: Contents, days: int | None) -> Period:
    period = contents.period
    return Period.ending(period.last, days) if days and days < period.days else period


def _grid_content(document: Document, contents: Contents) -> GridContent | None:
    """What the grid of the chosen days holds, None when that is nothing."""
    data, days = contents.data, document.options.grid_days
    if not (len(data.series) or data.happenings):
        return None
    period = _grid_period(contents, days)
    starts_at = data.settings.day_starts_at
    series, grid, summary = data.series, contents.grid, contents.summary
    if period != contents.period:
        series = part_of_series(series, period, starts_at)
        grid = day_grid(series, period, starts_at, data.happenings)
        summary = summarise(
            series, period, data.settings, data.targets, data.happenings, data.answers
        )
    source = GridSource(
        series,
        grid,
        summary,
        starts_at,
        tuple(point for point in contents.points if point.day in period),
        # The appendix has them with the notes.
        _notes_below(document, contents, period),
        joins_gaps=days is None,
        in_question=contents.in_question,
    )
    content = GridContent(document.faces, document.print.table_size, source)
    return content if grid.slots or content.has_others else None


def _write_grids(
    document: Document,
    contents: Contents,
    content: GridContent,
    groups: Sequence[Layout],
    page: Page | None,
    y: float,
) -> None:
    """The grid, one group of columns after the other; the first may begin on `page`."""
    title = _("Every day, {period}, in {unit}").format(
        period=short_period_text(_grid_period(contents, document.options.grid_days)),
        unit=unit_text(contents.unit),
    )
    for layout in groups:
        page, y = GridWriter(document, content, layout, title).write(page, y)
        y -= document.print.text_size


def _notes_below(document: Document, contents: Contents, period: Period) -> str:
    elsewhere = elsewhere_text(contents.data.elsewhere, contents.period)
    # The appendix has the corrections with the notes.
    corrected = "" if document.options.appendix else _corrections(contents, period)
    return f"{elsewhere} {corrected}".strip()


def _corrections(contents: Contents, period: Period) -> str:
    starts_at = contents.data.settings.day_starts_at
    return corrections_text(
        (r for r in contents.data.noted if r.at.day(starts_at) in period), starts_at
    )


def _about(data: VisitData) -> About:
    made = data.made_at
    name = data.settings.person_name
    period = period_text(data.period)
    title = _("Glucose report, {period}").format(period=period)
    return About(
        title=f"{name}: {title}" if name else title,
        person=name,
        period=short_period_text(data.period),
        printed=_("printed {day}").format(day=short_day_text(made.wall.date(), with_year=True)),
        language=manner().locale.replace("_", "-"),
        made_at=made.instant.astimezone(_zone_of(data)),
    )


def _zone_of(data: VisitData) -> timezone:
    return timezone(data.made_at.offset)


@contextmanager
def _written_as(wanted: Manner | None) -> Iterator[None]:
    before = manner()
    if wanted is not None:
        set_manner(wanted)
    try:
        yield
    finally:
        set_manner(before)
