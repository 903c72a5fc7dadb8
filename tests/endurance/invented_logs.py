"""Logs drawn at random for measuring findings: without any pattern, or with one planted.

NumPy draws them; what is found in them is the project's own. Nobody's readings.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from logbook.domain.glucose import Unit
from logbook.domain.moments import EPOCH
from logbook.domain.readings import Difference
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot

Numbers = NDArray[np.float64]

SD = 35.0
OF_A_DAY = 0.3  # correlation of two readings of one day
DAY_TO_DAY = 0.3  # correlation of one day's effect with the next day's

MINUTES = {
    Slot.FASTING: 7 * 60,
    Slot.AFTER_BREAKFAST: 9 * 60 + 30,
    Slot.BEFORE_LUNCH: 12 * 60,
    Slot.AFTER_LUNCH: 14 * 60,
    Slot.BEFORE_DINNER: 18 * 60,
    Slot.AFTER_DINNER: 20 * 60,
    Slot.BEDTIME: 22 * 60,
}
SCHEDULES = {
    2: (Slot.FASTING, Slot.BEFORE_DINNER),
    4: (Slot.FASTING, Slot.BEFORE_LUNCH, Slot.BEFORE_DINNER, Slot.BEDTIME),
    7: tuple(MINUTES),
}
WITH_MEALS = (Slot.FASTING, Slot.AFTER_BREAKFAST, Slot.BEFORE_DINNER, Slot.AFTER_DINNER)


@dataclass(frozen=True)
class Pattern:
    """What is planted: `size` SD more on these weekdays, or so many SD more at the end.

    It is there from `from_day` on, in `slots` (all, if empty).
    """

    size: float = 0.0
    weekdays: tuple[int, ...] = ()
    drift: float = 0.0
    from_day: int = 0
    slots: tuple[Slot, ...] = ()


@dataclass(frozen=True)
class InventedLog:
    """One such log, with what was ticked beside its readings."""

    series: Series
    first: date
    last: date
    differences: dict[str, tuple[Difference, ...]] = field(default_factory=dict)


def invent(
    chance: np.random.Generator,
    days: int,
    slots: tuple[Slot, ...],
    *,
    first: date = date(2024, 1, 1),  # a Monday
    pattern: Pattern = Pattern(),
    done: float = 0.9,
    sd: float = SD,
    level: float | None = None,
    of_a_day: float = OF_A_DAY,
    day_to_day: float = DAY_TO_DAY,
    with_ticks: bool = False,
) -> InventedLog:
    """A log of so many days: each slot its level, each day its effect, checks left out at random.

    Readings are skewed to the right, as glucose is, and their SD within a slot is `sd` mg/dL.
    """
    levels = chance.uniform(110, 190, len(slots)) if level is None else level
    day_effects = _hanging_together(chance, days, day_to_day)
    own = chance.normal(size=(days, len(slots)))
    z = np.sqrt(of_a_day) * day_effects[:, None] + np.sqrt(1 - of_a_day) * own
    # A log-normal with its own mean and spread taken off again.
    skew = 0.25
    mean = np.exp(skew**2 / 2)
    spread = mean * np.sqrt(np.exp(skew**2) - 1)
    values = levels + sd * (np.exp(skew * z) - mean) / spread
    values += sd * _planted(days, slots, first, pattern)
    kept = _kept(chance, days, len(slots), done)
    ticked = _ticks(chance, days, len(slots)) if with_ticks else {}
    return _log_of(first, slots, np.clip(np.rint(values), 20, 600), kept, ticked)


def _hanging_together(chance: np.random.Generator, days: int, r: float) -> Numbers:
    fresh = chance.normal(size=days)
    effects = np.empty(days)
    effects[0] = fresh[0]
    for day in range(1, days):
        effects[day] = r * effects[day - 1] + np.sqrt(1 - r * r) * fresh[day]
    return effects


def _planted(days: int, slots: tuple[Slot, ...], first: date, pattern: Pattern) -> Numbers:
    planted = np.zeros((days, len(slots)))
    for day in range(pattern.from_day, days):
        if (first + timedelta(days=day)).weekday() in pattern.weekdays:
            planted[day] += pattern.size
        planted[day] += pattern.drift * (day - pattern.from_day) / (days - pattern.from_day)
    if pattern.slots:
        planted *= np.array([slot in pattern.slots for slot in slots])
    return planted


def drawn_checks(chance: np.random.Generator, days: int, checks: int, done: float) -> Numbers:
    """How many checks are made on each day of such a log."""
    made: Numbers = _kept(chance, days, checks, done).sum(axis=1).astype(np.float64)
    return made


def _kept(chance: np.random.Generator, days: int, checks: int, done: float) -> NDArray[np.bool_]:
    kept: NDArray[np.bool_] = chance.random((days, checks)) < done
    kept &= ~_gaps(chance, days)[:, None]
    return kept


def _gaps(chance: np.random.Generator, days: int) -> NDArray[np.bool_]:
    """Days without any check: a gap of two to six days begins on one day in sixty."""
    gone = np.zeros(days, dtype=np.bool_)
    for day in np.flatnonzero(chance.random(days) < 1 / 60):
        gone[day : day + chance.integers(2, 7)] = True
    return gone


def _ticks(
    chance: np.random.Generator, days: int, checks: int
) -> dict[Difference, NDArray[np.bool_]]:
    """Which readings are ticked: stretches of one to three days, most checks of them."""
    ticked = {}
    for difference in (Difference.ATE_LESS, Difference.MORE_ACTIVE):
        on = np.zeros(days, dtype=np.bool_)
        for day in np.flatnonzero(chance.random(days) < 0.06):
            on[day : day + chance.integers(1, 4)] = True
        ticked[difference] = on[:, None] & (chance.random((days, checks)) < 0.7)
    return ticked


def _log_of(
    first: date,
    slots: tuple[Slot, ...],
    values: Numbers,
    kept: NDArray[np.bool_],
    ticked: dict[Difference, NDArray[np.bool_]],
) -> InventedLog:
    start = (first - EPOCH.date()).days * 24 * 60
    places = [(int(day), int(check)) for day, check in np.argwhere(kept)]
    walls = tuple(start + day * 24 * 60 + MINUTES[slots[check]] for day, check in places)
    ids = tuple(f"{day}/{check}" for day, check in places)
    count = len(places)
    series = Series(
        ids=ids,
        instants=tuple(wall * 60_000_000 for wall in walls),
        wall_minutes=walls,
        written_minutes=walls,
        steps=tuple(int(values[place]) for place in places),
        units=(Unit.MG_DL,) * count,
        slots=tuple(slots[check] for _, check in places),
        purposes=(Purpose.PLANNED,) * count,
        marks=(0,) * count,
        minutes_after=(None,) * count,
        rechecks_of=(None,) * count,
    )
    differences = {
        record: noted
        for record, place in zip(ids, places, strict=True)
        if (noted := tuple(difference for difference, on in ticked.items() if on[place]))
    }
    return InventedLog(series, first, first + timedelta(days=len(values) - 1), differences)
