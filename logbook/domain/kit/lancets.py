"""The lancet in the device: since when, how many punctures, and why it was changed."""

from __future__ import annotations

from collections.abc import Iterable
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


# From this use of one lancet on, it is said that blunt lancets hurt more. Common practice says one
# lancet, one puncture; the number is a judgement without a source.
BLUNT_FROM_USE = 4


@dataclass(frozen=True, slots=True)
class LancetInDevice:
    """The lancet that is in the device now.

    `since` and `uses` (punctures made with it) are None when no change is on record, so that
    nobody knows how old it is.
    """

    since: Moment | None
    uses: int | None

    def is_blunt(self, habit: LancetHabit) -> bool:
        """Whether the next check is its 4th use or a later one; never for a new one each time."""
        if habit is LancetHabit.NEW_EACH_TIME or self.uses is None:
            return False
        return self.uses + 1 >= BLUNT_FROM_USE


def lancet_in_device(
    punctured_at: Iterable[Moment], changes: Iterable[LancetChange]
) -> LancetInDevice:
    """The lancet now in the device, counted from the last change on record.

    `punctured_at` are the moments of all punctures since then, or more, in any order; one at the
    very moment of the change was made with the new lancet.
    """
    last = max(changes, key=lambda change: change.at.instant, default=None)
    if last is None:
        return LancetInDevice(None, None)
    uses = sum(1 for moment in punctured_at if moment.instant >= last.at.instant)
    return LancetInDevice(last.at, uses)
