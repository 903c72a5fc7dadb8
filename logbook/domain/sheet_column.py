"""Going down one column of a paper sheet: the same time of day, day after day.

A sheet with columns for meals often has no clock times. A row then gets the time of the plan that
held on its day, else the person's usual one, else a common one, and says that it is about that
time.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum

from logbook.domain.catch_up import day_below
from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.domain.plan.calendar_days import USUAL_CLOCK, plan_on
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualTimes

# A column of other checks has no time of day that could be told.
COLUMNS = tuple(slot for slot in Slot if slot is not Slot.OTHER)


class NextRow(StrEnum):
    """What a sheet's next number is: the check before it in time, or the next of its column."""

    CHECK_BEFORE = "check_before"
    DAY_EARLIER = "day_earlier"
    DAY_LATER = "day_later"

    @property
    def days(self) -> int:
        """How many days on the next row lies; 0 where the clock tells it."""
        return {NextRow.DAY_EARLIER: -1, NextRow.DAY_LATER: 1}.get(self, 0)


class ClockFrom(StrEnum):
    """What the time of a row without a clock time rests on."""

    PLAN = "plan"
    HABIT = "habit"
    COMMON = "common"


@dataclass(frozen=True, slots=True)
class ColumnClock:
    """About when such a check was made, and what says so."""

    at: time
    told_by: ClockFrom


def column_clock(
    slot: Slot, day: date, plans: Iterable[CheckPlan], usual: UsualTimes
) -> ColumnClock:
    """About when the check of this slot was made on `day`."""
    plan = plan_on(plans, day)
    planned = [] if plan is None else [check.at for check in plan.checks if check.slot is slot]
    if planned:
        return ColumnClock(planned[0], ClockFrom.PLAN)
    habit = [check.at for check in usual.checks if check.slot is slot]
    if habit:
        return ColumnClock(habit[0], ClockFrom.HABIT)
    return ColumnClock(USUAL_CLOCK[slot], ClockFrom.COMMON)


@dataclass(frozen=True, slots=True)
class SheetColumn:
    """The column that is copied; `first` is the day of the sheet's first row, `day` the next one's.

    Both are None until a row was taken: on which day a sheet begins only the person knows.
    """

    slot: Slot
    way: NextRow
    first: date | None = None
    day: date | None = None

    def past(self, day: date) -> SheetColumn:
        """The column after its row of `day` was taken, or had no number."""
        return replace(self, first=self.first or day, day=day + timedelta(days=self.way.days))

    def another(self, slot: Slot) -> SheetColumn:
        """Another column of the same sheet: it begins on the same day."""
        return self if slot is self.slot else replace(self, slot=slot, day=self.first)

    def day_offered(self, clock: time, now: datetime) -> date:
        """The day of the next row; of the very first the latest that is over, to be typed over."""
        return self.day or day_below(None, clock, now)


def written_for(
    slot: Slot, at: Moment, readings: Iterable[Reading], day_starts_at: time = DAY_STARTS_AT
) -> list[Reading]:
    """The log's readings of this slot on the person's day of `at`, in their order."""
    day = at.day(day_starts_at)
    return [
        one
        for one in readings
        if one.slot is slot
        and one.crossed_out is None
        and not one.is_damaged
        and one.at.day(day_starts_at) == day
    ]
