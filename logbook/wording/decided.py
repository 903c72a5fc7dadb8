"""What is decided at a visit: its order, after the visit and on the report, and its free text."""

from __future__ import annotations

from enum import StrEnum

from logbook.domain.visits import Appointment
from logbook.wording import _, mark


class Decided(StrEnum):
    """The things that have a place of their own, in the order of asking."""

    MEDICINES = "medicines"
    TARGETS = "targets"
    CHECKS = "checks"
    APPOINTMENT = "appointment"


_NAME = {
    Decided.MEDICINES: mark("Medicines"),
    Decided.TARGETS: mark("Targets"),
    Decided.CHECKS: mark("When to check"),
    Decided.APPOINTMENT: mark("Next appointment"),
}


def decided_name(decided: Decided) -> str:
    """What it is called."""
    return _(_NAME[decided])


def shortened(text: str, longest: int = 80) -> str:
    """Free text in one line, cut at so many characters."""
    line = " ".join(text.split())
    return line if len(line) <= longest else f"{line[: longest - 1].rstrip()}…"


def decided_at_text(visit: Appointment) -> str:
    """What was written down about a visit, in one line, and with whom it was."""
    words = shortened(visit.decided)
    if visit.with_whom:
        return _("With {name}: {words}").format(
            name=visit.with_whom, words=words or _("nothing in your own words")
        )
    return words or _("Nothing in your own words")
