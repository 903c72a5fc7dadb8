"""The little random model behind the invented numbers.

A value is the usual value of its time of day, plus what the whole day has in common, plus chance,
plus what the story adds (a steroid course, a trip). All normal distributions, in mg/dL; chosen to
look like an ordinary diary, taken from no data. Lows come from the story alone, never from chance.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from logbook.domain.slots import Slot

# Usual value in the first weeks, and later, after the plan was changed.
USUAL = {
    Slot.FASTING: (148.0, 132.0),
    Slot.AFTER_BREAKFAST: (178.0, 170.0),
    Slot.BEFORE_LUNCH: (128.0, 124.0),
    Slot.AFTER_LUNCH: (170.0, 164.0),
    Slot.BEFORE_DINNER: (136.0, 130.0),
    Slot.AFTER_DINNER: (182.0, 174.0),
    Slot.BEDTIME: (152.0, 156.0),
}
DAY_SPREAD = 12.0
CHANCE_SPREAD = 17.0
WEEKEND_ADDS = {Slot.AFTER_LUNCH: 14.0, Slot.AFTER_DINNER: 16.0, Slot.BEDTIME: 10.0}

# A steroid taken in the morning shows least at fasting and most in the afternoon and evening.
# Common knowledge of the trade; the sizes are invented.
STEROID_ADDS = {
    Slot.FASTING: 22.0,
    Slot.BEFORE_LUNCH: 70.0,
    Slot.AFTER_LUNCH: 118.0,
    Slot.BEFORE_DINNER: 96.0,
    Slot.AFTER_DINNER: 104.0,
    Slot.BEDTIME: 78.0,
}
TRIP_ADDS = 18.0

# Chance alone makes neither a low nor a reading that would ring a bell.
LEAST_BY_CHANCE = 74
MOST_BY_CHANCE = 288
MOST_ON_STEROID = 348


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What makes a day unlike others."""

    is_later: bool
    is_weekend: bool
    is_on_steroid: bool
    is_away: bool


def day_effect(chance: Random) -> float:
    """What all values of one day have in common, in mg/dL."""
    return chance.gauss(0.0, DAY_SPREAD)


def drawn_value(chance: Random, slot: Slot, common: float, circumstances: Circumstances) -> int:
    """One value in whole mg/dL; `common` is what the day has in common."""
    story = 0.0
    if circumstances.is_weekend:
        story += WEEKEND_ADDS.get(slot, 0.0)
    if circumstances.is_on_steroid:
        story += STEROID_ADDS.get(slot, STEROID_ADDS[Slot.BEFORE_LUNCH])
    if circumstances.is_away:
        story += TRIP_ADDS
    usual = USUAL[slot][1 if circumstances.is_later else 0]
    drawn = round(usual + common + story + chance.gauss(0.0, CHANCE_SPREAD))
    most = MOST_ON_STEROID if circumstances.is_on_steroid else MOST_BY_CHANCE
    return min(max(drawn, LEAST_BY_CHANCE), most)
