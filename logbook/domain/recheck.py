"""The next check after a low: when it is due, and whether it was made or answered."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.low_trail import RECHECK_AFTER, LowSign, LowTrail, times_low
from logbook.domain.series import Series


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


def recheck_due(
    series: Series,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    now: datetime,
) -> RecheckDue | None:
    """The check due after the latest low that is open, or None.

    None once a later reading is there (made as its recheck or not), once the person answered that
    it is done or will not be done, or 12 hours after the low. `series` needs the last 36 hours and
    the next 12, for a clock that went back; `now` is aware.
    """
    trail = LowTrail(series, happenings, answers, now)
    sign = trail.open_sign()
    if sign is None:
        return None
    due_at = recheck_due_at(trail, sign, now)
    return RecheckDue(sign.id, sign.at, due_at, times_low(trail.run_of(sign)))


def recheck_due_at(trail: LowTrail, sign: LowSign, now: datetime) -> datetime:
    """When the check after an open sign is due: in 15 minutes, or now where no clock can tell."""
    return now if trail.is_ahead(sign.instant) else sign.at + RECHECK_AFTER
