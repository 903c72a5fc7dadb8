"""The next check after a low: when it is due, and whether it was made or answered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from logbook.domain.low_trail import RECHECK_AFTER, LowSign, LowTrail


@dataclass(frozen=True, slots=True)
class RecheckDue:
    """A check that is due after a low.

    `about` is the id of the low reading or of the happening, `low_at` its instant, `due_at` the
    instant from which the check is due, both in UTC. `times_low` counts the low checks of this low
    so far, without a value of 70 (3.9) or more between them; 1 after the first.
    """

    about: str
    low_at: datetime
    due_at: datetime
    times_low: int

    def is_overdue(self, now: datetime) -> bool:
        """Whether the moment has come."""
        return now >= self.due_at


def recheck_due_at(trail: LowTrail, sign: LowSign, now: datetime) -> datetime:
    """When the check after an open sign is due: in 15 minutes, or now where no clock can tell."""
    return now if trail.is_ahead(sign.instant) else sign.at + RECHECK_AFTER
