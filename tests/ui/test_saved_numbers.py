"""One number in the logs of two people: the program goes from one to the other and asks once."""

from __future__ import annotations

import os
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook import app, places
from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.settings import LogSettings
from logbook.ui.desk import Desk
from logbook.ui.saved_numbers import SavedNumbers
from tests.ui.looking_window import one_reading
from tests.ui.writing_window import NOON, ZONE, Writer, settle, writing_window

ANNA = LogSettings(country="US", home_zone=ZONE, person_name="Anna Sample")
BERT = LogSettings(country="US", home_zone=ZONE, person_name="Bert Sample")
SAME = "The same number was written in another log just now."


def hand_over(person: Writer, saved_numbers: SavedNumbers) -> None:
    """What the program does when it shows one of several logs."""
    person.window.desk.is_one_of_several = True
    person.window.desk.saved_numbers = saved_numbers


def save(person: Writer, figures: str) -> None:
    person.press(*figures)
    person.page.saver.save()
    settle()


def written(folder: Path, figures: str, saved_numbers: SavedNumbers, *, undo: bool = False) -> None:
    """A number saved in Anna's log, which closes."""
    with writing_window(folder, settings=ANNA) as person:
        hand_over(person, saved_numbers)
        save(person, figures)
        assert len(person.readings) == 1
        if undo:
            person.click(person.window.bar.undo)
            assert person.readings == []
        saved_numbers.settle(person.book)


def test_the_question_names_no_reading_and_is_answered_with_one_press(
    qtbot: QtBot, tmp_path: Path
) -> None:
    saved_numbers = SavedNumbers()
    written(tmp_path / "anna", "131", saved_numbers)
    later = NOON + timedelta(minutes=2)
    with writing_window(tmp_path / "bert", settings=BERT, now=later) as person:
        hand_over(person, saved_numbers)
        save(person, "131")
        step = person.page.question_step
        assert step.isVisible()
        assert person.readings == []
        words = person.words()
        assert "Does this number belong in this log?" in words
        assert "This is the log of Bert Sample." in words
        assert SAME in words
        assert "Anna" not in words
        person.press("Yes, save 131 mg/dL")
        assert [one.glucose for one in person.readings] == [Glucose.number(131, Unit.MG_DL)]


def test_the_way_back_saves_nothing_in_the_wrong_log(qtbot: QtBot, tmp_path: Path) -> None:
    saved_numbers = SavedNumbers()
    written(tmp_path / "anna", "131", saved_numbers)
    with writing_window(tmp_path / "bert", settings=BERT) as person:
        hand_over(person, saved_numbers)
        save(person, "131")
        person.press("Go back")
        assert person.readings == []
        assert person.page.form.keypad.display.text == "131"


@pytest.mark.parametrize(
    ("figures", "later", "undo"),
    [
        ("132", timedelta(minutes=2), False),
        ("131", timedelta(minutes=6), False),
        ("131", timedelta(minutes=2), True),
    ],
    ids=["another number", "later", "taken back before"],
)
def test_what_is_no_repetition_is_saved_without_a_question(
    qtbot: QtBot, tmp_path: Path, figures: str, later: timedelta, undo: bool
) -> None:
    saved_numbers = SavedNumbers()
    written(tmp_path / "anna", "131", saved_numbers, undo=undo)
    with writing_window(tmp_path / "bert", settings=BERT, now=NOON + later) as person:
        hand_over(person, saved_numbers)
        save(person, figures)
        assert len(person.readings) == 1


def test_a_second_check_in_the_same_log_is_not_asked_about(qtbot: QtBot, tmp_path: Path) -> None:
    saved_numbers = SavedNumbers()
    with writing_window(tmp_path, settings=ANNA) as person:
        hand_over(person, saved_numbers)
        save(person, "131")
        person.press("Write down another")
        save(person, "131")
        assert SAME not in person.words()
        assert len(person.readings) == 2


def test_a_low_is_saved_at_once_and_told_quietly(qtbot: QtBot, tmp_path: Path) -> None:
    saved_numbers = SavedNumbers()
    written(tmp_path / "anna", "62", saved_numbers)
    with writing_window(tmp_path / "bert", settings=BERT) as person:
        hand_over(person, saved_numbers)
        save(person, "62")
        assert len(person.readings) == 1
        assert SAME in person.words()


# --- the program itself ---------------------------------------------------------------------------


@pytest.mark.parametrize("takes_back", [False, True])
def test_the_program_hands_what_it_saved_to_the_next_window(
    qtbot: QtBot,
    tmp_path: Path,
    person_folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    takes_back: bool,
) -> None:
    """Two logs in one run: what was undone before the first closed is not handed on."""
    first, second = tmp_path / "my.logbook", tmp_path / "my-2.logbook"
    for path, settings in ((first, ANNA), (second, BERT)):
        Book.create(path, settings, lambda: NOON).close()
    now = datetime(2026, 3, 31, 16, 5, tzinfo=NOON.tzinfo)
    told: list[int] = []

    def show(desk: Desk, log_path: Path, message: str) -> tuple[int, Path | None]:
        told.append(len(desk.saved_numbers.elsewhere(desk.book.path, now)))
        if log_path == second:
            return 0, None
        reading = one_reading("2026-03-31 12:05", 131)
        desk.book.add(reading)
        desk.saved_numbers.note(desk.book.path, reading)
        if takes_back:
            desk.book.undo()
        return 0, second

    monkeypatch.setattr(app, "_show", show)
    umask = os.umask(0o077)  # the program sets it for good
    try:
        assert app.run(first) == 0
    finally:
        os.umask(umask)
    assert told == [0, 0 if takes_back else 1]
    assert places.logs_beside(first) == [first, second]
