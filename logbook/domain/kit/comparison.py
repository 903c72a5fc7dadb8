"""A fingerstick beside a laboratory value: how far apart they may be, and is it a fair comparison.

One pair outside is a prompt to repeat it, never a verdict on a meter: the criterion is about 95 of
100 results.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from logbook.domain.glucose import Unit
from logbook.domain.kit.meter_care import LabComparison

# ISO 15197:2013, read in PMC4525642 table 1: within 15 mg/dL below 100 mg/dL, within 15 % from
# there on. In mmol/L 0.83 (read there) below 5.55 (from memory).
_FIXED_BELOW = {Unit.MG_DL: Decimal(100), Unit.MMOL_L: Decimal("5.55")}
_FIXED = {Unit.MG_DL: Decimal(15), Unit.MMOL_L: Decimal("0.83")}
_SHARE = Decimal("0.15")

# Samples at most 15 minutes apart, fasting for 4 hours at least (a meter manual, in a copy).
MOST_MINUTES_APART = 15


class ComparisonVerdict(StrEnum):
    """Within the bounds, outside, or not to be told (LO, HI, or two units)."""

    WITHIN = "within"
    OUTSIDE = "outside"
    CAN_NOT_TELL = "can_not_tell"


class Unfair(StrEnum):
    """What makes a comparison unfair, or what nobody noted."""

    TOO_FAR_APART = "too_far_apart"
    MINUTES_NOT_KNOWN = "minutes_not_known"
    NOT_FASTING = "not_fasting"
    FASTING_NOT_KNOWN = "fasting_not_known"


@dataclass(frozen=True, slots=True)
class Compared:
    """What a comparison shows.

    `lowest` and `highest` are the bounds around the laboratory value, in its unit, unrounded;
    `percent` is how far the meter was above it (below zero: under it). None for what can't be told.
    """

    verdict: ComparisonVerdict
    lowest: Decimal | None = None
    highest: Decimal | None = None
    percent: Decimal | None = None
    unfair: tuple[Unfair, ...] = ()

    @property
    def is_fair(self) -> bool:
        """Whether both samples were taken together, fasting, and both were noted."""
        return not self.unfair

    @property
    def asks_to_repeat(self) -> bool:
        """Whether to compare once more: the one pair is outside."""
        return self.verdict is ComparisonVerdict.OUTSIDE


def meter_bounds(laboratory: Decimal, unit: Unit) -> tuple[Decimal, Decimal]:
    """The lowest and highest value of a meter that agree with a laboratory value, ends included."""
    is_fixed = laboratory < _FIXED_BELOW[unit]
    room = _FIXED[unit] if is_fixed else laboratory * _SHARE
    return laboratory - room, laboratory + room


def compared(pair: LabComparison) -> Compared:
    """What a comparison shows, and under which conditions it was made."""
    unfair = _unfair(pair)
    meter, laboratory = pair.glucose.value, pair.laboratory.value
    if meter is None or laboratory is None or pair.glucose.unit is not pair.laboratory.unit:
        return Compared(ComparisonVerdict.CAN_NOT_TELL, unfair=unfair)
    lowest, highest = meter_bounds(laboratory, pair.laboratory.unit)
    is_within = lowest <= meter <= highest
    return Compared(
        ComparisonVerdict.WITHIN if is_within else ComparisonVerdict.OUTSIDE,
        lowest,
        highest,
        (meter - laboratory) * 100 / laboratory,
        unfair,
    )


def _unfair(pair: LabComparison) -> tuple[Unfair, ...]:
    minutes, was_fasting = pair.minutes_apart, pair.was_fasting
    said = {
        Unfair.TOO_FAR_APART: minutes is not None and abs(minutes) > MOST_MINUTES_APART,
        Unfair.MINUTES_NOT_KNOWN: minutes is None,
        Unfair.NOT_FASTING: was_fasting is False,
        Unfair.FASTING_NOT_KNOWN: was_fasting is None,
    }
    return tuple(one for one, holds in said.items() if holds)
