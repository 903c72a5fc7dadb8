"""The summary as plain values for JSON: full precision, absent figures as None."""

from __future__ import annotations

from logbook.domain.figures import unrounded
from logbook.domain.glucose import Unit
from logbook.domain.lows import Low
from logbook.domain.summary import SlotSummary, Summary


def summary_form(summary: Summary) -> dict[str, object]:
    """A dictionary of plain values in a fixed order of keys.

    Days are ISO days, moments ISO wall time with offset, glucose numbers in the log's unit and
    unrounded. `findings` and `control_tests` are None: this version computes neither.
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
        "findings": None,
        "lows": [_low_form(low, summary.unit) for low in summary.lows],
        "control_tests": None,
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
