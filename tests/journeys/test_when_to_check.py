"""The plan is set up, changed and paused with the mouse, and what was chosen is asked."""

from __future__ import annotations

from datetime import date, time, timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from logbook.domain.moments import DAY_STARTS_AT
from logbook.domain.plan.calendar_days import PlanFacts, checks_on, pause_on
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from logbook.ui import saving_places
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.texts import Words
from tests.exchange.calendar_reader import read_calendar
from tests.ui.plan_window import TODAY, OpenWindow, open_window

MOST_CLICKS = 10


def asked(opened: OpenWindow, day: date) -> list[tuple[Slot, time]]:
    facts = PlanFacts(plans=tuple(opened.book.plans()), pauses=tuple(opened.book.pauses()))
    return [(one.slot, one.at.time()) for one in checks_on(day, facts, DAY_STARTS_AT)]


def set_up_commonest(opened: OpenWindow) -> None:
    opened.press("My plan")
    opened.press("When to check")
    opened.press("Write down my plan")
    opened.press("Before breakfast")
    opened.press("Before dinner")
    opened.press(row(opened, "Before dinner"))
    opened.press("Monday")
    opened.press("Thursday")
    opened.press("Go on")
    opened.press("Save plan")


def row(opened: OpenWindow, name: str) -> BigButton:
    """The button of a check that is in the plan, below the tiles."""
    rows = opened.view.rows  # type: ignore[attr-defined]
    return next(one for one in opened.buttons() if rows.isAncestorOf(one) and name in one.text())


def test_the_commonest_plan_takes_10_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.clicks = 0
        set_up_commonest(opened)
        assert opened.clicks <= MOST_CLICKS
        (plan,) = opened.book.plans()
        assert (plan.holds_from, plan.set_by) == (TODAY, SetBy.PROVIDER)
        monday = TODAY + timedelta(days=(0 - TODAY.weekday()) % 7)
        week = [asked(opened, monday + timedelta(days=n)) for n in range(7)]
        with_dinner = [n for n, day in enumerate(week) if Slot.BEFORE_DINNER in dict(day)]
        assert with_dinner == [0, 3]
        assert all(Slot.FASTING in dict(day) for day in week)
        assert sum(map(len, week)) == 9
        assert "your plan holds from today" in opened.message


def test_what_was_changed_holds_from_its_day_and_the_past_keeps_its_plan(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        opened.now[0] += timedelta(minutes=1)
        opened.press("Change the plan")
        opened.press("Bedtime")
        opened.press("From which day, and who set it")
        opened.type_into(opened.view.day.field, "Dec 1")  # type: ignore[attr-defined]
        opened.press("Go on")
        opened.press("Save plan")
        assert Slot.BEDTIME not in dict(asked(opened, date(2026, 11, 30)))
        assert Slot.BEDTIME in dict(asked(opened, date(2026, 12, 1)))
        assert len(opened.book.plans()) == 2


def test_changes_that_were_not_saved_wait_and_are_named(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        opened.press("When to check")
        opened.press("Write down my plan")
        opened.press("Bedtime")
        opened.press("Back")
        assert opened.book.plans() == []
        opened.press("Go on with my changes")
        opened.press("Save plan")
        assert [check.slot for check in opened.book.plans()[0].checks] == [Slot.BEDTIME]


def test_every_third_day_begins_on_the_day_that_was_chosen(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        opened.press("When to check")
        opened.press("Write down my plan")
        opened.press("After lunch")
        opened.press(row(opened, "After lunch"))
        opened.press("Every third day")
        opened.press("Friday, November 27")
        opened.type_into(opened.view.time, "2:30 pm")  # type: ignore[attr-defined]
        opened.press("Go on")
        opened.press("Save plan")
        days = [n for n in range(9) if asked(opened, TODAY + timedelta(days=n))]
        assert days == [2, 5, 8]
        assert asked(opened, TODAY + timedelta(days=2)) == [(Slot.AFTER_LUNCH, time(14, 30))]


def test_one_day_in_the_week_is_asked_on_that_day(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        begin_check(opened, "Bedtime")
        opened.press("Every week on:")
        opened.press("Wednesday")
        opened.press("Sunday")
        opened.press("Go on")
        assert "Sunday" in row(opened, "Bedtime").text()
        opened.press("Save plan")
        days = [TODAY + timedelta(days=n) for n in range(21) if asked_on(opened, n)]
        assert days == [date(2026, 11, 29), date(2026, 12, 6), date(2026, 12, 13)]


def test_every_other_week_begins_on_the_day_that_was_chosen(qtbot: QtBot, tmp_path: Path) -> None:
    """November 25, 2026 is a Wednesday; the Tuesdays after it are December 1, 8, 15, 22, 29."""
    with open_window(qtbot, tmp_path) as opened:
        begin_check(opened, "After lunch")
        opened.press("Every other week")
        opened.press("Tuesday")
        opened.press("December 8")
        opened.press("Go on")
        assert "every other week on Tuesday" in row(opened, "After lunch").text()
        assert "less than one check a week" in words_of(opened).lower()
        opened.press("Save plan")
        days = [TODAY + timedelta(days=n) for n in range(40) if asked_on(opened, n)]
        assert days == [date(2026, 12, 8), date(2026, 12, 22)]
        assert "every other week on Tuesday" in words_of(opened)


def test_a_changed_plan_keeps_the_days_of_its_checks(qtbot: QtBot, tmp_path: Path) -> None:
    """What takes turns goes on in turn when the plan is changed, from a later day too."""
    with open_window(qtbot, tmp_path) as opened:
        begin_check(opened, "After lunch")
        opened.press("Every 3 weeks")
        opened.press("Go on")
        opened.press("Save plan")
        before = [n for n in range(90) if asked_on(opened, n)]
        assert before == [0, 21, 42, 63, 84]
        opened.now[0] += timedelta(days=1, minutes=1)
        opened.window.beat()
        opened.press("Change the plan")
        opened.press("From which day, and who set it")
        opened.type_into(opened.view.day.field, "Dec 10")  # type: ignore[attr-defined]
        opened.press("Go on")
        opened.press("Bedtime")
        opened.press("Save plan")
        after = [n for n in range(90) if (Slot.AFTER_LUNCH, time(14)) in asked_on(opened, n)]
        assert after == before


def test_a_plan_saved_as_it_was_is_no_change(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        opened.now[0] += timedelta(days=8)
        opened.window.beat()
        opened.press("Change the plan")
        opened.press("Bedtime")
        opened.press(row(opened, "Bedtime"))
        opened.press("Take it out of the plan")
        opened.press("Save plan")
        assert opened.page.view_name == "checks"
        assert opened.message == "Nothing was changed. Your plan stays as it was."
        assert len(opened.book.plans()) == 1
        opened.press("Change the plan")
        opened.press("Bedtime")
        opened.press("Save plan")
        assert "your plan holds from today" in opened.message
        assert len(opened.book.plans()) == 2


def begin_check(opened: OpenWindow, name: str) -> None:
    """A new plan with one check, whose days are looked at."""
    opened.press("My plan")
    opened.press("When to check")
    opened.press("Write down my plan")
    opened.press(name)
    opened.press(row(opened, name))


def asked_on(opened: OpenWindow, days_ahead: int) -> list[tuple[Slot, time]]:
    return asked(opened, TODAY + timedelta(days=days_ahead))


def test_meals_in_turn_are_staggered_over_three_days(qtbot: QtBot, tmp_path: Path) -> None:
    """The staggered scheme of paired testing: before and after one meal a day, meals in turn."""
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        opened.press("When to check")
        opened.press("Write down my plan")
        opened.clicks = 0
        opened.press("Meals in pairs")
        for meal in ("Breakfast", "Lunch", "Dinner"):
            opened.press(meal)
        opened.press("One meal a day, in turn")
        opened.press("Go on")
        opened.press("Save plan")
        assert opened.clicks <= 7
        days = [[slot for slot, _ in asked(opened, TODAY + timedelta(days=n))] for n in range(4)]
        assert days == [
            [Slot.FASTING, Slot.AFTER_BREAKFAST],
            [Slot.BEFORE_LUNCH, Slot.AFTER_LUNCH],
            [Slot.BEFORE_DINNER, Slot.AFTER_DINNER],
            [Slot.FASTING, Slot.AFTER_BREAKFAST],
        ]


def test_today_stands_beside_the_plan_and_goes_with_the_clock(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        assert "Next: tomorrow" in words_of(opened)  # a Wednesday: dinner is on Mondays, Thursdays
        opened.now[0] += timedelta(hours=19, minutes=30)
        opened.window.beat()
        QApplication.processEvents()
        assert "Now due: fasting (before breakfast), about 7:30 AM." in words_of(opened)


def test_a_pause_to_come_is_shown_and_taken_back(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        opened.press("Pause the plan")
        opened.type_into(opened.view.first.field, "Dec 3")  # type: ignore[attr-defined]
        opened.type_into(opened.view.last.field, "Dec 9")  # type: ignore[attr-defined]
        opened.press("Save the pause")
        assert "from December 3, 2026 to December 9, 2026" in words_of(opened)
        assert asked(opened, date(2026, 12, 5)) == []
        opened.press("Take back the pause")
        assert asked(opened, date(2026, 12, 5)) != []
        assert "December 9" not in words_of(opened)


def words_of(opened: OpenWindow) -> str:
    """What can be read in the view."""
    return "\n".join(one.text() for one in opened.view.findChildren(Words) if one.isVisible())


def test_a_time_that_can_not_be_read_is_told_and_nothing_is_lost(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        opened.press("When to check")
        opened.press("Write down my plan")
        opened.press("Bedtime")
        opened.press(row(opened, "Bedtime"))
        opened.type_into(opened.view.time, "late")  # type: ignore[attr-defined]
        opened.press("Go on")
        assert "is not a time" in opened.view.problem_text
        assert opened.view.time.text() == "late"  # type: ignore[attr-defined]


def test_a_pause_asks_for_nothing_and_is_ended_in_one_click(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        opened.press("Pause the plan")
        opened.type_into(opened.view.reason, "hand in a cast")  # type: ignore[attr-defined]
        opened.press("Save the pause")
        assert asked(opened, TODAY + timedelta(days=40)) == []
        opened.press("End the pause")
        assert pause_on(opened.book.pauses(), TODAY) is None
        assert asked(opened, TODAY) != []


def test_a_published_schedule_is_not_agreed_until_it_is_said_so(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        opened.press("When to check")
        opened.press("Show published schedules")
        opened.press("Long-acting insulin only")
        button = next(
            one
            for one in opened.buttons()
            if one.text() == "Begin from this" and one.property("code") == "basal_insulin"
        )
        opened.press(button)
        opened.press("Save plan")
        (plan,) = opened.book.plans()
        assert (plan.set_by, plan.source) != (SetBy.PROVIDER, "")
        assert [check.slot for check in plan.checks] == [Slot.FASTING, Slot.BEDTIME]
        opened.now[0] += timedelta(minutes=1)
        opened.press("My provider agrees with this plan")
        opened.press("Save plan")
        newest: CheckPlan = max(opened.book.plans(), key=lambda one: one.written_at)
        assert newest.set_by is SetBy.PROVIDER
        assert newest.source == plan.source


def test_a_plan_is_ended_and_undo_brings_it_back(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        opened.now[0] += timedelta(minutes=1)  # of two plans of one day the later holds
        opened.press("End this plan")
        assert asked(opened, TODAY) == []
        opened.window._undo()
        assert asked(opened, TODAY) != []


def test_the_calendar_for_a_phone_is_saved_and_has_the_plan_in_it(
    qtbot: QtBot, tmp_path: Path, person_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Read back by `tests.exchange.calendar_reader`, which shares no code with the program."""
    folder = person_folder / "documents"
    monkeypatch.setattr(saving_places, "documents_folder", lambda: folder)
    with open_window(qtbot, tmp_path) as opened:
        set_up_commonest(opened)
        opened.press("Save a calendar for a phone")
        opened.press("Documents")
        opened.wait_for_jobs()
        opened.wait_for_jobs()
        assert opened.page.view_name == "checks"
        assert "Saved as “Checks calendar" in opened.message
    (file,) = folder.iterdir()
    assert file.suffix == ".ics"
    calendar = read_calendar(file.read_bytes())
    titles = {event.text("SUMMARY") for event in calendar.events}
    assert {"Check: fasting (before breakfast)", "Check: before dinner"} <= titles
