"""What happens to a meter, and how it compares: drops, batteries, its clock, the laboratory.

The meters themselves are in `meters`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment


class MeterWhat(StrEnum):
    """What happened to a meter."""

    FIRST_USED = "first_used"
    DROPPED = "dropped"
    DAMAGED = "damaged"
    BATTERY_CHANGED = "battery_changed"
    NOT_BELIEVED = "not_believed"
    CLEANED = "cleaned"
    CLOCK_CHECKED = "clock_checked"
    NOT_FOR_DECISIONS = "not_for_decisions"
    FIT_AGAIN = "fit_again"


@dataclass(frozen=True, slots=True)
class MeterEvent:
    """One such thing. `clock_ahead_minutes` is told only when the clock was checked."""

    id: UUID
    meter_id: UUID
    what: MeterWhat
    at: Moment
    written_at: datetime
    clock_ahead_minutes: int | None = None
    note: str = ""
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None


@dataclass(frozen=True, slots=True)
class LabComparison:
    """A fingerstick beside a laboratory value of the same time.

    `glucose` is what the meter showed, `laboratory` what the laboratory found, in the same unit.
    `minutes_apart` is how far apart the samples were taken, None when nobody knows.
    """

    id: UUID
    meter_id: UUID | None
    at: Moment
    written_at: datetime
    glucose: Glucose
    laboratory: Glucose
    minutes_apart: int | None = None
    was_fasting: bool | None = None
    note: str = ""
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None


@dataclass(frozen=True, slots=True)
class MeterAverage:
    """The meter's own average over so many days, and how many readings it took it from.

    `at` is when it was read off the meter. `count` is None where the meter does not tell it.
    """

    id: UUID
    meter_id: UUID | None
    at: Moment
    written_at: datetime
    days: int
    glucose: Glucose
    count: int | None = None
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None
