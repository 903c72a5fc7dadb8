"""What a person does on *Fingers*: sore, left out, a cast, a new lancet; each taken back."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.lancets import LancetChangeReason
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import HandsPricked, LogSettings, RotationHabit
from logbook.domain.sites import SIDES, Hand, Place, Side, Site, SiteUse
from logbook.domain.slots import Slot
from logbook.ui.parts.hand_drawing import PadLook
from logbook.wording.sites import finger_text
from tests.ui.looking_window import BOTH_HANDS, Looker, full_log, looking_window
from tests.ui.writing_window import ZONE


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


# --- how a prick went -----------------------------------------------------------------------------


def prick(looker: Looker, site: Site | None, use: SiteUse) -> Reading:
    """A reading of now at a site."""
    at = Moment.at(looker.clock[0], ZONE)
    reading = Reading(
        uuid4(),
        Glucose.number(111, Unit.MG_DL),
        at,
        at.instant,
        Slot.OTHER,
        site=site,
        site_use=use,
    )
    looker.book.add(reading)
    return reading


def tell(looker: Looker, *texts: str, depth: str = "") -> None:
    """From the page of the hands: say how the last prick went."""
    looker.press("The lancet", "How the last prick went", *texts)
    (field,) = [one for one in looker.view.findChildren(QLineEdit) if one.isVisible()]
    looker.fill(field, depth)
    looker.press("Keep this")


def test_a_finger_that_hurt_rests_and_undo_takes_it_back(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        advised = looker.view.hands  # type: ignore[attr-defined]
        first = next(f for f, b in advised.buttons.items() if b.pad.look is PadLook.NEXT)
        # It is pricked, and by tomorrow it would be one of those that can be next again.
        reading = prick(looker, Site(first[0], first[1], Side.THUMB_SIDE), SiteUse.USED)
        before = looker.clicks
        tell(looker, "It hurt", depth="3")
        assert looker.clicks - before == 4
        (note,) = looker.book.puncture_notes()
        assert (note.about, note.did_hurt, note.depth_tenths) == (reading.id, True, 30)
        assert note.was_enough_blood
        assert "Other fingers come first for 3 days." in looker.message

        looker.pass_time(days=2)
        looker.press(finger_text(*first))
        assert "This finger hurt in the last 3 days." in looker.words()
        looker.press("Back")
        undo(looker)
        assert looker.book.puncture_notes() == []


def test_the_depth_that_worked_is_offered_for_that_finger(qtbot: QtBot, tmp_path: Path) -> None:
    settings = replace(
        BOTH_HANDS, fingers_in_use=(Place.RING,), hands_pricked=HandsPricked.OTHER_HAND
    )
    with looking_window(tmp_path, "fingers", settings=settings) as looker:
        ring = Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE)
        prick(looker, ring, SiteUse.USED)
        tell(looker, "Not enough blood", depth="2")
        assert "go one step deeper" in looker.message
        assert "worked on this finger" not in looker.words()
        looker.pass_time(days=3)
        prick(looker, ring, SiteUse.USED)
        tell(looker, "It went well", depth="2,5")
        assert "Depth 2.5 worked on this finger lately." in looker.words()


def test_telling_about_a_suggested_finger_says_that_it_was_used(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, "fingers", settings=BOTH_HANDS) as looker:
        site = Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE)
        reading = prick(looker, site, SiteUse.SUGGESTED)
        tell(looker, "It hurt, and not enough blood")
        assert looker.book.reading(reading.id).site_use is SiteUse.USED
        undo(looker)  # one action with the note
        assert looker.book.reading(reading.id).site_use is SiteUse.SUGGESTED
        assert looker.book.puncture_notes() == []


def test_what_was_told_about_a_prick_is_changed_not_told_twice(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with looking_window(tmp_path, "fingers", settings=BOTH_HANDS) as looker:
        prick(looker, None, SiteUse.NOT_NOTED)
        tell(looker, "It hurt", depth="2.5")
        looker.press("The lancet", "How the last prick went")
        assert looker.button("It hurt").isChecked()
        (field,) = [one for one in looker.view.findChildren(QLineEdit) if one.isVisible()]
        assert field.text() == "2.5"
        looker.fill(field, "half")
        looker.press("It went well", "Keep this")
        assert "Write the number on the dial" in looker.words()
        looker.fill(field, "3")
        looker.press("Keep this")
        (note,) = looker.book.puncture_notes()
        assert (note.did_hurt, note.depth_tenths) == (False, 30)


def test_without_a_prick_there_is_nothing_to_tell(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", settings=BOTH_HANDS) as looker:
        looker.press("The lancet", "How the last prick went")
        assert "No prick is written down in the last weeks." in looker.words()
        assert looker.view_page.main_button is not None
        assert not looker.view_page.main_button.isVisible()


@pytest.mark.parametrize(("went", "next_finger"), [("It hurt", "middle"), ("It went well", "ring")])
def test_pain_changes_which_finger_is_next(
    qtbot: QtBot, tmp_path: Path, went: str, next_finger: str
) -> None:
    settings = LogSettings(home_zone=ZONE, fingers_in_use=(Place.MIDDLE, Place.RING))
    with looking_window(tmp_path, "fingers", settings=settings) as looker:
        for place in (Place.RING, Place.MIDDLE):
            for side in SIDES:
                prick(looker, Site(Hand.LEFT, place, side), SiteUse.USED)
                looker.pass_time(minutes=5)
            if place is Place.RING:
                tell(looker, went)
            looker.pass_time(days=1)
        looker.pass_time(hours=1)
        # The ring finger rested longest: two days.
        assert looker.title.startswith(f"Next: Left {next_finger} finger"), looker.title
