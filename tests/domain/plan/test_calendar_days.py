"""Which checks a day asks for."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from dateutil.rrule import DAILY, rrule

from logbook.domain.plan.calendar_days import (
    PROFILE_SLOTS,
    PlanFacts,
    Reason,
    agreed_profiles,
    checks_on,
    pause_on,
    plan_on,
    profile_period,
)
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.slots import Slot
from tests.domain.plan.plan_records import (
    BEFORE_DINNER,
    DAY_START,
    FASTING,
    NIGHT,
    appointment,
    ill,
    pause,
    plan,
)

MONDAY = date(2026, 3, 2)


def asked(facts: PlanFacts, day: date, day_starts_at: time = DAY_START) -> list[tuple[str, str]]:
    """Slot and wall time of what a day asks for."""
    checks = checks_on(day, facts, day_starts_at)
    return [(check.slot.value, f"{check.at:%m-%d %H:%M}") for check in checks]


def test_the_last_plan_to_begin_holds() -> None:
    first = plan(FASTING, holds_from="2026-01-01")
    second = plan(BEFORE_DINNER, holds_from="2026-03-02")
    facts = PlanFacts(plans=(second, first))
    assert plan_on(facts.plans, date(2025, 12, 31)) is None
    assert asked(facts, date(2025, 12, 31)) == []
    assert asked(facts, date(2026, 3, 1)) == [("fasting", "03-01 07:30")]
    assert asked(facts, MONDAY) == [("before_dinner", "03-02 18:00")]


def test_of_two_plans_of_one_day_the_later_written_holds() -> None:
    earlier = plan(FASTING)
    later = plan(BEFORE_DINNER, written_at=datetime(2026, 1, 5, tzinfo=UTC))
    assert plan_on((later, earlier), MONDAY) is later
    assert plan_on((earlier, later), MONDAY) is later


def test_weekdays_and_order_of_the_day() -> None:
    twice = PlannedCheck(Slot.BEFORE_DINNER, time(18, 0), weekdays=(0, 3))
    facts = PlanFacts(plans=(plan(twice, FASTING),))
    days = [len(asked(facts, MONDAY + timedelta(days=n))) for n in range(7)]
    assert days == [2, 1, 1, 2, 1, 1, 1]
    assert asked(facts, MONDAY) == [("fasting", "03-02 07:30"), ("before_dinner", "03-02 18:00")]


@pytest.mark.parametrize(("every", "offset"), [(2, 0), (2, 1), (3, 2), (7, 6), (30, 29)])
def test_every_so_many_days_is_what_dateutil_counts(every: int, offset: int) -> None:
    """Against dateutil's own recurrence, over 29 February and the month ends of two years."""
    begin = date(2027, 12, 31)
    check = PlannedCheck(Slot.FASTING, time(7, 30), every_days=every, day_offset=offset)
    facts = PlanFacts(plans=(plan(check, holds_from=begin.isoformat()),))
    end = date(2029, 12, 31)
    found = [
        day
        for n in range((end - begin).days + 1)
        if checks_on(day := begin + timedelta(days=n), facts, DAY_START)
    ]
    first = datetime.combine(begin + timedelta(days=offset), time(0))
    rule = rrule(DAILY, interval=every, dtstart=first, until=datetime.combine(end, time(0)))
    assert found == [one.date() for one in rule]
    assert (date(2028, 2, 29) in found) == ((date(2028, 2, 29) - begin).days % every == offset)


def test_a_check_after_midnight_belongs_to_the_day_before() -> None:
    facts = PlanFacts(plans=(plan(NIGHT),))
    assert asked(facts, MONDAY) == [("night", "03-03 03:00")]
    assert asked(facts, MONDAY, time(2, 0)) == [("night", "03-02 03:00")]


def test_a_pause_asks_for_nothing_and_ends() -> None:
    facts = PlanFacts(
        plans=(plan(FASTING, profile_days=3),),
        pauses=(pause("2026-03-02", "2026-03-03"), pause("2026-03-10")),
        spells=(ill("2026-03-01"),),
        appointments=(appointment("2026-03-04"),),
    )
    assert asked(facts, MONDAY) == []
    assert asked(facts, date(2026, 3, 3)) == []
    assert asked(facts, date(2026, 3, 4)) != []
    assert asked(facts, date(2030, 1, 1)) == []
    assert pause_on(facts.pauses, date(2026, 3, 9)) is None


def test_seven_points_on_the_three_days_before_an_appointment() -> None:
    visit = appointment("2026-03-20")
    at_seven = PlannedCheck(Slot.FASTING, time(7, 0))
    lunch_on_sunday = PlannedCheck(Slot.BEFORE_LUNCH, time(13, 0), weekdays=(6,))
    facts = PlanFacts(
        plans=(plan(at_seven, lunch_on_sunday, profile_days=3),), appointments=(visit,)
    )
    assert len(asked(facts, date(2026, 3, 16))) == 1
    assert len(asked(facts, date(2026, 3, 20))) == 1
    for day in (17, 18, 19):
        checks = checks_on(date(2026, 3, day), facts, DAY_START)
        assert tuple(check.slot for check in checks) == PROFILE_SLOTS
        assert [check.reason for check in checks] == [Reason.PLAN] + [Reason.PROFILE] * 6
    # The person's own clock times where the plan has them, two hours after the meal for the rest.
    times = [clock for _, clock in asked(facts, date(2026, 3, 19))]
    assert times[:4] == ["03-19 07:00", "03-19 09:00", "03-19 13:00", "03-19 15:00"]
    period = profile_period(facts.plans, visit)
    assert period is not None
    assert (period.first, period.last) == (date(2026, 3, 17), date(2026, 3, 19))


def test_a_profile_is_of_the_last_three_agreed_days() -> None:
    visits = [appointment("2026-03-20"), appointment("2026-02-11"), appointment("2026-03-20")]
    agreed = agreed_profiles([plan(FASTING, profile_days=5)], visits)
    assert [(one.first.day, one.last.day, one.days) for one in agreed] == [(8, 10, 3), (17, 19, 3)]
    assert agreed_profiles([plan(FASTING, profile_days=2)], visits) == ()
    assert agreed_profiles([plan(FASTING)], visits) == ()
    assert agreed_profiles([], visits) == ()


def test_when_ill_every_four_hours_awake_where_no_other_check_is_near() -> None:
    without = PlanFacts(spells=(ill("2026-03-02", "2026-03-02"),))
    hours = ["07:00", "11:00", "15:00", "19:00", "23:00"]
    assert [clock[-5:] for _, clock in asked(without, MONDAY)] == hours
    assert asked(without, date(2026, 3, 3)) == []
    planned = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER),), spells=without.spells)
    assert asked(planned, MONDAY) == [
        ("fasting", "03-02 07:30"),
        ("other", "03-02 11:00"),
        ("other", "03-02 15:00"),
        ("before_dinner", "03-02 18:00"),
        ("other", "03-02 23:00"),
    ]


def test_when_ill_the_plan_s_own_hours_stand() -> None:
    facts = PlanFacts(plans=(plan(ill_every_hours=2),), spells=(ill("2026-03-01"),))
    clocks = [clock[-5:] for _, clock in asked(facts, MONDAY)]
    assert clocks == [f"{hour:02}:00" for hour in range(7, 24, 2)]


def test_the_same_check_twice_in_a_plan_is_asked_once() -> None:
    on_monday = PlannedCheck(Slot.FASTING, time(7, 30), weekdays=(0,))
    facts = PlanFacts(plans=(plan(FASTING, on_monday),))
    assert len(asked(facts, MONDAY)) == 1


@pytest.mark.parametrize("day", [date(2028, 2, 29), date(2026, 1, 31), date(2026, 4, 30)])
def test_month_ends_and_the_leap_day_are_days_like_others(day: date) -> None:
    facts = PlanFacts(plans=(plan(FASTING, NIGHT),))
    after = day + timedelta(days=1)
    assert asked(facts, day) == [
        ("fasting", f"{day:%m-%d} 07:30"),
        ("night", f"{after:%m-%d} 03:00"),
    ]
