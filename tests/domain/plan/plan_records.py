"""Plans, pauses and the like from a few words, for the tests of the plan."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PlannedCheck, PutAside
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.visits import Appointment
from tests.domain.series_of import moment, new_id

WRITTEN = datetime(2025, 12, 1, 12, 0, tzinfo=UTC)
DAY_START = time(4, 0)

FASTING = PlannedCheck(Slot.FASTING, time(7, 30))
BEFORE_DINNER = PlannedCheck(Slot.BEFORE_DINNER, time(18, 0))
NIGHT = PlannedCheck(Slot.NIGHT, time(3, 0))


def plan(
    *checks: PlannedCheck,
    holds_from: str = "2026-01-01",
    profile_days: int = 0,
    ill_every_hours: int | None = None,
    written_at: datetime = WRITTEN,
) -> CheckPlan:
    return CheckPlan(
        new_id(),
        date.fromisoformat(holds_from),
        checks,
        written_at,
        profile_days=profile_days,
        ill_every_hours=ill_every_hours,
    )


def pause(first: str, last: str | None = None) -> Pause:
    end = None if last is None else date.fromisoformat(last)
    return Pause(new_id(), date.fromisoformat(first), WRITTEN, end)


def put_aside(day: str, slot: Slot) -> PutAside:
    return PutAside(new_id(), date.fromisoformat(day), slot, WRITTEN)


def meal_start(wall: str, slot: Slot, zone: str = "UTC") -> MealStart:
    at = moment(wall, zone)
    return MealStart(new_id(), slot, at, at.instant)


def ill(first: str, last: str | None = None) -> Spell:
    end = None if last is None else date.fromisoformat(last)
    return Spell(new_id(), SpellKind.ILL, date.fromisoformat(first), end)


def appointment(day: str, at: time | None = None, with_whom: str = "") -> Appointment:
    return Appointment(new_id(), date.fromisoformat(day), at, with_whom)
