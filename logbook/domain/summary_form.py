"""The summary as plain values for JSON: full precision, absent figures as None."""

from __future__ import annotations

from logbook.domain.a1c_comparison import A1CBesideLog
from logbook.domain.calls import ListedCall
from logbook.domain.comparison import Compared, compare_with_before
from logbook.domain.figures import unrounded
from logbook.domain.findings.finding import Finding
from logbook.domain.glucose import Unit
from logbook.domain.lows import Low
from logbook.domain.meter_average import LogAndMeter
from logbook.domain.pairs import Changes, changes_of
from logbook.domain.slots import Slot
from logbook.domain.summary import SlotSummary, Summary
from logbook.domain.visit_comparisons import VisitComparisons
from logbook.domain.visit_review import VisitReview


def summary_form(summary: Summary, review: VisitReview) -> dict[str, object]:
    """A dictionary of plain values in a fixed order of keys.

    Days are ISO days, moments ISO wall time with offset, glucose numbers in the log's unit and
    unrounded. What there is none of is None: no plan, no average read off a meter, no A1C.
    """
    readings, figures, bands = summary.readings, summary.figures, summary.bands
    return {
        "unit": summary.unit.value,
        "from": summary.period.first.isoformat(),
        "to": summary.period.last.isoformat(),
        "readings": {
            "count": readings.count,
            "numbers": readings.numbers,
            "reads_low": readings.reads_low,
            "reads_high": readings.reads_high,
            "rechecks": readings.rechecks,
            "not_believed": readings.not_believed,
            "crossed_out": readings.crossed_out,
        },
        "days": {
            "in_period": summary.period.days,
            "with_readings": summary.days_with_readings,
        },
        "figures": {
            "mean": figures.mean,
            "sd": figures.sd,
            "cv_percent": figures.cv_percent,
            "min": figures.least,
            "q1": figures.q1,
            "median": figures.median,
            "q3": figures.q3,
            "max": figures.greatest,
        },
        "bands": {
            "below_54": bands.below_54,
            "54_to_69": bands.from_54_to_69,
            "70_to_180": bands.from_70_to_180,
            "181_to_250": bands.from_181_to_250,
            "above_250": bands.above_250,
        },
        "slots": [_slot_form(slot) for slot in summary.slots],
        "findings": [_finding_form(finding) for finding in review.findings],
        "lows": [_low_form(low, summary.unit) for low in summary.lows],
        "control_tests": {"count": len(review.kit.tests), "passed": review.kit.passed},
        "calls": [_call_form(listed) for listed in review.calls],
        "low_episodes": {
            "rechecked": review.episodes.rechecked,
            "without_recheck": review.episodes.without_recheck,
            "median_minutes_to_recheck": review.episodes.median_minutes_to_recheck,
            "median_minutes_until_back": review.episodes.median_minutes_until_back,
        },
        "planned_checks": None
        if review.plan is None
        else {"done": review.plan.total.part, "planned": review.plan.total.of},
        "meter_average": None if review.meter is None else _meter_form(review.meter),
        "a1c": None if review.a1c is None else _a1c_form(review.a1c),
        **_compared_form(summary, review.compared),
    }


def _compared_form(summary: Summary, compared: VisitComparisons) -> dict[str, object]:
    """The days before, before and after a change, and pairs; empty lists where there are none."""
    before, split = compared.before, compared.split
    by_slot = {
        slot: [pair.rise for pair in compared.meals if pair.slot is slot]
        for slot in dict.fromkeys(pair.slot for pair in compared.meals)
    }
    if compared.nights:
        # From bedtime to the fasting check, by whose name it stands.
        by_slot[Slot.FASTING] = [pair.change for pair in compared.nights]
    return {
        "days_before": []
        if before is None
        else [_row_form(row) for row in compare_with_before(summary, before)],
        "change": []
        if split is None
        else [
            {"day": split.day.isoformat(), **_row_form(row)}
            for row in compare_with_before(split.after, split.before)
        ],
        "pairs": [
            _pairs_form(slot, changes_of(by_slot[slot]), summary.unit)
            for slot in Slot
            if slot in by_slot
        ],
    }


def _row_form(row: Compared) -> dict[str, object]:
    return {
        "slot": None if row.slot is None else row.slot.value,
        "count_before": row.count_before,
        "count": row.count,
        "median_before": row.median_before,
        "median": row.median,
        "in_target_before": row.in_target_before.part if row.in_target_before.of else None,
        "in_target": row.in_target.part if row.in_target.of else None,
        "low_before": row.low_before,
        "low": row.low,
    }


def _pairs_form(slot: Slot, changes: Changes, unit: Unit) -> dict[str, object]:
    scale = unit.steps_per_one
    return {
        "slot": slot.value,
        "count": changes.count,
        "median_change": None if changes.median is None else changes.median / scale,
        "min_change": None if changes.least is None else changes.least / scale,
        "max_change": None if changes.greatest is None else changes.greatest / scale,
    }


def _finding_form(finding: Finding) -> dict[str, object]:
    return {
        "kind": finding.kind.value,
        "slot": None if finding.slot is None else finding.slot.value,
        "group": finding.group,
        "count": finding.count,
        "of": finding.of,
        "from": finding.first.isoformat(),
        "to": finding.last.isoformat(),
    }


def _call_form(listed: ListedCall) -> dict[str, object]:
    call = listed.call
    return {
        "reason": call.reason.value,
        "urgency": call.urgency.value,
        "at": call.at.isoformat(timespec="minutes"),
        "count": call.count,
        "said": None if listed.said is None else listed.said.value,
    }


def _meter_form(compared: LogAndMeter) -> dict[str, object]:
    average = compared.average
    steps = average.glucose.steps
    unit = average.glucose.unit
    return {
        "at": average.at.wall.isoformat(timespec="minutes"),
        "days": average.days,
        "unit": unit.value,
        "meter_count": average.count,
        "meter_mean": None if steps is None else unrounded(steps, unit, unit),
        "log_count": compared.log_count,
        "log_mean": compared.log_mean,
        "verdict": compared.verdict.value,
    }


def _a1c_form(beside: A1CBesideLog) -> dict[str, object]:
    a1c = beside.a1c
    return {
        "drawn_on": a1c.drawn_on.isoformat(),
        "value": a1c.steps / a1c.unit.steps_per_one,
        "unit": a1c.unit.value,
        "log_count": beside.log.count,
        "log_mean": beside.log.mean,
        "verdict": beside.verdict.value,
    }


def _slot_form(summary: SlotSummary) -> dict[str, object]:
    figures = summary.figures
    # Without a target there is nothing to be in, above or below; None says so, 0 would not.
    is_judged = summary.judged > 0
    share = summary.in_target_share
    interval = share.interval_percent
    return {
        "slot": summary.slot.value,
        "count": summary.count,
        "mean": figures.mean,
        "sd": figures.sd,
        "median": figures.median,
        "low": summary.low,
        "below_target_not_low": summary.below_target_not_low if is_judged else None,
        "in_target": summary.in_target if is_judged else None,
        "above_target": summary.above_target if is_judged else None,
        "in_target_percent": share.percent,
        "in_target_interval": None if interval is None else list(interval),
    }


def _low_form(low: Low, unit: Unit) -> dict[str, object]:
    value = low.value
    number = None
    if value is not None and value.steps is not None:
        number = unrounded(value.steps, value.unit, unit)
    return {
        "at": low.at.isoformat(timespec="minutes"),
        "value": number,
        "measured": low.is_measured,
        "level": int(low.level),
        "help": None if low.help is None else low.help.value,
        "warning_signs": low.warning_signs.value,
        "rechecked_after_minutes": low.rechecked_after_minutes,
        "back_above_69_after_minutes": low.back_above_69_after_minutes,
    }
