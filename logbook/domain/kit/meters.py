"""The meters a person reads from, and what each of them can show."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID

from logbook.domain.glucose import Unit
from logbook.domain.levels import METER_LIMITS


@dataclass(frozen=True, slots=True)
class Meter:
    """A meter by the name the person gave it ("bedside", "handbag").

    `lowest` and `highest` are the last values it shows as a number, in steps of `unit`; outside
    them it shows LO or HI. `clock_ahead` is how far the meter's clock runs ahead of the computer's.
    `is_own` is false for a clinic's, hospital's or helper's meter: such readings are kept and
    printed but use no strip, lancet or finger and stay outside figures.
    """

    id: UUID
    name: str
    unit: Unit
    lowest: int
    highest: int
    in_use_from: date
    in_use_until: date | None = None
    is_own: bool = True
    clock_ahead: timedelta = timedelta(0)

    @classmethod
    def usual(cls, meter_id: UUID, name: str, unit: Unit, in_use_from: date) -> Meter:
        """A meter with the limits most meters have (20 and 600 mg/dL)."""
        lowest, highest = METER_LIMITS[unit]
        return cls(meter_id, name, unit, lowest, highest, in_use_from)

    def is_in_use(self, day: date) -> bool:
        """Whether `day` lies between the first and the last day of its use."""
        return self.in_use_from <= day and (self.in_use_until is None or day <= self.in_use_until)


def own_meters(meters: Iterable[Meter], day: date) -> tuple[Meter, ...]:
    """The person's own meters that are in use on `day`; a clinic's or helper's are kept apart."""
    return tuple(meter for meter in meters if meter.is_own and meter.is_in_use(day))


def meter_used(meter_id: UUID | None, at: datetime, meters: Iterable[Meter]) -> UUID | None:
    """The own meter that was used at `at`, where `meter_id` is what was noted of it.

    Nothing noted means the only own meter in use at the time, or else the only own one on record;
    with several nobody knows, and None is told. None is also told for someone else's meter. Where
    no meter at all is on record, what was noted is taken as it is.
    """
    known = tuple(meters)
    if not known:
        return meter_id
    own = [meter for meter in known if meter.is_own]
    if meter_id is not None:
        return meter_id if any(meter.id == meter_id for meter in own) else None
    in_use = own_meters(own, at.date()) or own
    return in_use[0].id if len(in_use) == 1 else None
