"""What is a reason to call the provider, and each time that it occurred.

The rules for long-term care are those of the ADA's position statement (its table 6, read in the
Diabetes Spectrum copy, PMC7428662, table 4); where a count or a time is judgement, it says so.
Whether the person has called is in `calls`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from functools import cached_property

from logbook.domain.glucose import HI_STEPS, Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.levels import LOW_BELOW, VERY_HIGH_ABOVE, VERY_LOW_BELOW
from logbook.domain.low_course import MOST_TREATMENTS
from logbook.domain.low_trail import LowSign, check_at, times_low
from logbook.domain.lows import Low, aware_wall_time, find_lows, to_microseconds
from logbook.domain.moments import day_of_wall_minute
from logbook.domain.near_lows import NearLow, near_lows
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook

# Two separate lows in so many days. Judgement without a source.
LOWS_REPEATED_DAYS = 7
# 250 or more twice in 24 hours (long-term care); the mmol/L twin is as guidelines print it.
HIGH_FROM = {Unit.MG_DL: 250, Unit.MMOL_L: 139}
HIGH_TWICE_WITHIN = timedelta(hours=24)
# Two numbers so close together are one check made again. Judgement without a source.
MADE_AGAIN_WITHIN = timedelta(minutes=30)
# How long a changed medicine counts as a change. Judgement without a source.
AFTER_CHANGE_DAYS = 7

_ILL_OR_CHANGED = frozenset({SpellKind.ILL, SpellKind.STEROID, SpellKind.NEW_MEDICINE})


class Urgency(StrEnum):
    """How soon to call, the most urgent first."""

    NOW = "now"
    TODAY = "today"
    THIS_WEEK = "this_week"


class CallGroup(StrEnum):
    """What a call is about."""

    LOWS = "lows"
    NEAR_LOWS = "near_lows"
    HIGHS = "highs"
    ILL = "ill"


class CallReason(StrEnum):
    """Why to call."""

    HELPED = "helped"
    STILL_LOW_AFTER_THREE = "still_low_after_three"
    VERY_LOW = "very_low"
    LOWS_REPEATED = "lows_repeated"
    LOW_AT_NIGHT = "low_at_night"
    NEAR_LOWS = "near_lows"
    HIGH_WHILE_ILL = "high_while_ill"
    HIGH_TWO_DAYS = "high_two_days"
    METER_SHOWED_HI = "meter_showed_hi"
    CANNOT_EAT_OR_DRINK = "cannot_eat_or_drink"

    @property
    def urgency(self) -> Urgency:
        """How soon to call."""
        return _TABLE[self][0]

    @property
    def group(self) -> CallGroup:
        """What it is about."""
        return _TABLE[self][1]


# HI, vomiting and not eating: call now; above 300 on two days, 250 twice in a day: long-term care.
# A helped or very low low on the same day, the others within the week: judgement without a source.
_TABLE = {
    CallReason.HELPED: (Urgency.TODAY, CallGroup.LOWS),
    CallReason.STILL_LOW_AFTER_THREE: (Urgency.TODAY, CallGroup.LOWS),
    CallReason.VERY_LOW: (Urgency.TODAY, CallGroup.LOWS),
    CallReason.LOWS_REPEATED: (Urgency.THIS_WEEK, CallGroup.LOWS),
    CallReason.LOW_AT_NIGHT: (Urgency.THIS_WEEK, CallGroup.LOWS),
    CallReason.NEAR_LOWS: (Urgency.THIS_WEEK, CallGroup.NEAR_LOWS),
    CallReason.HIGH_WHILE_ILL: (Urgency.TODAY, CallGroup.HIGHS),
    CallReason.HIGH_TWO_DAYS: (Urgency.TODAY, CallGroup.HIGHS),
    CallReason.METER_SHOWED_HI: (Urgency.NOW, CallGroup.HIGHS),
    CallReason.CANNOT_EAT_OR_DRINK: (Urgency.NOW, CallGroup.ILL),
}


@dataclass(frozen=True, slots=True)
class Occurrence:
    """One time that a reason occurred.

    `at` is aware, with the offset of the clock on the wall; `about` is the id of the record that
    showed it last, `shown_by` the ids whose answer answers it, `evidence` the ids of all records
    behind it, oldest first. `units` names what is counted: a low, a reading or a day each.
    """

    reason: CallReason
    at: datetime
    about: str
    shown_by: frozenset[str]
    evidence: tuple[str, ...]
    units: tuple[str, ...]


def occurrences(
    series: Series,
    happenings: Iterable[Happening],
    settings: LogSettings,
    ticks: TickBook,
    spells: Iterable[Spell],
    targets: TargetBook,
    medicines_changed: Iterable[date],
    *,
    answered: Collection[str] = frozenset(),
) -> list[Occurrence]:
    """Each time that a reason occurred, in order of time. Only readings that count are looked at.

    `answered` are ids of records about which the person has answered: near-lows and highs while ill
    are counted anew after one, so that each single one does not ask again.
    """
    happened = tuple(happening for happening in happenings if happening.counts)
    log = _Log(series, settings, {str(one.id): one for one in happened})
    lows = find_lows(series, settings, happened, ())
    found = [
        *_of_lows(log, lows),
        *_near(log, near_lows(series, settings, ticks, targets), settings, answered),
        *_while_ill(log, tuple(spells), tuple(medicines_changed), answered),
        *_two_days(log),
        *_letters(log),
        *(
            log.occurrence(CallReason.CANNOT_EAT_OR_DRINK, [str(one.id)])
            for one in happened
            if one.what is What.CANNOT_EAT_OR_DRINK
        ),
    ]
    return sorted(found, key=lambda one: (one.at, one.about))


@dataclass(frozen=True)
class _Log:
    series: Series
    settings: LogSettings
    happenings: Mapping[str, Happening]

    @cached_property
    def places(self) -> dict[str, int]:
        return {record_id: index for index, record_id in enumerate(self.series.ids)}

    @cached_property
    def counted(self) -> list[int]:
        return list(self.series.counted())

    def instant(self, record_id: str) -> int:
        index = self.places.get(record_id)
        if index is not None:
            return self.series.instants[index]
        return to_microseconds(self.happenings[record_id].at.instant)

    def day(self, index: int) -> date:
        return day_of_wall_minute(self.series.wall_minutes[index], self.settings.day_starts_at)

    def in_order(self, ids: Iterable[str]) -> list[str]:
        return sorted(set(ids), key=lambda one: (self.instant(one), one))

    def occurrence(
        self,
        reason: CallReason,
        shown_by: Iterable[str],
        evidence: Iterable[str] = (),
        units: Iterable[str] = (),
    ) -> Occurrence:
        shown = self.in_order(shown_by)
        about = shown[-1]
        index = self.places.get(about)
        wall_minute = (
            self.happenings[about].at.wall_minute
            if index is None
            else self.series.wall_minutes[index]
        )
        return Occurrence(
            reason,
            aware_wall_time(self.instant(about), wall_minute),
            about,
            frozenset(shown),
            tuple(self.in_order([*shown, *evidence])),
            tuple(units) or (shown[0],),
        )


# --- lows -----------------------------------------------------------------------------------------


def _of_lows(log: _Log, lows: Sequence[Low]) -> Iterator[Occurrence]:
    for place, low in enumerate(lows):
        ids = _ids(low)
        name = log.in_order(ids)[0]
        today = _today(log, low)
        if today is not None:
            reason, shown_by = today
            yield log.occurrence(reason, shown_by, ids, [name])
        elif low.is_at_night:
            yield log.occurrence(CallReason.LOW_AT_NIGHT, ids)
        near = [other for other in lows[:place] if (low.day - other.day).days < LOWS_REPEATED_DAYS]
        if near:
            evidence = [one for other in near for one in _ids(other)]
            units = [log.in_order(_ids(other))[0] for other in near]
            yield log.occurrence(CallReason.LOWS_REPEATED, ids, evidence, [*units, name])


def _ids(low: Low) -> list[str]:
    return [*low.reading_ids, *map(str, low.happening_ids)]


def _today(log: _Log, low: Low) -> tuple[CallReason, list[str]] | None:
    """The gravest reason to call today that one low gives, and the records that show it."""
    helped = [str(one) for one in low.happening_ids if log.happenings[str(one)].what.is_helped]
    if helped:
        return CallReason.HELPED, helped
    if still_low := _still_low(log, low):
        return CallReason.STILL_LOW_AFTER_THREE, still_low
    very_low = [
        one
        for one in low.reading_ids
        if log.series.steps[log.places[one]] < VERY_LOW_BELOW[log.series.units[log.places[one]]]
    ]
    return (CallReason.VERY_LOW, very_low) if very_low else None


def _still_low(log: _Log, low: Low) -> list[str]:
    """The signs that came after three treatments without a value of 70 (3.9) between."""
    run: list[LowSign] = []
    found = []
    about_a_reading = {
        str(one)
        for one in low.happening_ids
        if str(log.happenings[str(one)].about) in low.reading_ids
    }
    for one in log.in_order(_ids(low)):
        if one in about_a_reading:
            continue
        index = log.places.get(one)
        check = None if index is None else check_at(log.series, index)
        sign = LowSign(log.instant(one), one, check)
        if run and _recovered_between(log, run[-1].instant, sign.instant):
            run = []
        run.append(sign)
        if times_low(run) > MOST_TREATMENTS:
            found.append(one)
    return found


def _recovered_between(log: _Log, after: int, until: int) -> bool:
    series = log.series
    start, end = bisect_right(series.instants, after), bisect_left(series.instants, until)
    outside = int(OUTSIDE_FIGURES)
    return any(
        series.steps[index] >= LOW_BELOW[series.units[index]]
        for index in range(start, end)
        if not series.marks[index] & outside
    )


def _near(
    log: _Log, near: Sequence[NearLow], settings: LogSettings, answered: Collection[str]
) -> Iterator[Occurrence]:
    window: list[NearLow] = []
    for one in near:
        window = [other for other in window if (one.day - other.day).days < settings.near_low_days]
        window.append(one)
        if len(window) >= settings.near_low_count:
            ids = [other.id for other in window]
            yield log.occurrence(CallReason.NEAR_LOWS, [one.id], ids, ids)
        if one.id in answered:
            window = []


# --- highs ----------------------------------------------------------------------------------------


def _while_ill(
    log: _Log, spells: Sequence[Spell], changed: Sequence[date], answered: Collection[str]
) -> Iterator[Occurrence]:
    def is_ill_or_changed(day: date) -> bool:
        return any(spell.kind in _ILL_OR_CHANGED and spell.covers(day) for spell in spells) or any(
            0 <= (day - change).days < AFTER_CHANGE_DAYS for change in changed
        )

    series = log.series
    within, again = (
        span // timedelta(microseconds=1) for span in (HIGH_TWICE_WITHIN, MADE_AGAIN_WITHIN)
    )
    window: list[int] = []
    for index in log.counted:
        is_high = series.steps[index] >= HIGH_FROM[series.units[index]]
        if not is_high or not is_ill_or_changed(log.day(index)):
            continue
        instant = series.instants[index]
        window = [other for other in window if instant - series.instants[other] <= within]
        if window and instant - series.instants[window[-1]] <= again:
            continue
        window.append(index)
        if len(window) > 1:
            ids = [series.ids[other] for other in window]
            yield log.occurrence(CallReason.HIGH_WHILE_ILL, [ids[-1]], ids, ids)
        if series.ids[index] in answered:
            window = []


def _two_days(log: _Log) -> Iterator[Occurrence]:
    series = log.series
    by_day: dict[date, list[str]] = {}
    for index in log.counted:
        if series.steps[index] > VERY_HIGH_ABOVE[series.units[index]]:
            by_day.setdefault(log.day(index), []).append(series.ids[index])
    for day, ids in by_day.items():
        before = day - timedelta(days=1)
        if before in by_day:
            units = [before.isoformat(), day.isoformat()]
            yield log.occurrence(CallReason.HIGH_TWO_DAYS, ids, by_day[before], units)


def _letters(log: _Log) -> Iterator[Occurrence]:
    for index in log.counted:
        if log.series.steps[index] == HI_STEPS:
            yield log.occurrence(CallReason.METER_SHOWED_HI, [log.series.ids[index]])
