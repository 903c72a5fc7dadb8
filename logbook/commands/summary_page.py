"""What the command `summary` prints: the figures of a period as a calm page of plain text."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time

from logbook.commands.reading_log import LogFigures
from logbook.domain.figures import Figures
from logbook.domain.levels import HIGH_ABOVE, HIGHER_ABOVE, LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.low_facts import Looked
from logbook.domain.lows import Level, Low
from logbook.domain.summary import SlotSummary, Summary
from logbook.wording import _, ngettext
from logbook.wording.calls import listed_call_text
from logbook.wording.cautions import no_advice, shares_are_of_readings
from logbook.wording.completeness import both_counts, proves_nothing, verdict_sentences
from logbook.wording.dates import clock_on_day_text, day_text, duration_text, period_text
from logbook.wording.findings import finding_sentences, finding_title
from logbook.wording.lows import no_lows_text
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    figure_text,
    glucose_text,
    number_text,
    percent_text,
    range_text,
    steps_text,
    unit_text,
)
from logbook.wording.plan import plan_done_sentence
from logbook.wording.terms import slot_text, what_text

_NAME_WIDTH = 30


def summary_lines(figures: LogFigures) -> Iterator[str]:
    """The page, line by line."""
    summary, settings, looked = figures.summary, figures.settings, figures.looked
    if settings.person_name:
        yield settings.person_name
    yield period_text(summary.period, with_days=True)
    yield ""
    if not summary.readings.count and not summary.lows:
        yield _("There are no readings in these days.")
        yield from _outside_lines(summary)
        return
    yield from _count_lines(summary)
    yield ""
    yield from _figure_lines(summary.figures)
    yield ""
    yield from _band_lines(summary)
    yield ""
    yield from _slot_lines(summary)
    yield ""
    yield from _low_lines(summary, looked, settings.day_starts_at)
    yield ""
    yield from _review_lines(figures)
    yield shares_are_of_readings()
    yield no_advice()


def _review_lines(figures: LogFigures) -> Iterator[str]:
    """What repeats, what asks for a call, and how far the log can be trusted."""
    review, settings = figures.review, figures.settings
    if review.findings:
        yield _("What repeats")
        for finding in review.findings:
            yield f"  {finding_title(finding)}: {' '.join(finding_sentences(finding)[:-1])}"
        yield f"  {_('Worth asking your provider about.')}"
        yield ""
    if review.calls:
        yield _("Reasons to call your provider")
        for listed in review.calls:
            yield f"  {listed_call_text(listed, settings.unit, settings.day_starts_at)}"
        yield ""
    trusted = []
    if review.plan is not None:
        trusted.append(plan_done_sentence(review.plan))
    if review.meter is not None:
        trusted += [*both_counts(review.meter), *verdict_sentences(review.meter), proves_nothing()]
    if review.kit.tests:
        tests = _("Control tests passed: {count}.")
        trusted.append(tests.format(count=count_of_text(review.kit.passed, len(review.kit.tests))))
    if trusted:
        yield from trusted
        yield ""


def _row(name: str, value: str) -> str:
    return f"{name:<{_NAME_WIDTH}}{value}".rstrip()


def _count_lines(summary: Summary) -> Iterator[str]:
    readings = summary.readings
    yield _row(_("Readings"), number_text(readings.count))
    yield _row(
        _("Days with a reading"), count_of_text(summary.days_with_readings, summary.period.days)
    )
    if readings.reads_low:
        yield _row(_("Meter showed LO"), number_text(readings.reads_low))
    if readings.reads_high:
        yield _row(_("Meter showed HI"), number_text(readings.reads_high))
    if readings.rechecks:
        yield _row(_("Rechecks"), number_text(readings.rechecks))
    yield from _outside_lines(summary)


def _outside_lines(summary: Summary) -> Iterator[str]:
    """Readings of the period that are in no figure, and why."""
    readings = summary.readings
    for count, name in (
        (readings.crossed_out, _("Crossed out")),
        (readings.not_believed, _("Not believed")),
        (readings.foreign, _("Another person’s meter")),
        (readings.damaged, _("Damaged")),
    ):
        if count:
            yield _row(name, _("{n}, in no figure").format(n=number_text(count)))


def _figure_lines(figures: Figures) -> Iterator[str]:
    unit = figures.unit
    if not figures.is_complete:
        outside = figures.reads_low + figures.reads_high
        yield ngettext(
            "{n} reading is outside the meter’s range, so there is no mean and no SD.",
            "{n} readings are outside the meter’s range, so there is no mean and no SD.",
            outside,
        ).format(n=number_text(outside))
    elif figures.mean is not None:
        yield _row(_("Mean"), figure_text(figures.mean, unit))
        if figures.sd is not None:
            yield _row(_("SD"), figure_text(figures.sd, unit))
            yield _row(_("CV"), percent_text(figures.cv_percent))
    yield _row(_("Middle value"), figure_text(figures.median, unit))
    if figures.q1 is not None and figures.q3 is not None:
        half = _("{lowest} to {highest}").format(
            lowest=figure_text(figures.q1, unit, with_unit=False),
            highest=figure_text(figures.q3, unit),
        )
        yield _row(_("Half of the readings between"), half)
    if figures.least is not None and figures.greatest is not None:
        lowest = "LO" if figures.reads_low else figure_text(figures.least, unit, with_unit=False)
        highest = "HI" if figures.reads_high else figure_text(figures.greatest, unit)
        whole = _("{lowest} to {highest}").format(lowest=lowest, highest=highest)
        yield _row(_("Lowest to highest"), whole)


def _band_lines(summary: Summary) -> Iterator[str]:
    bands, unit = summary.bands, summary.unit
    below, in_start = VERY_LOW_BELOW[unit], LOW_BELOW[unit]
    in_end, above = HIGH_ABOVE[unit], HIGHER_ABOVE[unit]
    for name, count in (
        (_("Below {limit}").format(limit=steps_text(below, unit)), bands.below_54),
        (range_text(below, in_start - 1, unit), bands.from_54_to_69),
        (range_text(in_start, in_end, unit), bands.from_70_to_180),
        (range_text(in_end + 1, above, unit), bands.from_181_to_250),
        (_("Above {limit}").format(limit=steps_text(above, unit)), bands.above_250),
    ):
        share = percent_text(100 * count / summary.readings.count if summary.readings.count else 0)
        yield _row(name, f"{number_text(count):>6} {share:>6}")


def _slot_lines(summary: Summary) -> Iterator[str]:
    headings = (_("Readings"), _("Middle"), _("In target"), _("Lows"))
    yield _("Middle values in {unit}").format(unit=unit_text(summary.unit))
    yield _slot_row(_("Time of day"), *headings)
    for slot in summary.slots:
        yield _slot_row(
            slot_text(slot.slot),
            number_text(slot.count),
            figure_text(slot.figures.median, summary.unit, with_unit=False),
            _in_target_text(slot),
            number_text(slot.low),
        )


def _in_target_text(slot: SlotSummary) -> str:
    return count_of_text(slot.in_target, slot.judged) if slot.judged else NOTHING


def _slot_row(name: str, count: str, middle: str, in_target: str, lows: str) -> str:
    return f"{name:<{_NAME_WIDTH}}{count:>9}{middle:>9}{in_target:>14}{lows:>7}"


def _low_lines(summary: Summary, looked: Looked, day_starts_at: time) -> Iterator[str]:
    if not summary.lows:
        yield no_lows_text(summary.period, looked)
        return
    yield _row(_("Lows"), number_text(len(summary.lows)))
    for low in summary.lows:
        yield "  " + "; ".join(_low_words(low, day_starts_at))


def _low_words(low: Low, day_starts_at: time) -> Iterator[str]:
    clock = clock_on_day_text(low.at, day_starts_at)
    at = _("{day} at {time}").format(day=day_text(low.day), time=clock)
    value = _("felt, not measured") if low.value is None else glucose_text(low.value)
    yield f"{at}: {value}"
    if low.level is not Level.LOW and low.help is None:
        yield _("very low")
    if low.help is not None:
        yield what_text(low.help).lower()
    if low.warning_signs.value == "no":
        yield _("not felt coming")
    if low.is_measured:
        if low.rechecked_after_minutes is None:
            yield _("not checked again within 2 hours")
        else:
            yield _("checked again after {time}").format(
                time=duration_text(low.rechecked_after_minutes)
            )
        if low.back_above_69_after_minutes is not None:
            yield _("over after {time}").format(time=duration_text(low.back_above_69_after_minutes))
