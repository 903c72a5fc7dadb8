"""How far the log can be trusted: counts, no score."""

from __future__ import annotations

from logbook.domain.figures import Share
from logbook.domain.moments import MINUTES_A_DAY, Period
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings

# These are not entries that a person made from a number on a meter's display, so "late" says
# nothing about them.
_NOT_TYPED = int(Mark.COPIED_FROM_METER | Mark.IMPORTED | Mark.CROSSED_OUT | Mark.DAMAGED)


def written_same_day(series: Series, period: Period, settings: LogSettings) -> Share:
    """Of the typed readings, those written down on the person's day on which they were made.

    Readings copied from a meter, imported, crossed out or damaged are left out.
    """
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    same_day = typed = 0
    columns = zip(series.wall_minutes, series.written_minutes, series.marks, strict=True)
    for wall, written, marks in columns:
        if marks & _NOT_TYPED or not first_minute <= wall < end_minute:
            continue
        typed += 1
        day = (wall - first_minute) // MINUTES_A_DAY
        same_day += day == (written - first_minute) // MINUTES_A_DAY
    return Share(same_day, typed)
