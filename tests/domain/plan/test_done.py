"""Planned checks that were made, each day by its own plan."""

from __future__ import annotations

from datetime import date, time

from logbook.domain.figures import Share
from logbook.domain.moments import Period
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.done import SlotDone, WeekDone, plan_done
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from tests.domain.plan.plan_records import BEFORE_DINNER, FASTING, NIGHT, ill, pause, plan
from tests.domain.series_of import moment, reading, series_of

# Monday, 2 March 2026, and the 13 days after it.
FORTNIGHT = Period(date(2026, 3, 2), date(2026, 3, 15))
TWICE_A_WEEK = PlannedCheck(Slot.BEFORE_DINNER, time(18, 0), weekdays=(0, 3))


def fasting(day: int) -> tuple[str, str, Slot]:
    return f"2026-03-{day:02} 07:20", "110", Slot.FASTING


def test_by_slot_and_by_week() -> None:
    facts = PlanFacts(plans=(plan(FASTING, TWICE_A_WEEK),))
    made = [reading(*fasting(day)) for day in (2, 3, 4, 5, 9)]
    made.append(reading("2026-03-05 18:30", "140", Slot.BEFORE_DINNER))
    made.append(reading("2026-03-06 18:30", "140", Slot.BEFORE_DINNER))  # not a Monday or Thursday
    made.append(reading("2026-03-10 07:30", "140", Slot.FASTING, purpose=Purpose.RECHECK))
    done = plan_done(facts, series_of(made), FORTNIGHT, LogSettings())
    assert done.total == Share(6, 18)
    assert done.by_slot == (
        SlotDone(Slot.FASTING, Share(5, 14)),
        SlotDone(Slot.BEFORE_DINNER, Share(1, 4)),
    )
    assert done.by_week == (
        WeekDone(Period(date(2026, 3, 2), date(2026, 3, 8)), Share(5, 9)),
        WeekDone(Period(date(2026, 3, 9), date(2026, 3, 15)), Share(1, 9)),
    )


def test_two_checks_of_one_time_of_day_are_one_done() -> None:
    facts = PlanFacts(plans=(plan(FASTING),))
    made = [reading(*fasting(2)), reading("2026-03-02 07:40", "112", Slot.FASTING)]
    assert plan_done(facts, series_of(made), FORTNIGHT, LogSettings()).total == Share(1, 14)


def test_pauses_are_out_and_each_day_has_its_own_plan() -> None:
    facts = PlanFacts(
        plans=(
            plan(FASTING, holds_from="2026-03-04"),
            plan(BEFORE_DINNER, holds_from="2026-03-10"),
        ),
        pauses=(pause("2026-03-06", "2026-03-08"),),
        spells=(ill("2026-03-02"),),
    )
    made = [reading(*fasting(day)) for day in (3, 5, 7, 12)]
    done = plan_done(facts, series_of(made), FORTNIGHT, LogSettings())
    assert done.by_slot == (
        SlotDone(Slot.FASTING, Share(1, 3)),
        SlotDone(Slot.BEFORE_DINNER, Share(0, 6)),
    )
    assert (done.paused_days, done.days_without_plan) == (3, 2)


def test_a_week_is_cut_to_the_period() -> None:
    facts = PlanFacts(plans=(plan(FASTING),))
    period = Period(date(2026, 3, 5), date(2026, 3, 10))
    weeks = plan_done(facts, series_of([]), period, LogSettings()).by_week
    assert [(week.period.first.day, week.period.last.day, week.share.of) for week in weeks] == [
        (5, 8, 4),
        (9, 10, 2),
    ]


def test_what_is_not_over_yet_is_not_missed() -> None:
    facts = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER),))
    today = Period(date(2026, 3, 2), date(2026, 3, 2))
    settings = LogSettings()
    early = series_of([reading("2026-03-02 07:20", "110", Slot.FASTING)])
    at_seven = moment("2026-03-02 07:30")
    assert plan_done(facts, series_of([]), today, settings, at_seven).total == Share(0, 0)
    assert plan_done(facts, early, today, settings, at_seven).total == Share(1, 1)
    assert plan_done(facts, early, today, settings, moment("2026-03-02 19:29")).total == Share(1, 1)
    assert plan_done(facts, early, today, settings, moment("2026-03-02 19:30")).total == Share(1, 2)


def test_a_check_late_in_the_last_night_still_counts() -> None:
    facts = PlanFacts(plans=(plan(NIGHT),))
    day = Period(date(2026, 3, 2), date(2026, 3, 2))
    late = reading("2026-03-03 04:20", "110", Slot.NIGHT)
    assert plan_done(facts, series_of([late]), day, LogSettings()).total == Share(1, 1)


def test_nothing_planned_is_nothing_of_nothing() -> None:
    done = plan_done(PlanFacts(), series_of([reading(*fasting(2))]), FORTNIGHT, LogSettings())
    assert done.total == Share(0, 0)
    assert (done.by_slot, done.by_week, done.days_without_plan) == ((), (), 14)
