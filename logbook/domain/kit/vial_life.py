"""Until when a thing of the kit may be used and why, and which vial was in use when.

Nothing is refused: an out-of-date strip gives a reading all the same, and it is said beside it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.control import ControlBottle
from logbook.domain.kit.dates import use_until
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import Meter, meter_used
from logbook.domain.kit.strips import Vial
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings

# So many days before the last day of use it is said that it ends. Judgement without a source.
WARNED_DAYS = 7


class WhyUntil(StrEnum):
    """Which of the two dates comes first."""

    PRINTED = "printed"
    AFTER_OPENING = "after_opening"


@dataclass(frozen=True, slots=True)
class Life:
    """The last day of use, and which rule sets it."""

    until: date
    why: WhyUntil


class LifeState(StrEnum):
    """How a thing stands on a day."""

    NOT_KNOWN = "not_known"
    IN_DATE = "in_date"
    ENDS_SOON = "ends_soon"
    OUT_OF_DATE = "out_of_date"


@dataclass(frozen=True, slots=True)
class OutOfDate:
    """A reading made with a strip past its last day of use."""

    reading_id: UUID
    vial: Vial
    life: Life


def life_of(thing: Vial | ControlBottle) -> Life | None:
    """The last day of use of a vial or bottle; None where neither rule is known.

    The earlier of the printed date and the time after opening: leaflets say so, each with its own
    time (3 months, 90 or 180 days, the printed date alone; read in copies of leaflets).
    """
    until = use_until(thing.expires, thing.after_opening, thing.opened_on)
    if until is None:
        return None
    is_printed = thing.expires is not None and thing.expires.last_day == until
    return Life(until, WhyUntil.PRINTED if is_printed else WhyUntil.AFTER_OPENING)


def life_state(until: date | None, day: date, warned_days: int = WARNED_DAYS) -> LifeState:
    """How a thing with that last day of use stands on `day`; the last day itself is in time."""
    if until is None:
        return LifeState.NOT_KNOWN
    if day > until:
        return LifeState.OUT_OF_DATE
    is_soon = until - day <= timedelta(days=warned_days)
    return LifeState.ENDS_SOON if is_soon else LifeState.IN_DATE


def is_out_of_date(thing: Vial | ControlBottle, day: date) -> bool:
    """Whether `day` is past its last day of use; never where that is not known."""
    life = life_of(thing)
    return life is not None and day > life.until


# --- which vial -----------------------------------------------------------------------------------


def was_in_use(vial: Vial, instant: datetime) -> bool:
    """Whether it was in use at `instant`: from its opening on, and before its end."""
    if vial.opened_at is None or instant < vial.opened_at:
        return False
    return vial.ended_at is None or instant < vial.ended_at


def meter_of(vial: Vial, meters: Iterable[Meter]) -> UUID | None:
    """The own meter that a vial belongs to; one without a meter belongs to the only own one."""
    return meter_used(vial.meter_id, vial.opened_at or vial.written_at, meters)


def vials_of(
    meter_id: UUID | None, vials: Iterable[Vial], meters: Iterable[Meter]
) -> tuple[Vial, ...]:
    """The vials of one meter, in the order given; of None those without a meter."""
    all_meters = tuple(meters)
    return tuple(
        vial
        for vial in vials
        if vial.meter_id == meter_id
        or (meter_id is not None and meter_of(vial, all_meters) == meter_id)
    )


class VialShelf:
    """All opened vials, asked by meter and instant."""

    def __init__(self, vials: Iterable[Vial], meters: Iterable[Meter] = ()) -> None:
        self._meters = tuple(meters)
        self._of_meter: dict[UUID | None, list[Vial]] = {}
        for vial in sorted((v for v in vials if v.opened_at is not None), key=_opened):
            meter = meter_of(vial, self._meters)
            self._of_meter.setdefault(meter, []).append(vial)

    def find(self, meter_id: UUID | None, instant: datetime) -> Vial | None:
        """The vial in use in a meter at `instant`; of two the one opened later. None for none."""
        meter = meter_used(meter_id, instant, self._meters)
        if meter is None and self._meters:
            return None
        opened = self._of_meter.get(meter, [])
        before = bisect_right(opened, instant, key=_opened)
        return next((vial for vial in reversed(opened[:before]) if was_in_use(vial, instant)), None)


def vial_for(
    meter_id: UUID | None, instant: datetime, vials: Iterable[Vial], meters: Iterable[Meter] = ()
) -> Vial | None:
    """The vial in use in a meter at `instant`; see `VialShelf.find`."""
    in_use_then = (vial for vial in vials if was_in_use(vial, instant))
    return VialShelf(in_use_then, meters).find(meter_id, instant)


def vial_in_use(meter_id: UUID | None, kit: KitData) -> Vial | None:
    """The vial that is in use in a meter now; of several the one opened last."""
    open_ones = [v for v in vials_of(meter_id, kit.vials, kit.meters) if v.is_in_use]
    return max(open_ones, key=_opened, default=None)


def stock_vials(meter_id: UUID | None, kit: KitData) -> tuple[Vial, ...]:
    """The unopened vials of a meter, the one whose printed date comes first in front."""
    stock = [v for v in vials_of(meter_id, kit.vials, kit.meters) if v.is_in_stock]
    return tuple(sorted(stock, key=lambda vial: (printed_last_day(vial), vial.written_at)))


def printed_last_day(vial: Vial) -> date:
    """Its printed last day for ordering; one that prints none comes last."""
    return date.max if vial.expires is None else vial.expires.last_day


# --- what is said at a reading --------------------------------------------------------------------


def out_of_date_vial(
    meter_id: UUID | None, at: Moment, kit: KitData, settings: LogSettings
) -> tuple[Vial, Life] | None:
    """The vial in use at a moment if it was past its last day of use then, else None."""
    return _past_its_life(VialShelf(kit.vials, kit.meters).find(meter_id, at.instant), at, settings)


def out_of_date(
    readings: Iterable[Reading], kit: KitData, settings: LogSettings
) -> tuple[OutOfDate, ...]:
    """The readings made with a strip past its last day of use.

    Someone else's meter takes none of the person's strips, and a damaged reading tells of none.
    """
    shelf = VialShelf(kit.vials, kit.meters)
    found = []
    for reading in readings:
        if reading.is_foreign or reading.is_damaged:
            continue
        vial = shelf.find(reading.meter_id, reading.at.instant)
        past = _past_its_life(vial, reading.at, settings)
        if past is not None:
            found.append(OutOfDate(reading.id, *past))
    return tuple(found)


def _past_its_life(
    vial: Vial | None, at: Moment, settings: LogSettings
) -> tuple[Vial, Life] | None:
    life = None if vial is None else life_of(vial)
    if vial is None or life is None or at.day(settings.day_starts_at) <= life.until:
        return None
    return vial, life


def _opened(vial: Vial) -> datetime:
    return vial.opened_at or vial.written_at
