"""Invented things of a kit, each with only what a test cares about."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from itertools import count
from uuid import UUID

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.meter_care import MeterEvent, MeterWhat
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import ControlRange, StripCount, StripUse, StripUseKind, Vial
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot

START = datetime(2026, 3, 2, 12, tzinfo=UTC)
BEDSIDE, HANDBAG, CLINIC = UUID(int=1), UUID(int=2), UUID(int=3)
RANGE = ControlRange("1", Unit.MG_DL, 100, 140)

_ids = count(1000)


def new_id() -> UUID:
    return UUID(int=next(_ids))


def instant(days: float) -> datetime:
    return START + timedelta(days=days)


def at(days: float, zone: str = "UTC") -> Moment:
    return Moment.at(instant(days), zone)


def day(days: int) -> date:
    return START.date() + timedelta(days=days)


def meter(meter_id: UUID = BEDSIDE, *, is_own: bool = True, first: int = -400) -> Meter:
    return Meter(meter_id, f"meter {meter_id.int}", Unit.MG_DL, 20, 600, day(first), is_own=is_own)


def vial(
    opened: float | None = 0,
    *,
    count: int = 50,
    ended: float | None = None,
    printed: str = "",
    after: str = "",
    meter_id: UUID | None = BEDSIDE,
    ranges: tuple[ControlRange, ...] = (RANGE,),
    lot: str = "A1",
    code: str = "",
) -> Vial:
    return Vial(
        new_id(),
        meter_id,
        count,
        START,
        lot=lot,
        code=code,
        expires=PrintedDate.from_code(printed) if printed else None,
        after_opening=AfterOpening.from_code(after) if after else None,
        opened_at=None if opened is None else instant(opened),
        opened_on=None if opened is None else instant(opened).date(),
        ended_at=None if ended is None else instant(ended),
        ranges=ranges,
    )


def use(
    days: float,
    meter_id: UUID | None = BEDSIDE,
    kind: StripUseKind = StripUseKind.READING,
    *,
    was_typed: bool = True,
) -> StripUse:
    return StripUse(instant(days), meter_id, kind, was_typed)


def counted(of: Vial, days: float, left: int) -> StripCount:
    return StripCount(new_id(), of.id, at(days), START, left)


def control(
    days: float,
    value: int,
    *,
    meter_id: UUID | None = BEDSIDE,
    of: Vial | None = None,
    level: str = "1",
    bottle: ControlBottle | None = None,
    tenths: int | None = None,
) -> ControlTest:
    return ControlTest(
        new_id(),
        at(days),
        START,
        meter_id,
        None if of is None else of.id,
        None if bottle is None else bottle.id,
        level,
        Glucose.number(value, Unit.MG_DL),
        tenths,
    )


def event(what: MeterWhat, days: float, meter_id: UUID = BEDSIDE) -> MeterEvent:
    return MeterEvent(new_id(), meter_id, what, at(days), START)


def reading(days: float, meter_id: UUID | None = BEDSIDE, *, is_foreign: bool = False) -> Reading:
    return Reading(
        new_id(),
        Glucose.number(128, Unit.MG_DL),
        at(days),
        START,
        Slot.FASTING,
        meter_id=meter_id,
        is_foreign=is_foreign,
    )
