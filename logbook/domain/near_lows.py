"""Values close to a low where a low would be most harmful: fasting, at bedtime and at night.

Only told for people whose medicines can cause lows. Counting them is for findings and calls.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.domain.glucose import Unit
from logbook.domain.levels import LOW_BELOW
from logbook.domain.moments import Period, day_of_wall_minute
from logbook.domain.nights import Nights
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
    starts_at = settings.day_starts_at
    days = [day_of_wall_minute(wall, starts_at) for wall in series.wall_minutes]
    nights = Nights(series, starts_at)
    by_slot = first_of_each_occasion(series, Period(min(days), max(days)), starts_at)
    found = [
        NearLow(index, series.ids[index], days[index], slot)
        for slot, indices in by_slot.items()
        for index in indices
        if series.rechecks_of[index] is None
        and (
            slot in _SLOTS or nights.cover(series.instants[index], series.wall_minutes[index], slot)
        )
        and _is_near(series, index, days[index], targets)
        and can_have_lows(ticks, settings, days[index]) is not False
    ]
    return tuple(sorted(found, key=lambda near: (series.instants[near.index], near.id)))


def _is_near(series: Series, index: int, day: date, targets: TargetBook) -> bool:
    steps, unit = series.steps[index], series.units[index]
    if not LOW_BELOW[unit] <= steps < NEAR_BELOW[unit]:
        return False
    if steps < ALWAYS_NEAR_BELOW[unit]:
        return True
    target = targets.for_slot(series.slots[index], day)
    limits = target.limits_in(unit) if target is not None and target.is_agreed else None
    floor = None if limits is None else limits.lower
    return floor is None or not floor.admits(steps)
