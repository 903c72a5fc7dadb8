"""The appendix's comparisons: with the days before, without the days of illness, check with check.

They compare; what made the difference is not told.
"""

from __future__ import annotations

from logbook.domain.comparison import compare_with_before, summarise_without
from logbook.domain.figures import Share
from logbook.domain.pairs import changes_of
from logbook.domain.slots import Slot
from logbook.report.contents import Contents
from logbook.report.flow import Flow
from logbook.report.tables import LINES_OF_A_TABLE, write_table
from logbook.wording import _
from logbook.wording.figures import share_text
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    days_text,
    figure_text,
    number_text,
    readings_text,
    unit_text,
)
from logbook.wording.pairs import change_text, least_to_most_text, low_between_text
from logbook.wording.terms import slot_text, spell_text


def write_compared(flow: Flow, contents: Contents) -> None:
    """The period beside the one before it, and without the days of illness, steroids and such."""
    now, before = contents.summary, contents.review.compared.before
    if before is not None:
        flow.heading(
            _("Beside the {days} before, in {unit} (before / now)").format(
                days=days_text(before.period.days), unit=unit_text(contents.unit)
            ),
            lines_below=LINES_OF_A_TABLE,
        )
        rows = compare_with_before(now, before)
        unit = contents.unit
        write_table(
            flow,
            (
                (_("Time of day"), [_row_name(row.slot) for row in rows]),
                (_("Checks"), [_two(row.count_before, row.count) for row in rows]),
                (
                    _("Middle value"),
                    [
                        _from_to(
                            figure_text(row.median_before, unit, with_unit=False),
                            figure_text(row.median, unit, with_unit=False),
                        )
                        for row in rows
                    ],
                ),
                (
                    _("In target"),
                    [_from_to(_count(row.in_target_before), _count(row.in_target)) for row in rows],
                ),
                (_("Low values"), [_two(row.low_before, row.low) for row in rows]),
            ),
        )
    _write_without_spells(flow, contents)


def _row_name(slot: Slot | None) -> str:
    return _("All readings") if slot is None else slot_text(slot)


def _two(before: int, now: int) -> str:
    return _from_to(number_text(before), number_text(now))


def _from_to(before: str, now: str) -> str:
    return _("{before} / {now}").format(before=before, now=now)


def _count(share: Share) -> str:
    return count_of_text(share.part, share.of) if share.of else NOTHING


def _write_without_spells(flow: Flow, contents: Contents) -> None:
    data = contents.data
    rest = summarise_without(
        data.spells,
        data.series,
        data.period,
        data.settings,
        data.targets,
        data.happenings,
        data.answers,
    )
    if rest is None or not rest.summary.readings.count:
        return
    flow.heading(
        _("Without {days} of: {spells}").format(
            days=days_text(rest.days_left_out),
            spells=", ".join(dict.fromkeys(spell_text(one.kind) for one in data.spells)),
        )
    )
    whole, part = contents.summary, rest.summary
    for name, summary in ((_("All days"), whole), (_("Without them"), part)):
        flow.paragraph(
            _("{name}: {readings}, middle value {middle}, in target {share}, lows {lows}.").format(
                name=name,
                readings=readings_text(summary.readings.count),
                middle=figure_text(summary.figures.median, contents.unit),
                share=share_text(summary.against_target.in_target_share),
                lows=number_text(len(summary.lows)),
            )
        )


# --- pairs ----------------------------------------------------------------------------------------


def write_pairs(flow: Flow, contents: Contents) -> None:
    """Meals and nights; nothing where there is no pair."""
    compared, unit = contents.review.compared, contents.unit
    meals, nights = compared.meals, compared.nights
    if not meals and not nights:
        return
    flow.heading(
        _("Pairs: before and after, in {unit}").format(unit=unit_text(unit)),
        lines_below=LINES_OF_A_TABLE,
    )
    rows = [
        (slot_text(slot), changes_of(pair.rise for pair in meals if pair.slot is slot))
        for slot in Slot
        if any(pair.slot is slot for pair in meals)
    ]
    if nights:
        changes = changes_of(pair.change for pair in nights)
        rows.append((_("Bedtime to fasting (before breakfast)"), changes))
    write_table(
        flow,
        (
            (_("From one check to the next"), [name for name, _changes in rows]),
            (_("Pairs"), [number_text(changes.count) for _name, changes in rows]),
            (_("Middle change"), [change_text(changes.median, unit) for _name, changes in rows]),
            (_("Least to most"), [least_to_most_text(changes, unit) for _name, changes in rows]),
        ),
    )
    between = low_between_text(sum(pair.has_low_between for pair in nights))
    if between:
        flow.paragraph(between)
