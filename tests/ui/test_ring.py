"""The sound of a due recheck: which player is taken, what it is given, and what is said without."""

from __future__ import annotations

import stat
import wave
from pathlib import Path
from unittest.mock import patch

import pytest
from pytestqt.qtbot import QtBot

from logbook.resources import resource_path
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.my_plan_sound import SoundView
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.ring import Ring, find_player
from tests.ui.writing_window import Writer, writing_window


def player(folder: Path, status: int, *, waits: bool = False) -> tuple[str, ...]:
    """A player that notes what it was given and ends with `status`."""
    script = folder / "player"
    last = "exec sleep 60" if waits else f"exit {status}"
    script.write_text(f'#!/bin/sh\necho "$@" >> "{folder}/played.txt"\n{last}\n')
    script.chmod(script.stat().st_mode | stat.S_IXUSR)
    return (str(script), "-q")


def test_the_first_player_that_is_there_is_taken() -> None:
    assert find_player({"aplay": "/bin/aplay"}.get) == ("/bin/aplay", "-q")
    assert find_player({"aplay": "/bin/aplay", "paplay": "/bin/paplay"}.get) == ("/bin/paplay",)
    assert find_player(lambda _name: None) == ()


@pytest.mark.parametrize("is_loud", [False, True])
def test_the_sound_is_handed_to_the_player(qtbot: QtBot, tmp_path: Path, is_loud: bool) -> None:
    with writing_window(tmp_path) as person:
        ring = Ring(person.window.desk, player(tmp_path, 0))
        with qtbot.waitSignal(ring.ended) as ended:
            assert ring.play(is_loud=is_loud)
        assert ended.args == [True]
        name = "ring_loud.wav" if is_loud else "ring.wav"
        played = (tmp_path / "played.txt").read_text()
        assert played == f"-q {resource_path('sounds', name)}\n"


@pytest.mark.parametrize(("heard", "can_ring"), [(None, False), (False, False), (True, True)])
def test_only_who_heard_it_may_rely_on_it(
    qtbot: QtBot, tmp_path: Path, heard: bool | None, can_ring: bool
) -> None:
    with writing_window(tmp_path, heard_ring=heard) as person:
        assert Ring(person.window.desk, player(tmp_path, 0)).can_ring is can_ring


def test_a_player_that_fails_is_not_relied_on(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, heard_ring=True) as person:
        for command in (player(tmp_path, 1), (str(tmp_path / "no such player"),)):
            ring = Ring(person.window.desk, command)
            assert ring.can_ring
            with qtbot.waitSignal(ring.ended) as ended:
                ring.play()
            assert ended.args == [False]
            assert not ring.can_ring


def test_without_a_player_nothing_is_begun(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, heard_ring=True) as person:
        ring = Ring(person.window.desk, ())
        assert not ring.play()
        assert not ring.can_ring


def test_it_can_be_silenced(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, heard_ring=True) as person:
        ring = Ring(person.window.desk, player(tmp_path, 0, waits=True))
        assert ring.play()
        qtbot.waitUntil((tmp_path / "played.txt").exists)
        ring.stop()
        assert ring.can_ring  # that it was stopped is no fault of the player


def test_the_two_sounds_are_sound_files_and_one_is_louder() -> None:
    loudest = {}
    for name in ("ring.wav", "ring_loud.wav"):
        with wave.open(str(resource_path("sounds", name))) as file:
            assert (file.getnchannels(), file.getsampwidth()) == (1, 2)
            assert 2 <= file.getnframes() / file.getframerate() <= 6
            samples = memoryview(file.readframes(file.getnframes())).cast("h")
            loudest[name] = max(abs(sample) for sample in samples)
    assert loudest["ring_loud.wav"] > 2 * loudest["ring.wav"]


# --- the sound in My plan -------------------------------------------------------------------------


def sound_view(person: Writer) -> SoundView:
    person.window.show_page("my_plan/sound")
    page = person.window.page
    assert isinstance(page, MyPlan)
    assert isinstance(page.view, SoundView)
    return page.view


@pytest.mark.parametrize(("answer", "heard"), [("Yes", True), ("No", False)])
def test_whoever_played_it_is_asked_whether_they_heard_it(
    qtbot: QtBot, tmp_path: Path, answer: str, heard: bool
) -> None:
    with (
        patch("logbook.ui.ring.find_player", return_value=player(tmp_path, 0)),
        writing_window(tmp_path, pages=(WriteDown, MyPlan)) as person,
    ):
        view = sound_view(person)
        assert not view.heard.isVisible()
        with qtbot.waitSignal(view.ring.ended):
            person.press("Play the sound")
        person.press(answer)
        assert person.window.desk.preferences.heard_ring is heard
        assert ("kitchen timer" in view.outcome.text()) is not heard
        person.press("Back")
        state = "Heard" if heard else "Not heard"
        assert state in person.button("Sound of a recheck").accessibleDescription()


def test_without_a_player_the_view_says_so_and_offers_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    with (
        patch("logbook.ui.ring.find_player", return_value=()),
        writing_window(tmp_path, pages=(WriteDown, MyPlan)) as person,
    ):
        view = sound_view(person)
        assert not view.play.isVisible()
        assert not view.heard.isVisible()
        assert view.outcome.text().startswith("This computer cannot ring.")


def test_a_player_that_fails_in_the_view_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    with (
        patch("logbook.ui.ring.find_player", return_value=player(tmp_path, 1)),
        writing_window(tmp_path, pages=(WriteDown, MyPlan)) as person,
    ):
        view = sound_view(person)
        with qtbot.waitSignal(view.ring.ended):
            person.press("Play the sound")
        assert not view.play.isVisible()
        assert view.outcome.text().startswith("This computer cannot ring.")
