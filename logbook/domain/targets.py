"""What the provider wants the readings to be: limits with operator, as printed, from a day on.

A target is stored as printed in each unit and never derived from the other unit. A reading is
judged by the target of its own day, in its own unit. Published starting points are in `guidelines`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.slots import Slot


class TargetKind(StrEnum):
    """The times for which targets are agreed."""

    FASTING = "fasting"
    BEFORE_MEALS = "before_meals"
    AFTER_MEALS = "after_meals"
    BEDTIME = "bedtime"
    NIGHT = "night"


KIND_OF_SLOT = {
    Slot.FASTING: TargetKind.FASTING,
    Slot.BEFORE_LUNCH: TargetKind.BEFORE_MEALS,
    Slot.BEFORE_DINNER: TargetKind.BEFORE_MEALS,
    Slot.BEFORE_SNACK: TargetKind.BEFORE_MEALS,
    Slot.AFTER_BREAKFAST: TargetKind.AFTER_MEALS,
    Slot.AFTER_LUNCH: TargetKind.AFTER_MEALS,
    Slot.AFTER_DINNER: TargetKind.AFTER_MEALS,
    Slot.AFTER_SNACK: TargetKind.AFTER_MEALS,
    Slot.BEDTIME: TargetKind.BEDTIME,
    Slot.NIGHT: TargetKind.NIGHT,
}


class Operator(StrEnum):
    """How a limit is meant. 180 is outside "below 180" and inside "at most 180"."""

    AT_LEAST = "at_least"
    ABOVE = "above"
    AT_MOST = "at_most"
    BELOW = "below"


class SetBy(StrEnum):
    """Whose numbers these are."""

    PROVIDER = "provider"
    SELF = "self"
    PUBLISHED = "published"


@dataclass(frozen=True, slots=True)
class Limit:
    """One end of a target: operator and steps of the unit."""

    operator: Operator
    steps: int

    def admits(self, steps: int) -> bool:
        """Whether a value of `steps`, in the same unit, is on the wanted side."""
        match self.operator:
            case Operator.AT_LEAST:
                return steps >= self.steps
            case Operator.ABOVE:
                return steps > self.steps
            case Operator.AT_MOST:
                return steps <= self.steps
            case Operator.BELOW:
                return steps < self.steps


@dataclass(frozen=True, slots=True)
class Limits:
    """Lower and upper limit in one unit, as printed; either may be missing."""

    unit: Unit
    lower: Limit | None
    upper: Limit | None


@dataclass(frozen=True, slots=True)
class Target:
    """Limits for one kind of check, from a day on.

    `printed` holds the limits in each unit in which they were given; empty means "no target from
    this day on". `is_agreed` is false until the provider has agreed to a published starting point.
    """

    id: UUID
    kind: TargetKind
    printed: tuple[Limits, ...]
    holds_from: date
    set_by: SetBy
    set_by_name: str = ""
    source: str = ""
    edition: str = ""
    is_agreed: bool = True
    written_at: datetime | None = None

    def limits_in(self, unit: Unit) -> Limits | None:
        """The limits as printed in `unit`, or None when they were not given in it."""
        return next((limits for limits in self.printed if limits.unit is unit), None)


class Verdict(StrEnum):
    """How a value stands to a target."""

    BELOW = "below"
    IN_TARGET = "in_target"
    ABOVE = "above"


def judge_steps(steps: int, limits: Limits) -> Verdict:
    """How a value (in steps of the limits' unit) stands to `limits`."""
    if limits.lower is not None and not limits.lower.admits(steps):
        return Verdict.BELOW
    if limits.upper is not None and not limits.upper.admits(steps):
        return Verdict.ABOVE
    return Verdict.IN_TARGET


def judge(glucose: Glucose, target: Target | None) -> Verdict | None:
    """How a reading stands to its target; None without one in the reading's own unit."""
    limits = target.limits_in(glucose.unit) if target is not None else None
    if limits is None or (limits.lower is None and limits.upper is None):
        return None
    return judge_steps(glucose.order_steps, limits)


class TargetBook:
    """All targets a person ever had, asked by slot and day."""

    def __init__(self, targets: Iterable[Target]) -> None:
        self.all = tuple(targets)
        self._by_kind: dict[TargetKind, list[Target]] = {kind: [] for kind in TargetKind}
        for target in self.all:
            self._by_kind[target.kind].append(target)
        for of_kind in self._by_kind.values():
            # The later written of two that hold from the same day is the one that is meant.
            of_kind.sort(key=lambda t: (t.holds_from, t.written_at is not None, t.written_at))

    def of_kind(self, kind: TargetKind, day: date) -> Target | None:
        """The target of `kind` that holds on `day`, or None."""
        found = None
        for target in self._by_kind[kind]:
            if target.holds_from > day:
                break
            found = target
        return found if found is not None and found.printed else None

    def for_slot(self, slot: Slot, day: date) -> Target | None:
        """The target for a check in `slot` on the person's `day`, or None."""
        kind = KIND_OF_SLOT.get(slot)
        return None if kind is None else self.of_kind(kind, day)

    def ever_held(self, kind: TargetKind) -> tuple[Target, ...]:
        """Every target of `kind` that held or will hold, oldest first.

        Each holds until the day before the next one. Those without limits ("no target from this day
        on") are among them.
        """
        by_day = {target.holds_from: target for target in self._by_kind[kind]}
        return tuple(by_day.values())

    def change_days(self, kind: TargetKind | None = None) -> list[date]:
        """The days from which something new holds, in order, once each."""
        return sorted({t.holds_from for t in self.all if kind is None or t.kind is kind})
