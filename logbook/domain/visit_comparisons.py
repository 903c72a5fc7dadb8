"""What a visit's figures are held beside: the days before, before and after a change, pairs."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.comparison import SplitSummary, split_summary
from logbook.domain.pairs import MealPair, OvernightPair, meal_pairs, overnight_pairs
from logbook.domain.summary import Summary, summarise
from logbook.domain.turning_points import splitting_day, turning_points
from logbook.domain.visit_data import VisitData

# So many days must lie on either side of a change before figures are told apart. Judgement without
# a source.
SPLIT_LEAST_DAYS = 14


@dataclass(frozen=True, slots=True)
class VisitComparisons:
    """What the period is held beside, and its pairs, oldest first.

    `before` are the days just before the period, None where they have no reading; `split` is None
    where nothing changed with enough days on either side.
    """

    before: Summary | None
    split: SplitSummary | None
    meals: tuple[MealPair, ...]
    nights: tuple[OvernightPair, ...]


def comparisons_of(data: VisitData) -> VisitComparisons:
    """The comparisons of a visit's period."""
    period, settings = data.period, data.settings
    earlier = summarise(data.before, period.before, settings, data.targets, (), ())
    points = turning_points(period, data.targets, data.medicines, data.spells)
    day = splitting_day(points, period, SPLIT_LEAST_DAYS)
    return VisitComparisons(
        before=earlier if earlier.readings.count else None,
        split=None
        if day is None
        else split_summary(
            data.series,
            period,
            day,
            settings,
            data.targets,
            data.happenings,
            data.answers,
        ),
        meals=meal_pairs(data.series, period, settings, data.meal_starts, data.happenings),
        nights=overnight_pairs(data.series, period, settings, data.happenings),
    )
