"""*Look back*: what is in the picture, the table, the figures and the list, at every size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any
from uuid import uuid4

import pyqtgraph
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QFontMetrics, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.states import State
from logbook.domain.targets import TargetKind
from logbook.domain.visits import Medicine
from logbook.ui.pages.look_back import LookBack
from logbook.ui.pages.look_back_figures import FiguresView
from logbook.ui.pages.look_back_home import HomeView
from logbook.ui.pages.look_back_looking import Shows
from logbook.ui.pages.look_back_over_time import OverTimeView
from logbook.ui.parts.chart_readings import ReadingsChart
from logbook.ui.parts.table import ReadTable
from tests.ui.looking_window import (
    Looker,
    check_geometry,
    check_names_and_order,
    full_log,
    is_scrolled,
    looking_window,
    one_reading,
    target,
)
from tests.ui.writing_window import settle

SIZES = [((1280, 660), 100), ((1366, 768), 100), ((1280, 660), 200), ((1366, 768), 200)]


def page_of(looker: Looker) -> LookBack:
    page = looker.window.page
    assert isinstance(page, LookBack)
    return page


def home_of(looker: Looker) -> HomeView:
    view = looker.view
    assert isinstance(view, HomeView)
    return view


def time_of(looker: Looker) -> OverTimeView:
    """The readings over time, called up when another view is there."""
    if not isinstance(looker.view, OverTimeView):
        looker.press("Over time")
    view = looker.view
    assert isinstance(view, OverTimeView)
    return view


def figures_of(looker: Looker) -> FiguresView:
    view = looker.view
    assert isinstance(view, FiguresView)
    return view


def chart_of(looker: Looker) -> ReadingsChart:
    chart = time_of(looker).picture.chart
    assert chart is not None
    return chart


def scatters_of(chart: ReadingsChart) -> list[Any]:
    items = chart.box.childGroup.childItems()
    return [item for item in items if isinstance(item, pyqtgraph.ScatterPlotItem)]


def cells_of(table: ReadTable) -> list[list[str]]:
    found = []
    for row in range(table.rowCount()):
        items = [table.item(row, column) for column in range(table.columnCount())]
        found.append([item.text() for item in items if item is not None])
    return found


# --- at every size --------------------------------------------------------------------------------


SUBJECTS = ["repeats", "lows", "figures", "time", "day", "pairs", "a1c", "average"]


@pytest.mark.parametrize(("size", "percent"), SIZES)
def test_the_subjects_are_whole(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int
) -> None:
    with looking_window(tmp_path, prepare=full_log, size=size, percent=percent) as looker:
        check_geometry(looker)
        check_names_and_order(looker)
        assert list(home_of(looker).buttons) == [
            *SUBJECTS[:-2],
            "list",
            *SUBJECTS[-2:],
            "catch_up",
            "import",
        ]


@pytest.mark.parametrize(("size", "percent"), SIZES)
@pytest.mark.parametrize("subject", SUBJECTS)
def test_nothing_is_clipped_or_overlapped(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int, subject: str
) -> None:
    with looking_window(tmp_path, prepare=full_log, size=size, percent=percent) as looker:
        page_of(looker).turn_to(subject)
        check_whole(looker)
        ways = [way for way in getattr(looker.view, "ways", {}).values() if way.isVisible()]
        for way in ways:
            looker.press(way.text())
            check_whole(looker)
        # One way alone needs no tile.
        assert len(ways) != 1


def check_whole(looker: Looker) -> None:
    check_geometry(looker)
    check_names_and_order(looker)
    for table in looker.view.findChildren(ReadTable):
        if table.isVisible():
            check_table(table)


def check_table(table: ReadTable) -> None:
    widths = sum(table.columnWidth(column) for column in range(table.columnCount()))
    assert widths <= table.width()
    heights = sum(table.rowHeight(row) for row in range(table.rowCount()))
    head = table.horizontalHeader().height() if table.horizontalHeader().isVisible() else 0
    assert heights + head <= table.height()


@pytest.mark.parametrize(("size", "percent"), SIZES)
@pytest.mark.parametrize("view", ["days", "kind", "correct", "cross_out"])
def test_the_views_behind_are_whole_too(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int, view: str
) -> None:
    with looking_window(tmp_path, prepare=full_log, size=size, percent=percent) as looker:
        page = page_of(looker)
        page.looking.subject = looker.book.readings(newest_first=True, limit=1)[0].id
        page.turn_to(view)
        check_geometry(looker)
        check_names_and_order(looker)
        for wrong in ("The day or the time", "What it was for") if view == "correct" else ():
            looker.press(wrong)
            check_geometry(looker)


@pytest.mark.parametrize(
    "presses",
    [
        (),
        ("Over time",),
        ("Over time", "As a table"),
        ("Each reading",),
        ("Over the day",),
        ("Over the day", "As a table"),
        ("Meals and nights",),
        ("Meals and nights", "Each pair"),
        ("Figures",),
        ("Figures", "All readings"),
        ("Figures", "Before and after"),
        ("Lows",),
    ],
)
def test_at_the_usual_size_the_page_needs_no_scrolling(
    qtbot: QtBot, tmp_path: Path, presses: tuple[str, ...]
) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press(*presses)
        settle()
        assert not is_scrolled(looker)


@pytest.mark.parametrize("contrast", ["dark", "strong"])
def test_the_picture_takes_every_theme(qtbot: QtBot, tmp_path: Path, contrast: str) -> None:
    with looking_window(tmp_path, prepare=full_log, contrast=contrast) as looker:
        chart = chart_of(looker)
        sheet = looker.window.desk.look.colour("sheet")
        picture = chart.view.grab().toImage()
        assert picture.pixelColor(picture.width() - 6, 3) == sheet


# --- the picture ----------------------------------------------------------------------------------


def test_the_picture_shows_each_reading_with_the_shape_of_its_state(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looked = time_of(looker).looked
        assert looked is not None
        drawn = sum(len(item.data) for item in scatters_of(chart_of(looker)))
        assert drawn == len(looked.marks) > 100
        counts = looked.marks.counts()
        words = looker.words()
        for state, text in (
            (State.VERY_LOW, "Very low"),
            (State.LOW, "Low"),
            (State.IN_TARGET, "In target"),
            (State.ABOVE_TARGET, "Above target"),
            (State.VERY_HIGH, "Very high"),
        ):
            assert counts[state]
            assert f"{text} {counts[state]}" in words


def test_the_picture_says_its_content_to_a_screen_reader(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looked = time_of(looker).looked
        assert looked is not None
        chart = chart_of(looker)
        said = chart.accessibleDescription()
        assert chart.accessibleName() == "Picture of the readings over time"
        assert "March 2 to March 31, 2026" in said
        assert f"In target {looked.marks.counts()[State.IN_TARGET]}." in said
        assert "March 16: new target. Fasting (before breakfast): 90 to 150 mg/dL." in said
        assert "March 24: new medicine, Invented evening tablet." in said
        assert "Ill" in said


def test_changes_and_unusual_days_are_marked_with_words(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        labels = [each.label.text for each in chart_of(looker).labels.placed]
        assert labels == ["Ill", "New target", "New medicine"]
        assert chart_of(looker).labels.without_words == 0


def test_the_band_follows_the_target_of_each_day(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Over time", "One time of day", "Fasting (before breakfast)")
        looked = time_of(looker).looked
        assert looked is not None
        assert [(s.first, s.lowest, s.highest) for s in looked.band] == [
            (date(2026, 3, 2), 80, 130),
            (date(2026, 3, 16), 90, 150),
        ]
        assert {looked.series.slots[i] for i in looked.marks.indices} == {Slot.FASTING}
        assert "The band is your target of each day." in looker.words()


def test_no_wheel_press_or_menu_changes_the_picture(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        chart = chart_of(looker)
        before = chart.box.viewRange()
        spot = QPointF(chart.view.rect().center())
        place = QPointF(chart.view.mapToGlobal(chart.view.rect().center()))
        wheel = QWheelEvent(
            spot,
            place,
            QPoint(0, 0),
            QPoint(0, 240),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        under = looker.window.childAt(chart.mapTo(looker.window, chart.rect().center()))
        # What the window finds there is the frame, never the canvas that would take gestures.
        assert isinstance(under, QWidget)
        assert under is chart
        QApplication.sendEvent(under, wheel)
        QTest.mouseClick(under, Qt.MouseButton.RightButton)
        QTest.mouseDClick(under, Qt.MouseButton.LeftButton)
        QTest.mousePress(under, Qt.MouseButton.LeftButton)
        QTest.mouseMove(under, under.rect().center() + QPoint(80, 10))
        QTest.mouseRelease(under, Qt.MouseButton.LeftButton)
        settle()
        assert chart.box.viewRange() == before
        assert QApplication.activePopupWidget() is None


def test_the_time_axis_is_wall_time_wherever_the_computer_is(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def one(book: Book) -> None:
        book.add(one_reading("2026-03-31 00:30", 120))

    with looking_window(tmp_path, prepare=one) as looker:
        (points,) = scatters_of(chart_of(looker))
        # Minutes since 1970 as the wall clock counted them: no zone has a part in it.
        minutes = (date(2026, 3, 31) - date(1970, 1, 1)).days * 24 * 60 + 30
        assert points.data["x"].tolist() == [minutes]


def test_many_readings_share_marks_and_it_is_said(qtbot: QtBot, tmp_path: Path) -> None:
    from tests.ui.looking_window import long_series

    with looking_window(
        tmp_path, prepare=lambda book: book.take_in(long_series(4_000), "invented.csv")
    ) as looker:
        looker.press("Any dates")
        looker.press_first("The whole log")
        looker.press("Over time")
        assert "each mark stands for up to" in looker.words()
        looker.press("Back", "Over the day")
        assert "each mark stands for up to" in looker.words()


# --- words when there is little -------------------------------------------------------------------


def test_an_empty_log_says_so_and_shows_no_button_that_does_nothing(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path) as looker:
        assert "Nothing is written down yet." in looker.words()
        shown = [name for name, one in home_of(looker).buttons.items() if one.isVisible()]
        assert shown == ["a1c", "average", "catch_up", "import"]
        assert not home_of(looker).periods.isVisible()


def test_days_without_readings_say_so(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(
        tmp_path, prepare=lambda book: book.add(one_reading("2025-03-01 07:00", 120))
    ) as looker:
        assert "There are no readings in these days." in looker.words()


def test_since_the_last_visit_is_offered_only_after_one(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(
        tmp_path, prepare=lambda book: book.add(one_reading("2026-03-30 07:00", 120))
    ) as looker:
        offered = [one.text() for one in home_of(looker).periods.tiles.values()]
        assert offered == ["2 weeks", "30 days", "90 days", "Any dates"]


def test_too_few_checks_have_no_middle_value(qtbot: QtBot, tmp_path: Path) -> None:
    def few(book: Book) -> None:
        for day in range(1, 5):
            book.add(one_reading(f"2026-03-2{day} 07:00", 100 + day))
        for day in range(1, 6):
            book.add(one_reading(f"2026-03-2{day} 22:00", 100 + 10 * day, Slot.BEDTIME))
        book.add(target(TargetKind.BEDTIME, 90, 130))

    with looking_window(tmp_path, prepare=few) as looker:
        looker.press("Figures")
        fasting = "Fasting\n(before breakfast)"
        assert cells_of(figures_of(looker).slots.table) == [
            [fasting, "4", "too few\nto tell", "–", "no target", "0", "101 to 104"],
            # Of 110, 120, 130, 140 and 150 the middle one is 130, the quartiles are 120 and 140;
            # 110, 120 and 130 lie in 90 to 130.
            ["Bedtime", "5", "130", "120 to 140", "3 of 5", "0", "110 to 150"],
        ]
        assert "A middle value is told from 5 checks on." in looker.words()
        assert "%" not in looker.words()


# --- the table ------------------------------------------------------------------------------------


def test_the_table_has_the_picture_in_rows(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("2 weeks", "Over time", "As a table")
        looked = time_of(looker).looked
        assert looked is not None
        rows = cells_of(time_of(looker).table.table)
        looker.press("Older")
        rows += cells_of(time_of(looker).table.table)
        assert len(rows) == 14
        assert rows[0][0] == "Tue, Mar 31"
        assert rows[-1][0] == "Wed, Mar 18"
        assert sum(int(row[1]) for row in rows) == len(looked.marks)
        in_target = sum(int(row[5]) for row in rows)
        assert in_target == looked.marks.counts()[State.IN_TARGET]


def test_large_text_puts_the_columns_under_one_another(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log, percent=200) as looker:
        looker.press("Figures")
        table = figures_of(looker).slots.table
        assert table.is_stacked
        first = cells_of(table)[0][0]
        assert first.startswith("Fasting\n(before breakfast)\nChecks: ")
        assert "In target: " in first


def test_the_way_stays_when_the_page_is_left_and_taken_up_again(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("90 days", "Each reading")
        looker.window.show_page("fingers")
        looker.window.show_page("look_back")
        assert time_of(looker).way == Shows.LIST
        looker.press("Back")
        assert home_of(looker).periods.tiles["ninety_days"].isChecked()


def test_a_press_that_bounces_turns_one_screenful(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Each reading")
        older = looker.button("Older")
        looker.click(older)
        looker.down(older, later=120)
        looker.up(older)
        settle()
        assert looker.title.startswith("Readings 6 to 10 of")


def test_leaving_the_page_leaves_nothing_behind(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        for _turn in range(3):
            looker.press("Over time", "One time of day", "Back", "Back")
        looker.press("Over time")
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
        charts = looker.window.findChildren(ReadingsChart)
        assert len(charts) == 1


def test_what_checks_the_geometry_can_fail(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        looker.press("Over time")
        check_geometry(looker)
        time_of(looker).picture.counts.setFixedWidth(60)
        time_of(looker).picture.counts.setFixedHeight(20)
        with pytest.raises(AssertionError, match="too low"):
            check_geometry(looker)


def test_the_order_of_tab_can_fail(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        check_names_and_order(looker)
        home = home_of(looker)
        last, first = home.buttons["average"], home.buttons["lows"]
        home.setTabOrder(last, first)
        with pytest.raises(AssertionError, match="Tab goes back"):
            check_names_and_order(looker)


def crowded_log(book: Book) -> None:
    """The full log with so much going on that the words above the picture take three lines."""
    full_log(book)
    book.add(
        Spell(uuid4(), SpellKind.STEROID, date(2026, 3, 9), date(2026, 3, 15)),
        Medicine(uuid4(), "Invented tablet", date(2026, 3, 9), date(2026, 3, 15)),
    )


def wide_log(book: Book) -> None:
    """The full log with LO, HI and a number far above."""
    full_log(book)
    lo, hi = Glucose.reads_low(Unit.MG_DL), Glucose.reads_high(Unit.MG_DL)
    book.add(
        replace(one_reading("2026-03-20 03:00", 80), glucose=lo),
        replace(one_reading("2026-03-21 03:00", 80), glucose=hi),
        one_reading("2026-03-22 03:00", 590),
    )


@pytest.mark.parametrize("percent", [100, 200])
@pytest.mark.parametrize(
    ("prepare", "always"), [(crowded_log, {"low 70"}), (wide_log, {"low 70", "LO", "HI"})]
)
def test_the_numbers_beside_the_picture_do_not_run_into_each_other(
    qtbot: QtBot,
    tmp_path: Path,
    percent: int,
    prepare: Callable[[Book], None],
    always: set[str],
) -> None:
    with looking_window(tmp_path, prepare=prepare, percent=percent) as looker:
        settle()
        chart = chart_of(looker)
        axis = chart.left_axis
        (ticks,) = axis._tickLevels
        texts = [text for _place, text in ticks]
        assert always < set(texts), "nothing else is told"
        least, most = chart.box.viewRange()[1]
        per_step = chart.box.height() / (most - least)
        places = sorted(place * per_step for place, _text in ticks)
        height = QFontMetrics(axis.style["tickFont"]).capHeight()
        for below, above in pairwise(places):
            assert above - below > height
