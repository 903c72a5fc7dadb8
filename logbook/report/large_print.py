"""Large print, the person's own paper: plan, targets, questions, a few sentences, then the grid."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.report.contents import Contents
from logbook.report.document import Document
from logbook.report.flow import Flow
from logbook.report.front_lists import medicine_lines, question_lines, target_lines
from logbook.report.front_words import low_text, paper_caution, person_line
from logbook.wording import _
from logbook.wording.dates import clock_text, day_text, period_text
from logbook.wording.lows import no_lows_text
from logbook.wording.numbers import count_of_text, days_text, figure_text, lows_text, number_text


def write_own_paper(document: Document, contents: Contents) -> None:
    """The pages before the grid."""
    flow = Flow(document)
    flow.heading(person_line(contents), is_title=True)
    flow.page.bookmark(_("My numbers"))
    flow.paragraph(period_text(contents.period, with_days=True))
    visit = contents.data.next_appointment
    if visit is not None:
        when = day_text(visit.day) + (f", {clock_text(visit.at)}" if visit.at else "")
        flow.paragraph(_("My visit: {when} {who}").format(when=when, who=visit.with_whom).strip())
    for title, lines in _parts(contents):
        if lines:
            flow.heading(title)
            for line in lines:
                flow.paragraph(line)
    flow.heading(_("My numbers"))
    for sentence in sentences(contents):
        flow.paragraph(sentence)
    flow.gap(document.print.text_size * 0.6)
    flow.paragraph(paper_caution(), size=document.print.table_size)


def _parts(contents: Contents) -> Iterable[tuple[str, list[str]]]:
    settings = contents.data.settings
    yield _("My plan for a low"), _told(settings.low_plan)
    yield _("My plan for a high"), _told(settings.high_plan)
    yield _("My plan for sick days"), _told(settings.sick_day_plan)
    yield _("My medicines"), medicine_lines(contents)
    yield _("My targets"), target_lines(contents)
    yield _("My questions"), question_lines(contents)


def _told(text: str) -> list[str]:
    return [text] if text.strip() else []


def sentences(contents: Contents) -> list[str]:
    """Three sentences: how often, where the middle lies, and the lows."""
    summary = contents.summary
    figures, unit = summary.figures, contents.unit
    if not summary.readings.count:
        return [_("No readings in these {days}.").format(days=days_text(contents.period.days))]
    found = [
        _("I checked {n} times, on {share} days.").format(
            n=number_text(summary.readings.count),
            share=count_of_text(summary.days_with_readings, contents.period.days),
        )
    ]
    if figures.median is not None and figures.q1 is not None and figures.q3 is not None:
        found.append(
            _("The middle value is {middle}. Half of my readings lie from {low} to {high}.").format(
                middle=figure_text(figures.median, unit),
                low=figure_text(figures.q1, unit, with_unit=False),
                high=figure_text(figures.q3, unit),
            )
        )
    if summary.lows:
        found.append(
            _("I had {lows}. The latest was {low}.").format(
                lows=lows_text(contents.low_counts.total),
                low=low_text(
                    summary.lows[-1], contents.period, contents.data.settings.day_starts_at
                ),
            )
        )
    else:
        found.append(no_lows_text(contents.period, contents.looked))
    return found
