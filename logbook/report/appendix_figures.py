"""The appendix's figures: all readings, by time of day, and what repeats.

Fewer than five values have no spread and no percentage: then it says so.
"""

from __future__ import annotations

from logbook.domain.figures import LEAST_FOR_SPREAD, Figures, Share
from logbook.domain.levels import HIGH_ABOVE, HIGHER_ABOVE, LOW_BELOW, VERY_LOW_BELOW
from logbook.report.appendix_compared import write_compared, write_pairs
from logbook.report.contents import Contents
from logbook.report.flow import Flow
from logbook.report.front_words import short_period_text
from logbook.report.grid_words import lowest_highest_text
from logbook.report.tables import LINES_OF_A_TABLE, write_table
from logbook.wording import _
from logbook.wording.figures import too_few_text
from logbook.wording.findings import provider_line
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    figure_text,
    number_text,
    percent_text,
    range_text,
    readings_text,
    steps_text,
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
    flow.paragraph(_spread_text(figures))
    if figures.is_enough and figures.q1 is not None and figures.q3 is not None:
        flow.paragraph(_middle_text(figures))
    unit = contents.unit
    names = _band_limits(contents)
    bands = contents.summary.bands
    flow.gap(4)
    write_table(
        flow,
        (
            (_("Limits in {unit}").format(unit=unit_text(unit)), names),
            (_("Readings"), [number_text(count) for count in bands.counts]),
            (_("Share"), [_percent(share) for share in bands.shares]),
        ),
    )


def _spread_text(figures: Figures) -> str:
    unit, readings = figures.unit, readings_text(figures.count)
    if not figures.is_complete:
        return _("{readings}, {low} LO and {high} HI among them: no mean, SD or CV.").format(
            readings=readings,
            low=number_text(figures.reads_low),
            high=number_text(figures.reads_high),
        )
    if not figures.is_enough:
        return _("Mean {mean}. SD, CV and middle half: {too_few}.").format(
            mean=figure_text(figures.mean, unit), too_few=too_few_text(figures.count)
        )
    return _("{readings}: mean {mean}, SD {sd}, CV {cv}.").format(
        readings=readings,
        mean=figure_text(figures.mean, unit),
        sd=figure_text(figures.sd, unit),
        cv=percent_text(figures.cv_percent),
    )


def _middle_text(figures: Figures) -> str:
    return _("Middle value {median}, middle half {q1} to {q3}.").format(
        median=figure_text(figures.median, figures.unit),
        q1=figure_text(figures.q1, figures.unit, with_unit=False),
        q3=figure_text(figures.q3, figures.unit),
    )


def _band_limits(contents: Contents) -> list[str]:
    unit = contents.unit
    very_low, low = VERY_LOW_BELOW[unit], LOW_BELOW[unit]
    high, higher = HIGH_ABOVE[unit], HIGHER_ABOVE[unit]
    return [
        _("below {limit}").format(limit=steps_text(very_low, unit, with_unit=False)),
        range_text(very_low, low - 1, unit, with_unit=False),
        range_text(low, high, unit, with_unit=False),
        range_text(high + 1, higher, unit, with_unit=False),
        _("above {limit}").format(limit=steps_text(higher, unit, with_unit=False)),
    ]


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
