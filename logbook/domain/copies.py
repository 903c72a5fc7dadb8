"""What is known about copies of a log, as facts: which are where, and which is the way back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from logbook.domain.health import CopyState

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
