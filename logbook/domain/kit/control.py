"""Control tests: is what the strips and the meter show right? Never readings, in no figure.

When one is due and what follows from a failed one is told here; sentences are not.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from logbook.domain.glucose import Glucose
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.moments import Moment


@dataclass(frozen=True, slots=True)
class ControlBottle:
    """A bottle of control solution. `level` is the level as printed on it."""

    id: UUID
    level: str
    written_at: datetime
    lot: str = ""
    expires: PrintedDate | None = None
    after_opening: AfterOpening | None = None
    opened_on: date | None = None
    ended_on: date | None = None


@dataclass(frozen=True, slots=True)
class ControlTest:
    """One control test: what the meter showed for a drop of control solution.

    `temperature_tenths` is in tenths of a degree Celsius, None when nobody looked.
    """

    id: UUID
    at: Moment
    written_at: datetime
    meter_id: UUID | None
    vial_id: UUID | None
    bottle_id: UUID | None
    level: str
    glucose: Glucose
    temperature_tenths: int | None = None
    note: str = ""
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None
