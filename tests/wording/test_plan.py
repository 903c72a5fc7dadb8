"""A plan in words."""

from __future__ import annotations

from datetime import time
from typing import Any

import pytest

from logbook.domain.figures import Share
from logbook.domain.plan.done import PlanDone
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.plan.starting_points import SCHEDULES
from logbook.domain.slots import Slot
from logbook.wording import plan as words
from tests.domain.plan.plan_records import BEFORE_DINNER, FASTING, plan
from tests.wording.plain_words import faults


@pytest.mark.parametrize(
    ("check", "line"),
    [
        (FASTING, "Fasting (before breakfast), about 7:30 AM: every day"),
        (
            PlannedCheck(Slot.BEFORE_DINNER, time(18), weekdays=(3, 0)),
            "Before dinner, about 6:00 PM: Monday, Thursday",
        ),
        (
            PlannedCheck(Slot.AFTER_LUNCH, time(14), every_days=3, minutes_after=120),
            "After lunch, 2 hours after the first bite, about 2:00 PM: every 3 days",
        ),
        (
            PlannedCheck(Slot.NIGHT, time(3), weekdays=(5, 6), every_days=2),
            "Night, about 3:00 AM: every other day, only Saturday, Sunday",
        ),
        (
            PlannedCheck(Slot.BEDTIME, time(22), weekdays=(1,), every_days=14, day_offset=6),
            "Bedtime, about 10:00 PM: every other week on Tuesday",
        ),
        (
            PlannedCheck(Slot.BEDTIME, time(22), weekdays=(0,), every_days=28),
            "Bedtime, about 10:00 PM: every 4 weeks on Monday",
        ),
    ],
)
def test_a_planned_check_in_one_line(check: PlannedCheck, line: str) -> None:
    assert words.check_line(check) == line


def test_a_plan_in_the_order_of_the_day() -> None:
    lines = words.plan_lines(plan(BEFORE_DINNER, FASTING, profile_days=3, ill_every_hours=4))
    assert [line.split(",")[0] for line in lines] == [
        "Fasting (before breakfast)",
        "Before dinner",
        "Seven checks a day on the 3 days before a visit",
        "When ill: every 4 hours while awake",
    ]


def test_what_was_done_is_a_count_without_blame() -> None:
    done = PlanDone(Share(11, 14), (), (), 0, 0)
    assert words.plan_done_sentence(done) == "Planned checks done: 11 of 14."
    assert words.plan_done_sentence(PlanDone(Share(0, 0), (), (), 0, 14)) == ""


@pytest.mark.parametrize("schedule", SCHEDULES, ids=lambda schedule: schedule.code)
def test_a_schedule_names_its_source_and_defers_to_the_provider(schedule: Any) -> None:
    assert words.schedule_text(schedule).startswith(schedule.body)
    notes = words.schedule_notes(schedule)
    assert "your provider" in notes[-1]
    assert not any(list(faults(note)) for note in notes)


def test_where_days_take_turns_the_count_of_a_week_is_about() -> None:
    """Two pairs in turn with a third: 3 checks on one day of three, 7 a week in the mean."""
    third = PlannedCheck(Slot.AFTER_LUNCH, time(14), every_days=3)
    assert words.plan_count_text(plan(FASTING)) == "7 checks a week"
    assert words.plan_count_text(plan(FASTING, third)) == "about 9 checks a week"


def test_fewer_than_one_check_a_week_is_said_so() -> None:
    seldom = PlannedCheck(Slot.BEDTIME, time(22), weekdays=(1,), every_days=14, day_offset=6)
    assert words.plan_count_text(plan(seldom)) == "less than one check a week"
    assert words.plan_count_text(plan(FASTING, seldom)) == "about 8 checks a week"
