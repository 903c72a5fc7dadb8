"""The bar: Undo and Put back are always there, name what they do, and give way to no message."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from logbook.book import Record
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.readings import Doubt
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Target, TargetKind
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.texts import Words
from logbook.wording.dates import short_day_text
from tests.ui.looking_window import target
from tests.ui.test_geometry import LAPTOP, faults_of
from tests.ui.writing_window import NOON, Writer, settle, writing_window

LONG = "The disk is full. Nothing was written. " * 3 + "What you typed is still here."


def change_and_take_back(person: Writer) -> None:
    """Leaves the longest names on both buttons."""
    person.page.filling.type("1")
    person.page.filling.type("3")
    person.page.filling.type("1")
    person.page.saver.save()
    (reading,) = person.readings
    person.book.correct(reading.id, Glucose.number(128, Unit.MG_DL), reading.at, reading.slot)
    person.book.doubt(reading.id, Doubt.OTHER)
    person.book.undo()
    settle()


@pytest.mark.parametrize("percent", [100, 125, 150, 200, 300])
def test_a_long_message_hides_no_button_and_is_whole(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    with writing_window(tmp_path, percent=percent) as person:
        change_and_take_back(person)
        bar = person.window.bar
        assert bar.undo.text() == "Undo: change of 128 mg/dL at 12:04 PM"
        assert bar.put_back.text() == "Put back: doubt about 128 mg/dL at 12:04 PM"
        for message in ("Saved.", LONG, ""):
            person.window.desk.say(message)
            settle()
            assert bar.undo.isVisible()
            assert bar.put_back.isVisible()
            assert person.page.save_button.isVisible()
            told = [
                one
                for one in person.window.findChildren(Words)
                if one.isVisible() and message and one.text() == message
            ]
            assert len(told) == bool(message)
            assert person.window.size().toTuple() == LAPTOP
            assert faults_of(person.window) == []


OFFERS = (
    "Undo: 179 mg/dL on Nov 24",
    "Undo: change of 128 mg/dL at 12:04 PM",
    "Undo: change of medicines that cause lows",
)


@pytest.mark.parametrize("percent", [200, 300])
def test_names_on_two_lines_are_whole_beside_any_message(
    qtbot: QtBot, tmp_path: Path, percent: int
) -> None:
    with writing_window(tmp_path, percent=percent) as person:
        bar = person.window.bar
        for undo in OFFERS:
            for put_back in ("", "Put back: 131 mg/dL at 12:04 PM"):
                for message in ("", "Saved.", "Corrected: 128 mg/dL on Mar 30 at 10:10 PM."):
                    bar.offer(undo, put_back)
                    bar.say(message)
                    settle()
                    assert faults_of(bar) == [], (undo, put_back, message)


def test_a_message_at_the_top_of_a_page_goes_when_the_page_turns(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, percent=200) as person:
        change_and_take_back(person)
        person.window.desk.say(LONG)
        settle()
        assert person.page.long_message.isVisible()
        person.press("Help")
        assert not person.window.page.long_message.isVisible()
        person.press("Help")
        assert not person.page.long_message.isVisible()


def test_the_bar_comes_to_rest(qtbot: QtBot, tmp_path: Path) -> None:
    """It asks for its own layout while it shares the room, which must not go on for ever."""
    with writing_window(tmp_path, percent=300) as person:
        change_and_take_back(person)
        person.window.desk.say(LONG)
        settle()
        calls = 0
        settle_once = person.window.bar.settle

        def count() -> None:
            nonlocal calls
            calls += 1
            settle_once()

        person.window.bar.settle = count  # type: ignore[method-assign]
        for _round in range(50):
            QApplication.processEvents()
        assert calls < 5


@pytest.mark.parametrize(
    ("record", "words"),
    [
        (Question(uuid4(), "Do I need this?", NOON), "question"),
        (Appointment(uuid4(), date(2026, 4, 9)), "appointment on Apr 9"),
        (target(TargetKind.FASTING, 80, 130), "targets from {day}"),
        (Medicine(uuid4(), "Invented 5 mg", date(2026, 3, 31)), "medicine"),
        (Spell(uuid4(), SpellKind.ILL, date(2026, 3, 30)), "ill from Mar 30"),
        (Contact(uuid4(), "person", "Anna", "555 0100"), "people to phone"),
        (Meter(uuid4(), "bedside", Unit.MG_DL, 20, 600, date(2026, 3, 1)), "meter bedside"),
    ],
)
def test_each_kind_of_record_has_its_name(
    qtbot: QtBot, tmp_path: Path, record: Record, words: str
) -> None:
    if isinstance(record, Target):
        words = words.format(day=short_day_text(record.holds_from))
    with writing_window(tmp_path) as person:
        person.book.add(record)
        settle()
        undo, put_back = person.window.bar.undo, person.window.bar.put_back
        assert undo.text().casefold() == f"Undo: {words}".casefold()
        person.click(undo)
        assert put_back.text().casefold() == f"Put back: {words}".casefold()


def test_a_changed_setting_is_named(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        settings = person.book.settings
        person.book.save_settings(replace(settings, day_starts_at=time(5)))
        settle()
        assert person.window.bar.undo.text() == "Undo: change of my day's start"
        several = replace(settings, person_name="Invented", born="1947", day_starts_at=time(5))
        person.book.save_settings(several)
        settle()
        assert person.window.bar.undo.text() == "Undo: change of settings"


def test_the_bar_is_no_higher_after_a_page_with_long_actions(qtbot: QtBot, tmp_path: Path) -> None:
    """What the actions of another page would need does not count."""
    with writing_window(tmp_path, percent=200, pages=(WriteDown, MyPlan)) as person:
        person.press("1", "2", "8", "Save 128 mg/dL", "Write down another")
        before = person.window.bar.height()
        person.window.desk.go_to("my_plan/checks")
        settle()
        person.window.desk.go_to("write_down")
        settle()
        assert person.window.bar.height() == before
