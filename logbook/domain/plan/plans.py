"""Plans as they are kept: the checks that hold from a day on, pauses, and days put aside.

A plan holds until the next one begins; the past is judged by the plan of its own day.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from uuid import UUID

from logbook.domain.moments import Moment
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy

EVERY_WEEKDAY = (0, 1, 2, 3, 4, 5, 6)
WEEK_DAYS = len(EVERY_WEEKDAY)


@dataclass(frozen=True, slots=True)
class PlannedCheck:
    """One check of a plan: a time of day, the clock time, and the days on which it is asked.

    It falls on days whose weekday (0 for Monday) is in `weekdays` and, with `every_days` above 1,
    only on those whose distance from the plan's first day leaves `day_offset` when divided by it:
    every other day is 2, meals that take turns are 3 with the offsets 0, 1 and 2. Every other week
    is 14 with one weekday, that of the day which the offset names. `minutes_after` is for
    after-meal checks and counts from the first bite.
    """

    slot: Slot
    at: time
    weekdays: tuple[int, ...] = EVERY_WEEKDAY
    every_days: int = 1
    day_offset: int = 0
    minutes_after: int | None = None

    @property
    def weeks_apart(self) -> int | None:
        """How many weeks lie between its days, where it is asked on one day in two or more."""
        weeks, rest = divmod(self.every_days, WEEK_DAYS)
        return weeks if weeks > 1 and not rest and len(self.weekdays) == 1 else None


@dataclass(frozen=True, slots=True)
class CheckPlan:
    """What was agreed about checking, from `holds_from` on.

    `profile_days` is on how many days before an appointment all seven times of day are checked, 0
    for none. `ill_every_hours` is how often to check when ill, None where nothing was agreed.
    `source` names a published schedule that it began from.
    """

    id: UUID
    holds_from: date
    checks: tuple[PlannedCheck, ...]
    written_at: datetime
    set_by: SetBy = SetBy.PROVIDER
    set_by_name: str = ""
    source: str = ""
    profile_days: int = 0
    ill_every_hours: int | None = None


@dataclass(frozen=True, slots=True)
class Pause:
    """Days on which nothing is asked, first and last included; `last` is None while it goes on."""

    id: UUID
    first: date
    written_at: datetime
    last: date | None = None
    reason: str = ""

    def covers(self, day: date) -> bool:
        """Whether the person's `day` lies in it."""
        return self.first <= day and (self.last is None or day <= self.last)


@dataclass(frozen=True, slots=True)
class PutAside:
    """A planned check that the person put aside for one day: "not today"."""

    id: UUID
    day: date
    slot: Slot
    written_at: datetime


@dataclass(frozen=True, slots=True)
class MealStart:
    """The first bite of a meal; `slot` is the after-meal check that counts from it."""

    id: UUID
    slot: Slot
    at: Moment
    written_at: datetime
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None
