"""Catching up in a real window: typing rows by keyboard, what is asked, one Save, one Undo."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Kind, Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.readings import Source
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Slot
from logbook.ui.pages.catch_up import CatchUpView
from logbook.ui.pages.catch_up_tally import TallyView
from tests.ui.looking_window import (
    Looker,
    check_geometry,
    check_names_and_order,
    full_log,
    looking_window,
    one_reading,
)
from tests.ui.writing_window import settle

AHEAD = timedelta(minutes=7)


def some(book: Book) -> None:
    book.add(one_reading("2026-03-30 22:10", 182, Slot.BEDTIME))
    book.add(one_reading("2026-03-31 07:15", 128))


def with_fast_clock(book: Book) -> None:
    some(book)
    meter = Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2025, 1, 1))
    book.add(replace(meter, clock_ahead=AHEAD))


def view_of(looker: Looker) -> CatchUpView:
    view = looker.view
    assert isinstance(view, CatchUpView)
    return view


def type_row(looker: Looker, clock: str, number: str) -> None:
    """As a person at the keyboard does: the time, Enter, the number, Enter."""
    view = view_of(looker)
    assert view.entry.time.hasFocus()
    QTest.keyClicks(view.entry.time, clock)
    QTest.keyClick(view.entry.time, Qt.Key.Key_Return)
    assert view.entry.number.hasFocus()
    QTest.keyClicks(view.entry.number, number)
    QTest.keyClick(view.entry.number, Qt.Key.Key_Return)
    settle()


def test_rows_are_typed_without_the_mouse_and_saved_as_one_action(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        for clock, number in (("7:20a", "128"), ("6:05p", "141"), ("7:10 am", "131")):
            type_row(looker, clock, number)
        view = view_of(looker)
        assert [row.is_new for row in view.rows] == [False, True, True]
        assert [row.at.wall.isoformat(" ", "minutes") for row in view.rows] == [
            "2026-03-31 07:20",
            "2026-03-30 18:05",
            "2026-03-30 07:10",
        ]
        looker.clicks = 0
        looker.press("Save all 2")
        assert looker.clicks == 1
        assert looker.message == "2 readings are saved."
        added = [one for one in looker.readings if one.glucose.steps in (141, 131)]
        assert [one.source for one in added] == [Source.COPIED_FROM_METER] * 2
        assert [one.site_use for one in added] == [SiteUse.NOT_NOTED] * 2
        assert isinstance(looker.view, TallyView)
        assert looker.window.bar.undo.text() == "Undo: 2 readings"
        looker.click(looker.window.bar.undo)
        assert len(looker.readings) == 2


def test_rows_of_the_log_are_shown_and_not_written_twice(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        type_row(looker, "7:20a", "128")
        assert looker.message == "128 mg/dL is in the log already."
        type_row(looker, "10:12p", "182")
        assert view_of(looker).page.main_button is not None
        assert not view_of(looker).main_text()
        shown = [line.accessibleName() for line in view_of(looker).table.lines]
        assert len(shown) == 2
        assert all("Already written" in name for name in shown)


def test_the_clock_of_the_meter_is_put_right_and_told(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=with_fast_clock) as looker:
        looker.press("Catch up")
        assert "Your meter’s clock is 7 minutes ahead" in looker.words()
        type_row(looker, "6:05p", "141")
        assert view_of(looker).rows[0].at.wall.isoformat(" ", "minutes") == "2026-03-30 17:58"
        looker.press("A sheet of paper")
        assert "ahead" not in looker.words()
        assert view_of(looker).rows[0].at.wall.isoformat(" ", "minutes") == "2026-03-30 18:05"
        looker.press("Save all 1")
        added = next(one for one in looker.readings if one.glucose.steps == 141)
        assert added.source is Source.TYPED


def test_the_same_question_as_for_a_single_reading(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Catch up")
        type_row(looker, "6:05a", "900")
        view = view_of(looker)
        assert view.question.isVisible()
        assert not view.rows
        assert not view.main_text()
        looker.press("Change the number")
        assert view.entry.number.hasFocus()
        QTest.keyClicks(view.entry.number, "141")
        QTest.keyClick(view.entry.number, Qt.Key.Key_Return)
        assert [row.glucose.steps for row in view.rows] == [141]
        # A low is never questioned first.
        type_row(looker, "5:05a", "45")
        assert [row.glucose.steps for row in view.rows] == [141, 45]
        looker.press("Save all 2")
        assert looker.message == "2 readings are saved. 1 of them is a low."


@pytest.mark.parametrize(
    ("clock", "number", "words"),
    [
        ("7:20", "128", "morning or afternoon"),
        ("soon", "128", "is not a time"),
        ("7:20a", "abc", "“abc”"),
        ("7:20a", "", "There is no number yet"),
        ("7:20a", "5", "5"),
        ("11:50p", "128", ""),
    ],
)
def test_what_is_wrong_is_said_and_stays(
    qtbot: QtBot, tmp_path: Path, clock: str, number: str, words: str
) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        type_row(looker, clock, number)
        view = view_of(looker)
        if not words:
            # A time later than now is of the day before.
            assert view.rows[0].at.wall.day == 30
            return
        assert not view.rows
        assert words in looker.words()
        assert view.entry.number.text() == number


def test_a_time_still_to_come_today_is_refused(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        view = view_of(looker)
        view.entry.time.setText("11:50 pm")
        looker.press("1 day later")
        QTest.keyClicks(view.entry.number, "128")
        QTest.keyClick(view.entry.number, Qt.Key.Key_Return)
        assert not view.rows
        assert "has not come yet" in looker.words()


def test_lo_and_what_it_was_for(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        view = view_of(looker)
        QTest.keyClicks(view.entry.time, "3:05a")
        looker.press("What for?", "After lunch", "Meter shows LO", "Add this row")
        assert [(row.glucose.kind, row.slot) for row in view.rows] == [
            (Kind.READS_LOW, Slot.AFTER_LUNCH)
        ]


def test_a_row_is_changed_and_taken_out(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        type_row(looker, "6:05p", "141")
        looker.press("Change")
        view = view_of(looker)
        assert not view.rows
        assert (view.entry.time.text(), view.entry.number.text()) == ("6:05 PM", "141")
        QTest.keyClicks(view.entry.number, "114")
        QTest.keyClick(view.entry.number, Qt.Key.Key_Return)
        assert [row.glucose.steps for row in view.rows] == [114]
        settle()
        looker.press("Take out")
        assert not view.rows


def test_rows_that_are_not_saved_survive_the_program(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        type_row(looker, "6:05p", "141")
        kept = next((tmp_path / "state").glob("catch-up-*.json"))
        assert kept.stat().st_mode & 0o777 == 0o600
        looker.press("Back", "Catch up")
        assert [row.glucose.steps for row in view_of(looker).rows] == [141]
        before = view_of(looker)
        again = CatchUpView(looker.view_page)
        assert [(row.id, row.at) for row in again.rows] == [(row.id, row.at) for row in before.rows]
        again.deleteLater()
        looker.press("Save all 1")
        assert not kept.exists()
        kept.write_text('{"from": "meter", "rows": [{"id": 1}]}', encoding="utf-8")
        damaged = CatchUpView(looker.view_page)
        assert damaged.rows == ()
        damaged.deleteLater()


def test_the_meters_own_count_is_compared(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        type_row(looker, "6:05p", "141")
        looker.press("Save all 1")
        view = looker.view
        assert isinstance(view, TallyView)
        QTest.keyClicks(view.field, "many")
        looker.press("Compare")
        assert "as a number" in looker.words()
        view.field.setText("4")
        looker.press("Compare")
        assert "The log holds 2 readings. 2 more are in the meter." in looker.words()


# --- a paper sheet, column by column -------------------------------------------------------------


def copy_column(looker: Looker, way: str, column: str) -> None:
    looker.press("A sheet of paper", way)
    assert not view_of(looker).rows
    looker.press_first(column)


def days_of(looker: Looker) -> list[tuple[int, int | None, bool]]:
    return [(row.at.wall.day, row.glucose.steps, row.is_new) for row in view_of(looker).rows]


def test_a_column_is_typed_day_after_day(qtbot: QtBot, tmp_path: Path) -> None:
    """The day is asked once; then each number needs Enter alone, and a dash is an empty box."""
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Before dinner")
        view = view_of(looker)
        assert view.entry.day.hasFocus()
        assert "about 6:00 PM. Before dinner." in looker.words()
        assert "The time is a common one" in looker.words()
        looker.type("Enter 1 2 1 Enter - Enter 9 9 Enter")
        assert days_of(looker) == [(30, 121, True), (28, 99, True)]
        assert {row.slot for row in view.rows} == {Slot.BEFORE_DINNER}
        assert view.entry.number.hasFocus()
        shown = [line.accessibleName() for line in view.table.lines]
        assert all("about 6:00 PM" in name for name in shown)
        looker.press("Save all 2")
        added = [one for one in looker.readings if one.slot is Slot.BEFORE_DINNER]
        assert [one.source for one in added] == [Source.TYPED] * 2
        assert {one.note for one in added} == {"about this time"}


def test_a_sheet_that_begins_with_its_first_day(qtbot: QtBot, tmp_path: Path) -> None:
    """Another column begins on the same day again."""
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day later", "Fasting")
        looker.type("M a r c h Space 1 Enter 1 2 1 Enter 1 2 2 Enter")
        looker.press("Another column")
        looker.press_first("Bedtime")
        assert view_of(looker).entry.number.hasFocus()
        looker.type("1 5 1 Enter 1 5 2 Enter")
        assert days_of(looker) == [(1, 121, True), (2, 122, True), (1, 151, True), (2, 152, True)]


def test_days_that_are_written_are_grey_and_told_beforehand(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Fasting")
        assert "In your log: 128 mg/dL." in looker.words()
        (there,) = view_of(looker).table.lines
        assert "Already written" in there.accessibleName()
        looker.type("Enter 1 2 8 Enter")
        assert days_of(looker) == [(31, 128, False)]
        assert looker.message == "128 mg/dL is in the log already."
        assert "In your log" not in looker.words()
        assert not view_of(looker).main_text()


def test_a_time_on_the_sheet_is_taken_as_it_is(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Bedtime")
        view = view_of(looker)
        view.entry.take_time()
        looker.type("9 : 4 0 p Enter 1 5 1 Enter 1 5 2 Enter")
        assert [(row.at.wall.hour, row.is_about) for row in view.rows] == [(21, False), (22, True)]
        assert view.rows[0].note == ""


def test_a_column_is_said_before_a_number_is_taken(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up", "A sheet of paper", "Same column, a day earlier")
        view = view_of(looker)
        view.entry.take_number()
        looker.type("1 2 1 Enter")
        assert not view.rows
        assert looker.message == "Say which column it is first."
        looker.press("Bedtime")
        assert view.entry.number.text() == "121"  # what was typed stays


def test_a_changed_row_leaves_the_column_where_it_was(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Before dinner")
        looker.type("Enter 1 2 1 Enter 1 2 2 Enter 1 2 3 Enter")
        looker.press_first("Change: 121 mg/dL")
        looker.type("1 2 4 Enter")
        looker.type("1 2 0 Enter")
        assert days_of(looker) == [
            (29, 122, True),
            (28, 123, True),
            (30, 124, True),
            (27, 120, True),
        ]
        assert all(row.is_about for row in view_of(looker).rows)


def test_the_same_question_down_a_column(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Before dinner")
        looker.type("Enter 9 0 0 Enter")
        assert view_of(looker).question.isVisible()
        looker.press("Yes, take 900 mg/dL")
        assert [row.glucose.steps for row in view_of(looker).rows] == [900]


def test_the_meters_memory_ends_a_column(qtbot: QtBot, tmp_path: Path) -> None:
    """Rows without a clock time are not moved by the clock of a meter."""
    with looking_window(tmp_path, prepare=with_fast_clock) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Before lunch")
        looker.type("Enter 1 2 1 Enter")
        before = [row.at for row in view_of(looker).rows]
        looker.press("The meter’s memory")
        assert [row.at for row in view_of(looker).rows] == before
        type_row(looker, "6:05p", "141")
        assert not view_of(looker).rows[1].is_about


def test_rows_of_a_column_survive_the_program(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=some) as looker:
        looker.press("Catch up")
        copy_column(looker, "Same column, a day earlier", "Before lunch")
        looker.type("Enter 1 2 1 Enter")
        again = CatchUpView(looker.view_page)
        assert again.rows == view_of(looker).rows
        assert again.rows[0].is_about
        again.deleteLater()


@pytest.mark.parametrize("percent", [100, 200, 300])
def test_what_is_typed_is_in_sight_at_any_text_size(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    with looking_window(tmp_path, prepare=some, percent=percent) as looker:
        looker.press("Catch up", "A sheet of paper", "Same column, a day earlier")
        check_geometry(looker)
        check_names_and_order(looker)
        viewport = looker.view_page.scrolled.area.viewport()

        def is_in_sight(part: QWidget) -> bool:
            return viewport.rect().contains(part.mapTo(viewport, part.rect().center()))

        entry = view_of(looker).entry
        qtbot.waitUntil(lambda: is_in_sight(entry.slots.label), timeout=5_000)
        looker.press_first("Fasting")
        qtbot.waitUntil(lambda: is_in_sight(entry.day), timeout=5_000)
        looker.type("Enter 1 2 1 Enter")
        qtbot.waitUntil(lambda: is_in_sight(entry.number), timeout=5_000)
        looker.press_first("Change")
        qtbot.waitUntil(lambda: is_in_sight(entry.number), timeout=5_000)
        looker.type("Enter")
        check_geometry(looker)
        check_names_and_order(looker)


@pytest.mark.parametrize("percent", [100, 200, 300])
def test_what_is_typed_from_the_memory_is_in_sight_at_any_text_size(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    """The field with the keyboard, and the question about a number, are never out of sight."""
    with looking_window(tmp_path, prepare=with_fast_clock, percent=percent) as looker:
        looker.press("Catch up")
        viewport = looker.view_page.scrolled.area.viewport()
        title = looker.view_page.title
        view = view_of(looker)

        def is_seen(part: QWidget) -> bool:
            is_title_whole = title.height() >= title.heightForWidth(title.width())
            spot = part.mapTo(viewport, part.rect().center())
            return is_title_whole and viewport.rect().contains(spot)

        qtbot.waitUntil(lambda: is_seen(view.source), timeout=5_000)
        for clock, number in (("7:20a", "128"), ("6:05p", "141"), ("7:10a", "3201")):
            looker.type(" ".join(clock))
            qtbot.waitUntil(lambda: is_seen(view.entry.time), timeout=5_000)
            looker.type("Enter")
            qtbot.waitUntil(lambda: is_seen(view.entry.number), timeout=5_000)
            looker.type(f"{' '.join(number)} Enter")
        assert "lies outside" in looker.words()
        qtbot.waitUntil(lambda: is_seen(view.entry.number), timeout=5_000)
        looker.type("Backspace Backspace Backspace Backspace 9 0 0 Enter")
        qtbot.waitUntil(lambda: is_seen(view.question.heading), timeout=5_000)
        looker.press("Change the number")
        qtbot.waitUntil(lambda: is_seen(view.entry.number), timeout=5_000)


@pytest.mark.parametrize("percent", [100, 200, 300])
def test_nothing_is_cut_off_at_any_text_size(qtbot: QtBot, tmp_path: Path, percent: int) -> None:
    with looking_window(tmp_path, prepare=with_fast_clock, percent=percent) as looker:
        looker.view_page.turn_to("catch_up")
        check_geometry(looker)
        check_names_and_order(looker)
        type_row(looker, "6:05p", "141")
        type_row(looker, "6:05a", "900")
        check_geometry(looker)
        view_of(looker).question.yes.click()
        view_of(looker).entry.what_for.click()
        check_geometry(looker)
        view_of(looker).entry.number.clear()
        view_of(looker).do_main()
        check_geometry(looker)
        check_names_and_order(looker)
