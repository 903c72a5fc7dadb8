"""Which reading stands for its occasion: one value for each time of day it was checked.

A check made again must not weigh twice in the figures of a time of day. Totals, bands and lows take
every reading; figures by slot, shares and findings take these.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import time

from logbook.domain.moments import MINUTES_A_DAY, Period
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot
from logbook.domain.within import counted_within

# These come once in a person's day, so a second check in them is the same occasion, whenever it was
# made. The others can come several times a day.
ONCE_A_DAY = frozenset(
    {
        Slot.FASTING,
        Slot.AFTER_BREAKFAST,
        Slot.BEFORE_LUNCH,
        Slot.AFTER_LUNCH,
        Slot.BEFORE_DINNER,
        Slot.AFTER_DINNER,
        Slot.BEDTIME,
    }
)

# In the other slots checks up to this far from the first of them are one occasion. Judgement
# without a source; the same two hours set lows apart.
ONE_OCCASION_MINUTES = 120

_ONE_OCCASION = ONE_OCCASION_MINUTES * 60_000_000


def first_of_each_occasion(
    series: Series, period: Period, day_starts_at: time
) -> dict[Slot, list[int]]:
    """The indices of the readings that stand for their occasions, by slot, in order of time.

    It is the first of the occasion that counts (not crossed out, not doubted, own meter, undamaged)
    and is not a recheck. Slots come in the order of the day; one without a reading is left out.
    """
    counted = counted_within(series, period, day_starts_at)
    return first_among(series, counted, period.wall_minutes(day_starts_at)[0])


def first_among(series: Series, counted: Iterable[int], first_minute: int) -> dict[Slot, list[int]]:
    """The same among the readings at `counted`, which take part in figures.

    `first_minute` is the wall minute at which one of the person's days begins.
    """
    found: dict[Slot, list[int]] = {slot: [] for slot in Slot}
    seen_days: dict[Slot, set[int]] = {slot: set() for slot in ONCE_A_DAY}
    last_began: dict[Slot, int] = {}
    walls, slots, purposes = series.wall_minutes, series.slots, series.purposes
    recheck = Purpose.RECHECK  # names of an enum are slow to look up in a long log
    for index in counted:
        if purposes[index] is recheck:
            continue
        slot = slots[index]
        days = seen_days.get(slot)
        if days is not None:
            day = (walls[index] - first_minute) // MINUTES_A_DAY
            if day in days:
                continue
            days.add(day)
        else:
            instant = series.instants[index]
            began = last_began.get(slot)
            if began is not None and instant - began <= _ONE_OCCASION:
                continue
            last_began[slot] = instant
        found[slot].append(index)
    return {slot: indices for slot, indices in found.items() if indices}
