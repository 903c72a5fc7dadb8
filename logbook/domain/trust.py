"""How far the log can be trusted, and how it compares with the period before: counts, no score."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from logbook.domain.figures import Share, figures_of_readings
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


@dataclass(frozen=True, slots=True)
class Compared:
    """Counts and middle values of a period and of the one before; None for all slots together."""

    slot: Slot | None
    count: int
    count_before: int
    median: float | None
    median_before: float | None


def compare_with_before(
    series: Series, before: Series, period: Period, settings: LogSettings
) -> tuple[Compared, ...]:
    """The period beside the one of equal length before it: all values first, then by slot.

    All values are every reading that takes part in figures; a slot has one value for each occasion.
    A slot is given when it was checked in either period.
    """
    now = _counts_and_medians(series, period, settings)
    then = _counts_and_medians(before, period.before, settings)
    nothing: tuple[int, float | None] = (0, None)
    compared = []
    for slot in (None, *Slot):
        if slot is None or slot in now or slot in then:
            count, median = now.get(slot, nothing)
            count_before, median_before = then.get(slot, nothing)
            compared.append(Compared(slot, count, count_before, median, median_before))
    return tuple(compared)


def _counts_and_medians(
    series: Series, period: Period, settings: LogSettings
) -> dict[Slot | None, tuple[int, float | None]]:
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    counted = [
        index
        for index in series.counted()
        if first_minute <= series.wall_minutes[index] < end_minute
    ]
    of_slots = first_of_each_occasion(series, period, settings.day_starts_at)
    found: dict[Slot | None, tuple[int, float | None]] = {}
    for slot, indices in [(None, counted), *of_slots.items()]:
        figures = figures_of_readings(series, indices, settings.unit)
        found[slot] = (figures.count, figures.median)
    return found
