"""What is known about copies of a log, as facts: which are where, and which is the way back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from logbook.domain.health import CopyState
from logbook.domain.moments import Moment

LONGEST_WITHOUT = timedelta(days=7)
"""A copy in the second folder that is older is asked for, in words. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class SecondFolder:
    """A folder elsewhere, as a rule on a stick, that gets copies too.

    `folder` is its path as text; `is_there` is whether it can be reached now. `last_copy_there` is
    when the last copy was made that was read back from there, None for never.
    """

    folder: str
    is_there: bool
    last_copy_there: datetime | None

    def is_overdue(self, at: datetime) -> bool:
        """Whether the last copy there is more than a week old, or there is none."""
        return self.last_copy_there is None or at - self.last_copy_there > LONGEST_WITHOUT


@dataclass(frozen=True, slots=True)
class WayBack:
    """What can be gone back to when a log is damaged or gone.

    `copy` is the newest copy proved good, None when there is none; `newer_changes` is how many
    changes the plain-text journal holds beyond that copy (of all when there is no copy).
    """

    copy: CopyState | None
    newer_changes: int


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore did. `set_aside` is where the log lies that was there, empty for none.

    `changes` is how many changes the log has now.
    """

    set_aside: str
    changes: int


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """What was made of a journal: `changes` are in the log, `left_out` lines are not.

    `first_left_out` is the number of the first line left out (the journal's first line is 1), 0 for
    none.
    """

    changes: int
    left_out: int
    first_left_out: int


class CopyPlace(StrEnum):
    """Where something lies that can be gone back to."""

    BESIDE = "beside"
    """Among the copies beside the log."""
    ELSEWHERE = "elsewhere"
    """In another folder, as a rule on a stick."""
    SET_ASIDE = "set_aside"
    """A log that was set aside when the person went back to a copy."""


@dataclass(frozen=True, slots=True)
class OfferedCopy:
    """Something that may be gone back to, as far as it is known before it is read in full.

    `file` is its path as text, `made_at` when it was made (or set aside), `changes` how many it
    has. `is_as_now` is whether the log holds exactly the same.
    """

    file: str
    place: CopyPlace
    made_at: datetime
    changes: int
    is_as_now: bool = False


@dataclass(frozen=True, slots=True)
class ProvedCopy:
    """A copy that was read in full just now and is good: how many readings, and the newest one."""

    copy: OfferedCopy
    readings: int
    newest: Moment | None


@dataclass(frozen=True, slots=True)
class TriedRebuild:
    """A log made from the journal in a folder of its own, read back and good; not yet in use."""

    file: str
    rebuilt: Rebuilt
    readings: int
    newest: Moment | None


@dataclass(frozen=True, slots=True)
class GoneBack:
    """The last time a copy was gone back to, for as long as nothing was changed since.

    `set_aside` is the path of what was there before. `is_taken_back` says that this one was the
    taking back.
    """

    set_aside: str
    at: datetime
    is_taken_back: bool


@dataclass(frozen=True, slots=True)
class OlderCopies:
    """Copies beside the log that still hold what is erased from it.

    `last_day` is when the last of them goes, if the program is used every day; None when one of
    them stays.
    """

    count: int
    last_day: date | None
