"""Which readings of a series lie in a period, found without looking at all of a long log."""

from __future__ import annotations

from bisect import bisect_left
from datetime import time

from logbook.domain.moments import Period
from logbook.domain.series import OUTSIDE_FIGURES, Series

# The clock on a wall is never further from UTC than this, so a wall minute says within a day and a
# bit where in the order of instants its reading can stand.
_FURTHEST_OFFSET_MINUTES = 24 * 60
_MICROSECONDS_A_MINUTE = 60_000_000


def places_near(series: Series, first_minute: int, end_minute: int) -> range:
    """Where readings with a wall minute from `first_minute` to before `end_minute` can stand.

    Some readings of the days beside them are among these places too.
    """
    earliest = (first_minute - _FURTHEST_OFFSET_MINUTES) * _MICROSECONDS_A_MINUTE
    latest = (end_minute + _FURTHEST_OFFSET_MINUTES) * _MICROSECONDS_A_MINUTE
    start = bisect_left(series.instants, earliest)
    return range(start, bisect_left(series.instants, latest, lo=start))


def counted_within(series: Series, period: Period, day_starts_at: time) -> list[int]:
    """The indices of the readings of `period` that take part in figures, in order of time."""
    first_minute, end_minute = period.wall_minutes(day_starts_at)
    places = places_near(series, first_minute, end_minute)
    outside = int(OUTSIDE_FIGURES)
    return [
        index
        for index, wall, marks in zip(
            places,
            series.wall_minutes[places.start : places.stop],
            series.marks[places.start : places.stop],
            strict=True,
        )
        if first_minute <= wall < end_minute and not marks & outside
    ]
