"""Readings from a few words, and the columns that figures take, built as the log builds them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta
from uuid import UUID

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.moments import EPOCH, Moment
from logbook.domain.readings import CrossedOut, Doubt, Reading, Source
from logbook.domain.series import Mark, Series
from logbook.domain.slots import Purpose, Slot
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind

_numbers = iter(range(1, 1_000_000_000))


def new_id() -> UUID:
    """An id that no other record of the test has."""
    return UUID(int=next(_numbers))


def moment(wall: str, zone: str = "UTC") -> Moment:
    """A moment from `2026-03-01 07:30`, as the wall clock in `zone` showed it."""
    return Moment.from_wall(datetime.fromisoformat(wall), zone)


def glucose(text: str, unit: Unit = Unit.MG_DL) -> Glucose:
    """A value from what the meter shows: `128`, `7.1`, `LO`, `HI`."""
    match text:
        case "LO":
            return Glucose.reads_low(unit)
        case "HI":
            return Glucose.reads_high(unit)
        case _:
            return Glucose.parse(text, unit)


def reading(
    wall: str,
    shown: str,
    slot: Slot = Slot.OTHER,
    *,
    unit: Unit = Unit.MG_DL,
    purpose: Purpose = Purpose.PLANNED,
    zone: str = "UTC",
    recheck_of: Reading | None = None,
    crossed_out: bool = False,
    doubted: bool = False,
    foreign: bool = False,
    damaged: bool = False,
    source: Source = Source.TYPED,
    written_later: timedelta = timedelta(minutes=1),
    minutes_after: int | None = None,
) -> Reading:
    """One reading made when the wall clock showed `wall`."""
    at = moment(wall, zone)
    return Reading(
        id=new_id(),
        glucose=glucose(shown, unit),
        at=at,
        written_at=at.instant + written_later,
        slot=slot,
        purpose=purpose,
        source=source,
        minutes_after=minutes_after,
        is_foreign=foreign,
        recheck_of=None if recheck_of is None else recheck_of.id,
        crossed_out=CrossedOut(at.instant) if crossed_out else None,
        doubt=Doubt.UNWASHED_FINGER if doubted else None,
        is_damaged=damaged,
    )


def series_of(readings: Iterable[Reading]) -> Series:
    """The columns of `readings`, in order of instant."""
    ordered = sorted(readings, key=lambda r: r.at.instant)
    return Series(
        ids=tuple(str(r.id) for r in ordered),
        instants=tuple(
            (r.at.instant - EPOCH.replace(tzinfo=UTC)) // timedelta(microseconds=1) for r in ordered
        ),
        wall_minutes=tuple(r.at.wall_minute for r in ordered),
        written_minutes=tuple(
            (r.written_at.replace(tzinfo=None) + r.at.offset - EPOCH) // timedelta(minutes=1)
            for r in ordered
        ),
        steps=tuple(0 if r.is_damaged else r.glucose.order_steps for r in ordered),
        units=tuple(r.glucose.unit for r in ordered),
        slots=tuple(r.judged_slot for r in ordered),
        purposes=tuple(r.purpose for r in ordered),
        marks=tuple(_marks(r) for r in ordered),
        minutes_after=tuple(r.minutes_after for r in ordered),
        rechecks_of=tuple(None if r.recheck_of is None else str(r.recheck_of) for r in ordered),
    )


def _marks(of: Reading) -> int:
    marks = {
        Mark.CROSSED_OUT: of.crossed_out is not None,
        Mark.NOT_BELIEVED: of.doubt is not None,
        Mark.FOREIGN_METER: of.is_foreign,
        Mark.DAMAGED: of.is_damaged,
        Mark.COPIED_FROM_METER: of.source is Source.COPIED_FROM_METER,
        Mark.IMPORTED: of.source is Source.IMPORTED,
        Mark.CORRECTED: bool(of.earlier),
    }
    return sum(int(mark) for mark, is_set in marks.items() if is_set)


def happening(wall: str, what: What, about: Reading | None = None) -> Happening:
    """One thing that happened without a number."""
    at = moment(wall)
    return Happening(new_id(), what, at, at.instant, about=None if about is None else about.id)


def range_target(
    kind: TargetKind,
    lower: int | None,
    upper: int | None,
    holds_from: date = date(2000, 1, 1),
    unit: Unit = Unit.MG_DL,
) -> Target:
    """A target from the provider, ends included, in steps of `unit`."""
    limits = Limits(
        unit,
        None if lower is None else Limit(Operator.AT_LEAST, lower),
        None if upper is None else Limit(Operator.AT_MOST, upper),
    )
    return Target(new_id(), kind, (limits,), holds_from, SetBy.PROVIDER)
