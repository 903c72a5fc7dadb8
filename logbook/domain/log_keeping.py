"""How a log is kept: counts alone, for the person, a helper and the provider. No score.

Told only where it was turned on. What repeats and what a number means is told elsewhere.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from logbook.domain.figures import Share
from logbook.domain.moments import MINUTES_A_DAY, Period
from logbook.domain.plan.done import PlanDone
from logbook.domain.readings import Reading
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings
from logbook.domain.trust import written_same_day


@dataclass(frozen=True, slots=True)
class LogKeeping:
    """Counts of one period.

    `days` are days with a reading that was not crossed out, of all; `longest_without` is the
    longest run of days without one, in days. `same_day` counts typed readings alone. `by_helpers`
    are initials and how many readings bear them, the most first. `planned` is None without a plan.
    """

    readings: int
    days: Share
    longest_without: int
    same_day: Share
    copied: int
    taken_in: int
    corrected: int
    crossed_out: int
    by_helpers: tuple[tuple[str, int], ...] = ()
    planned: Share | None = None


def log_keeping(
    series: Series,
    period: Period,
    settings: LogSettings,
    *,
    helped: Iterable[Reading] = (),
    planned: PlanDone | None = None,
) -> LogKeeping:
    """The counts of `period`; `helped` are its readings that bear a helper's initials."""
    first, end = period.wall_minutes(settings.day_starts_at)
    out = int(Mark.CROSSED_OUT | Mark.DAMAGED)
    places = [index for index, minute in enumerate(series.wall_minutes) if first <= minute < end]
    counted = [index for index in places if not series.marks[index] & out]
    days = {(series.wall_minutes[index] - first) // MINUTES_A_DAY for index in counted}

    def marked(mark: Mark, among: list[int]) -> int:
        wanted = int(mark)
        return sum(1 for index in among if series.marks[index] & wanted)

    writers = Counter(one.initials for one in helped if one.initials and one.crossed_out is None)
    return LogKeeping(
        readings=len(counted),
        days=Share(len(days), period.days),
        longest_without=_longest_without(days, period.days),
        same_day=written_same_day(series, period, settings),
        copied=marked(Mark.COPIED_FROM_METER, counted),
        taken_in=marked(Mark.IMPORTED, counted),
        corrected=marked(Mark.CORRECTED, counted),
        crossed_out=marked(Mark.CROSSED_OUT, places),
        by_helpers=tuple(sorted(writers.items(), key=lambda one: (-one[1], one[0]))),
        planned=None if planned is None else planned.total,
    )


def _longest_without(days: set[int], count: int) -> int:
    """The longest run of days of the period that are not among `days`."""
    longest = run = 0
    for day in range(count):
        run = 0 if day in days else run + 1
        longest = max(longest, run)
    return longest
