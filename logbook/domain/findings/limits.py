"""From where on something is found: the limits of a log, and the usual ones.

The counts and days are fields of `LogSettings` with their usual values as defaults; what is
measured in glucose has one usual value in each unit, told here.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from logbook.domain.glucose import Unit
from logbook.domain.settings import LogSettings

# The middle value must lie this far over the upper limit: at an A1C of 6.5 to 6.99 % the mean
# fasting value was 142 (Wei, Diabetes Care 2014;37:1048, read there), so a little over 130 is
# nothing to find. The figure is judgement without a source.
HIGH_MARGIN = {Unit.MG_DL: 20, Unit.MMOL_L: 11}

# A rise of over 50 mg/dL (2.8 mmol/L) over the check before the meal: structured-testing training
# text, read in a copy.
MEAL_RISE_ABOVE = {Unit.MG_DL: 50, Unit.MMOL_L: 28}

# A fall of 50 mg/dL from bedtime to morning is one of the published signs of too much long-acting
# insulin (Clinical Diabetes, table on over-basalisation, read there); 2.8 is its usual twin.
OVERNIGHT_FALL_FROM = {Unit.MG_DL: 50, Unit.MMOL_L: 28}

# The fields of `LogSettings` that say from where on something is found.
LIMITS = (
    "finding_days",
    "low_repeat_count",
    "low_repeat_days",
    "near_low_count",
    "near_low_days",
    "high_least_readings",
    "high_margin",
    "pairs_needed",
    "meal_rise_above",
    "overnight_fall_from",
    "after_meal_from_minutes",
)

# Those of them in steps of the log's unit: in another unit they would mean something else.
IN_STEPS = ("high_margin", "meal_rise_above", "overnight_fall_from")

_USUAL_STEPS = {
    "high_margin": HIGH_MARGIN,
    "meal_rise_above": MEAL_RISE_ABOVE,
    "overnight_fall_from": OVERNIGHT_FALL_FROM,
}


def high_margin(settings: LogSettings) -> int:
    """How far over the limit a middle value must lie, in steps of the log's unit."""
    return limit_of(settings, "high_margin")


def meal_rise_above(settings: LogSettings) -> int:
    """Over how much a rise after a meal is told, in steps of the log's unit."""
    return limit_of(settings, "meal_rise_above")


def overnight_fall_from(settings: LogSettings) -> int:
    """From how much on a fall overnight is told, in steps of the log's unit."""
    return limit_of(settings, "overnight_fall_from")


def limit_of(settings: LogSettings, name: str) -> int:
    """One of `LIMITS` as it holds: a count, days, minutes or steps of the log's unit."""
    own: int | None = getattr(settings, name)
    return usual_limit(settings.unit, name) if own is None else own


def usual_limit(unit: Unit, name: str) -> int:
    """One of `LIMITS` as it is unless the person chose another."""
    if name in _USUAL_STEPS:
        return _USUAL_STEPS[name][unit]
    usual: int = getattr(LogSettings(), name)
    return usual


def own_limits(settings: LogSettings) -> tuple[str, ...]:
    """Those of `LIMITS` that are not the usual ones."""
    return tuple(
        name for name in LIMITS if limit_of(settings, name) != usual_limit(settings.unit, name)
    )


def with_usual_limits(settings: LogSettings) -> LogSettings:
    """The same settings with every limit as usual; weekend and named days stay."""
    usual = LogSettings()
    fields: dict[str, Any] = {name: getattr(usual, name) for name in LIMITS}
    return replace(settings, **fields)
