"""The rules for shaking hands, with real events: bounces, slides, rests and repeats do nothing."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from logbook.ui.parts.press_guard import PressGuard
from tests.ui.writing_window import Writer, settle, writing_window

ENTRIES = 500


def bounced_saves(person: Writer, entries: int, chance: random.Random) -> None:
    """Each entry saved with one to four bounces, 30 to 499 ms from press to press."""
    for number in range(entries):
        for digit in str(100 + number % 150):
            person.click(person.button(digit), later=400)
        held = 20
        person.click(person.page.save_button, held=held)
        for _bounce in range(chance.randint(1, 4)):
            person.down(person.page.save_button, later=chance.randint(30, 499) - held)
            person.up(person.page.save_button, later=held)
        person.click(person.button("Write down another"))


@pytest.mark.slow
def test_500_entries_with_bounced_saves_are_500_readings(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        bounced_saves(person, ENTRIES, random.Random(76))
        written = [one.glucose.steps for one in person.readings]
        assert written == [100 + number % 150 for number in range(ENTRIES)]


def test_without_the_guard_the_bounces_would_be_caught(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The control: with a guard that admits all, the bounces do turn the page."""

    def admit_all(guard: PressGuard, milliseconds: int) -> bool:
        return True

    monkeypatch.setattr(PressGuard, "admits", admit_all)
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert person.page.step is person.page.result_step
        person.down(person.page.save_button, later=200)
        person.up(person.page.save_button, later=40)
        settle()
        assert person.page.step is not person.page.result_step


def test_a_figure_wanted_twice_is_taken_twice(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        key = person.button("0")
        person.press("1")
        person.click(key, later=300)
        person.click(key, later=81)
        assert person.page.form.keypad.display.text == "100"


def test_a_key_that_bounces_is_taken_once(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        key = person.button("2")
        person.press("1")
        person.click(key, later=300)
        person.click(key, later=79)
        assert person.page.form.keypad.display.text == "12"
        # The same on the keyboard.
        person.key(Qt.Key.Key_5, "5", later=100)
        person.key(Qt.Key.Key_5, "5", later=40)
        assert person.page.form.keypad.display.text == "125"


def test_a_quick_typist_loses_no_figure(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        for digit in "131":
            person.key(Qt.Key(ord(digit)), digit, later=15)
        assert person.page.form.keypad.display.text == "131"


def test_what_shows_is_what_is_saved_and_save_repeats_it(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "2")
        assert person.page.form.keypad.display.text == "122"
        person.press("Save 122 mg/dL")
        assert person.readings[0].glucose.text == "122"


def test_press_slide_release_does_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8")
        for text in ("Save 128 mg/dL", "7", "After lunch", "I used this finger", "Yesterday"):
            button = person.button(text)
            person.down(button)
            person.up(button, at=QPoint(-300, -200))
        assert person.readings == []
        assert person.page.form.keypad.display.text == "128"
        assert not person.button("After lunch").isChecked()
        assert not person.button("I used this finger").isChecked()
        assert person.page.step is person.page.form


def test_a_long_press_does_nothing_and_says_so(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8")
        for text in ("Save 128 mg/dL", "7", "After lunch"):
            person.click(person.button(text), held=2_500)
            assert person.message == "Press and let go. A long press does nothing."
        assert person.readings == []
        assert person.page.form.keypad.display.text == "128"


def test_the_wheel_changes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "2", "8")
        before = state(person)
        for widget in person.window.findChildren(QWidget):
            if widget.isVisible():
                for turn in (120, -120):
                    QApplication.sendEvent(widget, wheel(widget, turn))
        settle()
        assert state(person) == before


def test_stray_enters_change_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        for _stray in range(5):
            person.key(Qt.Key.Key_Return, "\r", later=700, repeats=20)
        assert person.readings == []
        assert "There is no number yet." in person.message


def test_one_enter_goes_to_save_and_a_bounce_of_it_saves_nothing(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        person.type("128")
        person.key(Qt.Key.Key_Return, "\r", later=200)
        assert person.page.save_button.hasFocus()
        person.key(Qt.Key.Key_Return, "\r", later=120)  # the bounce
        assert person.readings == []
        person.key(Qt.Key.Key_Return, "\r", later=600, repeats=30)  # held down
        assert len(person.readings) == 1
        assert person.page.step is person.page.result_step


def test_a_key_held_down_types_once(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.key(Qt.Key.Key_1, "1", repeats=30)
        assert person.page.form.keypad.display.text == "1"


def test_undo_and_tiles_ignore_a_bounce(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        for number in ("128", "140"):
            person.press(*number, f"Save {number} mg/dL", "Write down another")
        undo = person.button("Undo: 140 mg/dL at 12:04 PM")
        person.click(undo)
        person.down(undo, later=250)
        person.up(undo)
        assert [one.glucose.text for one in person.readings] == ["128"]
        tile = person.button("I used this finger")
        person.click(tile)
        person.down(tile, later=250)
        person.up(tile)
        assert tile.isChecked()


def state(person: Writer) -> tuple[object, ...]:
    form = person.page.form
    chosen = [button.isChecked() for button in form.circumstances.slots.buttons.values()]
    return form.keypad.display.text, chosen, form.fingers.used.isChecked(), len(person.readings)


def wheel(widget: QWidget, turn: int) -> QWheelEvent:
    middle = widget.rect().center()
    return QWheelEvent(
        QPointF(middle),
        QPointF(widget.mapToGlobal(middle)),
        QPoint(0, turn),
        QPoint(0, turn),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
