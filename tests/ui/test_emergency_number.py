"""An emergency number of the person's own: kept in the log, asked for, shown wherever one is."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.settings import LogSettings
from logbook.domain.ticks import Told
from logbook.ui.pages.my_plan_people import PeopleView
from logbook.ui.parts.texts import Words
from tests.ui.plan_window import open_window
from tests.ui.writing_window import NOON, ZONE, tell_lows, writing_window

OWN = "+00 (0) 555 0199"


def test_it_comes_back_from_the_file(tmp_path: Path) -> None:
    path = tmp_path / "my.logbook"
    with Book.create(path, LogSettings(home_zone=ZONE, emergency_number=OWN), lambda: NOON):
        pass
    with Book.open(path, lambda: NOON) as book:
        assert book.settings.emergency_number == OWN


def test_a_log_without_it_opens_with_none(tmp_path: Path) -> None:
    path = tmp_path / "my.logbook"
    with Book.create(path, LogSettings(home_zone=ZONE), lambda: NOON) as book:
        assert book.settings.emergency_number == ""


def test_another_country_asks_for_it_at_the_first_start(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, country="") as person:
        field = person.page.first_start.own_number
        assert not field.isVisible()
        person.press("Another country")
        assert field.isVisible()
        person.fill(field, f" {OWN} ")
        person.press("Go on", "128 mg/dL", "Go on")
        tell_lows(person, Told.NOT_SURE, Told.NO)
        person.press("Start writing down")
        assert person.book.settings.country == "ZZ"
        assert person.book.settings.emergency_number == OWN
        person.press("Help")
        told = [one.text() for one in person.window.page.findChildren(Words) if one.isVisible()]
        assert f"In an emergency call {OWN}." in told


def test_what_was_typed_for_another_country_does_not_hide_a_known_number(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, country="") as person:
        person.press("Another country")
        person.fill(person.page.first_start.own_number, OWN)
        person.press("Canada", "Go on", "128 mg/dL", "Go on")
        tell_lows(person, Told.NO, Told.NO)
        person.press("Start writing down")
        assert person.book.settings.emergency_number == ""


@pytest.mark.parametrize("keys", [("4", "1", "Save 41 mg/dL"), ("Meter shows LO", "Save LO")])
def test_the_page_of_a_low_says_it(qtbot: QtBot, tmp_path: Path, keys: tuple[str, ...]) -> None:
    own = LogSettings(home_zone=ZONE, country="US", emergency_number=OWN)
    with writing_window(tmp_path, settings=own) as person:
        person.press(*keys)
        assert OWN in person.words()
        assert "911" not in person.words()


def test_a_second_hi_says_it(qtbot: QtBot, tmp_path: Path) -> None:
    own = LogSettings(home_zone=ZONE, country="US", emergency_number=OWN)
    with writing_window(tmp_path, settings=own) as person:
        person.press("Meter shows HI", "Yes, save HI", "I tested again")
        person.press("Meter shows HI", "Yes, save HI")
        assert OWN in person.words()


def test_my_plan_takes_it_and_undo_gives_the_countrys_number_back(
    qtbot: QtBot, tmp_path: Path
) -> None:
    settings = LogSettings(country="GB", home_zone=ZONE)
    with open_window(qtbot, tmp_path, settings=settings) as opened:
        opened.window.show_page("my_plan/people")
        view = opened.view
        assert isinstance(view, PeopleView)
        assert view.emergency.text() == "In an emergency, call 999."
        opened.type_into(view.number, OWN)
        opened.press("Save people")
        assert opened.book.settings.emergency_number == OWN
        opened.window.show_page("my_plan/people")
        view = opened.view
        assert isinstance(view, PeopleView)
        assert view.emergency.text() == f"In an emergency, call {OWN}."
        opened.press("Undo: change of my emergency number")
        assert view.emergency.text() == "In an emergency, call 999."
        assert view.number.text() == ""
