"""Things that happened without a number: a low that was only felt, a fall, a failed strip."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.moments import Moment
from logbook.domain.sites import Site


class What(StrEnum):
    """What happened."""

    FELT_LOW_TREATED = "felt_low_treated"
    NEEDED_HELP = "needed_help"
    AMBULANCE = "ambulance"
    FALL = "fall"
    STRIP_FAILED = "strip_failed"
    CANNOT_EAT_OR_DRINK = "cannot_eat_or_drink"

    @property
    def is_low(self) -> bool:
        """Counts as a low in findings and on page 1, never in a mean."""
        return self in LOWS

    @property
    def is_helped(self) -> bool:
        """Someone had to help: level 3 whatever the number (ADA 2024, section 6, read there)."""
        return self in HELPED


LOWS = frozenset({What.FELT_LOW_TREATED, What.NEEDED_HELP, What.AMBULANCE})
HELPED = frozenset({What.NEEDED_HELP, What.AMBULANCE})


class StripFailure(StrEnum):
    """What was done after a strip failed; one strip each, a puncture only when pricked again."""

    SAME_DROP = "same_drop"
    PRICKED_AGAIN = "pricked_again"
    ERROR_SHOWN = "error_shown"


@dataclass(frozen=True, slots=True)
class Happening:
    """One such thing. `strip_failure` is told only for a failed strip.

    `about` is the reading it belongs to, for example the low for which someone had to help. `site`
    is where the finger was pricked again, `meter_id` the meter in which a strip failed, where they
    were noted.
    """

    id: UUID
    what: What
    at: Moment
    written_at: datetime
    strip_failure: StripFailure | None = None
    about: UUID | None = None
    site: Site | None = None
    meter_id: UUID | None = None
    note: str = ""
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None
