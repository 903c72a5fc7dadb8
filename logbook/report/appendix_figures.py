"""The appendix's figures: all readings, by time of day, and what repeats.

Fewer than five values have no spread and no percentage: then it says so.
"""

from __future__ import annotations

from logbook.domain.figures import LEAST_FOR_SPREAD, Figures, Share
from logbook.report.appendix_compared import write_compared, write_pairs
from logbook.report.contents import Contents
from logbook.report.flow import Flow
from logbook.report.front_words import short_period_text
from logbook.report.grid_words import lowest_highest_text
from logbook.report.tables import LINES_OF_A_TABLE, write_table
from logbook.wording import _
from logbook.wording.figures import band_limits, spread_sentence
from logbook.wording.finding_limits import own_limits_sentences
from logbook.wording.findings import provider_line
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    figure_text,
    number_text,
    percent_text,
    unit_text,
)
from logbook.wording.terms import slot_text


def write_figures(flow: Flow, contents: Contents) -> None:
    """All of them; where there is no reading, only what repeats."""
    if contents.summary.figures.count:
        _write_all(flow, contents)
        _write_by_slot(flow, contents)
        write_compared(flow, contents)
        write_pairs(flow, contents)
    _write_findings(flow, contents)


# --- all readings ---------------------------------------------------------------------------------


def _write_all(flow: Flow, contents: Contents) -> None:
    figures = contents.summary.figures
    flow.heading(_("All readings"))
    flow.paragraph(spread_sentence(figures))
    if figures.is_enough and figures.q1 is not None and figures.q3 is not None:
        flow.paragraph(_middle_text(figures))
    unit = contents.unit
    bands = contents.summary.bands
    flow.gap(4)
    write_table(
        flow,
        (
            (_("Limits in {unit}").format(unit=unit_text(unit)), band_limits(unit)),
            (_("Readings"), [number_text(count) for count in bands.counts]),
            (_("Share"), [_percent(share) for share in bands.shares]),
        ),
    )


def _middle_text(figures: Figures) -> str:
    return _("Middle value {median}, middle half {q1} to {q3}.").format(
        median=figure_text(figures.median, figures.unit),
        q1=figure_text(figures.q1, figures.unit, with_unit=False),
        q3=figure_text(figures.q3, figures.unit),
    )


def _percent(share: Share) -> str:
    return percent_text(share.percent) if share.is_enough else NOTHING


# --- by time of day -------------------------------------------------------------------------------


def _write_by_slot(flow: Flow, contents: Contents) -> None:
    slots, unit = contents.summary.slots, contents.unit
    flow.heading(
        _("By time of day, in {unit}").format(unit=unit_text(unit)), lines_below=LINES_OF_A_TABLE
    )
    write_table(
        flow,
        (
            (_("Time of day"), [slot_text(slot.slot) for slot in slots]),
            (_("Checks"), [number_text(slot.count) for slot in slots]),
            (_("Mean"), [_mean(slot.figures) for slot in slots]),
            (_("SD"), [_sd(slot.figures) for slot in slots]),
            (_("Middle half"), [_middle_half(slot.figures) for slot in slots]),
            (_("Range"), [lowest_highest_text(slot, unit) for slot in slots]),
            (_("In target, interval"), [_in_target(slot.in_target_share) for slot in slots]),
        ),
    )
    if any(not slot.figures.is_enough for slot in slots):
        flow.paragraph(
            _("{dash}: fewer than {n} values are too few to tell.").format(
                dash=NOTHING, n=number_text(LEAST_FOR_SPREAD)
            ),
            size=flow.document.print.table_size,
        )


def _mean(figures: Figures) -> str:
    return figure_text(figures.mean if figures.is_complete else None, figures.unit, with_unit=False)


def _sd(figures: Figures) -> str:
    is_told = figures.is_complete and figures.is_enough
    return figure_text(figures.sd if is_told else None, figures.unit, with_unit=False)


def _middle_half(figures: Figures) -> str:
    if figures.q1 is None or figures.q3 is None or not figures.is_enough:
        return NOTHING
    low = figure_text(figures.q1, figures.unit, with_unit=False)
    return f"{low}–{figure_text(figures.q3, figures.unit, with_unit=False)}"


def _in_target(share: Share) -> str:
    if not share.of:
        return NOTHING
    if not share.is_enough or share.interval_percent is None:
        return count_of_text(share.part, share.of)
    low, high = share.interval_percent
    return _("{share}, {low} to {high}").format(
        share=percent_text(share.percent), low=percent_text(low), high=percent_text(high)
    )


# --- findings -------------------------------------------------------------------------------------


def _write_findings(flow: Flow, contents: Contents) -> None:
    findings = contents.review.findings
    flow.heading(_("What repeats, {period}").format(period=short_period_text(contents.period)))
    if not findings:
        flow.paragraph(_("Nothing was found that repeats by the rules of this program."))
    for finding in findings:
        flow.paragraph(provider_line(finding) + ".")
    for sentence in own_limits_sentences(contents.data.settings):
        flow.paragraph(sentence)
