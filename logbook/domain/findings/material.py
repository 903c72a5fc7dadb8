"""What all rules look at: the readings of one span of days, with the lows and occasions in it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, fields
from datetime import date, timedelta

from logbook.domain.answers import Answer
from logbook.domain.figures import unrounded
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.happenings import Happening
from logbook.domain.levels import METER_LIMITS
from logbook.domain.lows import Low, find_lows
from logbook.domain.moments import Period, day_of_wall_minute
from logbook.domain.occasions import first_of_each_occasion
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limits, TargetBook
from logbook.domain.within import places_near

# Nights and rechecks of the first and last lows reach over the span's ends.
_DAYS_BESIDE = 2

# Days of these are no part of what goes on over weeks. Judgement without a source.
OUT_OF_THE_ORDINARY = frozenset({SpellKind.ILL, SpellKind.STEROID, SpellKind.HOSPITAL})


@dataclass(frozen=True, slots=True)
class Material:
    """The readings around `period` in columns, and what was derived from them.

    `lows` are those of the period, oldest first; `happenings` and `spells` all that were given.
    """

    series: Series
    period: Period
    settings: LogSettings
    targets: TargetBook
    happenings: tuple[Happening, ...]
    lows: tuple[Low, ...]
    spells: tuple[Spell, ...] = ()
    # The same days are asked for by several rules.
    _occasions: dict[tuple[date, date], dict[Slot, list[int]]] = field(
        default_factory=dict, compare=False, repr=False
    )

    @property
    def unit(self) -> Unit:
        """The log's unit."""
        return self.settings.unit

    @property
    def last_days(self) -> Period:
        """The last days of the period in which highs, pairs and profiles are looked for."""
        first = self.period.last - timedelta(days=self.settings.finding_days - 1)
        return Period(max(first, self.period.first), self.period.last)

    def is_recent(self, day: date) -> bool:
        """Whether a day lies in the last `finding_days` of the period."""
        return (self.period.last - day).days < self.settings.finding_days

    def day(self, index: int) -> date:
        """The person's day of a reading."""
        return day_of_wall_minute(self.series.wall_minutes[index], self.settings.day_starts_at)

    def ids(self, indices: Iterable[int]) -> tuple[str, ...]:
        """The ids of readings."""
        return tuple(self.series.ids[index] for index in indices)

    def occasions(self, period: Period) -> dict[Slot, list[int]]:
        """The readings that stand for their occasions, by slot."""
        days = (period.first, period.last)
        if days not in self._occasions:
            starts_at = self.settings.day_starts_at
            self._occasions[days] = first_of_each_occasion(self.series, period, starts_at)
        return self._occasions[days]

    def ordinary_occasions(self, period: Period) -> dict[Slot, list[int]]:
        """The same without the days of illness, steroid courses and hospital stays."""
        by_slot = self.occasions(period)
        spells = [spell for spell in self.spells if spell.kind in OUT_OF_THE_ORDINARY]
        if not spells:
            return by_slot
        ordinary = {
            slot: [
                index
                for index in indices
                if not any(spell.covers(self.day(index)) for spell in spells)
            ]
            for slot, indices in by_slot.items()
        }
        return {slot: indices for slot, indices in ordinary.items() if indices}

    def value(self, index: int) -> float:
        """A reading in the log's unit, unrounded; LO and HI as the usual limits of meters."""
        steps, unit = self.series.steps[index], self.series.units[index]
        least, most = METER_LIMITS[unit]
        if steps == LO_STEPS:
            steps = least
        elif steps == HI_STEPS:
            steps = most
        return unrounded(steps, unit, self.unit)

    def limits(self, index: int) -> Limits | None:
        """The limits that held for a reading on its day, in its own unit; None without any."""
        target = self.targets.for_slot(self.series.slots[index], self.day(index))
        return None if target is None else target.limits_in(self.series.units[index])


def material_of(
    series: Series,
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    spells: Iterable[Spell] = (),
) -> Material:
    """The material of one period, cut out of a series that may hold many years."""
    around = Period(
        period.first - timedelta(days=_DAYS_BESIDE), period.last + timedelta(days=_DAYS_BESIDE)
    )
    near = part_of(series, around, settings)
    kept = tuple(happenings)
    lows = find_lows(near, settings, kept, answers, period)
    return Material(near, period, settings, targets, kept, lows, tuple(spells))


def part_of(series: Series, period: Period, settings: LogSettings) -> Series:
    """The readings of a period, with some of the days beside it."""
    places = places_near(series, *period.wall_minutes(settings.day_starts_at))
    if len(places) == len(series):
        return series
    return Series(
        **{
            column.name: getattr(series, column.name)[places.start : places.stop]
            for column in fields(series)
        }
    )


def windows_of(days: Sequence[date], count: int, within_days: int) -> list[int]:
    """The places, in order, of `days` that lie among `count` or more in some `within_days`."""
    found: set[int] = set()
    for start in range(len(days) - count + 1):
        if (days[start + count - 1] - days[start]).days < within_days:
            found.update(range(start, start + count))
    return sorted(found)
