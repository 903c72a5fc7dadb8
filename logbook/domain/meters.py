"""The meters a person reads from, and what each of them can show."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
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
