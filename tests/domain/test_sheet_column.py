"""Going down a column of a paper sheet: which day is next, about when it was, what is there."""

from __future__ import annotations

from datetime import date, datetime, time
from uuid import uuid4

import pytest

from logbook.domain.catch_up import Row, matched
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import USUAL_CLOCK
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.sheet_column import (
    COLUMNS,
    ClockFrom,
    ColumnClock,
    NextRow,
    SheetColumn,
    column_clock,
    written_for,
)
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualCheck, UsualTimes
from tests.domain.series_of import moment, reading

NOW = datetime(2026, 3, 31, 10, 0)
NO_HABIT = UsualTimes((), frozenset(), time(4))
HABIT = UsualTimes((UsualCheck(Slot.FASTING, time(7, 15), 195),), frozenset(), time(4))


def _plan(holds_from: date, at: time) -> CheckPlan:
    checks = (PlannedCheck(Slot.FASTING, at),)
    return CheckPlan(uuid4(), holds_from, checks, moment("2026-01-01 08:00").instant)


# --- about when ----------------------------------------------------------------------------------


def test_the_plan_of_the_day_comes_first_then_the_habit_then_what_is_common() -> None:
    plans = [_plan(date(2026, 2, 1), time(6, 30)), _plan(date(2026, 3, 1), time(8, 0))]
    told = [column_clock(Slot.FASTING, date(2026, month, 15), plans, HABIT) for month in (1, 2, 3)]
    assert told == [
        ColumnClock(time(7, 15), ClockFrom.HABIT),
        ColumnClock(time(6, 30), ClockFrom.PLAN),
        ColumnClock(time(8, 0), ClockFrom.PLAN),
    ]
    common = column_clock(Slot.BEDTIME, date(2026, 3, 15), plans, HABIT)
    assert common == ColumnClock(USUAL_CLOCK[Slot.BEDTIME], ClockFrom.COMMON)


@pytest.mark.parametrize("slot", COLUMNS)
def test_every_column_has_a_time(slot: Slot) -> None:
    assert column_clock(slot, date(2026, 3, 1), (), NO_HABIT).told_by is ClockFrom.COMMON


# --- which day -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("way", "days"), [(NextRow.DAY_EARLIER, [2, 1, 28]), (NextRow.DAY_LATER, [2, 3, 4])]
)
def test_each_row_is_a_day_further(way: NextRow, days: list[int]) -> None:
    column = SheetColumn(Slot.FASTING, way)
    found = []
    day = date(2026, 3, 2)
    for _row in range(3):
        found.append(day.day)
        column = column.past(day)
        day = column.day_offered(time(7, 15), NOW)
    assert found == days


def test_the_first_day_is_the_latest_that_is_over_and_may_be_typed_over() -> None:
    column = SheetColumn(Slot.BEDTIME, NextRow.DAY_EARLIER)
    assert column.day_offered(time(9, 59), NOW) == date(2026, 3, 31)
    assert column.day_offered(time(22, 0), NOW) == date(2026, 3, 30)


def test_another_column_begins_where_the_sheet_begins() -> None:
    column = SheetColumn(Slot.FASTING, NextRow.DAY_LATER)
    for day in (2, 3, 4):
        column = column.past(date(2026, 3, day))
    other = column.another(Slot.BEDTIME)
    assert other.day_offered(time(22, 0), NOW) == date(2026, 3, 2)
    assert column.another(Slot.FASTING) == column  # the same one goes on where it is


# --- what is there -------------------------------------------------------------------------------


def _row(wall: str, shown: int, slot: Slot, *, is_about: bool) -> Row:
    at = moment(wall)
    return Row(uuid4(), at.wall, at, Glucose.number(shown, Unit.MG_DL), slot, is_about=is_about)


def test_a_number_of_the_same_day_and_column_is_the_same_reading() -> None:
    """Its time is not known, so a typed reading an hour off is not written a second time."""
    there = [reading("2026-03-01 08:40", "128", Slot.FASTING)]
    cases = [
        (_row("2026-03-01 07:15", 128, Slot.FASTING, is_about=True), True),
        (_row("2026-03-01 07:15", 128, Slot.FASTING, is_about=False), False),
        (_row("2026-03-01 07:15", 129, Slot.FASTING, is_about=True), False),
        (_row("2026-03-02 07:15", 128, Slot.FASTING, is_about=True), False),
        (_row("2026-03-01 12:15", 128, Slot.BEFORE_LUNCH, is_about=True), False),
    ]
    for row, is_there in cases:
        (found,) = matched([row], there)
        assert (found.written == there[0].id) is is_there


def test_a_day_is_the_persons_own() -> None:
    """Bedtime at half past midnight belongs to the evening before."""
    there = [reading("2026-03-02 00:30", "151", Slot.BEDTIME)]
    row = _row("2026-03-01 22:00", 151, Slot.BEDTIME, is_about=True)
    assert not matched([row], there)[0].is_new
    assert matched([row], there, time(0))[0].is_new


def test_two_rows_are_never_one_reading() -> None:
    there = [reading("2026-03-01 08:40", "128", Slot.FASTING)]
    rows = [_row("2026-03-01 07:15", 128, Slot.FASTING, is_about=True) for _number in range(2)]
    assert sorted(row.is_new for row in matched(rows, there)) == [False, True]


def test_what_the_log_has_for_a_box_of_the_sheet() -> None:
    there = [
        reading("2026-03-01 08:40", "128", Slot.FASTING),
        reading("2026-03-01 08:50", "131", Slot.FASTING, crossed_out=True),
        reading("2026-03-01 08:55", "132", Slot.FASTING, damaged=True),
        reading("2026-03-01 12:00", "140", Slot.BEFORE_LUNCH),
        reading("2026-03-02 07:10", "119", Slot.FASTING),
    ]
    at: Moment = moment("2026-03-01 07:15")
    assert [one.glucose.text for one in written_for(Slot.FASTING, at, there)] == ["128"]
