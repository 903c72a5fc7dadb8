"""What is kept on this computer: preferences and the draft, tolerant of damage, for one person."""

from __future__ import annotations

import json
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Kind
from logbook.domain.moments import Moment
from logbook.domain.readings import Difference, Feeling
from logbook.domain.sites import Hand, Place, Side, Site
from logbook.domain.slots import Slot
from logbook.preferences import Preferences, read_preferences, write_preferences
from logbook.ui.draft import Draft
from logbook.ui.draft_file import DraftFile
from logbook.ui.theme import THEMES
from tests.ui.writing_window import NOON, ZONE, writing_window


def test_preferences_come_back(tmp_path: Path) -> None:
    path = tmp_path / "config" / "preferences.json"
    chosen = Preferences(text_percent=200, contrast="strong", has_large_keys=True, hours_24=False)
    write_preferences(path, chosen)
    assert read_preferences(path) == chosen
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700
    assert [one.name for one in path.parent.iterdir()] == [path.name]


@pytest.mark.parametrize(
    "damage", ["", "{", "[]", "null", "\x00", '{"text_percent": 117}', "9" * 9999]
)
def test_damaged_preferences_are_the_defaults(tmp_path: Path, damage: str) -> None:
    path = tmp_path / "preferences.json"
    path.write_text(damage, encoding="utf-8")
    assert read_preferences(path) == Preferences()


def test_what_is_sound_in_damaged_preferences_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "preferences.json"
    kept = {"text_percent": True, "contrast": "dark", "language": 7, "unknown": 1}
    path.write_text(json.dumps(kept), encoding="utf-8")
    assert read_preferences(path) == Preferences(contrast="dark")


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner),
    max_leaves=8,
)


@given(st.dictionaries(st.sampled_from(["text_percent", "contrast", "paper", "language"]), _JSON))
def test_no_content_stops_the_start(tmp_path_factory: pytest.TempPathFactory, kept: object) -> None:
    path = tmp_path_factory.mktemp("any") / "preferences.json"
    path.write_text(json.dumps(kept), encoding="utf-8")
    write_preferences(path, read_preferences(path))


def test_text_size_and_contrast_hold_at_once_and_at_the_next_start(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path) as person:
        person.press("Larger text", "Larger text")
        assert person.message == "Text size is 150% now."
        assert person.page.form.title.font().pixelSize() == 40  # 20 points at 150 %
        path = tmp_path / "config" / "preferences.json"
        assert read_preferences(path).text_percent == 150
        person.press("Smaller text", "Smaller text", "Smaller text")
        assert person.message == "This is the smallest text size."


def full_draft() -> Draft:
    return Draft(
        kind=Kind.NUMBER,
        text="128",
        first_typed_at=NOON,
        at=Moment.at(NOON - timedelta(hours=2), ZONE),
        slot=Slot.AFTER_LUNCH,
        is_slot_touched=True,
        minutes_after=90,
        site=Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE),
        feelings=(Feeling.SHAKY,),
        differences=(Difference.ILL,),
        could_not_wash=True,
        note="„birthday“ 🎂",
    )


def test_a_draft_comes_back_whole(qtbot: QtBot, tmp_path: Path) -> None:
    file = DraftFile(tmp_path / "state", tmp_path / "my.logbook")
    file.keep(full_draft())
    file.keep_now()
    assert file.found() == full_draft()
    assert file.path.stat().st_mode & 0o777 == 0o600


def test_a_draft_is_on_disk_within_a_second_of_a_key(qtbot: QtBot, tmp_path: Path) -> None:
    file = DraftFile(tmp_path, tmp_path / "my.logbook")
    file.keep(full_draft())
    qtbot.waitUntil(file.path.exists, timeout=1_000)


def test_two_logs_have_two_drafts(qtbot: QtBot, tmp_path: Path) -> None:
    one, other = (DraftFile(tmp_path, tmp_path / name) for name in ("a.logbook", "b.logbook"))
    assert one.path != other.path


@pytest.mark.parametrize("damage", ["", "{}", "[1]", '{"kind": "soup"}', "\x00\x00"])
def test_a_damaged_draft_is_no_draft(qtbot: QtBot, tmp_path: Path, damage: str) -> None:
    file = DraftFile(tmp_path, tmp_path / "my.logbook")
    file.path.write_text(damage, encoding="utf-8")
    assert file.found() is None


@given(data=st.data())
def test_a_draft_with_any_one_value_damaged_is_read_or_refused(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.mktemp("draft")
    file = DraftFile(folder, folder / "my.logbook")
    file.keep(full_draft())
    file.keep_now()
    plain = json.loads(file.path.read_text(encoding="utf-8"))
    plain[data.draw(st.sampled_from(sorted(plain)))] = data.draw(_JSON)
    file.path.write_text(json.dumps(plain), encoding="utf-8")
    assert file.found() is None or isinstance(file.found(), Draft)


def test_an_empty_draft_leaves_no_file(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1")
        person.page.keep_typed()
        assert person.page.filling.file.path.exists()
        person.press("Back")
        person.page.keep_typed()
        assert not person.page.filling.file.path.exists()


def test_a_choice_that_can_not_be_kept_holds_and_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        desk = person.window.desk
        kept_at = desk._preferences_path
        kept_at.unlink(missing_ok=True)
        kept_at.mkdir(parents=True)  # a folder stands where the file should
        desk.prefer(contrast="dark")
        assert desk.look.theme.colours == THEMES["dark"]
        assert "could not be kept" in person.message
        assert list(kept_at.iterdir()) == []
