"""*Fingers*: what the hands show and say, at every size, and what is said of one finger."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.kit.lancets import LancetChange, LancetHabit
from logbook.domain.moments import Moment
from logbook.domain.sites import FINGERS, SIDES, Hand, Place, Side, Site, SiteUse
from logbook.ui.pages.fingers import Fingers
from logbook.ui.pages.fingers_hands import HandsView
from logbook.ui.parts.hand_drawing import PadLook
from tests.ui.looking_window import (
    BOTH_HANDS,
    Looker,
    check_geometry,
    check_names_and_order,
    full_log,
    is_scrolled,
    looking_window,
    one_reading,
)
from tests.ui.writing_window import NOON, ZONE, settle

SIZES = [((1280, 660), 100), ((1366, 768), 100), ((1280, 660), 200), ((1366, 768), 200)]
RING = Site(Hand.LEFT, Place.RING)
SOME = replace(
    BOTH_HANDS,
    sore=(("left.ring", "2026-03-20"),),
    left_out=(("right.little", "It is numb"),),
    lancet_habit=LancetHabit.REUSE,
)


def hands_of(looker: Looker) -> HandsView:
    view = looker.view
    assert isinstance(view, HandsView)
    return view


def turn_to(looker: Looker, view: str, site: Site = RING) -> None:
    page = looker.window.page
    assert isinstance(page, Fingers)
    page.subject.site = site
    page.turn_to(view)
    settle()


# --- at every size --------------------------------------------------------------------------------


@pytest.mark.parametrize(("size", "percent"), SIZES)
def test_nothing_is_clipped_or_overlapped(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int
) -> None:
    with looking_window(
        tmp_path, "fingers", prepare=full_log, settings=SOME, size=size, percent=percent
    ) as looker:
        check_geometry(looker)
        for view in ("work", "lancet", "puncture", "leave_out", "finger"):
            turn_to(looker, view)
            check_geometry(looker)
            check_names_and_order(looker)
        turn_to(looker, "finger", Site(Hand.RIGHT, Place.THUMB))
        check_geometry(looker)


def test_at_the_usual_size_the_hands_need_no_scrolling(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log, settings=SOME) as looker:
        assert not is_scrolled(looker)


def test_the_pads_are_large_and_have_names(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        buttons = hands_of(looker).hands.buttons
        assert len(buttons) == 10
        for button in buttons.values():
            assert min(button.width(), button.height()) >= 76
            assert button.accessibleName()
            assert button.accessibleDescription()


# --- what the hands show --------------------------------------------------------------------------


def test_the_hands_show_next_sore_left_out_and_days_of_rest(qtbot: QtBot, tmp_path: Path) -> None:
    def used(book: Book) -> None:
        middle = Site(Hand.RIGHT, Place.MIDDLE, Side.THUMB_SIDE)
        book.add(
            one_reading("2026-03-28 07:00", 110, site=middle, site_use=SiteUse.USED),
        )

    with looking_window(tmp_path, "fingers", prepare=used, settings=SOME) as looker:
        pads = hands_of(looker).hands.pads
        assert pads[Hand.LEFT, Place.RING].look is PadLook.HATCHED
        assert pads[Hand.RIGHT, Place.LITTLE].look is PadLook.HATCHED
        assert pads[Hand.LEFT, Place.THUMB].look is PadLook.UNUSED
        assert pads[Hand.RIGHT, Place.MIDDLE].days == 3
        (next_one,) = [finger for finger, pad in pads.items() if pad.look is PadLook.NEXT]
        assert looker.title.startswith("Next: Left middle finger")
        assert next_one == (Hand.LEFT, Place.MIDDLE)


def test_without_tracking_there_are_no_hands(qtbot: QtBot, tmp_path: Path) -> None:
    settings = replace(BOTH_HANDS, tracks_fingers=False)
    with looking_window(tmp_path, "fingers", prepare=full_log, settings=settings) as looker:
        assert not hands_of(looker).hands.isVisible()
        assert looker.title == "Fingers are not tracked. You can turn this on in My plan."
        assert looker.button("The lancet").isVisible()


@pytest.mark.parametrize(
    ("finger", "sides"),
    [
        ((Hand.LEFT, Place.THUMB), ["Outer edge", "The whole finger", "Inner edge"]),
        ((Hand.LEFT, Place.LITTLE), ["Inner edge", "The whole finger", "Outer edge"]),
        ((Hand.RIGHT, Place.RING), ["Little-finger side", "The whole finger", "Thumb side"]),
    ],
)
def test_the_sides_stand_as_they_lie_before_the_eyes(
    qtbot: QtBot, tmp_path: Path, finger: tuple[Hand, Place], sides: list[str]
) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        turn_to(looker, "finger", Site(*finger))
        buttons = looker.view.sides.buttons.values()  # type: ignore[attr-defined]
        assert [one.text() for one in sorted(buttons, key=lambda one: one.x())] == sides


def test_one_finger_says_rest_and_uses_of_its_sides(qtbot: QtBot, tmp_path: Path) -> None:
    def used(book: Book) -> None:
        for day, side in (("25", SIDES[0]), ("28", SIDES[1]), ("29", SIDES[1])):
            site = replace(RING, side=side)
            book.add(one_reading(f"2026-03-{day} 07:00", 110, site=site, site_use=SiteUse.USED))

    with looking_window(tmp_path, "fingers", prepare=used) as looker:
        looker.press("Left ring finger")
        words = looker.words()
        assert "Thumb side: Rested 6 days. Used 1 time in the last 30 days." in words
        assert "Little-finger side: Rested 2 days. Used 2 times in the last 30 days." in words
        looker.press("Thumb side")
        assert "Little-finger side: Rested" not in looker.words()


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (Place.THUMB, "The thumb has thick skin and may hurt more."),
        (Place.INDEX, "The index finger has thick skin and may hurt more."),
    ],
)
def test_thumb_and_index_get_soft_words(
    qtbot: QtBot, tmp_path: Path, place: Place, words: str
) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        turn_to(looker, "finger", Site(Hand.LEFT, place))
        assert words in looker.words()
        turn_to(looker, "finger", Site(Hand.LEFT, Place.MIDDLE))
        assert words not in looker.words()


def test_every_finger_has_its_own_title(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        titles = set()
        for hand in Hand:
            for place in FINGERS:
                turn_to(looker, "finger", Site(hand, place))
                titles.add(looker.title)
        assert len(titles) == 10


# --- work and lancet ------------------------------------------------------------------------------


def test_the_last_uses_are_told_newest_first(qtbot: QtBot, tmp_path: Path) -> None:
    def used(book: Book) -> None:
        middle = Site(Hand.RIGHT, Place.MIDDLE, Side.THUMB_SIDE)
        book.add(
            one_reading("2026-03-29 07:00", 110, site=middle, site_use=SiteUse.USED),
            one_reading("2026-03-30 07:00", 111, site=RING, site_use=SiteUse.SUGGESTED),
        )

    with looking_window(tmp_path, "fingers", prepare=used) as looker:
        looker.press("How the work is shared")
        lines = [line for line in looker.words().split("\n") if " at 7:00 AM" in line]
        assert lines == [
            "Left ring finger: yesterday at 7:00 AM. It was suggested, not confirmed.",
            "Right middle finger, thumb side: March 29 at 7:00 AM.",
        ]


@pytest.mark.parametrize(("uses", "is_blunt"), [(2, False), (3, True)])
def test_the_lancet_says_since_when_and_how_often(
    qtbot: QtBot, tmp_path: Path, uses: int, is_blunt: bool
) -> None:
    def changed(book: Book) -> None:
        at = Moment.at(NOON.replace(day=29), ZONE)
        book.add(LancetChange(uuid4(), at, at.instant))
        book.add(*[one_reading(f"2026-03-30 0{hour + 5}:00", 110) for hour in range(uses)])
        book.add(one_reading("2026-03-28 07:00", 110))

    settings = replace(BOTH_HANDS, lancet_habit=LancetHabit.REUSE)
    with looking_window(tmp_path, "fingers", prepare=changed, settings=settings) as looker:
        looker.press("The lancet")
        words = looker.words()
        assert "It was put in March 29 at 12:04 PM." in words
        assert f"{uses} punctures with it so far." in words
        # From the fourth use on: with three behind it, the next is the fourth.
        assert ("Blunt lancets hurt more." in words) is is_blunt


def test_a_new_lancet_each_time_is_counted_silently(qtbot: QtBot, tmp_path: Path) -> None:
    with looking_window(tmp_path, "fingers", prepare=full_log) as looker:
        looker.press("The lancet")
        assert "punctures" not in looker.words()
