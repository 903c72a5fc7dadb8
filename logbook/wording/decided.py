"""What is decided at a visit, in one order for the page after it and for the box on the report."""

from __future__ import annotations

from enum import StrEnum

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
