"""A check made again because the first number was a surprise: do the two tell the same?"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from logbook.domain.glucose import Glucose, Kind
from logbook.domain.levels import LOW_BELOW
from logbook.domain.readings import Feeling, Reading
from logbook.domain.slots import Purpose

# Two strips from one meter may differ by 15 % each way and be within ISO 15197:2013; a finger with
# food on it differs by far more. Where the line lies is common practice, no source.
FAR_APART_SHARE = 0.20


# So soon after a low no sugar has worked yet: a number far above it is another number of the same
# moment. Judgement without a source.
SUGAR_WORKS_AFTER = timedelta(minutes=5)

# A check of the same time of day so soon after a surprising one is the same check made again, even
# where nobody said so. Judgement without a source.
AGAIN_WITHIN = timedelta(minutes=30)


def first_of_repeat(again: Reading, before: Iterable[Reading]) -> Reading | None:
    """The check that `again` makes once more, of those before it (newest first); None for none.

    It is the latest that counts, for the same time of day, within half an hour, or within two
    hours where the person said that they tested again. A recheck after a low is no repeat.
    """
    if again.purpose is Purpose.RECHECK:
        return None
    first = next((one for one in before if one.counts and one.id != again.id), None)
    if first is None or first.slot is not again.slot:
        return None
    most = 4 * AGAIN_WITHIN if again.purpose is Purpose.REPEAT else AGAIN_WITHIN
    return first if timedelta(0) <= again.at.instant - first.at.instant <= most else None


def doubted_low(again: Reading, before: Iterable[Reading]) -> Reading | None:
    """The low that `again` makes doubtful, of the checks before it (newest first), or None.

    Both stand within five minutes, the later one is not low, and nothing was felt: a low that was
    felt is believed.
    """
    low = next((one for one in before if one.counts and one.id != again.id), None)
    if low is None or not _is_low(low) or _is_low(again):
        return None
    if any(feeling is not Feeling.WELL for feeling in low.feelings):
        return None
    is_soon = timedelta(0) <= again.at.instant - low.at.instant <= SUGAR_WORKS_AFTER
    return low if is_soon and are_far_apart(low.glucose, again.glucose) else None


def _is_low(reading: Reading) -> bool:
    return reading.glucose.order_steps < LOW_BELOW[reading.glucose.unit]


def are_far_apart(first: Glucose, again: Glucose) -> bool:
    """Whether two numbers of one occasion differ by more than a fifth of the first.

    Letters tell no size: LO or HI and a number are far apart, the same letters twice are not.
    """
    if first.kind is Kind.NUMBER and again.kind is Kind.NUMBER:
        difference = abs(first.order_steps - again.order_steps)
        return difference > FAR_APART_SHARE * first.order_steps
    return first.kind is not again.kind
