"""The clock of 12 or 24 hours: chosen in *My plan*, used at once on every page, kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.preferences import Preferences, read_preferences, write_preferences
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.write_down import WriteDown
from logbook.wording.manner import Manner, manner, set_manner
from tests.ui.writing_window import writing_window


@pytest.fixture(autouse=True)
def _same_manner_afterwards() -> Iterator[None]:
    before = manner()
    yield
    set_manner(before)


def test_a_press_changes_every_page_at_once_and_is_kept(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=(WriteDown, MyPlan)) as person:
        assert person.button("Now, 12:04 PM").isVisible()
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert person.window.bar.undo.text() == "Undo: 128 mg/dL at 12:04 PM"
        person.window.show_page("my_plan/clock")
        person.press("24 hours, such as 19:30")
        assert person.message == "Half past seven in the evening is 19:30 now."
        assert person.window.bar.undo.text() == "Undo: 128 mg/dL at 12:04"
        person.press("Write down", "Write down another")
        assert person.button("Now, 12:04").isVisible()
    kept = read_preferences(tmp_path / "config" / "preferences.json")
    assert kept.hours_24 is True


def test_without_a_choice_the_country_decides(tmp_path: Path) -> None:
    assert Preferences().hours_24 is None
    assert not Manner("en_US").has_24_hours
    assert Manner("en_GB").has_24_hours


@pytest.mark.parametrize("hours_24", [None, False, True])
def test_the_choice_comes_back(tmp_path: Path, *, hours_24: bool | None) -> None:
    write_preferences(tmp_path / "preferences.json", Preferences(hours_24=hours_24))
    assert read_preferences(tmp_path / "preferences.json").hours_24 is hours_24


@pytest.mark.parametrize("damage", ["1", "0", '"yes"', "[]"])
def test_another_kind_of_value_is_no_choice(tmp_path: Path, damage: str) -> None:
    (tmp_path / "preferences.json").write_text(f'{{"hours_24": {damage}}}', encoding="utf-8")
    assert read_preferences(tmp_path / "preferences.json").hours_24 is None
