"""Strips: pots (vials), singles and drums, in stock and in use, and how many are left.

Which readings take a strip is told from the log, never stored twice: one made with the meter of a
vial while that vial was in use.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.glucose import Unit
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.moments import Moment


class Packing(StrEnum):
    """How strips come: a pot (vial), foil-wrapped singles, or a drum."""

    VIAL = "vial"
    SINGLES = "singles"
    DRUM = "drum"


class WhyEnded(StrEnum):
    """Why a vial is no longer in use."""

    EMPTY = "empty"
    OUT_OF_DATE = "out_of_date"
    DAMAGED = "damaged"
    FAILED_CONTROL = "failed_control"
    LOST = "lost"


@dataclass(frozen=True, slots=True)
class ControlRange:
    """The range printed on a vial for one level of control solution, in steps of `unit`.

    `level` is the level as printed on the bottle ("1", "normal", "high").
    """

    level: str
    unit: Unit
    lowest: int
    highest: int


@dataclass(frozen=True, slots=True)
class Vial:
    """One vial (or pack) of strips.

    `count` is how many it held when full. `opened_at` is the instant from which it is in use,
    `opened_on` the person's day of it; both are None while it is in stock. `ended_at` is the
    instant from which it is no longer in use; `why_ended` tells why. `code` is what the meter must
    show for these strips, empty for a meter that needs none.
    """

    id: UUID
    meter_id: UUID | None
    count: int
    written_at: datetime
    packing: Packing = Packing.VIAL
    lot: str = ""
    code: str = ""
    expires: PrintedDate | None = None
    after_opening: AfterOpening | None = None
    opened_at: datetime | None = None
    opened_on: date | None = None
    ended_at: datetime | None = None
    why_ended: WhyEnded | None = None
    ranges: tuple[ControlRange, ...] = ()

    @property
    def is_in_use(self) -> bool:
        """Opened, and not ended."""
        return self.opened_at is not None and self.ended_at is None

    @property
    def is_in_stock(self) -> bool:
        """Not opened and not ended."""
        return self.opened_at is None and self.ended_at is None


@dataclass(frozen=True, slots=True)
class StripCount:
    """The person counted: `left` strips are in the vial at that moment."""

    id: UUID
    vial_id: UUID
    at: Moment
    written_at: datetime
    left: int
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None


class StripUseKind(StrEnum):
    """What a strip was used for."""

    READING = "reading"
    FAILED = "failed"
    CONTROL_TEST = "control_test"


@dataclass(frozen=True, slots=True)
class StripUse:
    """One strip that was used, at an aware instant, with a meter.

    `meter_id` is None where nobody noted the meter; `was_typed` is false for readings that came
    from a file or from the meter's memory.
    """

    at: datetime
    meter_id: UUID | None
    kind: StripUseKind = StripUseKind.READING
    was_typed: bool = True
