"""What is compared by a test: slots over weeks, groups of days, days of a difference.

Each comparison gives the chance of so much by chance alone and the finding that would be made of
it. Which of them stand is decided by `statistical`, for all of one look together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import fmean, median

from logbook.domain.findings.finding import Finding, FindingKind, PartOfDay, Rank, Side
from logbook.domain.findings.material import Material
from logbook.domain.findings.named_days import WEEKEND, named_days
from logbook.domain.findings.statistics import (
    day_to_day,
    kendall_p,
    more_often_p,
    rank_sum_p,
    theil_sen_slope,
    variance_inflation,
)
from logbook.domain.moments import Period
from logbook.domain.readings import Difference
from logbook.domain.settings import LogSettings
from logbook.domain.slots import BEFORE_MEAL, Slot

# All of these are judgement without a source; docs/method.md shows what they lead to.
LONGEST_DRIFT_WEEKS = 104
LEAST_WEEKS = 8
LEAST_VALUES_A_WEEK = 2
LEAST_GROUP_DAYS = 5
LEAST_OTHER_DAYS = 8
LEAST_WEEKS_FOR_A_DAY_GROUP = 4
LEAST_WEEKS_FOR_A_PART = 8
LEAST_LOW_DAYS = 3
LEAST_DIFFERENT_DAYS = 5

# How days hang together is guessed from few days, so the guess starts at this correlation of one
# day with the next, weighing as much as so many pairs of days.
USUAL_DAY_TO_DAY = 0.2
USUAL_WEIGHS_PAIRS = 30

DAYS_A_WEEK = 7

_LEAST_WEEKS = {
    PartOfDay.WHOLE_DAY: LEAST_WEEKS_FOR_A_DAY_GROUP,
    PartOfDay.BEFORE_MEALS: LEAST_WEEKS_FOR_A_PART,
    PartOfDay.AFTER_MEALS: LEAST_WEEKS_FOR_A_PART,
}


@dataclass(frozen=True, slots=True)
class Comparison:
    """One comparison: its chance, and the finding if it stands."""

    chance: float
    finding: Finding


def drifts(material: Material, period: Period) -> Iterator[Comparison]:
    """Each time of day over the weeks that end with the period: rising or falling.

    The values are the middle values of the weeks in which there are enough readings.
    """
    last = period.last
    weeks = min(LONGEST_DRIFT_WEEKS, period.days // DAYS_A_WEEK)
    if weeks < LEAST_WEEKS:
        return
    span = Period.ending(last, weeks * DAYS_A_WEEK)
    for slot, indices in material.ordinary_occasions(span).items():
        if slot is Slot.OTHER:  # checks of any hour, whose mixture alone may change
            continue
        by_week: dict[int, list[int]] = {}
        for index in indices:
            week = (material.day(index) - span.first).days // DAYS_A_WEEK
            by_week.setdefault(week, []).append(index)
        kept = {
            week: of_week
            for week, of_week in by_week.items()
            if len(of_week) >= LEAST_VALUES_A_WEEK
        }
        if len(kept) < LEAST_WEEKS:
            continue
        middles = [median(map(material.value, of_week)) for of_week in kept.values()]
        places = list(kept)
        change = theil_sen_slope(places, middles) * (places[-1] - places[0])
        used = [index for of_week in kept.values() for index in of_week]
        yield Comparison(
            kendall_p(middles),
            Finding(
                kind=FindingKind.DRIFT,
                slot=slot,
                group=None,
                count=len(kept),
                of=weeks,
                first=material.day(used[0]),
                last=material.day(used[-1]),
                reading_ids=material.ids(used),
                happening_ids=(),
                is_recent=material.is_recent(material.day(used[-1])),
                rank=Rank.OVER_TIME,
                unit=material.unit,
                middle=median(map(material.value, used)),
                change=change,
                side=Side.HIGHER if change > 0 else Side.LOWER,
            ),
        )


def weekdays_of_groups(settings: LogSettings) -> dict[str, frozenset[int]]:
    """The groups of days by name, each with its weekdays from 0 for Monday."""
    groups = {group.name: group.weekdays for group in named_days(settings)}
    return {WEEKEND: frozenset(settings.weekend), **groups}


def day_groups(
    material: Material, period: Period, without: frozenset[int] = frozenset()
) -> Iterator[Comparison]:
    """The days of each group against the other days, one value a day and part of the day.

    A day's value is the mean of how far its readings lie from the middle value of their slots, so
    a slot that was missed shifts nothing. The weekdays `without` take no part.
    """
    by_slot = material.ordinary_occasions(period)
    apart = {
        index: value - centre
        for indices in by_slot.values()
        for centre in (median(map(material.value, indices)),)
        for index, value in zip(indices, map(material.value, indices), strict=True)
    }
    groups = weekdays_of_groups(material.settings)
    for part, slots in _parts(list(by_slot)):
        by_day: dict[date, list[int]] = {}
        for slot in slots:
            for index in by_slot[slot]:
                by_day.setdefault(material.day(index), []).append(index)
        days = sorted(day for day in by_day if day.weekday() not in without)
        weeks = _LEAST_WEEKS[part]
        # The first and last day of a week may be without a check.
        if not days or (days[-1] - days[0]).days < weeks * DAYS_A_WEEK - 4:
            continue
        values = [fmean(apart[index] for index in by_day[day]) for day in days]
        for name, weekdays in groups.items():
            compared = _day_group(days, values, weekdays)
            if compared is None:
                continue
            chance, change = compared
            inside = [day for day in days if day.weekday() in weekdays]
            used = sorted(index for day in inside for index in by_day[day])
            yield Comparison(
                chance,
                Finding(
                    kind=FindingKind.DAY_GROUP,
                    slot=slots[0] if len(slots) == 1 else None,
                    group=name,
                    count=len(inside),
                    of=len(days),
                    first=inside[0],
                    last=inside[-1],
                    reading_ids=material.ids(used),
                    happening_ids=(),
                    is_recent=material.is_recent(inside[-1]),
                    rank=Rank.OVER_TIME,
                    unit=material.unit,
                    middle=median(map(material.value, used)),
                    change=change,
                    side=Side.HIGHER if change > 0 else Side.LOWER,
                    part=part,
                ),
            )


def _parts(slots: list[Slot]) -> Iterator[tuple[PartOfDay, list[Slot]]]:
    """The parts of the day to be compared, fasting by itself among them; none of them twice."""
    fasting: list[Slot] = [slot for slot in slots if slot is Slot.FASTING]
    parts = (
        (PartOfDay.WHOLE_DAY, slots),
        (PartOfDay.BEFORE_MEALS, fasting),
        (PartOfDay.BEFORE_MEALS, [slot for slot in slots if slot in BEFORE_MEAL]),
        (PartOfDay.AFTER_MEALS, [slot for slot in slots if slot.is_after_meal]),
    )
    seen: list[list[Slot]] = [[]]
    for part, chosen in parts:
        if chosen not in seen:
            seen.append(chosen)
            yield part, chosen


def _day_group(
    days: Sequence[date], values: Sequence[float], weekdays: frozenset[int]
) -> tuple[float, float] | None:
    """The chance of so great a difference, and the difference; None for too few days."""
    is_in = [day.weekday() in weekdays for day in days]
    inside = [value for value, is_inside in zip(values, is_in, strict=True) if is_inside]
    others = [value for value, is_inside in zip(values, is_in, strict=True) if not is_inside]
    if len(inside) < LEAST_GROUP_DAYS or len(others) < LEAST_OTHER_DAYS:
        return None
    numbers = [day.toordinal() for day in days]
    # Taken without the difference itself, which would otherwise pass for days hanging together.
    means = {True: fmean(inside), False: fmean(others)}
    rest = [value - means[is_inside] for value, is_inside in zip(values, is_in, strict=True)]
    seen, pairs = day_to_day(numbers, rest)
    weight = pairs + USUAL_WEIGHS_PAIRS
    r = min(0.9, (pairs * seen + USUAL_WEIGHS_PAIRS * USUAL_DAY_TO_DAY) / weight)
    chance = rank_sum_p(inside, others, variance_inflation(numbers, is_in, r))
    return chance, median(inside) - median(others)


def before_lows(
    material: Material, period: Period, differences: Mapping[str, Sequence[Difference]]
) -> Iterator[Comparison]:
    """Days on which something was noted as different, and whether lows followed on them.

    Only what was noted with a reading before the day's first low counts, and not with the low
    itself: after a low its cause is asked for, and on other days it is not.
    """
    series, starts_at = material.series, material.settings.day_starts_at
    first_low: dict[date, str] = {}
    for low in material.lows:
        if low.day in period and low.reading_ids:
            first_low.setdefault(low.day, low.reading_ids[0])
    first_minute, end_minute = period.wall_minutes(starts_at)
    noted: dict[date, dict[Difference, list[int]]] = {}
    over: set[date] = set()
    for index in series.counted():
        if not first_minute <= series.wall_minutes[index] < end_minute:
            continue
        day = material.day(index)
        of_day = noted.setdefault(day, {})
        if series.ids[index] == first_low.get(day):
            over.add(day)
        if day not in over:
            for difference in differences.get(series.ids[index], ()):
                of_day.setdefault(difference, []).append(index)
    if len(first_low) < LEAST_LOW_DAYS:
        return
    for difference in Difference:
        yield from _before_low(material, difference, noted, first_low)


def _before_low(
    material: Material,
    difference: Difference,
    noted: Mapping[date, Mapping[Difference, list[int]]],
    first_low: Mapping[date, str],
) -> Iterable[Comparison]:
    different = [day for day, of_day in noted.items() if difference in of_day]
    if len(different) < LEAST_DIFFERENT_DAYS:
        return
    both = [day for day in different if day in first_low]
    ids = [
        record for day in both for record in (*material.ids(noted[day][difference]), first_low[day])
    ]
    if not both:
        return
    yield Comparison(
        more_often_p(len(both), len(different), len(first_low), len(noted)),
        Finding(
            kind=FindingKind.BEFORE_LOW,
            slot=None,
            group=None,
            count=len(both),
            of=len(first_low),
            first=both[0],
            last=both[-1],
            reading_ids=tuple(ids),
            happening_ids=(),
            is_recent=material.is_recent(both[-1]),
            rank=Rank.LOWS,
            unit=material.unit,
            difference=difference,
        ),
    )
