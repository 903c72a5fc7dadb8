"""The same number in the logs of two people within minutes: likely one person's, written twice.

Only what the running program itself saved since it was started is known of another log.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from logbook.domain.glucose import Glucose, Kind
from logbook.domain.moments import Moment

# Long enough to close one log, open the other and type; judgement without a source.
SAME_WITHIN = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class SavedNumber:
    """A number that was saved in another log: for which moment, and the aware instant of Save."""

    glucose: Glucose
    at: Moment
    saved_at: datetime

    def is_recent(self, now: datetime) -> bool:
        """Whether it was saved in the last minutes; a clock that was set back makes it old."""
        return timedelta(0) <= now - self.saved_at <= SAME_WITHIN

    def is_same(self, glucose: Glucose, at: Moment, now: datetime) -> bool:
        """Whether it may be the very reading of `glucose` for `at` that is about to be saved.

        LO and HI are letters, which two people's meters may well show alike.
        """
        is_about_then = abs(at.instant - self.at.instant) <= SAME_WITHIN
        is_number = glucose.kind is Kind.NUMBER
        return is_number and glucose == self.glucose and is_about_then and self.is_recent(now)
