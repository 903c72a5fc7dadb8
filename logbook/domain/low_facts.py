"""Counts of lows for page 1, and whether anyone looked when there were none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from logbook.domain.lows import Level, Low, WarningSigns
from logbook.domain.moments import Period
from logbook.domain.nights import Nights
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot


@dataclass(frozen=True, slots=True)
class LowCounts:
    """How many lows, each counted once under its level.

    `by_slot` counts by time of day, None for those that no meter showed. Those at night are counted
    there too, so the counts overlap.
    """

    helped: int
    very_low: int
    low: int
    not_measured: int
    at_night: int
    without_warning_signs: int
    by_slot: Mapping[Slot | None, int]

    @property
    def total(self) -> int:
        """All lows."""
        return self.helped + self.very_low + self.low


def count_lows(lows: Iterable[Low]) -> LowCounts:
    """Counts of `lows`; `by_slot` in the order of the day, those without a slot last."""
    lows = tuple(lows)
    levels = Counter(low.level for low in lows)
    slots = Counter(low.slot for low in lows)
    order: tuple[Slot | None, ...] = (*Slot, None)
    return LowCounts(
        helped=levels[Level.HELPED],
        very_low=levels[Level.VERY_LOW],
        low=levels[Level.LOW],
        not_measured=sum(not low.is_measured for low in lows),
        at_night=sum(low.is_at_night for low in lows),
        without_warning_signs=sum(low.warning_signs is WarningSigns.NO for low in lows),
        by_slot={slot: slots[slot] for slot in order if slots[slot]},
    )


@dataclass(frozen=True, slots=True)
class Looked:
    """What the sentence "no lows seen" needs beside it.

    `days_without_low` are the days at the period's end since the last low, all of them when there
    was none. The checks are those that take part in figures.
    """

    days_without_low: int
    days_with_checks: int
    checks_at_bedtime: int
    checks_at_night: int


def who_looked(
    series: Series, period: Period, settings: LogSettings, lows: Iterable[Low]
) -> Looked:
    """Whether anyone looked for lows in `period`: no lows are good news only then."""
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    nights = Nights(series, settings.day_starts_at)
    days: set[int] = set()
    at_bedtime = at_night = 0
    for index in series.counted():
        wall = series.wall_minutes[index]
        if not first_minute <= wall < end_minute:
            continue
        days.add((wall - first_minute) // (24 * 60))
        slot = series.slots[index]
        at_bedtime += slot is Slot.BEDTIME
        at_night += nights.cover(series.instants[index], wall, slot)
    last_low = max((low.day for low in lows if low.day in period), default=None)
    quiet_days = period.days if last_low is None else (period.last - last_low).days
    return Looked(quiet_days, len(days), at_bedtime, at_night)
