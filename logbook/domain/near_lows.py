"""Values close to a low where a low would be most harmful: fasting, at bedtime and at night.

Only told for people whose medicines can cause lows. Counting them is for findings and calls.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.domain.glucose import Unit
from logbook.domain.levels import LOW_BELOW
from logbook.domain.moments import Period, day_of_wall_minute
from logbook.domain.nights import Nights, can_be_at_night
from logbook.domain.occasions import first_of_each_occasion
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook, can_have_lows

# The ADA's position statement on long-term care (its table 6, read in the Diabetes Spectrum copy,
# PMC7428662, table 4) asks for a call at 70 to 100 mg/dL. Where it is split is judgement without a
# source. In steps; 80 = 4.4 and 100 = 5.6 mmol/L are pairs as the ADA prints them.
ALWAYS_NEAR_BELOW = {Unit.MG_DL: 80, Unit.MMOL_L: 44}
NEAR_BELOW = {Unit.MG_DL: 100, Unit.MMOL_L: 56}

_SLOTS = frozenset({Slot.FASTING, Slot.BEDTIME, Slot.NIGHT})


@dataclass(frozen=True, slots=True)
class NearLow:
    """One of them: its place in the series, its id, the person's day, and when it was."""

    index: int
    id: str
    day: date
    slot: Slot


def near_lows(
    series: Series, settings: LogSettings, ticks: TickBook, targets: TargetBook
) -> tuple[NearLow, ...]:
    """The near-lows of a series, oldest first, one for each occasion.

    At 70 to 79 mg/dL (3.9 to 4.3 mmol/L) always; at 80 to 99 (4.4 to 5.5) when the value is under
    the person's own lower limit, or none was agreed with the provider. Rechecks are none.
    """
    if not len(series):
        return ()
    starts_at, walls = settings.day_starts_at, series.wall_minutes
    ends = (day_of_wall_minute(wall, starts_at) for wall in (min(walls), max(walls)))
    nights = Nights(series, starts_at)
    found = []
    for slot, indices in first_of_each_occasion(series, Period(*ends), starts_at).items():
        if slot not in _SLOTS and not can_be_at_night(slot):
            continue
        for index in indices:
            if not _is_in_range(series, index) or series.rechecks_of[index] is not None:
                continue
            day = day_of_wall_minute(walls[index], starts_at)
            if (
                (slot in _SLOTS or nights.cover(series.instants[index], walls[index], slot))
                and _is_near(series, index, day, targets)
                and can_have_lows(ticks, settings, day) is not False
            ):
                found.append(NearLow(index, series.ids[index], day, slot))
    return tuple(sorted(found, key=lambda near: (series.instants[near.index], near.id)))


def _is_in_range(series: Series, index: int) -> bool:
    unit = series.units[index]
    return LOW_BELOW[unit] <= series.steps[index] < NEAR_BELOW[unit]


def _is_near(series: Series, index: int, day: date, targets: TargetBook) -> bool:
    steps, unit = series.steps[index], series.units[index]
    if steps < ALWAYS_NEAR_BELOW[unit]:
        return True
    target = targets.for_slot(series.slots[index], day)
    limits = target.limits_in(unit) if target is not None and target.is_agreed else None
    floor = None if limits is None else limits.lower
    return floor is None or not floor.admits(steps)
