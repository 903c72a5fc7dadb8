"""Medicine that was not taken as planned, in the person's own words; silence means "as planned".

The program reads no name and no amount and reckons with neither.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.moments import Moment


class NotAsPlanned(StrEnum):
    """What was different; `UNITS_TAKEN` notes the units of mealtime insulin that were taken."""

    LATE = "late"
    MISSED = "missed"
    OTHER_AMOUNT = "other_amount"
    UNITS_TAKEN = "units_taken"


@dataclass(frozen=True, slots=True)
class MedicineNote:
    """One such note."""

    id: UUID
    kind: NotAsPlanned
    at: Moment
    written_at: datetime
    text: str = ""
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None
