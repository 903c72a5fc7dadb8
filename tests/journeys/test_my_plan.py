"""A visit is over: new targets are written down, and the readings before it keep the old ones."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from uuid import uuid4

from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.targets import Verdict, judge
from logbook.ui.pages.my_plan_numbers import NumbersView
from tests.ui.plan_window import NOON, TODAY, ZONE, OpenWindow, open_window


def write(book: Book, day: date, value: int) -> Reading:
    at = Moment.from_wall(datetime(day.year, day.month, day.day, 7, 30), ZONE)
    reading = Reading(uuid4(), Glucose.number(value, Unit.MG_DL), at, at.instant, Slot.FASTING)
    book.add(reading)
    return reading


def take_over(opened: OpenWindow, lowest: str, highest: str, day: str) -> None:
    opened.press("Targets")
    opened.press("Change targets")
    opened.press("My provider gave me these numbers")
    opened.press("Fasting (before breakfast)")
    opened.press("Go on")
    view = opened.view
    assert isinstance(view, NumbersView)
    opened.type_into(view.lowest, lowest)
    opened.type_into(view.highest, highest)
    opened.press("Go on")
    opened.type_into(opened.view.day.field, day)  # type: ignore[attr-defined]
    opened.press("Save targets")
    opened.press("Back")


def test_new_targets_apply_from_their_day_on_and_not_backwards(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        old = write(opened.book, TODAY - timedelta(days=10), 140)
        new = write(opened.book, TODAY, 140)
        opened.window.show_page("my_plan")
        take_over(opened, "80", "130", "Oct 1")
        opened.clicks = 0
        take_over(opened, "90", "150", "Nov 20")
        assert opened.clicks <= 9

        targets = opened.book.targets()
        verdicts = [
            judge(one.glucose, targets.for_slot(one.slot, one.at.day())) for one in (old, new)
        ]
        assert verdicts == [Verdict.ABOVE, Verdict.IN_TARGET]
    with Book.open(tmp_path / "my.logbook", lambda: NOON, read_only=True) as book:
        assert len(book.targets().all) == 2


def test_larger_text_in_3_clicks(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        opened.press("Text and contrast")
        opened.press("200%")
        assert opened.clicks == 3
        assert opened.desk.look.theme.percent == 200
        opened.press("Pages")
        opened.press("Visit")
        assert opened.page.name == "visit"


def test_a_change_of_several_settings_is_taken_back_step_by_step(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path) as opened:
        before = opened.book.settings
        opened.press("My plan")
        opened.press("Fingers and lancets")
        for tile in ("Left hand", "Both hands", "Index finger"):
            opened.press(tile)
        opened.press("Back")  # a new view takes the last message away, and Undo is back
        for _time in range(3):
            assert opened.book.undoable is not None
            opened.window._undo()
        assert opened.book.settings == before
