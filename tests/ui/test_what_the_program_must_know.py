"""*What the program must know*: an answer holds from its day, and choices follow from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.guidelines import Health
from logbook.domain.ticks import (
    ABOUT_MEDICINES,
    FOOLS_THE_A1C,
    FOOLS_THE_METER,
    About,
    Tick,
    Told,
    can_have_lows,
)
from logbook.ui.pages.my_plan import HomeView
from logbook.ui.pages.my_plan_published import PublishedView, caution_text
from logbook.ui.pages.my_plan_ticks import TickDayView, TicksView
from logbook.ui.parts.texts import Words
from logbook.wording import cautions
from tests.ui.plan_window import TODAY, OpenWindow, open_window


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        window.window.show_page("my_plan/know")
        yield window


def ticks_view(opened: OpenWindow) -> TicksView:
    assert isinstance(opened.view, TicksView)
    return opened.view


def tell(opened: OpenWindow, about: About, told: Told) -> None:
    opened.press(ticks_view(opened).rows[about].tiles.buttons[told])


def words(opened: OpenWindow) -> str:
    return "\n".join(one.text() for one in opened.view.findChildren(Words) if one.isVisible())


def kept(opened: OpenWindow) -> list[tuple[About, Told, date]]:
    return [(one.about, one.told, one.holds_from) for one in opened.book.ticks().all]


def test_every_question_stands_in_one_of_three_groups(opened: OpenWindow) -> None:
    seen: list[About] = []
    for tile in ("My medicines", "What can fool the meter", "What can fool the A1C"):
        opened.press(tile)
        assert opened.button(tile).isChecked()
        seen += ticks_view(opened).rows
    assert seen == [*ABOUT_MEDICINES, *FOOLS_THE_METER, *FOOLS_THE_A1C] == list(About)


def test_one_press_tells_an_answer_from_today_and_undo_takes_it_back(opened: OpenWindow) -> None:
    row = ticks_view(opened).rows[About.BETA_BLOCKER]
    assert row.tiles.value is None
    assert not row.day.isVisible()
    tell(opened, About.BETA_BLOCKER, Told.YES)
    assert kept(opened) == [(About.BETA_BLOCKER, Told.YES, TODAY)]
    assert opened.message == "Saved. Beta blocker: Yes."
    assert row.day.text() == "From November 25, 2026"
    opened.desk.write(opened.book.undo)
    assert kept(opened) == []
    assert row.tiles.value is None


def test_a_slip_is_put_right_and_a_later_change_is_a_second_answer(opened: OpenWindow) -> None:
    tell(opened, About.STEROID_NOW, Told.YES)
    tell(opened, About.STEROID_NOW, Told.NOT_SURE)
    assert kept(opened) == [(About.STEROID_NOW, Told.NOT_SURE, TODAY)]
    opened.now[0] += timedelta(days=3)
    tell(opened, About.STEROID_NOW, Told.NO)
    assert kept(opened) == [
        (About.STEROID_NOW, Told.NOT_SURE, TODAY),
        (About.STEROID_NOW, Told.NO, TODAY + timedelta(days=3)),
    ]


def test_the_day_of_an_answer_can_be_moved_back(opened: OpenWindow) -> None:
    tell(opened, About.INSULIN, Told.YES)
    opened.press("From November 25, 2026")
    view = opened.view
    assert isinstance(view, TickDayView)
    opened.press("1 week earlier")
    opened.press("Save day")
    week_ago = TODAY - timedelta(days=7)
    assert kept(opened) == [(About.INSULIN, Told.YES, week_ago)]
    assert opened.message == "Saved. Insulin: Yes, from November 18, 2026."
    assert isinstance(opened.view, TicksView)
    settings = opened.book.settings
    assert can_have_lows(opened.book.ticks(), settings, week_ago) is True
    assert can_have_lows(opened.book.ticks(), settings, week_ago - timedelta(days=1)) is None


@pytest.mark.parametrize(
    ("presses", "told"),
    [
        (["1 day later"], "This day is still to come."),
        (["1 week earlier"], "Your answer before this one holds from November 22, 2026."),
    ],
)
def test_a_day_that_cannot_hold_is_refused_in_words(
    opened: OpenWindow, presses: list[str], told: str
) -> None:
    three_days_ago = TODAY - timedelta(days=3)
    first = Tick(uuid4(), About.INSULIN, Told.NO, three_days_ago, opened.now[0])
    opened.desk.write(opened.book.add, first)
    tell(opened, About.INSULIN, Told.YES)
    before = kept(opened)
    opened.press("From November 25, 2026")
    for press in presses:
        opened.press(press)
    opened.press("Save day")
    assert told in opened.view.problem_text
    assert kept(opened) == before


def test_icodextrin_warns_at_once_and_no_other_answer_does(opened: OpenWindow) -> None:
    opened.press("What can fool the meter")
    for told, is_warned in ((Told.NO, False), (Told.YES, True), (Told.NOT_SURE, True)):
        tell(opened, About.ICODEXTRIN, told)
        assert (cautions.icodextrin() in words(opened)) is is_warned
    tell(opened, About.ICODEXTRIN, Told.NO)
    for about in FOOLS_THE_METER:
        if about is not About.ICODEXTRIN:
            tell(opened, about, Told.YES)
    assert cautions.icodextrin() not in words(opened)


def test_the_list_of_subjects_says_what_was_told(opened: OpenWindow) -> None:
    def said() -> str:
        opened.window.show_page("my_plan/home")
        home = opened.view
        assert isinstance(home, HomeView)
        text = home.buttons["know"].accessibleDescription()
        opened.window.show_page("my_plan/know")
        return text

    assert said() == "Nothing told yet"
    tell(opened, About.INSULIN, Told.NO)
    assert said() == "None of them"
    tell(opened, About.BETA_BLOCKER, Told.YES)
    assert said() == "1 thing told"
    tell(opened, About.INSULIN, Told.YES)
    tell(opened, About.BLOOD_THINNER, Told.YES)
    assert said() == "3 things told"


def test_medicines_lead_to_it_and_ask_nothing_twice(opened: OpenWindow) -> None:
    opened.window.show_page("my_plan/medicines")
    assert "Not sure" not in {one.text() for one in opened.buttons()}
    opened.press("What the program must know")
    assert isinstance(opened.view, TicksView)


@pytest.mark.parametrize(
    ("insulin", "tablets", "is_cautioned"),
    [
        (Told.NO, Told.NO, False),
        (Told.NO, Told.YES, True),
        (Told.NO, Told.NOT_SURE, True),
        (None, None, True),
    ],
)
def test_published_rows_follow_what_was_told(
    opened: OpenWindow, insulin: Told | None, tablets: Told | None, is_cautioned: bool
) -> None:
    """ADA 2024, table 13.1, read at the journal: rows without a floor of 90 mg/dL."""
    for about, told in ((About.INSULIN, insulin), (About.LOW_CAUSING_TABLETS, tablets)):
        if told is not None:
            tell(opened, about, told)
    opened.window.show_page("my_plan/targets_published")
    view = opened.view
    assert isinstance(view, PublishedView)
    opened.press(view.health.buttons[Health.GOOD])
    assert (caution_text() in words(opened)) is is_cautioned
