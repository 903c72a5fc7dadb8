"""*When does something repeat?*: each limit in plain words, kept, followed, and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.findings import FindingKind, find_findings
from logbook.domain.findings.limits import LIMITS, limit_of, own_limits, usual_limit
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.ui.pages.my_plan_day_groups import DayGroupsView, DayGroupView
from logbook.ui.pages.my_plan_findings import LimitsView, LimitView
from tests.ui.plan_window import TODAY, ZONE, OpenWindow, open_window


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        window.window.show_page("my_plan")
        window.press("Targets")
        window.press("When does something repeat?")
        yield window


def words(opened: OpenWindow) -> str:
    return "\n".join(one.text() for one in opened.buttons())


PRESSES = [
    ("How far back", "56 days", {"finding_days": 56}),
    ("Lows close together", "3", {"low_repeat_count": 3}),
    ("Lows close together", "28 days", {"low_repeat_days": 28}),
    ("Close to low", "5", {"near_low_count": 5}),
    ("Close to low", "14 days", {"near_low_days": 14}),
    ("Above target", "10", {"high_least_readings": 10}),
    ("Above target", "30 mg/dL", {"high_margin": 30}),
    ("Meals and nights", "5", {"pairs_needed": 5}),
    ("Meals and nights", "1 hour", {"after_meal_from_minutes": 60}),
]


@pytest.mark.parametrize(("subject", "tile", "fields"), PRESSES, ids=lambda one: str(one)[:30])
def test_one_press_changes_one_limit_and_undo_takes_it_back(
    opened: OpenWindow, subject: str, tile: str, fields: dict[str, int]
) -> None:
    before = opened.book.settings
    opened.press(subject)
    opened.clicks = 0
    opened.press(tile)
    assert opened.clicks <= 3  # Down, where a small window needs it
    settings = opened.book.settings
    assert {name: getattr(settings, name) for name in fields} == fields
    assert own_limits(settings) == tuple(fields)
    assert opened.message.startswith("From now on: ")
    is_minutes = "after_meal_from_minutes" in fields
    what = "the time after a meal" if is_minutes else "the limits for findings"
    opened.press(f"Undo: change of {what}")
    assert opened.book.settings == before


def test_every_limit_has_a_view_and_the_usual_one_is_marked(opened: OpenWindow) -> None:
    seen = set()
    for name in ("lows", "near_lows", "highs", "pairs", "days"):
        opened.page.turn_to(f"limits_{name}")
        view = opened.view
        assert isinstance(view, LimitView)
        for limit, choice in view.choices.items():
            seen.add(limit)
            marked = [tile.text() for tile in choice.buttons.values() if "(usual)" in tile.text()]
            assert len(marked) == 1
            assert choice.value == usual_limit(Unit.MG_DL, limit)
    assert seen == set(LIMITS)


def test_the_usual_tile_keeps_the_default_and_follows_the_unit(opened: OpenWindow) -> None:
    opened.press("Above target")
    opened.press("40 mg/dL")
    opened.press("20 mg/dL (usual)")
    assert opened.book.settings.high_margin is None
    opened.press("40 mg/dL")
    opened.page.turn_to("unit")
    opened.press("mmol/L, as in 7.1 mmol/L")
    settings = opened.book.settings
    assert (settings.unit, settings.high_margin) == (Unit.MMOL_L, None)
    assert limit_of(settings, "high_margin") == 11


def test_all_usual_limits_come_back_with_one_press(opened: OpenWindow) -> None:
    view = opened.view
    assert isinstance(view, LimitsView)
    assert not view.usual.isVisible()
    opened.press("Lows close together")
    opened.press("4")
    opened.press("7 days")
    opened.press("Back")
    assert "4 lows within 7 days" in words(opened)
    opened.press("Back to the usual limits")
    assert own_limits(opened.book.settings) == ()
    assert "2 lows within 14 days" in words(opened)


def test_a_limit_that_no_tile_offers_is_offered_too(qtbot: QtBot, tmp_path: Path) -> None:
    settings = LogSettings(low_repeat_days=10, unit=Unit.MMOL_L, high_margin=13)
    with open_window(qtbot, tmp_path, settings=settings) as opened:
        opened.window.show_page("my_plan")
        opened.page.turn_to("limits")
        opened.press("Lows close together")
        assert opened.button("10 days").isChecked()
        opened.press("Back")
        opened.press("Above target")
        assert opened.button("1.3 mmol/L").isChecked()


# --- named days -----------------------------------------------------------------------------------


def named_in(opened: OpenWindow) -> tuple[tuple[str, str], ...]:
    return opened.book.settings.day_groups


def test_days_are_named_changed_and_taken_away(opened: OpenWindow) -> None:
    opened.press("Days that are compared")
    assert isinstance(opened.view, DayGroupsView)
    opened.press("Name other days")
    view = opened.view
    assert isinstance(view, DayGroupView)
    opened.clicks = 0
    opened.type_into(view.name, "dialysis")
    for day in ("Monday", "Wednesday", "Friday"):
        opened.press(day)
    opened.press("Save these days")
    assert opened.clicks == 4
    assert named_in(opened) == (("dialysis", "024"),)
    assert opened.message == "Compared from now on: dialysis (Mon, Wed, Fri)."

    opened.press("dialysis")
    opened.press("Friday")
    opened.press("Save these days")
    assert named_in(opened) == (("dialysis", "02"),)
    opened.press("Back")
    assert "Weekend (Sat, Sun), dialysis" in words(opened)

    opened.page.turn_to("day_groups")
    opened.press("dialysis")
    opened.press("No longer compare these days")
    assert named_in(opened) == ()
    opened.press("Undo: change of my groups of days")
    assert named_in(opened) == (("dialysis", "02"),)


def test_a_name_or_days_that_will_not_do_are_told_and_nothing_typed_is_lost(
    opened: OpenWindow,
) -> None:
    opened.press("Days that are compared")
    opened.press("Name other days")
    view = opened.view
    assert isinstance(view, DayGroupView)
    opened.press("Monday")
    opened.press("Save these days")
    assert "need a name" in view.problem_text
    opened.type_into(view.name, "Weekend")
    opened.press("Save these days")
    assert "have this name already" in view.problem_text
    opened.type_into(view.name, "work")
    opened.press("Monday")
    opened.press("Save these days")
    assert opened.message == "Choose at least one day of the week."
    opened.press("Back")
    opened.page.turn_to("day_group")  # what was typed stays
    view = opened.view
    assert isinstance(view, DayGroupView)
    assert view.name.text() == "work"
    assert opened.book.settings.day_groups == ()


def test_the_weekend_is_the_persons_own(opened: OpenWindow) -> None:
    opened.press("Days that are compared")
    opened.press("Friday")
    opened.press("Sunday")
    assert opened.book.settings.weekend == (4, 5)
    assert opened.message == "Your weekend: Fri, Sat."


def test_days_named_in_the_window_are_compared(opened: OpenWindow) -> None:
    """Monday, Wednesday and Friday 60 mg/dL higher over twelve weeks: found under their name."""
    opened.press("Days that are compared")
    opened.press("Name other days")
    view = opened.view
    assert isinstance(view, DayGroupView)
    opened.type_into(view.name, "day center")
    for name in ("Monday", "Wednesday", "Friday"):
        opened.press(name)
    opened.press("Save these days")
    book = opened.book
    for back in range(1, 84):
        day = TODAY - timedelta(days=back)
        steps = 130 + back % 7 * 3 + (60 if day.weekday() in (0, 2, 4) else 0)
        at = Moment.from_wall(datetime(day.year, day.month, day.day, 7, 30), ZONE)
        book.add(Reading(uuid4(), Glucose.number(steps, Unit.MG_DL), at, at.instant, Slot.FASTING))
    found = find_findings(
        book.series(),
        Period.ending(TODAY, 30),
        book.settings,
        book.targets(),
        (),
        (),
        book.ticks(),
        as_report=False,
    )
    groups = [one.group for one in found if one.kind is FindingKind.DAY_GROUP]
    assert groups == ["day center"]
