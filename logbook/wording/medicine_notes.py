"""What was not as planned with a medicine, in a word or two."""

from __future__ import annotations

from logbook.domain.medicine_notes import NotAsPlanned
from logbook.wording import _, mark

_KIND = {
    NotAsPlanned.LATE: mark("Medicine taken late"),
    NotAsPlanned.MISSED: mark("Medicine missed"),
    NotAsPlanned.OTHER_AMOUNT: mark("Another amount of medicine"),
    NotAsPlanned.UNITS_TAKEN: mark("Units taken"),
}


def not_as_planned_text(kind: NotAsPlanned) -> str:
    """What was different; what the person wrote about it stands beside it."""
    return _(_KIND[kind])
