"""Wrong numbers in a real window: the question before Save, and the quiet line beside a low."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtGui import QFontMetrics
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.ui.parts.keypad import Keypad
from logbook.ui.parts.texts import Words
from logbook.ui.theme import BODY, NUMBER
from tests.endurance.slip_kinds import KEYPAD, SLIPS, typed_keys
from tests.endurance.slips import ASKED, LINE, PASSED, REFUSED, glucose_typed, judge
from tests.ui.writing_window import NOON, ZONE, Writer, habit, settle, writing_window


def numbers(lowest: int, highest: int) -> Callable[[Book], None]:
    """Thirty readings spread evenly from one to the other, in steps of the log's unit."""

    def write(book: Book) -> None:
        for index in range(30):
            at = Moment.at(NOON - timedelta(hours=8 * (31 - index)), ZONE)
            steps = lowest + (highest - lowest) * (index * 7 % 30) // 29
            glucose = Glucose.number(steps, book.settings.unit)
            book.add(Reading(uuid4(), glucose, at, at.instant, Slot.OTHER))

    return write


def enter(person: Writer, figures: str) -> None:
    """Press the keys of a number, and Save."""
    person.press(*figures)
    person.page.saver.save()
    settle()


def large_numbers(person: Writer) -> list[str]:
    """What stands on the question in the largest type."""
    found = person.page.question_step.findChildren(Words)
    return [one.text() for one in found if one.isVisible() and one.points == NUMBER]


@pytest.mark.parametrize(
    ("answer", "saved"), [("Yes, save 1000 mg/dL", 1000), ("No, save 100 mg/dL", 100)]
)
def test_both_readings_are_shown_large_and_the_chosen_one_is_saved(
    qtbot: QtBot, tmp_path: Path, answer: str, saved: int
) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        count = len(person.readings)
        enter(person, "1000")
        assert large_numbers(person) == ["1000 mg/dL", "100 mg/dL"]
        assert "You typed" in person.words()
        assert "Perhaps it was" in person.words()
        assert len(person.readings) == count
        person.press(answer)
        assert person.readings[-1].glucose == Glucose.number(saved, Unit.MG_DL)
        assert len(person.readings) == count + 1


def test_the_way_back_leaves_the_number_as_it_was(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        count = len(person.readings)
        enter(person, "420")
        person.press("Go back")
        assert person.page.form.keypad.display.text == "420"
        assert len(person.readings) == count


def test_a_number_without_another_meaning_stands_alone(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        enter(person, "420")
        assert large_numbers(person) == ["420 mg/dL"]
        assert "You typed" not in person.words()
        assert "Your numbers of the last 90 days were mostly 94 to 179 mg/dL." in person.words()


def test_a_second_high_is_not_asked_about_and_not_after_a_restart(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        enter(person, "420")
        person.press("Yes, save 420 mg/dL")
    with writing_window(tmp_path, now=NOON + timedelta(hours=1)) as person:
        count = len(person.readings)
        enter(person, "430")
        assert len(person.readings) == count + 1
        person.pass_time(hours=4)
        person.page._begin()
        enter(person, "128")
        assert len(person.readings) == count + 2
        person.pass_time(hours=4)
        person.page._begin()
        enter(person, "425")
        assert person.page.step is person.page.question_step


@pytest.mark.parametrize(
    ("figures", "line"),
    [
        ("12", "Your numbers of the last 90 days were mostly 94 to 179 mg/dL."),
        ("19", "Your meter shows LO below 20 mg/dL."),
        ("40", "So low a number is rare. After the sugar, look at the meter once more."),
        ("62", ""),
    ],
)
def test_a_low_is_saved_at_once_and_doubted_in_one_quiet_line(
    qtbot: QtBot, tmp_path: Path, figures: str, line: str
) -> None:
    with writing_window(tmp_path, prepare=habit) as person:
        enter(person, figures)
        assert person.readings[-1].glucose == Glucose.number(int(figures), Unit.MG_DL)
        assert person.page.step is person.page.low_step
        assert "fast sugar" in person.words()
        doubt = person.page.low_step.doubt
        assert doubt.isVisible() == bool(line)
        assert doubt.text() == line


def test_a_low_that_fits_as_the_other_unit_is_told_with_it(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=numbers(195, 255)) as person:
        enter(person, "12")
        line = "It would fit your usual numbers as 12.0 mmol/L. Look at the unit."
        assert person.page.low_step.doubt.text() == line
        # A number in the other unit can't be saved here: there is no button for it.
        assert not person.page.low_step.change.isVisible()


@pytest.mark.parametrize(
    ("unit", "figures", "is_asked"),
    [
        (Unit.MG_DL, "400", False),
        (Unit.MG_DL, "401", True),
        (Unit.MMOL_L, "22.2", False),
        (Unit.MMOL_L, "22.3", True),
    ],
)
def test_before_ten_numbers_only_what_is_rare_in_anyone_is_asked_about(
    qtbot: QtBot, tmp_path: Path, unit: Unit, figures: str, is_asked: bool
) -> None:
    with writing_window(tmp_path, unit=unit) as person:
        enter(person, figures.replace(".", "") if unit is Unit.MG_DL else figures)
        assert (person.page.step is person.page.question_step) == is_asked
        asked = "So high a number is rare. Look at the meter once more."
        assert (asked in person.words()) == is_asked


@pytest.mark.parametrize("unit", list(Unit))
def test_the_window_judges_slips_as_the_simulation_does(
    qtbot: QtBot, tmp_path: Path, unit: Unit
) -> None:
    chance = random.Random(3)
    low, high = (95, 185) if unit is Unit.MG_DL else (53, 130)
    seen: Counter[str] = Counter()
    with writing_window(tmp_path, unit=unit, prepare=numbers(low, high)) as person:
        page, now = person.page, person.clock[0]
        for index in range(7 * len(SLIPS)):
            true = Glucose.number(chance.randint(low, high), unit)
            keys = typed_keys(SLIPS[index % len(SLIPS)], true, chance)
            glucose = glucose_typed(keys, unit, now)
            expected = judge(glucose, page.filling.news.series, now)
            page._begin()
            page.filling.show()
            page.filling.clear()
            for key in keys:
                press = {"back": page.filling.take_back, "clear": page.filling.clear}
                press.get(key, lambda key=key: page.filling.type(key))()
            count = len(person.readings)
            page.saver.save()
            assert (_verdict(person, count), glucose) == (expected, glucose)
            seen[expected] += 1
            if len(person.readings) > count:
                assert person.readings[-1].glucose == glucose
                person.book.undo()
            page._leave_step()
    assert min(seen[verdict] for verdict in (REFUSED, ASKED, LINE, PASSED)) > 0, seen


def _verdict(person: Writer, count: int) -> str:
    page = person.page
    if page.step is page.question_step:
        return ASKED
    if len(person.readings) == count:
        assert person.message
        return REFUSED
    return LINE if page.step is page.low_step and page.low_step.doubt.text() else PASSED


@pytest.mark.parametrize("unit", list(Unit))
def test_the_keys_lie_as_the_simulation_takes_them_to_lie(
    qtbot: QtBot, tmp_path: Path, unit: Unit
) -> None:
    with writing_window(tmp_path, unit=unit) as person:
        keypad: Keypad = person.page.form.keypad
        grid = keypad._grid
        names: dict[object, str] = {key: name for name, key in keypad.keys.items()}
        for row, wanted in enumerate(KEYPAD[unit]):
            for column, name in enumerate(wanted):
                item = grid.itemAtPosition(row, column)
                assert item is not None
                assert names[item.widget()] == name
            assert grid.itemAtPosition(row, len(wanted)) is None
        assert grid.itemAtPosition(len(KEYPAD[unit]), 0) is None


@pytest.mark.parametrize("percent", [100, 300])
def test_figures_beyond_what_a_meter_shows_stay_inside_the_display(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    with writing_window(tmp_path, percent=percent) as person:
        display = person.page.form.keypad.display
        usual = display.shown_font().pixelSize()
        for figures in ("1280", "128012"):
            person.page.filling.clear()
            for figure in figures:
                person.page.filling.type(figure)
            settle()
            assert display.text == figures
            metrics = QFontMetrics(display.shown_font())
            unit = QFontMetrics(person.window.desk.look.font(BODY)).horizontalAdvance("mg/dL")
            assert metrics.horizontalAdvance(figures) + unit + 26 <= display.width()
        assert display.shown_font().pixelSize() <= usual
