"""What a check of the whole log found: each finding a code with its facts, never a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class FindingKind(StrEnum):
    """What is not as it should be."""

    STRUCTURE = "structure"
    """The database file itself is damaged (SQLite's own check)."""
    REFERENCE = "reference"
    """A record refers to one that is not there."""
    ROW = "row"
    """A record is no longer what was written."""
    LOG_DIGEST = "log_digest"
    """The records together are not what they should be: one is missing or was added."""
    CHANGE = "change"
    """A change is no longer what was written."""
    SEQUENCE = "sequence"
    """A change is missing."""
    JOURNAL_MISSING = "journal_missing"
    """There is no plain-text journal."""
    JOURNAL_BEHIND = "journal_behind"
    """The journal lacks changes; the next opening for writing adds them."""
    JOURNAL_UNKNOWN = "journal_unknown"
    """The journal has lines of changes that the log does not have."""
    JOURNAL_LINE = "journal_line"
    """Lines of the journal are no longer what was written."""
    COPY = "copy"
    """A copy is damaged."""


OF_THE_LOG = frozenset(
    {
        FindingKind.STRUCTURE,
        FindingKind.REFERENCE,
        FindingKind.ROW,
        FindingKind.LOG_DIGEST,
        FindingKind.CHANGE,
        FindingKind.SEQUENCE,
    }
)
"""What is damage to the log itself; the others are of its journal and its copies."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not as it should be: how often, and where (a table, a file, an id)."""

    kind: FindingKind
    subject: str
    count: int = 1


@dataclass(frozen=True, slots=True)
class CopyState:
    """One copy of this log: its file name, when it was made, for what, and whether it is good.

    `size` is in bytes; `changes` is how many changes it has, 0 when it can't be read.
    """

    name: str
    made_at: datetime
    occasion: str
    is_good: bool
    size: int
    changes: int = 0


@dataclass(frozen=True, slots=True)
class Health:
    """The result of a check.

    `records` and `changes` were read and compared; `copies` are those of this log, newest first.
    """

    findings: tuple[Finding, ...]
    records: int
    changes: int
    copies: tuple[CopyState, ...]

    @property
    def is_sound(self) -> bool:
        """Nothing was found; having no copies yet is not a problem."""
        return not self.findings

    @property
    def is_log_damaged(self) -> bool:
        """Whether the log itself is not as it was written."""
        return any(finding.kind in OF_THE_LOG for finding in self.findings)
