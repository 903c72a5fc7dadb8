"""What is due, in words: the title of the form, the day of the plan, a pause."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest

from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import PlanFacts, Reason
from logbook.domain.plan.done import plan_done
from logbook.domain.plan.due import Due, what_is_due
from logbook.domain.plan.plans import PlannedCheck
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.wording import due as words
from tests.domain.plan.plan_records import BEFORE_DINNER, FASTING, appointment, ill, pause, plan
from tests.domain.series_of import moment, reading, series_of
from tests.wording.plain_words import faults

BEFORE_LUNCH = PlannedCheck(Slot.BEFORE_LUNCH, time(12))
TWO = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER),))


def due_at(
    facts: PlanFacts, now: str, *readings: Reading, recheck: datetime | None = None
) -> tuple[Due, Moment]:
    at = moment(now)
    return what_is_due(facts, series_of(readings), at, LogSettings(), recheck), at


@pytest.mark.parametrize(
    ("facts", "now", "sentence"),
    [
        (
            TWO,
            "2026-03-02 07:00",
            "Now due: fasting (before breakfast), about 7:30 AM. By your plan.",
        ),
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
    assert now == "Now due: fasting (before breakfast), about 7:30 AM. By your habit."
    later = words.due_sentence(*due_at(PlanFacts(), "2026-03-01 12:00", *habit))
    assert later.startswith("Nothing is due now. Next: tomorrow, fasting")


@pytest.mark.parametrize(
    ("facts", "now", "title"),
    [
        (TWO, "2026-03-02 07:00", "Due now: before breakfast (7:30 AM)."),
        (TWO, "2026-03-02 12:00", "Next: before dinner, 6:00 PM."),
        (TWO, "2026-03-02 21:00", "Nothing more is due today."),
        (
            PlanFacts(TWO.plans, (pause("2026-03-02", "2026-03-04"),)),
            "2026-03-02 07:00",
            "Your plan is paused until Mar 4.",
        ),
        (PlanFacts(), "2026-03-02 07:00", ""),
        (
            PlanFacts((plan(profile_days=3),), appointments=(appointment("2026-03-04"),)),
            "2026-03-02 12:00",
            "For your visit now: before lunch.",
        ),
        (
            PlanFacts(spells=(ill("2026-03-02"),)),
            "2026-03-02 11:10",
            "Due now: extra check (11:00 AM).",
        ),
    ],
)
def test_the_title_of_the_form_is_short(facts: PlanFacts, now: str, title: str) -> None:
    assert words.due_heading(*due_at(facts, now)) == title
    assert not title or list(faults(title)) == []


def test_the_day_of_the_plan_names_what_was_done_and_what_was_not() -> None:
    three = PlanFacts(plans=(plan(FASTING, BEFORE_LUNCH, BEFORE_DINNER),))
    fasting = reading("2026-03-02 07:30", "110", Slot.FASTING)
    due, now = due_at(three, "2026-03-02 15:30", fasting)
    day = Period(date(2026, 3, 2), date(2026, 3, 2))
    done = plan_done(three, series_of([fasting]), day, LogSettings(), now)
    said = [words.done_today_sentence(done), words.not_done_sentence(due)]
    assert said == [
        "Done today: fasting (before breakfast).",
        "Not done today: before lunch about 12:00 PM.",
    ]
    morning, _now = due_at(three, "2026-03-02 06:30")
    assert words.later_today_sentence(morning) == (
        "Later today: before lunch about 12:00 PM, before dinner about 6:00 PM."
    )
    assert words.not_done_sentence(morning) == ""


def test_a_pause_to_come_is_told_with_its_days_and_reason() -> None:
    coming = pause("2026-03-05", "2026-03-09")
    today = date(2026, 3, 2)
    text = words.pause_text(coming, today)
    assert text.startswith("Your plan pauses from March 5, 2026 to March 9, 2026.")


def test_every_reason_has_a_name_of_its_own() -> None:
    named = [words.reason_text(reason) for reason in Reason]
    assert len(set(named)) == len(named)
    assert not any(list(faults(name)) for name in named)
