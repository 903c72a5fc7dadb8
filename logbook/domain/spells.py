"""Stretches of days that were not ordinary: ill, a steroid course, in hospital, travelling."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from uuid import UUID


class SpellKind(StrEnum):
    """What kind of stretch it was."""

    ILL = "ill"
    STEROID = "steroid"
    HOSPITAL = "hospital"
    TRAVEL = "travel"
    FASTING_MONTH = "fasting_month"
    NEW_MEDICINE = "new_medicine"
    DIALYSIS = "dialysis"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Spell:
    """One stretch, first and last day included; `last` is None while it goes on."""

    id: UUID
    kind: SpellKind
    first: date
    last: date | None = None
    note: str = ""

    def covers(self, day: date) -> bool:
        """Whether the person's `day` lies in it."""
        return self.first <= day and (self.last is None or day <= self.last)
