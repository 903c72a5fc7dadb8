"""The plan in words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, datetime, time
from typing import Any

import pytest

from logbook.domain.figures import Share
from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import PlanFacts, Reason
from logbook.domain.plan.checklist import ChecklistItem, ChecklistLine
from logbook.domain.plan.done import PlanDone
from logbook.domain.plan.due import Due, what_is_due
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.plan.reminders import DatedFact, ReminderKind, reminders
from logbook.domain.plan.starting_points import SCHEDULES, Situation
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.wording import plan as words
from tests.domain.plan.plan_records import BEFORE_DINNER, FASTING, ill, pause, plan
from tests.domain.series_of import moment, reading, series_of
from tests.wording.plain_words import faults

TWO = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER),))


def due_at(
    facts: PlanFacts, now: str, *readings: Reading, recheck: datetime | None = None
) -> tuple[Due, Moment]:
    at = moment(now)
    return what_is_due(facts, series_of(readings), at, LogSettings(), recheck), at


@pytest.mark.parametrize(
    ("facts", "now", "sentence"),
    [
        (TWO, "2026-03-02 07:00", "Now due: fasting (before breakfast), about 7:30 AM."),
        (TWO, "2026-03-02 12:00", "Nothing is due now. Next: before dinner, about 6:00 PM."),
        (
            TWO,
            "2026-03-02 21:00",
            "Nothing is due now. Next: tomorrow, fasting (before breakfast), about 7:30 AM.",
        ),
        (
            PlanFacts(TWO.plans, (pause("2026-03-02", "2026-03-04"),)),
            "2026-03-02 07:00",
            (
                "Your plan is paused until March 4, 2026."
                " Next: Thursday, fasting (before breakfast), about 7:30 AM."
            ),
        ),
        (PlanFacts(TWO.plans, (pause("2026-03-02"),)), "2026-03-02 07:00", "Your plan is paused."),
        (PlanFacts(), "2026-03-02 07:00", ""),
        (PlanFacts(plans=(plan(),)), "2026-03-02 07:00", "Nothing is due now."),
        (
            PlanFacts(spells=(ill("2026-03-02"),)),
            "2026-03-02 11:10",
            "Now due: a check while you are ill, about 11:00 AM.",
        ),
    ],
)
def test_what_is_due_in_one_line(facts: PlanFacts, now: str, sentence: str) -> None:
    assert words.due_sentence(*due_at(facts, now)) == sentence
    assert not sentence or list(faults(sentence)) == []


def test_a_check_after_a_low_comes_before_everything_else() -> None:
    at = moment("2026-03-02 07:15").instant
    before = words.due_sentence(*due_at(TWO, "2026-03-02 07:05", recheck=at))
    assert before == "Next: the check after your low, at 7:15 AM."
    after = words.due_sentence(*due_at(TWO, "2026-03-02 07:15", recheck=at))
    assert after == "Now due: the check after your low."


def test_without_a_plan_the_habit_is_told_like_a_plan() -> None:
    habit = [reading(f"2026-02-{day:02} 07:30", "110", Slot.FASTING) for day in range(5, 28)]
    now = words.due_sentence(*due_at(PlanFacts(), "2026-03-01 07:10", *habit))
    assert now == "Now due: fasting (before breakfast), about 7:30 AM."
    later = words.due_sentence(*due_at(PlanFacts(), "2026-03-01 12:00", *habit))
    assert later.startswith("Nothing is due now. Next: tomorrow, fasting")


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


def names(codes: Iterable[Any], text: Callable[[Any], str]) -> list[str]:
    return [text(code) for code in codes]


@pytest.mark.parametrize(
    "named",
    [
        names(Reason, words.reason_text),
        names(Situation, words.situation_text),
        names(
            set(ReminderKind) - {ReminderKind.CHECK, ReminderKind.RECHECK},
            lambda kind: words.fact_text(DatedFact(kind, date(2026, 3, 2), minutes=60)),
        ),
    ],
    ids=["reasons", "situations", "facts"],
)
def test_every_code_has_a_name_of_its_own(named: list[str]) -> None:
    assert len(set(named)) == len(named)
    assert not any(list(faults(name)) for name in named)


def test_the_clocks_go_both_ways() -> None:
    forward = DatedFact(ReminderKind.CLOCK_CHANGE, date(2026, 3, 29), minutes=60)
    back = DatedFact(ReminderKind.CLOCK_CHANGE, date(2026, 10, 25), minutes=-60)
    assert words.fact_text(forward) == "The clocks go forward. Set the clock of every meter"
    assert words.fact_text(back) == "The clocks go back. Set the clock of every meter"


def test_reminders_with_their_time() -> None:
    due, now = due_at(TWO, "2026-03-02 07:00", recheck=moment("2026-03-02 07:10").instant)
    strips = DatedFact(ReminderKind.DISCARD_DATE, date(2026, 3, 3), "strips, bedside")
    lines = [words.reminder_line(one, now) for one in reminders(due, [strips], now)]
    assert lines == [
        "Today at 7:10 AM: Check again after your low",
        "Today at 7:30 AM: Check: fasting (before breakfast)",
        "Today at 6:00 PM: Check: before dinner",
        "Tomorrow: Last day of use: strips, bedside",
    ]


@pytest.mark.parametrize("schedule", SCHEDULES, ids=lambda schedule: schedule.code)
def test_a_schedule_names_its_source_and_defers_to_the_provider(schedule: Any) -> None:
    assert words.schedule_text(schedule).startswith(schedule.body)
    notes = words.schedule_notes(schedule)
    assert "your provider" in notes[-1]
    assert not any(list(faults(note)) for note in notes)


@pytest.mark.parametrize(
    ("line", "text"),
    [
        (
            ChecklistLine(ChecklistItem.PROFILE_DAYS, is_done=False, share=Share(7, 21)),
            "Seven checks a day before the visit: 7 of 21 done",
        ),
        (ChecklistLine(ChecklistItem.CONTROL_TEST, is_done=True), "Control test passed"),
        (
            ChecklistLine(ChecklistItem.CONTROL_TEST, is_done=False),
            "Make a control test before the visit",
        ),
        (ChecklistLine(ChecklistItem.QUESTIONS), "Questions to ask: none written down"),
        (ChecklistLine(ChecklistItem.QUESTIONS, count=2), "2 questions to ask"),
        (
            ChecklistLine(ChecklistItem.SUPPLIES, names=("strips", "lancets")),
            "Ask for: strips, lancets",
        ),
        (ChecklistLine(ChecklistItem.REPORT, is_done=True), "Report printed"),
        (ChecklistLine(ChecklistItem.REPORT, is_done=False), "Print the report"),
        (ChecklistLine(ChecklistItem.METERS), "Bring your meter"),
        (ChecklistLine(ChecklistItem.METERS, names=("bedside",)), "Bring: bedside"),
    ],
)
def test_the_list_before_a_visit(line: ChecklistLine, text: str) -> None:
    assert words.checklist_text(line) == text
    assert list(faults(text)) == []
