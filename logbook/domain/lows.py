"""Lows: when one happened, how it went on, how often and at what times of day.

Derived from readings, from things that happened without a number and from answers; never stored.
When to check again is in `recheck`; what is said about a low is for `wording`.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta, timezone
from enum import IntEnum, StrEnum
from uuid import UUID

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import LO_STEPS, Glucose, Unit, converted_steps
from logbook.domain.happenings import Happening, What
from logbook.domain.levels import LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.moments import EPOCH, Period, day_of_wall_minute
from logbook.domain.nights import Nights
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot

# Lows over this far apart are separate ones. Judgement without a source.
SEPARATE_AFTER_MINUTES = 120

_MICROSECOND = timedelta(microseconds=1)
_MICROSECONDS_A_MINUTE = 60_000_000
_EPOCH_UTC = EPOCH.replace(tzinfo=UTC)
SEPARATE_AFTER_MICROSECONDS = SEPARATE_AFTER_MINUTES * _MICROSECONDS_A_MINUTE


class Level(IntEnum):
    """How low. ADA Standards of Care 2024, section 6, read at the journal.

    `LOW` is 54 to 69 mg/dL (3.0 to 3.8 mmol/L) or felt without a number, `VERY_LOW` below 54 (3.0)
    or LO, `HELPED` that someone had to help, whatever the number.
    """

    LOW = 1
    VERY_LOW = 2
    HELPED = 3


class WarningSigns(StrEnum):
    """Whether the low was felt coming; only ever what the person answered."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


_SIGNS_OF_ANSWER = {Said.YES: WarningSigns.YES, Said.NO: WarningSigns.NO}


@dataclass(frozen=True, slots=True)
class Low:
    """One low, from its first sign; further signs within two hours of the last belong to it.

    `at` is aware, with the offset of the clock on the wall; `day` is the person's day. `value` is
    the lowest value measured in it, None when none was. `slot` is that of its first low reading.
    `help` is the gravest thing that happened with help. `rechecked_after_minutes` runs from `at` to
    the first check after it, `back_above_69_after_minutes` from `at` to the first value of 70 (3.9)
    or more after its last low sign; both take checks up to two hours after the last low sign, and
    later ones that were made as a recheck of it. The ids are of the readings and happenings it is
    made of, oldest first.
    """

    at: datetime
    day: date
    level: Level
    value: Glucose | None
    slot: Slot | None
    is_at_night: bool
    help: What | None
    warning_signs: WarningSigns
    rechecked_after_minutes: int | None
    back_above_69_after_minutes: int | None
    reading_ids: tuple[str, ...]
    happening_ids: tuple[UUID, ...]

    @property
    def is_measured(self) -> bool:
        """Whether a meter showed it."""
        return self.value is not None


def find_lows(
    series: Series,
    settings: LogSettings,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    period: Period | None = None,
) -> tuple[Low, ...]:
    """The lows of `period` (or of all that is given), oldest first.

    Readings outside figures are no lows. A happening that is about a low reading belongs to that
    low; any other stands at its own time.
    """
    signs = _signs_of(series, settings, happenings, period)
    if not signs:
        return ()
    teller = _Teller(series, settings, answers)
    return tuple(teller.low_of(episode) for episode in _separate(signs))


def low_indices(series: Series) -> Iterator[int]:
    """The indices of the low and very low readings, LO included, that take part in figures."""
    outside = int(OUTSIDE_FIGURES)
    columns = zip(series.steps, series.units, series.marks, strict=True)
    for index, (steps, unit, marks) in enumerate(columns):
        if steps < LOW_BELOW[unit] and not marks & outside:
            yield index


def to_microseconds(instant: datetime) -> int:
    """An aware instant as microseconds since 1970 in UTC, as in `Series`."""
    return (instant - _EPOCH_UTC) // _MICROSECOND


def from_microseconds(instant: int) -> datetime:
    """The instant, in UTC, of microseconds since 1970."""
    return _EPOCH_UTC + instant * _MICROSECOND


def aware_wall_time(instant: int, wall_minute: int) -> datetime:
    """An instant (microseconds) with the offset of the clock on the wall, as in `Series`."""
    offset = timedelta(minutes=wall_minute - instant // _MICROSECONDS_A_MINUTE)
    return from_microseconds(instant).astimezone(timezone(offset))


@dataclass(frozen=True, slots=True)
class _Sign:
    """A low reading with what happened about it, or one happening without a reading."""

    instant: int
    wall_minute: int
    index: int | None
    happenings: tuple[Happening, ...]


def _signs_of(
    series: Series,
    settings: LogSettings,
    happenings: Iterable[Happening],
    period: Period | None,
) -> list[_Sign]:
    span = None if period is None else period.wall_minutes(settings.day_starts_at)

    def is_within(wall_minute: int) -> bool:
        return span is None or span[0] <= wall_minute < span[1]

    low_readings = [index for index in low_indices(series) if is_within(series.wall_minutes[index])]
    about: dict[str, list[Happening]] = {series.ids[index]: [] for index in low_readings}
    signs = []
    for happening in happenings:
        if not (happening.counts and happening.what.is_low):
            continue
        if str(happening.about) in about:
            about[str(happening.about)].append(happening)
        elif is_within(happening.at.wall_minute):
            instant = to_microseconds(happening.at.instant)
            signs.append(_Sign(instant, happening.at.wall_minute, None, (happening,)))
    for index in low_readings:
        its_own = tuple(about[series.ids[index]])
        signs.append(_Sign(series.instants[index], series.wall_minutes[index], index, its_own))
    return sorted(signs, key=lambda sign: sign.instant)


def _separate(signs: Sequence[_Sign]) -> Iterator[list[_Sign]]:
    episode: list[_Sign] = []
    for sign in signs:
        if episode and sign.instant - episode[-1].instant > SEPARATE_AFTER_MICROSECONDS:
            yield episode
            episode = []
        episode.append(sign)
    yield episode


class _Teller:
    """Tells how each low went on, from one series and the answers given."""

    def __init__(self, series: Series, settings: LogSettings, answers: Iterable[Answer]) -> None:
        self._series = series
        self._day_starts_at = settings.day_starts_at
        self._nights = Nights(series, settings.day_starts_at)
        self._made_as_recheck_of: dict[str, list[int]] = {}
        for index, of in enumerate(series.rechecks_of):
            if of is not None:
                self._made_as_recheck_of.setdefault(of, []).append(index)
        self._felt: dict[str, Answer] = {}
        for answer in answers:
            if answer.asked is Asked.FELT_LOW_COMING:
                earlier = self._felt.get(str(answer.about))
                if earlier is None or answer.at >= earlier.at:
                    self._felt[str(answer.about)] = answer

    def low_of(self, episode: Sequence[_Sign]) -> Low:
        """The low that the signs of one episode make."""
        series = self._series
        first, last = episode[0], episode[-1]
        measured = [sign.index for sign in episode if sign.index is not None]
        happened = [happening for sign in episode for happening in sign.happenings]
        reading_ids = tuple(series.ids[index] for index in measured)
        happening_ids = tuple(happening.id for happening in happened)
        helped = {happening.what for happening in happened if happening.what.is_helped}
        first_slot = series.slots[first.index] if first.index is not None else None
        checks = self._checks_after(first, last, reading_ids)
        recovered = [
            index
            for index in checks
            if series.instants[index] > last.instant
            and series.steps[index] >= LOW_BELOW[series.units[index]]
        ]
        return Low(
            at=aware_wall_time(first.instant, first.wall_minute),
            day=day_of_wall_minute(first.wall_minute, self._day_starts_at),
            level=self._level(measured, helped),
            value=self._lowest(measured),
            slot=series.slots[measured[0]] if measured else None,
            is_at_night=self._nights.cover(first.instant, first.wall_minute, first_slot),
            help=_gravest(helped),
            warning_signs=self._warning_signs([*reading_ids, *map(str, happening_ids)]),
            rechecked_after_minutes=self._minutes_to(first, checks),
            back_above_69_after_minutes=self._minutes_to(first, recovered),
            reading_ids=reading_ids,
            happening_ids=happening_ids,
        )

    def _checks_after(self, first: _Sign, last: _Sign, reading_ids: Sequence[str]) -> list[int]:
        """Indices of the checks that belong to a low after its first sign, in order of time."""
        series = self._series
        start = bisect_right(series.instants, first.instant)
        end = bisect_right(series.instants, last.instant + SEPARATE_AFTER_MICROSECONDS)
        told = [
            index
            for reading_id in reading_ids
            for index in self._made_as_recheck_of.get(reading_id, ())
            if series.instants[index] > first.instant
        ]
        outside = int(OUTSIDE_FIGURES)
        return [
            index
            for index in (sorted({*range(start, end), *told}) if told else range(start, end))
            if not series.marks[index] & outside
            and (series.rechecks_of[index] is None or series.rechecks_of[index] in reading_ids)
        ]

    def _minutes_to(self, first: _Sign, indices: Sequence[int]) -> int | None:
        if not indices:
            return None
        elapsed = self._series.instants[indices[0]] - first.instant
        return elapsed // _MICROSECONDS_A_MINUTE

    def _level(self, measured: Sequence[int], helped: set[What]) -> Level:
        if helped:
            return Level.HELPED
        is_very_low = any(
            self._series.steps[index] < VERY_LOW_BELOW[self._series.units[index]]
            for index in measured
        )
        return Level.VERY_LOW if is_very_low else Level.LOW

    def _lowest(self, measured: Sequence[int]) -> Glucose | None:
        if not measured:
            return None
        steps, units = self._series.steps, self._series.units
        lowest = min(measured, key=lambda index: _in_mg_dl(steps[index], units[index]))
        return Glucose.of_order(steps[lowest], units[lowest])

    def _warning_signs(self, ids: Iterable[str]) -> WarningSigns:
        given = [self._felt[record_id] for record_id in ids if record_id in self._felt]
        if not given:
            return WarningSigns.UNKNOWN
        latest = max(given, key=lambda answer: answer.at)
        return _SIGNS_OF_ANSWER.get(latest.said, WarningSigns.UNKNOWN)


def _in_mg_dl(steps: int, unit: Unit) -> int:
    """Steps for ordering the values of one low, which may be of two units."""
    return steps if steps == LO_STEPS else converted_steps(steps, unit, Unit.MG_DL)


def _gravest(helped: set[What]) -> What | None:
    return What.AMBULANCE if What.AMBULANCE in helped else next(iter(helped), None)
