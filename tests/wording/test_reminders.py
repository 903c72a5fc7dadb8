"""Reminders, and the list before a visit, in words."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.domain.figures import Share
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.checklist import ChecklistItem, ChecklistLine
from logbook.domain.plan.due import what_is_due
from logbook.domain.plan.reminders import DatedFact, ReminderKind, reminders
from logbook.domain.plan.starting_points import Situation
from logbook.domain.settings import LogSettings
from logbook.wording import reminders as words
from logbook.wording.plan import situation_text
from tests.domain.plan.plan_records import BEFORE_DINNER, FASTING, plan
from tests.domain.series_of import moment, series_of
from tests.wording.plain_words import faults

TWO = PlanFacts(plans=(plan(FASTING, BEFORE_DINNER),))


def test_every_fact_has_a_name_of_its_own() -> None:
    kinds = set(ReminderKind) - {ReminderKind.CHECK, ReminderKind.RECHECK}
    facts = [words.fact_text(DatedFact(kind, date(2026, 3, 2), minutes=60)) for kind in kinds]
    situations = [situation_text(situation) for situation in Situation]
    for named in (facts, situations):
        assert len(set(named)) == len(named)
        assert not any(list(faults(name)) for name in named)


def test_the_clocks_go_both_ways() -> None:
    forward = DatedFact(ReminderKind.CLOCK_CHANGE, date(2026, 3, 29), minutes=60)
    back = DatedFact(ReminderKind.CLOCK_CHANGE, date(2026, 10, 25), minutes=-60)
    assert words.fact_text(forward) == "The clocks go forward. Set the clock of every meter"
    assert words.fact_text(back) == "The clocks go back. Set the clock of every meter"


def test_reminders_with_their_time() -> None:
    now, at = moment("2026-03-02 07:00"), moment("2026-03-02 07:10").instant
    due = what_is_due(TWO, series_of([]), now, LogSettings(), at)
    strips = DatedFact(ReminderKind.DISCARD_DATE, date(2026, 3, 3), "strips, bedside")
    lines = [words.reminder_line(one, now) for one in reminders(due, [strips], now)]
    assert lines == [
        "Today at 7:10 AM: Check again after your low",
        "Today at 7:30 AM: Check: fasting (before breakfast)",
        "Today at 6:00 PM: Check: before dinner",
        "Tomorrow: Last day of use: strips, bedside",
    ]


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
