"""What a person does on *Fingers*: sore, left out, a cast, a new lancet; each taken back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from pytestqt.qtbot import QtBot

from logbook.domain.kit.lancets import LancetChangeReason
from logbook.domain.settings import RotationHabit
from tests.ui.looking_window import BOTH_HANDS, Looker, full_log, looking_window


def undo(looker: Looker) -> None:
    looker.click(looker.window.bar.undo)


def test_a_sore_finger_is_left_to_rest_and_undo_takes_it_back(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("Left ring finger", "It is sore")
        assert looker.clicks == 2
        assert looker.settings().sore == (("left.ring", "2026-03-31"),)
        assert looker.message == "It is left to rest. You are asked again in 7 days."
        assert "Sore since March 31" in looker.words()
        assert "Show a red, hot, swollen or oozing finger to your provider." in looker.words()
        undo(looker)
        assert looker.settings().sore == ()
        assert looker.button("It is sore").isVisible()


def test_one_side_can_be_sore(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("Right little finger", "Outer edge", "It is sore")
        assert looker.settings().sore == (("right.little.little_finger_side", "2026-03-31"),)
        looker.press("Not sore any more")
        assert looker.settings().sore == ()


def test_after_7_days_it_is_asked_whether_it_is_still_sore(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("Left ring finger", "It is sore", "Back")
        looker.pass_time(days=6)
        assert "still sore?" not in looker.words()
        looker.pass_time(days=1)
        assert "Left ring finger: still sore?" in looker.words()
        looker.press("Still sore")
        assert "still sore?" not in looker.words()
        assert looker.message == "It is left to rest. You are asked again in 7 days."
        looker.pass_time(days=6)
        assert "still sore?" not in looker.words()
        looker.press("Left ring finger")
        assert "Sore since March 31" in looker.words()  # not since the day of the answer
        looker.press("Back")
        looker.pass_time(days=1)
        looker.press("Still sore")
        assert len(looker.settings().sore) == 2  # answers don't pile up
        looker.pass_time(days=7)
        looker.press("Not sore any more")
        assert looker.settings().sore == ()
        assert "still sore?" not in looker.words()


def test_a_finger_is_left_out_for_a_reason_and_used_again(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("Left ring finger", "Leave it out", "It is numb")
        assert looker.clicks == 3
        assert looker.settings().left_out == (("left.ring", "It is numb"),)
        assert "Left out: It is numb" in looker.words()
        looker.press("Use it again")
        assert looker.settings().left_out == ()
        undo(looker)
        assert looker.settings().left_out == (("left.ring", "It is numb"),)


def test_a_hand_in_a_cast_is_left_out_whole(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("Left ring finger", "Leave the whole hand out", "A cast or a bandage")
        assert looker.settings().left_out == (("left", "A cast or a bandage"),)
        looker.press("Back")
        assert looker.title.startswith("Next: Right ")
        looker.press("Left index finger", "Use this hand again")
        assert looker.settings().left_out == ()


def test_another_habit_is_one_press_and_undo_takes_it_back(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("How the work is shared", "One hand a week")
        assert looker.settings().rotation_habit is RotationHabit.ONE_HAND_A_WEEK
        undo(looker)
        assert looker.settings().rotation_habit is RotationHabit.LONGEST_REST
        assert looker.button("The finger that rested longest").isChecked()


def test_a_new_lancet_with_its_reason(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("The lancet", "It hurt", "New lancet")
        assert looker.clicks == 3
        (change,) = looker.book.lancet_changes()
        assert change.reason is LancetChangeReason.PAINFUL
        assert change.at.instant == looker.clock[0]
        undo(looker)
        assert looker.book.lancet_changes() == []


def test_a_bounced_new_lancet_is_one_lancet(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("The lancet")
        button = looker.button("New lancet")
        looker.click(button)
        looker.down(button, later=150)
        looker.up(button)
        assert len(looker.book.lancet_changes()) == 1


def test_the_keyboard_goes_along_the_fingers(qtbot: QtBot, tmp_path: Path) -> None:
    from PySide6.QtCore import Qt

    from logbook.domain.sites import Hand, Place

    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        hands = looker.view.hands  # type: ignore[attr-defined]
        hands.buttons[Hand.LEFT, Place.MIDDLE].setFocus(Qt.FocusReason.TabFocusReason)
        looker.key(Qt.Key.Key_Right, "")
        looker.type("Space")
        assert looker.title == "Left ring finger"


def test_what_is_marked_is_there_when_the_page_is_taken_up_again(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("Left ring finger", "It is sore")
        kept = looker.settings()
        looker.window.show_page("look_back")
        looker.window.show_page("fingers")
        assert "Sore since March 31" in looker.words()
    assert kept == replace(BOTH_HANDS, sore=(("left.ring", "2026-03-31"),))
