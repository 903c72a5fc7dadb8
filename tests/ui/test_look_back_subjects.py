"""The subjects of *Look back*: the day, pairs, figures, lows, each beside what it is made from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from pathlib import Path
from uuid import uuid4

import numpy as np
import pytest
from PySide6.QtWidgets import QGraphicsLineItem, QGraphicsRectItem
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Period
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Feeling
from logbook.domain.slots import Slot
from logbook.domain.targets import TargetKind
from logbook.domain.visits import Medicine
from logbook.ui.pages import look_back_finder
from logbook.ui.pages.look_back_day import DayView
from logbook.ui.pages.look_back_figures import FiguresView
from logbook.ui.pages.look_back_home import HomeView
from logbook.ui.pages.look_back_lows import LowsView
from logbook.ui.pages.look_back_pairs import PairsView
from logbook.ui.pages.look_back_repeats import RepeatsView
from logbook.ui.parts.chart_frame import ChartFrame
from logbook.ui.parts.spread import Spread, SpreadTable
from logbook.ui.parts.table import ReadTable
from tests.ui.looking_window import TODAY, Looker, full_log, looking_window, one_reading, target
from tests.ui.writing_window import NOON, settle

FASTING = (104, 111, 118, 126, 141, 97)
BEFORE_LUNCH, AFTER_LUNCH = (110, 121, 99, 130, 105), (158, 149, 160, 171, 188)
BEDTIME = (150, 162, 139, 171, 144)


def known_log(book: Book) -> None:
    """Some days of March with numbers that can be reckoned by hand, and one check at night."""
    for place, steps in enumerate(FASTING):
        book.add(one_reading(f"2026-03-{20 + place} 07:00", steps))
    for place, (before, after) in enumerate(zip(BEFORE_LUNCH, AFTER_LUNCH, strict=True)):
        day = f"2026-03-{20 + place}"
        book.add(
            one_reading(f"{day} 12:10", before, Slot.BEFORE_LUNCH),
            one_reading(f"{day} 14:00", after, Slot.AFTER_LUNCH, minutes_after=95),
        )
    for place, steps in enumerate(BEDTIME):
        book.add(one_reading(f"2026-03-{20 + place} 22:00", steps, Slot.BEDTIME))
    book.add(one_reading("2026-03-21 03:00", 88, Slot.NIGHT))
    book.add(
        target(TargetKind.FASTING, 80, 130),
        target(TargetKind.AFTER_MEALS, None, 180),
        target(TargetKind.BEDTIME, 90, 150),
    )


def rows_of(table: ReadTable) -> list[list[str]]:
    found = []
    for row in range(table.rowCount()):
        items = [table.item(row, column) for column in range(table.columnCount())]
        found.append([item.text() for item in items if item is not None])
    return found


def boxes_in(chart: ChartFrame) -> list[tuple[float, float]]:
    """Lower and upper end of each box, from left to right; a box is filled in its own colour."""
    filled = chart.look.colour("other_back")
    items = [
        item
        for item in chart.box.childGroup.childItems()
        if isinstance(item, QGraphicsRectItem) and item.brush().color() == filled
    ]
    items.sort(key=lambda item: item.rect().left())
    return [
        (min(item.rect().top(), item.rect().bottom()), max(item.rect().top(), item.rect().bottom()))
        for item in items
    ]


def thick_lines_in(chart: ChartFrame) -> list[QGraphicsLineItem]:
    items = chart.box.childGroup.childItems()
    return [one for one in items if isinstance(one, QGraphicsLineItem) and one.pen().width() == 6]


# --- the day --------------------------------------------------------------------------------------


def day_of(looker: Looker) -> DayView:
    looker.press("Over the day")
    assert isinstance(looker.view, DayView)
    return looker.view


def test_each_box_is_the_middle_half_and_its_line_the_middle_value(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=known_log) as looker:
        chart = day_of(looker).picture.chart
        assert chart is not None
        groups = (FASTING, BEFORE_LUNCH, AFTER_LUNCH, BEDTIME)
        # NumPy's usual quantile is the same type 7 of Hyndman and Fan.
        wanted = [tuple(np.quantile(group, (0.25, 0.75))) for group in groups]
        assert boxes_in(chart) == [pytest.approx(one) for one in wanted]
        middles = sorted(thick_lines_in(chart), key=lambda one: one.line().x1())
        assert [one.line().y1() for one in middles] == [float(np.median(one)) for one in groups]


def test_too_few_checks_have_no_box(qtbot: QtBot, tmp_path: Path) -> None:
    def few(book: Book) -> None:
        for place, steps in enumerate(FASTING[:4]):
            book.add(one_reading(f"2026-03-{20 + place} 07:00", steps))

    with looking_window(tmp_path, prepare=few) as looker:
        view = day_of(looker)
        assert view.picture.chart is not None
        assert boxes_in(view.picture.chart) == []
        looker.press("In words")
        assert "Fasting (before breakfast): too few to tell (4 readings)." in looker.words()


def test_the_day_says_the_same_in_words_table_and_to_a_screen_reader(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=known_log) as looker:
        view = day_of(looker)
        chart = view.picture.chart
        assert chart is not None
        sentence = "Bedtime: 5 readings, middle value 150 mg/dL, middle half 144 to 162 mg/dL."
        assert sentence in chart.accessibleDescription()
        looker.press("In words")
        assert sentence in looker.words()
        assert "Night: too few to tell (1 reading)." in looker.words()
        looker.press("As a table")
        rows = rows_of(view.table)
        assert rows[-2] == [
            "Bedtime\nusually at 10:00 PM",
            "5",
            "150",
            "144 to 162",
            "139 to 171",
            "90 to 150",
        ]
        assert rows[-1][2:] == ["too few\nto tell", "–", "88", "no target"]


def test_a_box_that_rests_on_hi_is_open_above(qtbot: QtBot, tmp_path: Path) -> None:
    def with_hi(book: Book) -> None:
        known_log(book)
        hi = Glucose.reads_high(Unit.MG_DL)
        for day in (26, 27, 28):
            reading = one_reading(f"2026-03-{day} 22:00", 100, Slot.BEDTIME)
            book.add(replace(reading, glucose=hi))

    with looking_window(tmp_path, prepare=with_hi) as looker:
        chart = day_of(looker).picture.chart
        assert chart is not None
        top = chart.box.viewRange()[1][1]
        assert boxes_in(chart)[-1][1] == pytest.approx(top)
        assert boxes_in(chart)[0][1] < top


def test_marks_keep_their_number(qtbot: QtBot, tmp_path: Path) -> None:
    import pyqtgraph

    with looking_window(tmp_path, prepare=full_log) as looker:
        view = day_of(looker)
        assert view.picture.chart is not None
        items = view.picture.chart.box.childGroup.childItems()
        scatters = [one for one in items if isinstance(one, pyqtgraph.ScatterPlotItem)]
        assert view.looked is not None
        assert sum(len(one.data) for one in scatters) == len(view.looked.marks) > 100
        assert all(0 <= x < 24 * 60 for one in scatters for x in one.data["x"])


# --- pairs ----------------------------------------------------------------------------------------


def pairs_of(looker: Looker) -> PairsView:
    looker.press("Meals and nights")
    assert isinstance(looker.view, PairsView)
    return looker.view


def test_pairs_before_and_after_a_meal_and_overnight(qtbot: QtBot, tmp_path: Path) -> None:
    rises = [after - before for before, after in zip(BEFORE_LUNCH, AFTER_LUNCH, strict=True)]
    nights = [morning - evening for evening, morning in zip(BEDTIME, FASTING[1:], strict=True)]
    with looking_window(tmp_path, prepare=known_log) as looker:
        view = pairs_of(looker)
        chart = view.picture.chart
        assert chart is not None
        thin = [
            one
            for one in chart.box.childGroup.childItems()
            if isinstance(one, QGraphicsLineItem) and one.zValue() == -4
        ]
        drawn = sorted(round(one.line().y2() - one.line().y1()) for one in thin)
        assert drawn == sorted(rises + nights)
        assert len(thick_lines_in(chart)) == 2
        looker.press("As a table")
        rows = rows_of(view.table.table)
        assert [row[0] for row in rows] == [
            "Before and after lunch",
            "Bedtime and fasting\n(before breakfast)",
        ]
        assert rows[0][1:] == [
            "5",
            f"{np.median(BEFORE_LUNCH):.0f}",
            f"{np.median(AFTER_LUNCH):.0f}",
            f"+{np.median(rises):.0f}",
            f"+{min(rises)} to +{max(rises)}",
        ]
        looker.press("In words")
        assert f"Lunch: 5 pairs, middle change +{np.median(rises):.0f} mg/dL" in looker.words()
        looker.press("Each pair")
        rows = rows_of(view.each.table)
        assert len(rows) == 8
        assert view.has_older
        assert rows[0] == ["Wed, Mar 25", "Night", "144", "97", "−47", "–"]
        assert rows[1] == ["Tue, Mar 24", "Lunch", "105", "188", "+83", "95 min"]


def test_without_pairs_it_says_what_a_pair_needs(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(
        tmp_path, prepare=lambda book: book.add(one_reading("2026-03-30 07:00", 120))
    ) as looker:
        pairs_of(looker)
        assert "There are no pairs in these days yet." in looker.words()
        assert "A meal pair needs a check up to 30 minutes before the first bite" in looker.words()


# --- figures --------------------------------------------------------------------------------------


def figures_of(looker: Looker) -> FiguresView:
    looker.press("Figures")
    assert isinstance(looker.view, FiguresView)
    return looker.view


def test_the_spread_of_each_time_of_day_is_drawn_in_the_table(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=known_log) as looker:
        table = figures_of(looker).slots.table
        assert [[dot.steps for dot in one.dots] for one in table.spreads] == [
            sorted(FASTING),
            sorted(BEFORE_LUNCH),
            sorted(AFTER_LUNCH),
            sorted(BEDTIME),
            [88],
        ]
        assert dark_pixels(table, 0) > dark_pixels(table, 4) > 0
        # Control: without dots only the line of low and the line below are left.
        table.spreads[0] = Spread((), None)
        table.lay_out_row(0, is_stacked=False)
        assert dark_pixels(table, 0) < dark_pixels(table, 4)


def dark_pixels(table: SpreadTable, row: int) -> int:
    """How many pixels of a row's small picture are neither its back nor the line below."""
    settle()
    image = table.grab().toImage()
    left = table.columnViewportPosition(table.columnCount() - 1)
    width = table.columnWidth(table.columnCount() - 1)
    head = table.horizontalHeader().height()
    bottom = head + table.rowViewportPosition(row) + table.rowHeight(row) - 10
    top = bottom - table.room_below(table.last_column) + 8
    return sum(
        image.pixelColor(x, y).lightness() < 150
        for x in range(left + 10, left + width - 12)
        for y in range(top, bottom)
    )


def test_all_readings_their_spread_bands_and_shares(qtbot: QtBot, tmp_path: Path) -> None:
    values = [*FASTING, *BEFORE_LUNCH, *AFTER_LUNCH, *BEDTIME, 88]
    mean, sd = np.mean(values), np.std(values, ddof=1)
    with looking_window(tmp_path, prepare=known_log) as looker:
        view = figures_of(looker)
        looker.press("All readings")
        assert (
            f"{len(values)} readings: mean {mean:.0f} mg/dL, SD {sd:.0f} mg/dL, "
            f"CV {100 * sd / mean:.0f}%." in looker.words()
        )
        bands = rows_of(view.all.bands)
        assert [row[0] for row in bands] == [
            "below 54", "54 to 69", "70 to 180", "181 to 250", "above 250"
        ]  # fmt: skip
        inside = sum(70 <= value <= 180 for value in values)
        assert bands[2][1] == f"{inside} of {len(values)}, {100 * inside / len(values):.0f}%"
        # Fasting 80 to 130, after meals up to 180, bedtime 90 to 150: 5 + 4 + 3 of 16.
        in_target = rows_of(view.all.targets)[1]
        assert in_target[0] == "In target"
        # Wilson's interval of 12 in 16 from the formula, Wilson 1927, reckoned with NumPy.
        assert in_target[1] == "12 of 16, 75% ({:.0f}% to {:.0f}%)".format(*wilson(12, 16))


def wilson(part: int, of: int) -> tuple[float, float]:
    z, share = 1.959964, part / of
    middle = (share + z * z / (2 * of)) / (1 + z * z / of)
    half = z * np.sqrt(share * (1 - share) / of + z * z / (4 * of * of)) / (1 + z * z / of)
    return 100 * (middle - half), 100 * (middle + half)


def test_hi_takes_the_mean_away(qtbot: QtBot, tmp_path: Path) -> None:
    def with_hi(book: Book) -> None:
        known_log(book)
        reading = one_reading("2026-03-26 22:00", 100, Slot.BEDTIME)
        book.add(replace(reading, glucose=Glucose.reads_high(Unit.MG_DL)))

    with looking_window(tmp_path, prepare=with_hi) as looker:
        figures_of(looker)
        looker.press("All readings")
        assert "1 of them outside the meter’s range: no mean, SD or CV." in looker.words()


def test_two_columns_before_and_after_a_change(qtbot: QtBot, tmp_path: Path) -> None:
    def changed(book: Book) -> None:
        known_log(book)
        book.add(Medicine(uuid4(), "Invented tablet", date(2026, 3, 23)))

    with looking_window(tmp_path, prepare=changed) as looker:
        view = figures_of(looker)
        looker.press("Before and after")
        rows = rows_of(view.split.table)
        assert rows[0][:3] == ["All readings", "13", "9"]
        # Fasting: three checks before the day, three from it on: too few for a middle value.
        assert rows[1][:5] == ["Fasting\n(before breakfast)", "3", "3", "–", "–"]
        assert "After: from March 23 on." in looker.words()
        assert "March 23: new medicine, Invented tablet." in looker.words()


def test_planned_checks_done_by_time_of_day_and_by_week(qtbot: QtBot, tmp_path: Path) -> None:
    """Counted by hand on a calendar: fasting was checked from March 20, a Friday, to 25."""

    def with_plan(book: Book) -> None:
        known_log(book)
        checks = (PlannedCheck(Slot.FASTING, time(7, 30)),)
        book.add(CheckPlan(uuid4(), date(2026, 3, 16), checks, NOON))

    with looking_window(tmp_path, prepare=with_plan) as looker:
        view = figures_of(looker)
        looker.press("Your plan")
        assert "Planned checks done: 6 of 16." in looker.words()
        assert rows_of(view.plan.slots) == [["Fasting\n(before breakfast)", "6 of 16"]]
        assert rows_of(view.plan.weeks) == [
            ["Mar 30 to Mar 31", "0 of 2"],
            ["Mar 23 to Mar 29", "3 of 7"],
            ["Mar 16 to Mar 22", "3 of 7"],
        ]
        assert "No plan held on 14 days." in looker.words()


def test_without_a_change_or_days_before_their_tiles_are_not_there(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, prepare=known_log) as looker:
        view = figures_of(looker)
        shown = [way for way, tile in view.ways.items() if tile.isVisible()]
        assert shown == ["slots", "all"]


def test_these_days_beside_the_days_before(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=full_log) as looker:
        view = figures_of(looker)
        looker.press("The days before")
        assert view.before is not None
        assert view.looked is not None
        rows = rows_of(view.earlier.table)
        counts = [str(one.readings.count) for one in (view.before, view.looked.summary)]
        assert rows[0][1:3] == counts
        assert "Before: January 31 to March 1, 2026." in looker.words()


# --- lows -----------------------------------------------------------------------------------------


def one_low(book: Book) -> None:
    known_log(book)
    low = one_reading("2026-03-26 11:00", 51, Slot.BETWEEN_MEALS)
    book.add(
        replace(low, feelings=(Feeling.SHAKY,)),
        one_reading("2026-03-26 11:18", 84, Slot.BETWEEN_MEALS),
    )


def test_a_low_with_what_followed_and_exactly_its_readings(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=one_low) as looker:
        looker.press("Lows")
        view = looker.view
        assert isinstance(view, LowsView)
        assert rows_of(view.table) == [
            [
                "Thu, Mar 26, 11:00 AM",
                "51 mg/dL",
                "Between meals",
                "18 min",
                "18 min",
                "very low,\nshaky",
            ]
        ]
        assert "1 low. Checked again within 2 hours: 1." in looker.words()
        looker.press("Show these readings")
        assert looker.clicks == 2
        assert looker.title == "These lows"
        rows = looker.view.list.rows  # type: ignore[attr-defined]
        assert [row.reading.glucose.steps for row in rows] == [51]
        looker.press("Back")
        assert isinstance(looker.view, LowsView)


def test_no_lows_with_how_often_anyone_looked(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=known_log) as looker:
        looker.press("Lows")
        words = looker.words()
        assert "No lows seen in 30 days. Checks at bedtime: 5." in words
        assert "Between bedtime and waking: 1." in words


# --- the first view and what it knows -------------------------------------------------------------


def test_the_first_view_says_how_things_stand(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, prepare=one_low) as looker:
        view = looker.view
        assert isinstance(view, HomeView)
        said = {name: one.accessibleDescription() for name, one in view.buttons.items()}
        assert said["lows"] == "1 low"
        assert said["pairs"] == "10 pairs"
        assert said["figures"] == "in target 12 of 16"
        assert said["repeats"] == "1 thing to ask about"
        assert said["a1c"] == "none written down"
        looker.book.add(one_reading("2026-03-27 16:00", 49, Slot.BETWEEN_MEALS))
        assert view.buttons["lows"].accessibleDescription() == "2 lows"


def few_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(look_back_finder, "_MOST_AT_ONCE", 3)


def test_a_long_log_is_looked_through_while_the_page_is_there(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    few_at_once(monkeypatch)
    with looking_window(tmp_path, prepare=one_low) as looker:
        view = looker.view
        assert isinstance(view, HomeView)
        repeats = view.buttons["repeats"]
        assert repeats.accessibleDescription() == "still being looked for"
        qtbot.waitUntil(lambda: repeats.accessibleDescription() == "1 thing to ask about")
        looker.press("What repeats")
        assert isinstance(looker.view, RepeatsView)
        assert "1 low was very low or needed help." in looker.words()
        looker.book.add(one_reading("2026-03-27 16:00", 49, Slot.BETWEEN_MEALS))
        settle()
        assert "What repeats is still being looked for." in looker.words()
        qtbot.waitUntil(lambda: "2 lows were very low or needed help." in looker.words())


def test_a_search_that_is_no_longer_wanted_is_dropped(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    few_at_once(monkeypatch)
    with looking_window(tmp_path, prepare=one_low) as looker:
        view = looker.view
        assert isinstance(view, HomeView)
        finder = view._finder
        qtbot.waitUntil(lambda: looker.window.desk.work.is_busy or bool(finder.known(days())))
        looker.press("90 days")
        assert finder.known(days()) is None
        qtbot.waitUntil(lambda: bool(finder.known(ninety())))
        # Whatever came of the first one, no job is left over.
        qtbot.waitUntil(lambda: not looker.window.desk.work.is_busy)
        assert view.buttons["repeats"].accessibleDescription() == "1 thing to ask about"


def days() -> Period:
    return Period.ending(TODAY, 30)


def ninety() -> Period:
    return Period.ending(TODAY, 90)
