"""Things for a low, and the supplies of which a stock is kept besides strips."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.dates import PrintedDate


class ForLows(StrEnum):
    """What is kept at hand for a low or for ketones."""

    GLUCOSE_TABLETS = "glucose_tablets"
    GLUCAGON = "glucagon"
    KETONE_STRIPS = "ketone_strips"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class LowSupply:
    """One such thing: whether it is there, where, until when, and who knows how to use it."""

    id: UUID
    kind: ForLows
    written_at: datetime
    is_there: bool = True
    place: str = ""
    expires: PrintedDate | None = None
    who_knows: str = ""
    note: str = ""
    ended_on: date | None = None


class SupplyKind(StrEnum):
    """What a stock is kept of. The stock of strips themselves are unopened vials."""

    STRIPS = "strips"
    LANCETS = "lancets"
    CONTROL_SOLUTION = "control_solution"
    BATTERIES = "batteries"
    PEN_NEEDLES = "pen_needles"
    SHARPS_CONTAINER = "sharps_container"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Supply:
    """One kind of supply: the exact type as it stands on the pack, and how many are there.

    `count` is as counted on `counted_on`; both are None where nobody counts. `meter_id` says for
    which meter it is, None where that does not matter or nobody said.
    """

    id: UUID
    kind: SupplyKind
    exact_type: str
    written_at: datetime
    count: int | None = None
    counted_on: date | None = None
    ended_on: date | None = None
    meter_id: UUID | None = None
