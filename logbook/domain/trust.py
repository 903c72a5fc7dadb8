"""How far the log can be trusted: counts, no score."""

from __future__ import annotations

from collections.abc import Collection

from logbook.domain.figures import Share
from logbook.domain.moments import MINUTES_A_DAY, Period, day_of_wall_minute
from logbook.domain.occasions import first_of_each_occasion
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot

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


def planned_checks_done(
    series: Series, period: Period, settings: LogSettings, planned: Collection[Slot]
) -> Share:
    """Of the checks planned for every day (`planned` slots), those that were made.

    A slot counts as done on a day with at least one reading in it that takes part in figures,
    whatever its purpose, rechecks aside.
    """
    found = first_of_each_occasion(series, period, settings.day_starts_at)
    done = sum(
        len(
            {
                day_of_wall_minute(series.wall_minutes[index], settings.day_starts_at)
                for index in found.get(slot, ())
            }
        )
        for slot in set(planned)
    )
    return Share(done, period.days * len(set(planned)))
