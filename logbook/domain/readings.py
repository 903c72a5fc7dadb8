"""One check of the blood glucose, with its circumstances, and what became of it later.

Nothing is silently rewritten: a correction keeps the earlier value, its time and the reason; a
crossed-out reading stays in the log, outside every figure, and can be brought back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from uuid import UUID

from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Purpose, Slot, judged_slot


class Source(StrEnum):
    """How the reading came into the log."""

    TYPED = "typed"
    COPIED_FROM_METER = "copied_from_meter"
    IMPORTED = "imported"


class Feeling(StrEnum):
    """What the person felt at the time."""

    WELL = "well"
    SHAKY = "shaky"
    SWEATY = "sweaty"
    DIZZY = "dizzy"
    CONFUSED = "confused"
    WEAK = "weak"
    HUNGRY = "hungry"
    THIRSTY = "thirsty"
    UNWELL = "unwell"


class Difference(StrEnum):
    """What was different from an ordinary day."""

    ATE_MORE = "ate_more"
    ATE_LESS = "ate_less"
    ATE_LATE = "ate_late"
    MORE_ACTIVE = "more_active"
    LESS_ACTIVE = "less_active"
    ILL = "ill"
    STRESS = "stress"
    POOR_SLEEP = "poor_sleep"
    ALCOHOL = "alcohol"
    MEDICINE_LATE = "medicine_late"
    MEDICINE_MISSED = "medicine_missed"
    OTHER = "other"


class Doubt(StrEnum):
    """Why a number is not believed."""

    UNWASHED_FINGER = "unwashed_finger"
    STRIP = "strip"
    METER = "meter"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Earlier:
    """What a reading said before it was corrected."""

    glucose: Glucose
    at: Moment
    slot: Slot
    corrected_at: datetime
    reason: str = ""


@dataclass(frozen=True, slots=True)
class CrossedOut:
    """That, when and why a reading was crossed out."""

    at: datetime
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """One check.

    `at` is when the drop was tested, `written_at` (UTC) when it was written down.
    `minutes_after` counts from the first bite of the meal, for after-meal slots.
    `recheck_of` is the reading this one checks again, when it is known.
    `earlier` holds what was corrected, oldest first. `is_damaged` marks a record that is no longer
    what was written: it is shown as damaged, never as a number, and stays outside every figure.
    """

    id: UUID
    glucose: Glucose
    at: Moment
    written_at: datetime
    slot: Slot
    purpose: Purpose = Purpose.PLANNED
    source: Source = Source.TYPED
    minutes_after: int | None = None
    meter_id: UUID | None = None
    is_foreign: bool = False
    site: Site | None = None
    site_use: SiteUse = SiteUse.NOT_NOTED
    recheck_of: UUID | None = None
    feelings: tuple[Feeling, ...] = ()
    differences: tuple[Difference, ...] = ()
    could_not_wash: bool = False
    note: str = ""
    initials: str = ""
    crossed_out: CrossedOut | None = None
    doubt: Doubt | None = None
    earlier: tuple[Earlier, ...] = ()
    is_damaged: bool = False

    @property
    def counts(self) -> bool:
        """Takes part in figures: not crossed out, not doubted, own meter, undamaged."""
        return not (
            self.crossed_out is not None
            or self.doubt is not None
            or self.is_foreign
            or self.is_damaged
        )

    @property
    def judged_slot(self) -> Slot:
        """The slot whose target this reading is held against (see `slots.judged_slot`)."""
        return judged_slot(self.slot, self.minutes_after)

    @property
    def written_after(self) -> timedelta:
        """How long after the check it was written down."""
        return self.written_at - self.at.instant

    @property
    def has_puncture(self) -> bool:
        """Whether a finger of this person was pricked for it, as far as a log can tell."""
        return not self.is_foreign

    def corrected(
        self, glucose: Glucose, at: Moment, slot: Slot, when: datetime, reason: str = ""
    ) -> Reading:
        """This reading with other values, keeping what it said before."""
        was = Earlier(self.glucose, self.at, self.slot, when, reason)
        return replace(self, glucose=glucose, at=at, slot=slot, earlier=(*self.earlier, was))
