"""The figures of a period: counts, mean and spread, bands, times of day, lows.

One function for window, paper and commands, so that they can't disagree. The formulas are in
`figures`, which reading stands for its occasion in `occasions`, the lows in `lows`. Every figure is
defined in docs/method.md.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from logbook.domain.answers import Answer
from logbook.domain.figures import Figures, Share, figures_of, figures_of_readings, steps_by_unit
from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening
from logbook.domain.levels import HIGH_ABOVE, HIGHER_ABOVE, LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.lows import Low, find_lows
from logbook.domain.moments import EPOCH, MINUTES_A_DAY, Period
from logbook.domain.occasions import first_of_each_occasion
from logbook.domain.series import OUTSIDE_FIGURES, Mark, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.states import State, state_of_steps
from logbook.domain.targets import KIND_OF_SLOT, Limits, TargetBook


@dataclass(frozen=True, slots=True)
class ReadingCounts:
    """How many readings of the period are what.

    `numbers`, `reads_low` and `reads_high` take part in figures, `rechecks` of them were made as
    rechecks. The rest do not, and each of them is counted once, under the first that applies:
    `damaged`, `crossed_out`, `not_believed`, `foreign` (another's meter).
    """

    numbers: int
    reads_low: int
    reads_high: int
    rechecks: int
    not_believed: int
    crossed_out: int
    foreign: int
    damaged: int

    @property
    def count(self) -> int:
        """All readings that take part in figures."""
        return self.numbers + self.reads_low + self.reads_high


@dataclass(frozen=True, slots=True)
class Bands:
    """Readings by fixed limits, LO in the lowest and HI in the highest.

    Names and limits are in mg/dL; a value in mmol/L is held against the twins 3.0, 3.9, 10.0 and
    13.9 as they are printed, never converted.
    """

    below_54: int
    from_54_to_69: int
    from_70_to_180: int
    from_181_to_250: int
    above_250: int

    @property
    def below_70(self) -> int:
        """Low and very low together."""
        return self.below_54 + self.from_54_to_69


@dataclass(frozen=True, slots=True)
class SlotSummary:
    """The figures of one time of day, one value for each occasion.

    `low` (all below 70, LO included) and `very_low` of them (below 54, LO) count every value. The
    next three count values held against the target of their own day: not low but below it, in it,
    above it (very high and HI included); with `judged_low` they make up `judged`. A value on a day
    without a target in its unit is not judged.
    """

    slot: Slot
    figures: Figures
    very_low: int
    low: int
    judged_low: int
    below_target_not_low: int
    in_target: int
    above_target: int

    @property
    def count(self) -> int:
        """Values, LO and HI included."""
        return self.figures.count

    @property
    def judged(self) -> int:
        """Values held against a target."""
        return self.judged_low + self.below_target_not_low + self.in_target + self.above_target

    @property
    def in_target_share(self) -> Share:
        """In target, of the values held against one; a low is not in target."""
        return Share(self.in_target, self.judged)


@dataclass(frozen=True, slots=True)
class Summary:
    """All figures of `period` in `unit`, the log's. Slots come in the order of the day.

    `days_with_readings` are the person's days with a reading that takes part in figures.
    """

    unit: Unit
    period: Period
    readings: ReadingCounts
    days_with_readings: int
    figures: Figures
    bands: Bands
    slots: tuple[SlotSummary, ...]
    lows: tuple[Low, ...]

    def slot(self, slot: Slot) -> SlotSummary | None:
        """The figures of one time of day, None when it was not checked."""
        return next((summary for summary in self.slots if summary.slot is slot), None)


def summarise(
    series: Series,
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
) -> Summary:
    """The figures of the readings of `series` that lie in `period`."""
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    outside = int(OUTSIDE_FIGURES)
    by_unit: dict[Unit, list[int]] = {unit: [] for unit in Unit}
    left_out: Counter[int] = Counter()
    days: set[int] = set()
    rechecks = 0
    columns = zip(
        series.wall_minutes, series.steps, series.units, series.purposes, series.marks, strict=True
    )
    for wall, steps, unit, purpose, marks in columns:
        if not first_minute <= wall < end_minute:
            continue
        if marks & outside:
            left_out[marks & outside] += 1
            continue
        by_unit[unit].append(steps)
        days.add((wall - first_minute) // MINUTES_A_DAY)
        rechecks += purpose is Purpose.RECHECK
    unit = settings.unit
    figures = figures_of(unit, by_unit[unit], by_unit[unit.other])
    of_slots = first_of_each_occasion(series, period, settings.day_starts_at)
    return Summary(
        unit=unit,
        period=period,
        readings=_counts(figures, rechecks, left_out),
        days_with_readings=len(days),
        figures=figures,
        bands=bands_of(by_unit),
        slots=tuple(
            _slot_summary(series, slot, indices, settings, targets)
            for slot, indices in of_slots.items()
        ),
        lows=find_lows(series, settings, happenings, answers, period),
    )


def bands_of(by_unit: Mapping[Unit, Sequence[int]]) -> Bands:
    """How many values lie in each band, each compared in its own unit. LO and HI by their steps."""
    counts = [0] * 5
    for unit, values in by_unit.items():
        ordered = sorted(values)
        edges = [
            0,
            bisect_left(ordered, VERY_LOW_BELOW[unit]),
            bisect_left(ordered, LOW_BELOW[unit]),
            bisect_right(ordered, HIGH_ABOVE[unit]),
            bisect_right(ordered, HIGHER_ABOVE[unit]),
            len(ordered),
        ]
        for band, (start, end) in enumerate(pairwise(edges)):
            counts[band] += end - start
    return Bands(*counts)


def _counts(figures: Figures, rechecks: int, left_out: Counter[int]) -> ReadingCounts:
    reasons = (Mark.DAMAGED, Mark.CROSSED_OUT, Mark.NOT_BELIEVED, Mark.FOREIGN_METER)
    of_reason = Counter[Mark]()
    for marks, count in left_out.items():
        of_reason[next(reason for reason in reasons if marks & reason)] += count
    return ReadingCounts(
        numbers=figures.numbers,
        reads_low=figures.reads_low,
        reads_high=figures.reads_high,
        rechecks=rechecks,
        not_believed=of_reason[Mark.NOT_BELIEVED],
        crossed_out=of_reason[Mark.CROSSED_OUT],
        foreign=of_reason[Mark.FOREIGN_METER],
        damaged=of_reason[Mark.DAMAGED],
    )


def _slot_summary(
    series: Series,
    slot: Slot,
    indices: Sequence[int],
    settings: LogSettings,
    targets: TargetBook,
) -> SlotSummary:
    states = Counter[State]()
    judged = Counter[State]()
    for unit, limits, values in _by_limits(series, slot, indices, settings, targets):
        very_high_above = settings.very_high_above if unit is settings.unit else None
        # Few different values occur, so each is judged once.
        for steps, count in Counter(values).items():
            state = state_of_steps(steps, unit, limits, very_high_above)
            states[state] += count
            if limits is not None:
                judged[state] += count
    return SlotSummary(
        slot=slot,
        figures=figures_of_readings(series, indices, settings.unit),
        very_low=states[State.VERY_LOW],
        low=states[State.VERY_LOW] + states[State.LOW],
        judged_low=judged[State.VERY_LOW] + judged[State.LOW],
        below_target_not_low=judged[State.BELOW_TARGET],
        in_target=judged[State.IN_TARGET],
        above_target=judged[State.ABOVE_TARGET] + judged[State.VERY_HIGH],
    )


def _by_limits(
    series: Series,
    slot: Slot,
    indices: Sequence[int],
    settings: LogSettings,
    targets: TargetBook,
) -> Iterator[tuple[Unit, Limits | None, list[int]]]:
    """The values apart by unit and by the limits that held on their days; None for no limits."""
    kind = KIND_OF_SLOT.get(slot)
    days = [] if kind is None else targets.change_days(kind)
    changes = [
        int((datetime.combine(day, settings.day_starts_at) - EPOCH).total_seconds()) // 60
        for day in days
    ]
    spans: dict[int, Sequence[int]] = {0: indices}
    if changes:
        by_change: dict[int, list[int]] = {}
        for index in indices:
            span = bisect_right(changes, series.wall_minutes[index])
            by_change.setdefault(span, []).append(index)
        spans = dict(by_change)
    for change, of_span in spans.items():
        target = targets.for_slot(slot, days[change - 1]) if change else None
        for unit, values in steps_by_unit(series, of_span).items():
            limits = None if target is None else target.limits_in(unit)
            if limits is not None and limits.lower is None and limits.upper is None:
                limits = None
            yield unit, limits, values
