"""What the person told about medicines and health that changes how a number must be read.

They choose caution texts, the rule for near-lows and flags on page 1; never a target, never a dose.
Names and amounts of medicines stay free text (`visits.Medicine`).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.settings import LogSettings


class About(StrEnum):
    """What was asked about."""

    INSULIN = "insulin"
    LOW_CAUSING_TABLETS = "low_causing_tablets"
    SGLT2_INHIBITOR = "sglt2_inhibitor"
    SLOWS_SUGAR = "slows_sugar"
    STEROID_NOW = "steroid_now"
    BETA_BLOCKER = "beta_blocker"
    BLOOD_THINNER = "blood_thinner"
    # What can fool the meter.
    ANAEMIA = "anaemia"
    THICK_BLOOD = "thick_blood"
    HAEMODIALYSIS = "haemodialysis"
    ICODEXTRIN = "icodextrin"
    VITAMIN_C = "vitamin_c"
    POOR_CIRCULATION = "poor_circulation"
    # What can fool the A1C.
    HAEMOLYSIS = "haemolysis"
    KIDNEY_OR_LIVER = "kidney_or_liver"
    TRANSFUSION = "transfusion"
    ERYTHROPOIETIN = "erythropoietin"
    IRON_DEFICIENCY = "iron_deficiency"


ABOUT_MEDICINES = (
    About.INSULIN,
    About.LOW_CAUSING_TABLETS,
    About.SGLT2_INHIBITOR,
    About.SLOWS_SUGAR,
    About.STEROID_NOW,
    About.BETA_BLOCKER,
    About.BLOOD_THINNER,
)
FOOLS_THE_METER = (
    About.ANAEMIA,
    About.THICK_BLOOD,
    About.HAEMODIALYSIS,
    About.ICODEXTRIN,
    About.VITAMIN_C,
    About.POOR_CIRCULATION,
)
FOOLS_THE_A1C = (
    About.HAEMOLYSIS,
    About.KIDNEY_OR_LIVER,
    About.TRANSFUSION,
    About.ERYTHROPOIETIN,
    About.IRON_DEFICIENCY,
)


class Told(StrEnum):
    """What the person said."""

    YES = "yes"
    NO = "no"
    NOT_SURE = "not_sure"


@dataclass(frozen=True, slots=True)
class Tick:
    """One answer, which holds from a day on until another answer about the same thing does."""

    id: UUID
    about: About
    told: Told
    holds_from: date
    written_at: datetime


class TickBook:
    """All ticks ever told, asked as of a day."""

    def __init__(self, ticks: Iterable[Tick] = ()) -> None:
        self.all = tuple(sorted(ticks, key=lambda tick: (tick.holds_from, tick.written_at)))

    def in_force(self, about: About, day: date) -> Tick | None:
        """The tick that tells the answer in force on `day`; None when it was never asked."""
        found = None
        for tick in self.all:
            if tick.about is about and tick.holds_from <= day:
                found = tick
        return found

    def first_day_for(self, tick: Tick) -> date | None:
        """The first day from which `tick` can hold: that of the answer before it; None for any.

        An answer that began before the one it follows would be overruled by it.
        """
        same = [one for one in self.all if one.about is tick.about]
        place = next((at for at, one in enumerate(same) if one.id == tick.id), 0)
        return same[place - 1].holds_from if place else None

    def told(self, about: About, day: date) -> Told | None:
        """The answer in force on `day`; None when it was never asked."""
        tick = self.in_force(about, day)
        return None if tick is None else tick.told

    def holds(self, about: About, day: date) -> bool:
        """Whether the answer in force is yes."""
        return self.told(about, day) is Told.YES

    def may_hold(self, about: About, day: date) -> bool:
        """Whether the answer in force is yes or not sure."""
        return self.told(about, day) in (Told.YES, Told.NOT_SURE)


def can_have_lows(ticks: TickBook, settings: LogSettings, day: date) -> bool | None:
    """Whether the medicines of that day can cause lows; None (nobody knows) counts as yes.

    Insulin, or tablets that can cause lows. Where neither was told, the one answer given when the
    log was begun holds.
    """
    told = [ticks.told(about, day) for about in (About.INSULIN, About.LOW_CAUSING_TABLETS)]
    if Told.YES in told:
        return True
    if Told.NOT_SURE in told:
        return None
    if None in told:
        return settings.can_have_lows
    return False
