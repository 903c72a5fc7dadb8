"""The figures of a period: counts, mean and spread, bands, times of day, lows.

One function for window, paper and commands, so that they can't disagree. The formulas are in
`figures`, which reading stands for its occasion in `occasions`, the lows in `lows`. Every figure is
defined in docs/method.md.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from logbook.domain.answers import Answer
from logbook.domain.bands import Bands, TargetCounts, bands_of
from logbook.domain.figures import Figures, Share, figures_of, steps_by_unit
from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening
from logbook.domain.lows import Low, find_lows
from logbook.domain.moments import EPOCH, MINUTES_A_DAY, Period
from logbook.domain.occasions import first_among
from logbook.domain.series import OUTSIDE_FIGURES, Mark, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.states import State, state_of_steps
from logbook.domain.targets import KIND_OF_SLOT, Limits, TargetBook
from logbook.domain.within import counted_within, places_near


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
class SlotSummary:
    """The figures of one time of day, one value for each occasion.

    `low` (all below 70, LO included) and `very_low` of them (below 54, LO) count every value. The
    next three count values held against the target of their own day: not low but below it, in it,
    above it (very high and HI included); with `judged_low` they make up `judged`. A value on a day
    without a target in its unit is not judged. `indices` are the readings it is made of, as places
    in the series that was summarised.
    """

    slot: Slot
    figures: Figures
    very_low: int
    low: int
    judged_low: int
    below_target_not_low: int
    in_target: int
    above_target: int
    bands: Bands
    indices: tuple[int, ...]

    @property
    def count(self) -> int:
        """Values, LO and HI included."""
        return self.figures.count

    @property
    def against_target(self) -> TargetCounts:
        """The values held against a target."""
        return TargetCounts(
            self.judged_low, self.below_target_not_low, self.in_target, self.above_target
        )

    @property
    def judged(self) -> int:
        """How many values were held against a target."""
        return self.against_target.judged

    @property
    def in_target_share(self) -> Share:
        """In target, of the values held against one; a low is not in target."""
        return self.against_target.in_target_share


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

    @property
    def against_target(self) -> TargetCounts:
        """The values of all times of day that were held against a target."""
        return TargetCounts(
            low=sum(slot.judged_low for slot in self.slots),
            below_target_not_low=sum(slot.below_target_not_low for slot in self.slots),
            in_target=sum(slot.in_target for slot in self.slots),
            above_target=sum(slot.above_target for slot in self.slots),
        )


def summarise(
    series: Series,
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
) -> Summary:
    """The figures of the readings of `series` that lie in `period`."""
    first_minute, _ = period.wall_minutes(settings.day_starts_at)
    counted = counted_within(series, period, settings.day_starts_at)
    walls, purposes = series.wall_minutes, series.purposes
    by_unit = steps_by_unit(series, counted)
    unit = settings.unit
    figures = figures_of(unit, by_unit[unit], by_unit[unit.other])
    recheck = Purpose.RECHECK
    rechecks = sum(purposes[index] is recheck for index in counted)
    days = {(walls[index] - first_minute) // MINUTES_A_DAY for index in counted}
    of_slots = first_among(series, counted, first_minute)
    return Summary(
        unit=unit,
        period=period,
        readings=_counts(figures, rechecks, _left_out(series, period, settings)),
        days_with_readings=len(days),
        figures=figures,
        bands=bands_of(by_unit),
        slots=tuple(
            _slot_summary(series, slot, indices, settings, targets)
            for slot, indices in of_slots.items()
        ),
        lows=find_lows(series, settings, happenings, answers, period),
    )


def _left_out(series: Series, period: Period, settings: LogSettings) -> Counter[Mark]:
    """The readings of the period that take no part in figures, each under one reason."""
    first_minute, end_minute = period.wall_minutes(settings.day_starts_at)
    places = places_near(series, first_minute, end_minute)
    walls = series.wall_minutes[places.start : places.stop]
    outside = int(OUTSIDE_FIGURES)
    found = Counter(
        marks & outside
        for wall, marks in zip(walls, series.marks[places.start : places.stop], strict=True)
        if marks & outside and first_minute <= wall < end_minute
    )
    reasons = (Mark.DAMAGED, Mark.CROSSED_OUT, Mark.NOT_BELIEVED, Mark.FOREIGN_METER)
    of_reason = Counter[Mark]()
    for marks, count in found.items():
        of_reason[next(reason for reason in reasons if marks & reason)] += count
    return of_reason


def _counts(figures: Figures, rechecks: int, of_reason: Counter[Mark]) -> ReadingCounts:
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
    by_unit = {unit: sorted(steps) for unit, steps in steps_by_unit(series, indices).items()}
    return SlotSummary(
        slot=slot,
        figures=figures_of(settings.unit, by_unit[settings.unit], by_unit[settings.unit.other]),
        very_low=states[State.VERY_LOW],
        low=states[State.VERY_LOW] + states[State.LOW],
        judged_low=judged[State.VERY_LOW] + judged[State.LOW],
        below_target_not_low=judged[State.BELOW_TARGET],
        in_target=judged[State.IN_TARGET],
        above_target=judged[State.ABOVE_TARGET] + judged[State.VERY_HIGH],
        bands=bands_of(by_unit),
        indices=tuple(indices),
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
