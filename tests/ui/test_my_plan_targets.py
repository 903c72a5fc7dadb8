"""Targets on the page *My plan*: who set them, from which day, and what happens to the past."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Unit
from logbook.domain.settings import LogSettings
from logbook.domain.targets import Limit, Limits, Operator, SetBy, TargetKind
from logbook.ui.pages.my_plan_numbers import NumbersView, WhoseNumbersView
from logbook.ui.pages.my_plan_targets import TargetsView
from logbook.ui.parts.texts import Words
from tests.ui.plan_window import TODAY, OpenWindow, open_window

CAUTION = "This row is meant for people whose medicines do not cause lows. Ask your provider."


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        window.window.show_page("my_plan")
        window.press("Targets")
        yield window


def words_of(opened: OpenWindow) -> list[str]:
    return [one.text() for one in opened.view.findChildren(Words) if one.isVisible()]


def give_numbers(opened: OpenWindow, lowest: str, highest: str, kinds: list[str]) -> None:
    """From the list of targets to the last of the three questions."""
    opened.press("Change targets")
    opened.press("My provider gave me these numbers")
    for kind in kinds:
        opened.press(kind)
    opened.press("Go on")
    view = opened.view
    assert isinstance(view, NumbersView)
    opened.type_into(view.lowest, lowest)
    opened.type_into(view.highest, highest)
    opened.press("Go on")


def test_numbers_of_the_provider_hold_from_their_day_on(opened: OpenWindow) -> None:
    give_numbers(opened, "80", "130", ["Fasting (before breakfast)", "Before meals"])
    view = opened.view
    assert isinstance(view, WhoseNumbersView)
    assert view.who is not None
    opened.type_into(view.who, "Dr. Invented")
    opened.type_into(view.day.field, "Nov 1")
    opened.press("Save targets")

    book = opened.book.targets()
    assert {one.kind for one in book.all} == {TargetKind.FASTING, TargetKind.BEFORE_MEALS}
    target = book.of_kind(TargetKind.FASTING, TODAY)
    assert target is not None
    assert target.printed == (
        Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130)),
    )
    assert (target.set_by, target.set_by_name, target.is_agreed) == (
        SetBy.PROVIDER,
        "Dr. Invented",
        True,
    )
    assert book.of_kind(TargetKind.FASTING, date(2026, 10, 31)) is None
    assert isinstance(opened.view, TargetsView)
    assert "80 to 130 mg/dL" in words_of(opened)
    assert "Set by Dr. Invented, from November 1, 2026" in words_of(opened)


def test_the_past_keeps_its_targets(opened: OpenWindow) -> None:
    give_numbers(opened, "80", "130", ["Bedtime"])
    view = opened.view
    assert isinstance(view, WhoseNumbersView)
    opened.type_into(view.day.field, "Oct 1")
    opened.press("Save targets")
    give_numbers(opened, "100", "180", ["Bedtime"])
    opened.press("Save targets")
    book = opened.book.targets()
    yesterday, today = (
        book.of_kind(TargetKind.BEDTIME, day) for day in (TODAY - timedelta(days=1), TODAY)
    )
    assert yesterday is not None
    assert today is not None
    assert yesterday.printed[0].lower == Limit(Operator.AT_LEAST, 80)
    assert today.printed[0].lower == Limit(Operator.AT_LEAST, 100)


def test_earlier_targets_and_those_to_come_stand_with_their_days(opened: OpenWindow) -> None:
    for lowest, highest, day in (
        ("80", "130", "Oct 1"),
        ("90", "150", "Nov 2"),
        ("100", "160", "Dec 1, 2026"),
    ):
        give_numbers(opened, lowest, highest, ["Bedtime"])
        view = opened.view
        assert isinstance(view, WhoseNumbersView)
        opened.type_into(view.day.field, day)
        opened.press("Save targets")
        opened.now[0] += timedelta(minutes=1)
    words = words_of(opened)
    assert words.index("90 to 150 mg/dL") < words.index("Later") < words.index("100 to 160 mg/dL")
    assert "80 to 130 mg/dL" not in " ".join(words)
    opened.press("Show earlier targets")
    assert (
        "80 to 130 mg/dL, from October 1, 2026 to November 1, 2026. Set by your provider."
        in words_of(opened)
    )
    assert "90 to 150" not in " ".join(words_of(opened))


def test_operators_and_a_missing_limit_are_kept_as_printed(opened: OpenWindow) -> None:
    opened.press("Change targets")
    opened.press("My provider gave me these numbers")
    opened.press("After meals")
    opened.press("Go on")
    opened.press("No lowest number")
    opened.press("Below")
    view = opened.view
    assert isinstance(view, NumbersView)
    assert not view.lowest.isVisible()
    opened.type_into(view.highest, "180")
    opened.press("Go on")
    assert "After meals: below 180 mg/dL" in words_of(opened)
    opened.press("Save targets")
    (target,) = opened.book.targets().all
    assert target.printed == (Limits(Unit.MG_DL, None, Limit(Operator.BELOW, 180)),)


@pytest.mark.parametrize(
    ("lowest", "highest", "told"),
    [
        ("130", "80", "The lowest, 130 mg/dL, is not under the highest, 80 mg/dL."),
        ("8.0", "130", "has more decimals than a meter in mg/dL shows"),
        ("", "130", "There is no number yet."),
        ("80", "1300", "lies outside what is possible"),
    ],
)
def test_numbers_that_can_not_be_are_refused_in_words(
    opened: OpenWindow, lowest: str, highest: str, told: str
) -> None:
    give_numbers(opened, lowest, highest, ["Bedtime"])
    view = opened.view
    assert isinstance(view, NumbersView)
    assert told in view.problem_text
    assert (view.lowest.text(), view.highest.text()) == (lowest, highest)
    assert opened.book.targets().all == ()


def test_a_lower_limit_in_the_low_range_is_worth_a_second_look(opened: OpenWindow) -> None:
    """Low is below 70 mg/dL: ADA Standards of Care 2024, section 6."""
    give_numbers(opened, "60", "130", ["Bedtime"])
    doubt = "60 mg/dL lies in the low range. Look at your paper once more."
    assert doubt in words_of(opened)
    opened.press("Back")
    give_numbers(opened, "70", "130", ["Bedtime"])
    assert doubt.replace("60", "70") not in words_of(opened)


def test_numbers_in_the_other_unit_are_kept_and_said_not_to_judge(opened: OpenWindow) -> None:
    opened.press("Change targets")
    opened.press("My provider gave me these numbers")
    opened.press("Bedtime")
    opened.press("Go on")
    opened.press("mmol/L")
    view = opened.view
    assert isinstance(view, NumbersView)
    opened.type_into(view.lowest, "5,6")
    opened.type_into(view.highest, "10.0")
    opened.press("Go on")
    said = "Your meter shows mg/dL. Readings will not be judged by these numbers."
    assert said in words_of(opened)
    opened.press("Save targets")
    (target,) = opened.book.targets().all
    assert target.printed == (
        Limits(Unit.MMOL_L, Limit(Operator.AT_LEAST, 56), Limit(Operator.AT_MOST, 100)),
    )


def test_not_knowing_ends_what_held_from_today_on(opened: OpenWindow) -> None:
    give_numbers(opened, "80", "130", ["Bedtime"])
    view = opened.view
    assert isinstance(view, WhoseNumbersView)
    opened.type_into(view.day.field, "Oct 1")
    opened.press("Save targets")
    opened.press("Change targets")
    opened.press("I don't know yet")
    book = opened.book.targets()
    assert book.of_kind(TargetKind.BEDTIME, TODAY) is None
    assert book.of_kind(TargetKind.BEDTIME, TODAY - timedelta(days=1)) is not None
    assert "No targets yet. Only very low, low and very high are named." in words_of(opened)


def take_published(opened: OpenWindow, health: str) -> None:
    opened.press("Change targets")
    opened.press("Show me published starting points")
    opened.press(health)


GOOD = "Good: few lasting illnesses, mind and daily life as ever"


def test_a_published_row_is_marked_until_the_provider_agrees(opened: OpenWindow) -> None:
    """80 to 130, 80 to 180 mg/dL: ADA Standards of Care 2024, table 13.1, healthy older adults."""
    take_published(opened, GOOD)
    said = words_of(opened)
    assert "Fasting (before breakfast): 80 to 130 mg/dL (4.4 to 7.2 mmol/L)" in said
    assert "Bedtime: 80 to 180 mg/dL (4.4 to 10.0 mmol/L)" in said
    assert CAUTION in said
    first = next(one for one in opened.buttons() if one.text() == "Take these numbers")
    opened.press(first)
    assert CAUTION in words_of(opened)
    opened.press("Save targets")

    target = opened.book.targets().of_kind(TargetKind.BEDTIME, TODAY)
    assert target is not None
    assert (target.set_by, target.is_agreed) == (SetBy.PUBLISHED, False)
    assert "not yet agreed with your provider" in words_of(opened)

    opened.now[0] += timedelta(minutes=1)  # the later written of two that hold from one day
    opened.press("My provider agrees with these numbers")
    opened.press("Save targets")
    agreed = opened.book.targets().of_kind(TargetKind.BEDTIME, TODAY)
    assert agreed is not None
    assert (agreed.set_by, agreed.is_agreed, agreed.printed) == (
        SetBy.PROVIDER,
        True,
        target.printed,
    )
    assert "not yet agreed with your provider" not in words_of(opened)


def test_no_caution_for_a_person_whose_medicines_cause_no_lows(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with open_window(qtbot, tmp_path, settings=LogSettings(can_have_lows=False)) as opened:
        opened.window.show_page("my_plan")
        opened.press("Targets")
        take_published(opened, GOOD)
        assert "Fasting (before breakfast): 80 to 130 mg/dL (4.4 to 7.2 mmol/L)" in words_of(opened)
        assert CAUTION not in words_of(opened)


def test_no_row_is_offered_in_a_unit_it_is_not_printed_in(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path, settings=LogSettings(unit=Unit.MMOL_L)) as opened:
        opened.window.show_page("my_plan")
        opened.press("Targets")
        take_published(opened, GOOD)
        bodies = [text for text in words_of(opened) if text.endswith((", 2024", ", 2019"))]
        assert bodies == ["American Diabetes Association, 2024"]


def test_saving_targets_is_one_action(opened: OpenWindow) -> None:
    give_numbers(opened, "80", "130", ["Fasting (before breakfast)", "Before meals", "Bedtime"])
    opened.press("Save targets")
    assert len(opened.book.targets().all) == 3
    opened.desk.write(opened.book.undo)
    assert opened.book.targets().all == ()
