"""Two versions of one record, from two copies of a log, of which neither follows from the other.

Both are kept: one holds meanwhile, and the person sees them side by side and says which is right.
The texts are those in which the log keeps its changes; only the store reads them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid5

_NAMESPACE = UUID("5f0c6a3e-0f4b-4c1d-9a57-3a4d1f2b7c60")


@dataclass(frozen=True, slots=True)
class Disagreement:
    """One record that says one thing in one copy and another in the other.

    `kind` and `about` name the record. `kept` is the version that holds until the person has
    chosen, `other` the one beside it. `settled_at` (UTC) is when the person chose, None for not
    yet.
    """

    id: UUID
    kind: str
    about: str
    kept: str
    other: str
    settled_at: datetime | None = None

    @classmethod
    def between(cls, kind: str, about: str, kept: str, other: str) -> Disagreement:
        """The disagreement of two versions. Its id follows from them, whichever copy finds it."""
        name = "\n".join((kind, about, *sorted((kept, other))))
        return cls(uuid5(_NAMESPACE, name), kind, about, kept, other)
