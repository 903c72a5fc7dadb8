"""What is due at a moment."""

from __future__ import annotations

from datetime import UTC, datetime, time

import pytest

from logbook.domain.plan.calendar_days import PlanFacts, Reason
from logbook.domain.plan.due import Basis, Due, DueCheck, what_is_due
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from tests.domain.plan.plan_records import (
    BEFORE_DINNER,
    FASTING,
    NIGHT,
    appointment,
    ill,
    meal_start,
    pause,
    plan,
    put_aside,
)
from tests.domain.series_of import moment, reading, series_of

AFTER_DINNER = PlannedCheck(Slot.AFTER_DINNER, time(20, 0), minutes_after=120)
TWO = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER),))


def due(
    facts: PlanFacts,
    now: str,
    *readings: Reading,
    zone: str = "UTC",
    recheck: datetime | None = None,
    settings: LogSettings | None = None,
) -> Due:
    return what_is_due(
        facts, series_of(readings), moment(now, zone), settings or LogSettings(), recheck
    )


def slots(checks: tuple[DueCheck, ...]) -> list[Slot]:
    return [check.slot for check in checks]


def clock(check: DueCheck | None) -> str:
    return "" if check is None else f"{check.at.wall:%m-%d %H:%M}"


@pytest.mark.parametrize(
    ("now", "due_now", "following", "later", "missed"),
    [
        ("04:30", [], Slot.FASTING, [Slot.BEFORE_DINNER], []),
        ("06:00", [Slot.FASTING], Slot.BEFORE_DINNER, [], []),
        ("08:59", [Slot.FASTING], Slot.BEFORE_DINNER, [], []),
        ("09:00", [], Slot.BEFORE_DINNER, [], [Slot.FASTING]),
        ("16:30", [Slot.BEFORE_DINNER], Slot.FASTING, [], [Slot.FASTING]),
        ("19:30", [], Slot.FASTING, [], [Slot.FASTING, Slot.BEFORE_DINNER]),
    ],
)
def test_a_day_goes_by(
    now: str, due_now: list[Slot], following: Slot, later: list[Slot], missed: list[Slot]
) -> None:
    found = due(TWO, f"2026-03-02 {now}")
    assert slots(found.now) == due_now
    assert found.next is not None
    assert found.next.slot is following
    assert slots(found.later_today) == later
    assert slots(found.missed_today) == missed
    assert found.basis is Basis.PLAN
    assert found.likely_slot is (due_now[0] if due_now else None)


def test_what_was_not_asked_yet_was_not_missed() -> None:
    """A plan that is written down at noon, also one that holds from an earlier day."""
    noon = moment("2026-03-02 12:00").instant
    new = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER, written_at=noon),))
    assert slots(due(new, "2026-03-02 12:01").missed_today) == []
    assert slots(due(new, "2026-03-02 20:00").missed_today) == [Slot.BEFORE_DINNER]
    assert slots(due(new, "2026-03-03 12:00").missed_today) == [Slot.FASTING]


def test_a_reading_in_the_slot_on_that_day_makes_it_done() -> None:
    made = reading("2026-03-02 07:10", "110", Slot.FASTING)
    found = due(TWO, "2026-03-02 07:20", made)
    assert slots(found.now) == []
    assert clock(found.next) == "03-02 18:00"
    late = due(TWO, "2026-03-02 11:00", reading("2026-03-02 10:40", "110", Slot.FASTING))
    assert slots(late.missed_today) == []


@pytest.mark.parametrize(
    "other",
    [
        reading("2026-03-02 07:10", "110", Slot.BEFORE_LUNCH),
        reading("2026-03-01 07:10", "110", Slot.FASTING),
        reading("2026-03-02 07:10", "110", Slot.FASTING, crossed_out=True),
        reading("2026-03-02 07:10", "110", Slot.FASTING, doubted=True),
        reading("2026-03-02 07:10", "110", Slot.FASTING, foreign=True),
        reading("2026-03-02 07:10", "110", Slot.FASTING, damaged=True),
        reading("2026-03-02 07:10", "110", Slot.FASTING, purpose=Purpose.RECHECK),
    ],
    ids=["slot", "day", "crossed out", "doubted", "foreign", "damaged", "recheck"],
)
def test_what_does_not_make_it_done(other: Reading) -> None:
    assert slots(due(TWO, "2026-03-02 07:20", other).now) == [Slot.FASTING]


def test_not_today_puts_one_check_of_one_day_aside() -> None:
    facts = PlanFacts(plans=TWO.plans, put_asides=(put_aside("2026-03-02", Slot.FASTING),))
    assert slots(due(facts, "2026-03-02 07:20").now) == []
    assert slots(due(facts, "2026-03-02 12:00").missed_today) == []
    assert slots(due(facts, "2026-03-03 07:20").now) == [Slot.FASTING]


def test_in_a_pause_nothing_is_due_and_the_next_is_after_it() -> None:
    facts = PlanFacts(plans=(plan(FASTING, NIGHT),), pauses=(pause("2026-03-02", "2026-03-10"),))
    found = due(facts, "2026-03-02 04:10")  # the night check of the day before is nearly due still
    assert (found.now, found.later_today, found.missed_today) == ((), (), ())
    assert found.pause is facts.pauses[0]
    assert clock(found.next) == "03-11 07:30"


def test_a_check_of_the_evening_before_is_due_until_its_time_is_over() -> None:
    facts = PlanFacts(plans=(plan(NIGHT),))
    found = due(facts, "2026-03-02 04:10")
    assert [clock(check) for check in found.now] == ["03-02 03:00"]
    made = reading("2026-03-02 04:10", "110", Slot.NIGHT)
    # It was the check of the night just ending and leaves tomorrow's where it is.
    found = due(facts, "2026-03-02 04:20", made)
    assert found.now == ()
    assert clock(found.next) == "03-03 03:00"


def test_after_a_meal_two_hours_from_the_first_bite() -> None:
    facts = PlanFacts(
        plans=(plan(BEFORE_DINNER, AFTER_DINNER),),
        meal_starts=(meal_start("2026-03-02 18:40", Slot.AFTER_DINNER),),
    )
    before = reading("2026-03-02 18:10", "140", Slot.BEFORE_DINNER)
    found = due(facts, "2026-03-02 19:00", before)
    assert clock(found.next) == "03-02 20:40"
    assert found.next is not None
    assert found.next.reason is Reason.AFTER_MEAL
    assert slots(due(facts, "2026-03-02 20:09", before).now) == []
    assert slots(due(facts, "2026-03-02 20:10", before).now) == [Slot.AFTER_DINNER]
    assert slots(due(facts, "2026-03-02 21:09", before).now) == [Slot.AFTER_DINNER]
    assert slots(due(facts, "2026-03-02 21:10", before).missed_today) == [Slot.AFTER_DINNER]


def test_after_a_meal_from_the_check_before_it_where_no_first_bite_was_told() -> None:
    facts = PlanFacts(plans=(plan(BEFORE_DINNER, AFTER_DINNER),))
    before = reading("2026-03-02 17:20", "140", Slot.BEFORE_DINNER)
    assert clock(due(facts, "2026-03-02 17:30", before).next) == "03-02 19:20"
    assert clock(due(facts, "2026-03-02 18:00").next) == "03-02 20:00"


def test_after_a_meal_elapsed_time_counts_across_a_clock_change() -> None:
    """London, 25 October 2026: at 02:00 summer time the clocks go back to 01:00."""
    zone = "Europe/London"
    night_meal = PlanFacts(
        plans=(plan(PlannedCheck(Slot.AFTER_SNACK, time(1, 0), minutes_after=120)),),
        meal_starts=(meal_start("2026-10-25 00:30", Slot.AFTER_SNACK, zone),),
    )
    found = due(night_meal, "2026-10-25 00:40", zone=zone)
    assert found.next is not None
    assert found.next.at.instant == datetime(2026, 10, 25, 1, 30, tzinfo=UTC)
    assert clock(found.next) == "10-25 01:30"


def test_i_start_eating_asks_for_the_check_also_without_a_plan_for_it() -> None:
    start = meal_start("2026-03-02 12:30", Slot.AFTER_LUNCH)
    facts = PlanFacts(plans=TWO.plans, meal_starts=(start,))
    assert slots(due(facts, "2026-03-02 14:30").now) == [Slot.AFTER_LUNCH]
    alone = due(PlanFacts(meal_starts=(start,)), "2026-03-02 14:30")
    assert slots(alone.now) == [Slot.AFTER_LUNCH]
    assert alone.likely_slot is Slot.AFTER_LUNCH


def test_a_recheck_is_always_first() -> None:
    at = datetime(2026, 3, 2, 7, 30, tzinfo=UTC)
    before = due(TWO, "2026-03-02 07:20", recheck=at)
    assert slots(before.now) == [Slot.FASTING]
    assert before.first is before.recheck
    assert before.first is not None
    after = due(TWO, "2026-03-02 07:30", recheck=at)
    assert [check.reason for check in after.now] == [Reason.RECHECK, Reason.PLAN]
    in_pause = PlanFacts(plans=TWO.plans, pauses=(pause("2026-03-01"),))
    assert [check.reason for check in due(in_pause, "2026-03-02 07:30", recheck=at).now] == [
        Reason.RECHECK
    ]


def test_when_ill_any_reading_near_makes_the_extra_check_done() -> None:
    facts = PlanFacts(plans=TWO.plans, spells=(ill("2026-03-02"),))
    assert [check.reason for check in due(facts, "2026-03-02 11:00").now] == [Reason.ILL]
    made = reading("2026-03-02 10:30", "210", Slot.BETWEEN_MEALS)
    assert due(facts, "2026-03-02 11:00", made).now == ()
    assert due(facts, "2026-03-02 11:00").likely_slot is None


def test_a_reading_that_was_asked_for_is_not_the_extra_check_as_well() -> None:
    facts = PlanFacts(plans=TWO.plans, spells=(ill("2026-03-02"),))
    late = reading("2026-03-02 10:40", "210", Slot.FASTING)
    assert [check.reason for check in due(facts, "2026-03-02 11:00", late).now] == [Reason.ILL]


@pytest.mark.parametrize(
    ("now", "due_now", "missed"),
    [
        ("18:59", [Slot.BEFORE_DINNER], []),
        ("19:00", [Slot.BEDTIME], [Slot.BEFORE_DINNER]),
        ("21:30", [], [Slot.BEFORE_DINNER, Slot.BEDTIME]),
    ],
)
def test_half_way_to_the_neighbour_the_one_gives_way_to_the_other(
    now: str, due_now: list[Slot], missed: list[Slot]
) -> None:
    early_night = PlannedCheck(Slot.BEDTIME, time(20, 0))
    facts = PlanFacts(plans=(plan(BEFORE_DINNER, early_night),))
    found = due(facts, f"2026-03-02 {now}")
    assert (slots(found.now), slots(found.missed_today)) == (due_now, missed)


def test_seven_checks_before_a_visit_are_due_by_that_reason() -> None:
    facts = PlanFacts(
        plans=(plan(FASTING, profile_days=3),), appointments=(appointment("2026-03-04"),)
    )
    found = due(facts, "2026-03-02 22:00")
    assert [(check.slot, check.reason) for check in found.now] == [(Slot.BEDTIME, Reason.PROFILE)]
    assert len(found.missed_today) == 6


def test_the_next_check_is_found_weeks_ahead() -> None:
    monthly = PlannedCheck(Slot.BEDTIME, time(22, 0), every_days=30)
    facts = PlanFacts(plans=(plan(monthly, holds_from="2026-03-02"),))
    assert clock(due(facts, "2026-03-03 08:00").next) == "04-01 22:00"
    assert due(PlanFacts(plans=(plan(),)), "2026-03-03 08:00").next is None


def test_a_plan_without_checks_is_a_plan() -> None:
    habit = [reading(f"2026-02-{day:02} 07:30", "110", Slot.FASTING) for day in range(5, 28)]
    found = due(PlanFacts(plans=(plan(),)), "2026-03-01 07:30", *habit)
    assert (found.basis, found.now, found.likely_slot) == (Basis.PLAN, (), None)


def test_without_a_plan_the_usual_times_stand_in() -> None:
    habit = [
        reading(f"2026-02-{day:02} {at}", "110", slot)
        for day in range(5, 28)
        for at, slot in [("07:30", Slot.FASTING), ("18:00", Slot.BEFORE_DINNER)]
    ]
    found = due(PlanFacts(), "2026-03-01 07:10", *habit)
    assert found.basis is Basis.USUAL
    assert [(check.slot, check.reason) for check in found.now] == [(Slot.FASTING, Reason.USUAL)]
    assert clock(found.next) == "03-01 18:00"
    assert found.likely_slot is Slot.FASTING
    evening = due(PlanFacts(), "2026-03-01 20:00", *habit)
    assert (evening.now, clock(evening.next)) == ((), "03-02 07:30")


def test_a_plan_to_come_does_not_hold_yet() -> None:
    facts = PlanFacts(plans=(plan(FASTING, holds_from="2026-03-02"),))
    found = due(facts, "2026-03-01 12:00")
    assert found.basis is Basis.USUAL
    assert clock(found.next) == "03-02 07:30"


def test_the_plan_goes_by_the_local_clock_on_a_journey() -> None:
    """Done at home in the morning, it is not due again where the clock is three hours behind."""
    made = reading("2026-03-02 07:30", "110", Slot.FASTING, zone="America/New_York")
    away = due(TWO, "2026-03-02 06:45", made, zone="America/Los_Angeles")
    assert away.now == ()
    assert clock(away.next) == "03-02 18:00"
