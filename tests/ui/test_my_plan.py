"""The page *My plan*: each subject is changed by presses, kept, told, and can be taken back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Unit
from logbook.domain.kit.lancets import LancetHabit
from logbook.domain.medicine_notes import NotAsPlanned
from logbook.domain.settings import HandsPricked, LogSettings, RotationHabit
from logbook.domain.sites import Hand, Place
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact
from logbook.preferences import Preferences, read_preferences
from logbook.ui.pages.my_plan import HomeView
from logbook.ui.pages.my_plan_computer import found_languages
from logbook.ui.pages.my_plan_medicines import MedicinesView
from logbook.ui.pages.my_plan_people import NameView, OwnTextsView, PeopleView
from logbook.ui.pages.my_plan_periods import PeriodView
from logbook.ui.parts.scroll_page import ScrollPage
from tests.ui.plan_window import NOON, TODAY, OpenWindow, open_window


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        window.window.show_page("my_plan")
        yield window


# --- settings of the log --------------------------------------------------------------------------

PRESSES = [
    ("Fingers and lancets", "Left hand", {"hand_with_device": Hand.LEFT}),
    ("Fingers and lancets", "Both hands", {"hands_pricked": HandsPricked.BOTH}),
    (
        "Fingers and lancets",
        "Thumb",
        {"fingers_in_use": (Place.THUMB, Place.MIDDLE, Place.RING, Place.LITTLE)},
    ),
    ("Fingers and lancets", "One hand a week", {"rotation_habit": RotationHabit.ONE_HAND_A_WEEK}),
    ("Fingers and lancets", "Yes, I always follow the advice", {"always_follows_advice": True}),
    ("Fingers and lancets", "No, don't track fingers", {"tracks_fingers": False}),
    ("Fingers and lancets", "Palm", {"other_places_in_use": (Place.PALM,)}),
    ("Fingers and lancets", "The same lancet several times", {"lancet_habit": LancetHabit.REUSE}),
    ("My day starts at", "6:00 AM", {"day_starts_at": time(6)}),
    ("Unit of my meter", "mmol/L, as in 7.1 mmol/L", {"unit": Unit.MMOL_L}),
]


@pytest.mark.parametrize(("subject", "tile", "fields"), PRESSES, ids=lambda one: str(one)[:30])
def test_one_press_changes_one_setting_and_undo_takes_it_back(
    opened: OpenWindow, subject: str, tile: str, fields: dict[str, object]
) -> None:
    before = opened.book.settings
    opened.press(subject)
    assert not opened.button(tile).isChecked()
    opened.press(tile)
    changed = {
        name: getattr(opened.book.settings, name)
        for name in LogSettings.__dataclass_fields__
        if getattr(opened.book.settings, name) != getattr(before, name)
    }
    assert changed == fields
    assert opened.message.endswith(".")
    assert opened.button(tile).isChecked()

    opened.desk.write(opened.book.undo)
    assert opened.book.settings == before
    assert not opened.button(tile).isChecked()


def test_without_tracking_only_what_makes_sense_is_asked(opened: OpenWindow) -> None:
    opened.press("Fingers and lancets")
    opened.press("No, don't track fingers")
    shown = {one.text() for one in opened.buttons()}
    assert "Left hand" not in shown
    assert "A new lancet for every check" in shown
    opened.press("Yes")
    assert "Left hand" in {one.text() for one in opened.buttons()}


def test_a_change_of_unit_converts_nothing_and_drops_a_limit_in_the_old_one(
    opened: OpenWindow,
) -> None:
    opened.press("Targets")
    opened.press("Very high: above 300 mg/dL. Change it")
    opened.type_into(opened.view.number, "280")  # type: ignore[attr-defined]
    opened.press("Save number")
    assert opened.book.settings.very_high_above == 280
    opened.press("Back")
    opened.press("Unit of my meter")
    opened.press("mmol/L, as in 7.1 mmol/L")
    changed = opened.book.settings
    assert changed.unit is Unit.MMOL_L
    assert changed.very_high_above is None


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("28.5", "more decimals than a meter in mg/dL shows"),
        ("abc", "is not a number as a meter shows it"),
        ("5000", "outside what is possible: 10 to 1000 mg/dL"),
    ],
)
def test_a_limit_that_no_meter_shows_is_refused_in_words(
    opened: OpenWindow, typed: str, told: str
) -> None:
    opened.press("Targets")
    opened.press("Very high: above 300 mg/dL. Change it")
    field = opened.view.number  # type: ignore[attr-defined]
    opened.type_into(field, typed)
    opened.press("Save number")
    assert told in opened.view.problem_text
    assert field.text() == typed
    assert opened.book.settings.very_high_above is None


def test_name_people_and_own_plans_are_typed_and_kept(opened: OpenWindow) -> None:
    opened.press("My name")
    view = opened.view
    assert isinstance(view, NameView)
    opened.type_into(view.name, "A. Invented")
    opened.press("Save name")
    assert opened.book.settings.person_name == "A. Invented"

    opened.press("People to phone")
    people = opened.view
    assert isinstance(people, PeopleView)
    opened.type_into(people.fields["person"][0], "Bea")
    opened.type_into(people.fields["person"][1], "555-0101")
    opened.press("Save people")
    assert [(one.role, one.name, one.phone) for one in opened.book.contacts()] == [
        ("person", "Bea", "555-0101")
    ]
    opened.press("People to phone")
    people = opened.view
    assert isinstance(people, PeopleView)
    opened.type_into(people.fields["person"][1], "555-0102")
    opened.press("Save people")
    assert [one.phone for one in opened.book.contacts()] == ["555-0102"]

    opened.press("My own written plans")
    texts = opened.view
    assert isinstance(texts, OwnTextsView)
    opened.type_into(texts.notes["low_plan"], "Three tablets")
    opened.press("Save my plans")
    assert opened.book.settings.low_plan == "Three tablets"
    home = opened.view
    assert isinstance(home, HomeView)
    assert home.buttons["people"].accessibleDescription() == "Bea"
    assert home.buttons["texts"].accessibleDescription() == "Low"


def test_the_country_decides_the_emergency_number(opened: OpenWindow) -> None:
    opened.press("People to phone")
    opened.press("Choose my country")
    opened.press("United Kingdom")
    assert opened.book.settings.country == "GB"
    assert opened.message == "The emergency number is 999."
    opened.press("Another country")
    assert opened.message.startswith("The emergency number there is not known here.")


# --- medicines and periods ------------------------------------------------------------------------


def test_a_medicine_is_added_and_stopped_and_keeps_its_days(opened: OpenWindow) -> None:
    opened.press("Medicines")
    view = opened.view
    assert isinstance(view, MedicinesView)
    opened.press("Add medicine")
    assert view.problem_text == "The medicine is missing. Write its name and amount."
    opened.type_into(view.text, "Invented tablets, 1 in the morning")
    opened.press("1 week earlier")
    opened.press("Add medicine")
    (kept,) = opened.book.medicines()
    assert (kept.text, kept.holds_from) == (
        "Invented tablets, 1 in the morning",
        TODAY - timedelta(days=7),
    )
    opened.press("I stopped it")
    assert opened.book.medicines()[0].holds_until == TODAY - timedelta(days=1)
    assert opened.message == "Stopped: Invented tablets, 1 in the morning."
    assert "I stopped it" not in {one.text() for one in opened.buttons()}


def test_days_that_are_not_ordinary_begin_and_end(opened: OpenWindow) -> None:
    opened.press("Days that are not ordinary")
    opened.press("Add other days")
    opened.press("Save days")
    assert opened.message == "Choose first what kind of days these were."
    opened.press("Ill")
    view = opened.view
    assert isinstance(view, PeriodView)
    opened.type_into(view.first.field, "Nov 20")
    opened.type_into(view.last.field, "Nov 19")
    opened.press("Save days")
    assert view.problem_text == "The last day lies before the first day. Change one of them."
    opened.type_into(view.last.field, "")
    opened.press("Save days")
    (spell,) = opened.book.spells()
    assert (spell.kind, spell.first, spell.last) == (SpellKind.ILL, date(2026, 11, 20), None)
    opened.press("Today is the last day")
    assert opened.book.spells()[0].last == TODAY


# --- this computer --------------------------------------------------------------------------------


def test_text_keys_colours_and_paper_hold_at_once_and_are_kept(
    opened: OpenWindow, tmp_path: Path
) -> None:
    opened.press("Text and contrast")
    opened.press("150%")
    assert opened.desk.look.theme.percent == 150
    opened.press("Extra large, 3 centimetres")
    assert opened.window.bar.undo.least_height() == 113
    opened.press("Strong: black, white and yellow")
    opened.press("Back")
    opened.press("Clock and paper")
    opened.press("A4, 210 by 297 millimetres")
    assert opened.message == "Reports come on A4 paper."
    kept = read_preferences(tmp_path / "preferences.json")
    assert (kept.text_percent, kept.has_large_keys) == (150, True)
    assert (kept.contrast, kept.paper) == ("strong", "a4")


def settled(window: OpenWindow) -> ScrollPage:
    """The first view of the page, once its layouts are at rest."""
    window.window.show_page("my_plan")
    for _round in range(5):
        QApplication.processEvents()
    return window.page.scrolled


@pytest.mark.parametrize("height", [660, 700], ids=["a panel below", "a bar with Undo"])
def test_every_subject_is_in_sight_at_once(qtbot: QtBot, tmp_path: Path, height: int) -> None:
    """On a screen of 1280 by 720 in the usual text size, also in a log where all is told."""
    with open_window(qtbot, tmp_path, size=(1280, height)) as window:
        if height == 700:
            limits = Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130))
            window.book.add(
                *(
                    Target(uuid4(), kind, (limits,), TODAY, SetBy.PROVIDER, "Dr. Inventedname")
                    for kind in TargetKind
                ),
                *(
                    Contact(uuid4(), role, f"Somebody with a name {role}", "555-0100")
                    for role in ("person", "provider", "after_hours")
                ),
                *(Tick(uuid4(), about, Told.YES, TODAY, NOON) for about in About),
                Spell(uuid4(), SpellKind.ILL, TODAY, TODAY),
                Spell(uuid4(), SpellKind.STEROID, TODAY, TODAY),
            )
            name = "An Invented Person With A Very Long Name"
            window.book.save_settings(replace(window.book.settings, person_name=name))
            assert window.window.bar.undo.isVisible()
        scrolled = settled(window)
        assert not scrolled.down.isVisible()
        assert scrolled.content.height() <= scrolled.area.viewport().height()
        home = window.view
        assert isinstance(home, HomeView)
        for button in home.buttons.values():
            assert button.heightForWidth(button.width()) <= button.height()


def test_what_looks_for_scrolling_can_fail(qtbot: QtBot, tmp_path: Path) -> None:
    larger = Preferences(paper="letter", text_percent=125)
    with open_window(qtbot, tmp_path, preferences=larger) as window:
        assert settled(window).down.isVisible()


def test_a_language_is_offered_only_when_there_is_a_choice(opened: OpenWindow) -> None:
    home = opened.view
    assert isinstance(home, HomeView)
    assert ("language" in home.buttons) == (len(found_languages()) > 1)


def test_every_subject_opens_and_leads_back(opened: OpenWindow) -> None:
    home = opened.view
    assert isinstance(home, HomeView)
    for name in list(home.buttons):
        view = opened.view
        assert isinstance(view, HomeView)
        opened.press(view.buttons[name])
        assert opened.page.view_name == name
        assert opened.page.title.text()
        opened.press("Back")
        assert opened.page.view_name == "home"


# --- medicine that was not taken as planned -------------------------------------------------------


def test_a_missed_medicine_is_noted_and_crossed_out(opened: OpenWindow) -> None:
    opened.press("My plan")
    opened.press("Medicines")
    opened.press("Late, missed or another amount")
    opened.press("Save note")
    assert "Choose first" in opened.message
    opened.press("Medicine missed")
    opened.type_into(opened.view.text, "the evening tablet")  # type: ignore[attr-defined]
    opened.type_into(opened.view.time, "11:00 pm")  # type: ignore[attr-defined]
    opened.press("Save note")
    assert "still to come" in opened.view.problem_text
    opened.type_into(opened.view.day.field, "yesterday")  # type: ignore[attr-defined]
    opened.press("Save note")
    (note,) = opened.book.medicine_notes()
    assert (note.kind, note.text) == (NotAsPlanned.MISSED, "the evening tablet")
    assert note.at.wall.date() == TODAY - timedelta(days=1)
    opened.press("Late, missed or another amount")
    opened.press("Cross out")
    assert not opened.book.medicine_notes()[0].counts


def test_units_are_asked_only_of_who_may_take_insulin(opened: OpenWindow) -> None:
    opened.book.add(Tick(uuid4(), About.INSULIN, Told.NO, TODAY, NOON))
    opened.press("My plan")
    opened.press("Medicines")
    opened.press("Late, missed or another amount")
    assert not [one for one in opened.buttons() if one.text() == "Units taken"]
    opened.press("Back")
    opened.now[0] += timedelta(minutes=1)
    opened.book.add(Tick(uuid4(), About.INSULIN, Told.YES, TODAY, opened.now[0]))
    opened.press("Late, missed or another amount")
    assert [one for one in opened.buttons() if one.text() == "Units taken"]
