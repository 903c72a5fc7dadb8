"""What a finding is: something that repeats in the log, with its evidence, in the order of review.

A finding names no cause and no treatment. What is said about it is for `wording`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import IntEnum, StrEnum
from uuid import UUID

from logbook.domain.glucose import Unit
from logbook.domain.readings import Difference
from logbook.domain.slots import Slot


class FindingKind(StrEnum):
    """What was found. Within a rank, findings stand in this order."""

    LOW_HELPED = "low_helped"
    LOW_REPEATED = "low_repeated"
    LOW_AT_NIGHT = "low_at_night"
    LOW_UNAWARE = "low_unaware"
    NEAR_LOW = "near_low"
    OVERNIGHT_FALL = "overnight_fall"
    BEFORE_LOW = "before_low"
    HIGH = "high"
    MEAL_RISE = "meal_rise"
    PROFILE = "profile"
    DAY_GROUP = "day_group"
    DRIFT = "drift"

    @property
    def is_statistical(self) -> bool:
        """Whether chance alone could bring it, so that a test has to answer for it."""
        return self in STATISTICAL


STATISTICAL = frozenset({FindingKind.DRIFT, FindingKind.DAY_GROUP, FindingKind.BEFORE_LOW})


class Rank(IntEnum):
    """The published order of review: lows, fasting and before meals, after meals.

    Structured-testing training text, read in a copy. What runs over weeks comes last (choice).
    """

    LOWS = 1
    BEFORE_MEALS = 2
    AFTER_MEALS = 3
    OVER_TIME = 4


class Side(StrEnum):
    """Which way something lies or goes."""

    HIGHER = "higher"
    LOWER = "lower"


class PartOfDay(StrEnum):
    """The times of day that are taken together to give a day one value."""

    WHOLE_DAY = "whole_day"
    BEFORE_MEALS = "before_meals"
    AFTER_MEALS = "after_meals"


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding: so many of so many, from a first to a latest day.

    `count` of `of` are lows (`low_...`; `low_unaware` of the lows it was answered for), checks
    (`near_low`, `high`, `profile`), pairs (`meal_rise`, `overnight_fall`), weeks (`drift`) or days
    (`day_group`, `before_low`). `first` and `last` are the person's days of the evidence, which
    `reading_ids` and `happening_ids` name, oldest first. `is_recent`: the latest of it lies within
    `LogSettings.finding_days` of the period's end.

    `middle` is a middle value and `change` a middle rise, change or difference, both in `unit`, the
    log's, unrounded; `limit_steps` the limit passed, in steps of `unit`, None where it is not
    printed in it. `group` is "weekend" or a group of days as the person named it. `helped` counts
    the lows of it in which someone had to help. `low_before_ids` are the records of lows in the 12
    hours before a high of the evidence.
    """

    kind: FindingKind
    slot: Slot | None
    group: str | None
    count: int
    of: int
    first: date
    last: date
    reading_ids: tuple[str, ...]
    happening_ids: tuple[UUID, ...]
    is_recent: bool
    rank: Rank
    unit: Unit
    middle: float | None = None
    limit_steps: int | None = None
    change: float | None = None
    side: Side | None = None
    part: PartOfDay | None = None
    difference: Difference | None = None
    helped: int = 0
    low_before_ids: tuple[str, ...] = ()


def rank_of_slot(slot: Slot) -> Rank:
    """Where a high at a time of day is reviewed; bedtime and night go with before meals."""
    return Rank.AFTER_MEALS if slot.is_after_meal else Rank.BEFORE_MEALS


def in_order_of_review(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by rank; in a rank those of late first, then by kind and time of day."""
    kinds = list(FindingKind)
    slots = list(Slot)
    return tuple(
        sorted(
            findings,
            key=lambda found: (
                found.rank,
                not found.is_recent,
                kinds.index(found.kind),
                -1 if found.slot is None else slots.index(found.slot),
                found.group or "",
                found.first,
            ),
        )
    )
