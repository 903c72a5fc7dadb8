"""One stretch of days beside another: before and after a change, this period and the one before.

The figures of each are those of `summary`; on which day something changed is told by
`turning_points`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from itertools import compress

from logbook.domain.answers import Answer
from logbook.domain.errors import BadMoment
from logbook.domain.figures import Share
from logbook.domain.happenings import Happening
from logbook.domain.moments import EPOCH, Period
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell
from logbook.domain.summary import Summary, summarise
from logbook.domain.targets import TargetBook


@dataclass(frozen=True, slots=True)
class SplitSummary:
    """The figures before `day`, and those from it on."""

    day: date
    before: Summary
    after: Summary


def split_summary(
    series: Series,
    period: Period,
    day: date,
    settings: LogSettings,
    targets: TargetBook,
    happenings: Sequence[Happening],
    answers: Sequence[Answer],
) -> SplitSummary:
    """The figures of `period` in two: before `day`, and from it on.

    Raises `BadMoment` (period_backwards) when one of the two has no day.
    """
    if not period.first < day <= period.last:
        raise BadMoment(day, why="period_backwards")
    spans = Period(period.first, day - timedelta(days=1)), Period(day, period.last)
    before, after = (
        summarise(series, span, settings, targets, happenings, answers) for span in spans
    )
    return SplitSummary(day, before, after)


@dataclass(frozen=True, slots=True)
class WithoutSpells:
    """The figures of a period without the days of some spells, and how many those are.

    The places in `summary.slots` are in `series`, which has no reading of those days.
    """

    summary: Summary
    series: Series
    days_left_out: int


def summarise_without(
    spells: Iterable[Spell],
    series: Series,
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
) -> WithoutSpells | None:
    """The figures of the days of `period` that lie in none of `spells`.

    None when no day of the period does, or every day: then there is nothing to set beside.
    """
    days = {day for spell in spells for day in _days_in(spell, period)}
    if not 0 < len(days) < period.days:
        return None
    start = settings.day_starts_at.hour * 60 + settings.day_starts_at.minute
    numbers = {(day - EPOCH.date()).days for day in days}
    kept = [(wall - start) // (24 * 60) not in numbers for wall in series.wall_minutes]
    columns = (field.name for field in fields(Series))
    rest = replace(
        series, **{name: tuple(compress(getattr(series, name), kept)) for name in columns}
    )
    summary = summarise(
        rest,
        period,
        settings,
        targets,
        [what for what in happenings if what.at.day(settings.day_starts_at) not in days],
        answers,
    )
    return WithoutSpells(summary, rest, len(days))


def _days_in(spell: Spell, period: Period) -> Iterable[date]:
    first = max(spell.first, period.first)
    last = period.last if spell.last is None else min(spell.last, period.last)
    return Period(first, last) if first <= last else ()


@dataclass(frozen=True, slots=True)
class Compared:
    """One row of two stretches side by side; `slot` is None for all times of day together.

    There `count`, `median` and `low` are of all readings that take part in figures; in a slot, and
    in `in_target` everywhere, each occasion has one value. `low` counts values below 70 (3.9), LO
    included.
    """

    slot: Slot | None
    count: int
    count_before: int
    median: float | None
    median_before: float | None
    in_target: Share
    in_target_before: Share
    low: int
    low_before: int


def compare_with_before(now: Summary, before: Summary) -> tuple[Compared, ...]:
    """Two stretches row by row: all readings first, then the slots checked in either of them.

    `before` is as a rule the summary of `now.period.before`, which has as many days.
    """
    rows = [_compared(None, _all_of(now), _all_of(before))]
    for slot in Slot:
        here, there = _slot_of(now, slot), _slot_of(before, slot)
        if here is not _NOTHING or there is not _NOTHING:
            rows.append(_compared(slot, here, there))
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class _Side:
    count: int
    median: float | None
    in_target: Share
    low: int


_NOTHING = _Side(0, None, Share(0, 0), 0)


def _compared(slot: Slot | None, now: _Side, before: _Side) -> Compared:
    return Compared(
        slot=slot,
        count=now.count,
        count_before=before.count,
        median=now.median,
        median_before=before.median,
        in_target=now.in_target,
        in_target_before=before.in_target,
        low=now.low,
        low_before=before.low,
    )


def _all_of(summary: Summary) -> _Side:
    return _Side(
        summary.readings.count,
        summary.figures.median,
        summary.against_target.in_target_share,
        summary.bands.below_70,
    )


def _slot_of(summary: Summary, slot: Slot) -> _Side:
    found = summary.slot(slot)
    if found is None:
        return _NOTHING
    return _Side(found.count, found.figures.median, found.in_target_share, found.low)
