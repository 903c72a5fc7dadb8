"""The meter's own average and count beside the log over the same days. It proves nothing.

The count comes first: with readings missing an average can agree by chance. Everything the meter
holds takes part, so rechecks, crossed-out readings and those not believed do too. What is said
about it is for `wording`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from enum import StrEnum

from logbook.domain.figures import unrounded
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.levels import METER_LIMITS
from logbook.domain.lows import to_microseconds
from logbook.domain.moments import EPOCH, MINUTES_A_DAY
from logbook.domain.series import Mark, Series
from logbook.domain.within import places_near

# A meter's average is rounded or cut to its last digit, and its own sums may be rounded as well.
# Judgement without a source.
AVERAGE_TOLERANCE_STEPS = 1

_CROSSED_OUT = int(Mark.CROSSED_OUT)
_DAMAGED = int(Mark.DAMAGED)
_FOREIGN = int(Mark.FOREIGN_METER)


class Completeness(StrEnum):
    """How the log stands to the meter."""

    AGREES = "agrees"
    LOG_HAS_FEWER = "log_has_fewer"
    LOG_HAS_OTHER_NUMBERS = "log_has_other_numbers"
    CANNOT_TELL = "cannot_tell"


class DaysCounted(StrEnum):
    """How a meter can count its days.

    `CALENDAR_DAYS` begin at midnight, the last of them is the day itself; `FULL_DAYS` are 24 hours
    each, back from the moment.
    """

    CALENDAR_DAYS = "calendar_days"
    FULL_DAYS = "full_days"


class CouldExplain(StrEnum):
    """What can make log and meter differ, in the order in which it is told."""

    NOT_WRITTEN_DOWN = "not_written_down"
    CONTROL_TESTS = "control_tests"
    OTHER_PEOPLE = "other_people"
    METER_DATE = "meter_date"
    DAYS_COUNTED = "days_counted"
    OTHER_METER = "other_meter"
    OUTSIDE_METER_RANGE = "outside_meter_range"
    CROSSED_OUT = "crossed_out"
    DAMAGED = "damaged"
    TYPED_DIFFERENTLY = "typed_differently"


@dataclass(frozen=True, slots=True)
class LogAndMeter:
    """The log beside one average of the meter.

    `log_count` are the log's readings of those days, LO and HI included, `log_mean` the mean of
    their numbers in the unit of the meter's average, unrounded (None without numbers). `counted`
    is the way of counting days that brings the two nearest. `missing` is how many readings the
    meter has more, None when it does not tell its count.
    """

    average: MeterAverage
    verdict: Completeness
    counted: DaysCounted
    log_count: int
    missing: int | None
    log_mean: float | None
    explanations: tuple[CouldExplain, ...]


def compare_with_meter(
    average: MeterAverage, series: Series, others: Collection[str] = ()
) -> LogAndMeter:
    """How the log stands to `average`; `others` are ids of readings made with another meter.

    `series` must hold one day more than the average looks back. Readings after it was read off, and
    those marked as another's meter's, take no part.
    """
    ways = [_Days.of(average, series, others, counted) for counted in DaysCounted]
    verdicts = [_verdict(average, days) for days in ways]
    nearest = min(
        range(len(ways)),
        key=lambda way: (verdicts[way] is not Completeness.AGREES, _gap(average, ways[way]), way),
    )
    days = ways[nearest]
    missing = None if average.count is None else average.count - days.count
    return LogAndMeter(
        average=average,
        verdict=verdicts[nearest],
        counted=days.counted,
        log_count=days.count,
        missing=missing,
        log_mean=days.mean,
        explanations=tuple(_explanations(verdicts[nearest], ways, days)),
    )


@dataclass(frozen=True, slots=True)
class _Days:
    """The log's readings of the days of an average, counted one way."""

    counted: DaysCounted
    values: tuple[float, ...]
    reads_low: int
    reads_high: int
    damaged: int
    crossed_out: int
    unit: Unit

    @classmethod
    def of(
        cls,
        average: MeterAverage,
        series: Series,
        others: Collection[str],
        counted: DaysCounted,
    ) -> _Days:
        unit = average.glucose.unit
        values: list[float] = []
        reads_low = reads_high = damaged = crossed_out = 0
        for index in _places_of(average, series, counted):
            marks, steps = series.marks[index], series.steps[index]
            if marks & _FOREIGN or series.ids[index] in others:
                continue
            crossed_out += bool(marks & _CROSSED_OUT)
            if marks & _DAMAGED:
                damaged += 1
            elif steps == LO_STEPS:
                reads_low += 1
            elif steps == HI_STEPS:
                reads_high += 1
            else:
                values.append(unrounded(steps, series.units[index], unit))
        return cls(counted, tuple(values), reads_low, reads_high, damaged, crossed_out, unit)

    @property
    def ends(self) -> int:
        return self.reads_low + self.reads_high

    @property
    def count(self) -> int:
        return len(self.values) + self.ends + self.damaged

    @property
    def mean(self) -> float | None:
        return sum(self.values) / len(self.values) if self.values else None

    def means(self) -> tuple[float, float] | None:
        """The lowest and highest mean a meter could show.

        It may leave LO and HI out, or take them in as the ends of what it can measure.
        """
        without = self.mean
        lowest, highest = METER_LIMITS[self.unit]
        taken_in = [
            *self.values,
            *[lowest / self.unit.steps_per_one] * self.reads_low,
            *[highest / self.unit.steps_per_one] * self.reads_high,
        ]
        if not taken_in:
            return None
        with_ends = sum(taken_in) / len(taken_in)
        first = with_ends if without is None else without
        return min(first, with_ends), max(first, with_ends)


def _places_of(average: MeterAverage, series: Series, counted: DaysCounted) -> Iterable[int]:
    """The readings of the average's days, up to the moment at which it was read off."""
    at = to_microseconds(average.at.instant)
    full_days = timedelta(days=average.days)
    midnight = datetime.combine(average.at.wall.date(), time())
    first_day = midnight - timedelta(days=average.days - 1)
    first_minute = (first_day - EPOCH) // timedelta(minutes=1)
    earliest = at - full_days // timedelta(microseconds=1)
    for index in places_near(
        series, first_minute - MINUTES_A_DAY, average.at.wall_minute + MINUTES_A_DAY
    ):
        instant = series.instants[index]
        if instant > at:
            continue
        if counted is DaysCounted.FULL_DAYS:
            is_inside = instant > earliest
        else:
            is_inside = series.wall_minutes[index] >= first_minute
        if is_inside:
            yield index


def _verdict(average: MeterAverage, days: _Days) -> Completeness:
    if average.count is not None and average.count > days.count:
        return Completeness.LOG_HAS_FEWER
    if not days.count:
        # The meter has an average, so it has readings.
        return Completeness.LOG_HAS_FEWER
    # A meter may leave LO and HI out of its count, and what is damaged can't be told apart.
    if average.count is not None and average.count < days.count - days.ends:
        return Completeness.LOG_HAS_OTHER_NUMBERS
    means = days.means()
    if average.glucose.steps is None or means is None or days.damaged:
        return Completeness.CANNOT_TELL
    shown = average.glucose.steps
    lowest, highest = (mean * days.unit.steps_per_one for mean in means)
    # The hair more is for sums of binary numbers: 7.3 less 7.2 is not quite one step.
    tolerance = AVERAGE_TOLERANCE_STEPS + 1e-9
    if lowest - tolerance <= shown <= highest + tolerance:
        return Completeness.AGREES
    return Completeness.LOG_HAS_OTHER_NUMBERS


def _gap(average: MeterAverage, days: _Days) -> float:
    """How far one way of counting days is from the meter, to choose the nearer one."""
    if average.count is not None:
        return abs(average.count - days.count)
    if days.mean is None or average.glucose.steps is None:
        return float("inf")
    return abs(days.mean - average.glucose.steps / days.unit.steps_per_one)


def _explanations(
    verdict: Completeness, ways: Collection[_Days], days: _Days
) -> Iterable[CouldExplain]:
    if verdict is Completeness.AGREES:
        return ()
    has_fewer = verdict is Completeness.LOG_HAS_FEWER
    has_others = verdict is Completeness.LOG_HAS_OTHER_NUMBERS
    can_apply = {
        CouldExplain.NOT_WRITTEN_DOWN: has_fewer,
        CouldExplain.CONTROL_TESTS: has_fewer or has_others,
        CouldExplain.OTHER_PEOPLE: has_fewer or has_others,
        CouldExplain.METER_DATE: has_fewer or has_others,
        CouldExplain.DAYS_COUNTED: len({(way.values, way.ends) for way in ways}) > 1,
        CouldExplain.OTHER_METER: has_others,
        CouldExplain.OUTSIDE_METER_RANGE: days.ends > 0,
        CouldExplain.CROSSED_OUT: has_others and days.crossed_out > 0,
        CouldExplain.DAMAGED: days.damaged > 0,
        CouldExplain.TYPED_DIFFERENTLY: has_others,
    }
    return (code for code in CouldExplain if can_apply[code])
