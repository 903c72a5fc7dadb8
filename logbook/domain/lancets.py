"""The lancet in the device: since when, how many punctures, and why it was changed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.moments import Moment


class LancetHabit(StrEnum):
    """New for every check (the default, and what makers ask for), or used several times."""

    NEW_EACH_TIME = "new_each_time"
    REUSE = "reuse"


class LancetChangeReason(StrEnum):
    """Why a new lancet was put in."""

    USUAL = "usual"
    DULL = "dull"
    PAINFUL = "painful"
    DROPPED = "dropped"
    ILL = "ill"


@dataclass(frozen=True, slots=True)
class LancetChange:
    """A new lancet put into the device."""

    id: UUID
    at: Moment
    written_at: datetime
    reason: LancetChangeReason = LancetChangeReason.USUAL
