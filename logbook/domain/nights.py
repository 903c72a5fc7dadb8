"""Which moments lie between bedtime and waking: told by checks, or else by the clock."""

from __future__ import annotations

from bisect import bisect_left
from datetime import time

from logbook.domain.moments import MINUTES_A_DAY
from logbook.domain.night_work import own_clock
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.slots import Slot

# Where no check tells it, the hours between these are night; of a person who works at night they
# are those of their own sleep. Judgement without a source.
NIGHT_BY_CLOCK_BEGINS = time(0, 0)
NIGHT_BY_CLOCK_ENDS = time(6, 0)

# A check in one of these slots can have been made at any hour.
_AT_ANY_HOUR = frozenset({Slot.BEFORE_SNACK, Slot.AFTER_SNACK, Slot.BETWEEN_MEALS, Slot.OTHER})

_SIX_HOURS = 6 * 60 * 60 * 1_000_000


def can_be_at_night(slot: Slot) -> bool:
    """Whether a check of this time of day can have been made between bedtime and waking."""
    return slot is Slot.NIGHT or slot in _AT_ANY_HOUR


class Nights:
    """The nights of a log.

    A check marked as night is one. One at a meal, fasting or at bedtime is not. Anything else is at
    night when it comes after a bedtime check of the same person's day, or between midnight and
    06:00 with no fasting check in the six hours before it. Where the day starts at 09:00 or later
    (night work) the six hours by the clock lie as much later.
    """

    def __init__(self, series: Series, day_starts_at: time) -> None:
        self._day_start_minute = day_starts_at.hour * 60 + day_starts_at.minute
        # Names of an enum are slow to look up, and there may be tens of thousands of readings.
        outside, bedtime, fasting = int(OUTSIDE_FIGURES), Slot.BEDTIME, Slot.FASTING
        begins = own_clock(NIGHT_BY_CLOCK_BEGINS, day_starts_at)
        self._night_begins = begins.hour * 60 + begins.minute
        ends = NIGHT_BY_CLOCK_ENDS
        self._night_minutes = ends.hour * 60 + ends.minute
        places = [
            index
            for index, (slot, marks) in enumerate(zip(series.slots, series.marks, strict=True))
            if (slot is bedtime or slot is fasting) and not marks & outside
        ]
        self._instants = [series.instants[index] for index in places]
        self._wall_minutes = [series.wall_minutes[index] for index in places]
        self._are_bedtimes = [series.slots[index] is bedtime for index in places]

    def cover(self, instant: int, wall_minute: int, slot: Slot | None) -> bool:
        """Whether a moment is at night; `slot` is None where there was no check.

        `instant` in microseconds and `wall_minute` in minutes, as in `Series`.
        """
        if slot is not None and slot not in _AT_ANY_HOUR:
            return slot is Slot.NIGHT
        place = bisect_left(self._instants, instant) - 1
        if place >= 0 and self._are_bedtimes[place]:
            if self._day(self._wall_minutes[place]) == self._day(wall_minute):
                return True
        elif place >= 0 and instant - self._instants[place] <= _SIX_HOURS:
            return False
        return (wall_minute - self._night_begins) % MINUTES_A_DAY < self._night_minutes

    def _day(self, wall_minute: int) -> int:
        return (wall_minute - self._day_start_minute) // MINUTES_A_DAY
