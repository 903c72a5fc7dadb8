"""The list before a visit."""

from __future__ import annotations

from datetime import date

from logbook.domain.figures import Share
from logbook.domain.plan.calendar_days import PROFILE_SLOTS, PlanFacts
from logbook.domain.plan.checklist import (
    ChecklistItem,
    ChecklistLine,
    KnownForVisit,
    appointment_checklist,
    profile_done,
)
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.visits import Question
from tests.domain.plan.plan_records import FASTING, WRITTEN, appointment, pause, plan
from tests.domain.series_of import new_id, reading, series_of

VISIT = appointment("2026-03-12")
FACTS = PlanFacts(plans=(plan(FASTING, profile_days=3),), appointments=(VISIT,))
ALL_SEVEN = [
    reading(f"2026-03-{day:02} {7 + 2 * place:02}:00", "120", slot)
    for day in (9, 10, 11)
    for place, slot in enumerate(PROFILE_SLOTS)
]


def test_the_days_of_seven_checks() -> None:
    settings = LogSettings()
    assert profile_done(VISIT, FACTS, series_of(ALL_SEVEN), settings) == Share(21, 21)
    assert profile_done(VISIT, FACTS, series_of(ALL_SEVEN[:10]), settings) == Share(10, 21)
    before = reading("2026-03-08 07:00", "120", Slot.FASTING)
    assert profile_done(VISIT, FACTS, series_of([before]), settings) == Share(0, 21)
    paused = PlanFacts(FACTS.plans, pauses=(pause("2026-03-09", "2026-03-10"),))
    assert profile_done(VISIT, paused, series_of(ALL_SEVEN), settings) == Share(7, 7)
    assert profile_done(VISIT, PlanFacts(), series_of(ALL_SEVEN), settings) is None


def test_everything_that_applies_in_order() -> None:
    known = KnownForVisit(
        questions=(
            Question(new_id(), "May I walk before dinner?", WRITTEN),
            Question(new_id(), "Asked already", WRITTEN, date(2026, 1, 5)),
        ),
        control_test_passed=False,
        supplies=("strips",),
        report_printed=True,
        meters=("bedside", "handbag"),
    )
    lines = appointment_checklist(VISIT, FACTS, series_of(ALL_SEVEN), LogSettings(), known)
    assert lines == (
        ChecklistLine(ChecklistItem.PROFILE_DAYS, is_done=True, share=Share(21, 21)),
        ChecklistLine(ChecklistItem.CONTROL_TEST, is_done=False),
        ChecklistLine(ChecklistItem.QUESTIONS, count=1),
        ChecklistLine(ChecklistItem.SUPPLIES, names=("strips",)),
        ChecklistLine(ChecklistItem.REPORT, is_done=True),
        ChecklistLine(ChecklistItem.METERS, names=("bedside", "handbag")),
    )


def test_what_does_not_apply_is_left_out() -> None:
    lines = appointment_checklist(VISIT, PlanFacts(), series_of([]), LogSettings(), KnownForVisit())
    assert [line.item for line in lines] == [
        ChecklistItem.QUESTIONS,
        ChecklistItem.REPORT,
        ChecklistItem.METERS,
    ]
