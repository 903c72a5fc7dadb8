"""Where a reading stands: six states, told by word first, then shape, then colour.

Very low and low come before any target: a value of 62 is low whatever was agreed.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.levels import LOW_BELOW, VERY_HIGH_ABOVE, VERY_LOW_BELOW
from logbook.domain.readings import Reading
from logbook.domain.targets import Limits, TargetBook, Verdict, judge_steps


class State(StrEnum):
    """The six states, and one for a value that no target judges."""

    VERY_LOW = "very_low"
    LOW = "low"
    BELOW_TARGET = "below_target"
    IN_TARGET = "in_target"
    ABOVE_TARGET = "above_target"
    VERY_HIGH = "very_high"
    NOT_JUDGED = "not_judged"

    @property
    def is_low(self) -> bool:
        """Low or very low: the low page opens."""
        return self in (State.VERY_LOW, State.LOW)


_OF_VERDICT = {
    Verdict.BELOW: State.BELOW_TARGET,
    Verdict.IN_TARGET: State.IN_TARGET,
    Verdict.ABOVE: State.ABOVE_TARGET,
}


def state_of_steps(
    steps: int, unit: Unit, limits: Limits | None, very_high_above: int | None = None
) -> State:
    """The state of a value in steps of `unit` (`LO_STEPS`, `HI_STEPS` for LO and HI).

    `limits` are the target's limits in the same unit, or None; `very_high_above` is the person's
    own limit in steps, else 300 mg/dL (16.7 mmol/L).
    """
    if steps < VERY_LOW_BELOW[unit]:
        return State.VERY_LOW
    if steps < LOW_BELOW[unit]:
        return State.LOW
    if steps > (VERY_HIGH_ABOVE[unit] if very_high_above is None else very_high_above):
        return State.VERY_HIGH
    if limits is None or (limits.lower is None and limits.upper is None):
        return State.NOT_JUDGED
    return _OF_VERDICT[judge_steps(steps, limits)]


def state_of(
    glucose: Glucose, limits: Limits | None = None, very_high_above: int | None = None
) -> State:
    """The state of one value held against `limits` in its own unit."""
    return state_of_steps(glucose.order_steps, glucose.unit, limits, very_high_above)


def state_of_reading(
    reading: Reading, day: date, targets: TargetBook, very_high_above: int | None = None
) -> State:
    """The state of a reading, judged by the target of its own (person's) `day`."""
    target = targets.for_slot(reading.judged_slot, day)
    limits = target.limits_in(reading.glucose.unit) if target is not None else None
    return state_of(reading.glucose, limits, very_high_above)
