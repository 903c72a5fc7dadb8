"""Marking fingers and hands as sore or left out, held against what rotation makes of it."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.rotation import (
    free_sites,
    needs_asking_about_sore,
    noted_for,
    sites_in_use,
    sore_since,
)
from logbook.domain.settings import HandsPricked, LogSettings
from logbook.domain.site_notes import (
    why_hand_is_left_out,
    with_hand_left_out,
    with_hand_used,
    with_left_out,
    with_sore,
    with_sore_still,
    without_left_out,
    without_sore,
)
from logbook.domain.sites import FINGERS, SIDES, Hand, Place, Side, Site

BOTH = LogSettings(hands_pricked=HandsPricked.BOTH)
RING = Site(Hand.LEFT, Place.RING)
RING_SIDE = Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE)
DAY = date(2026, 3, 31)

SITES = st.builds(
    Site, st.sampled_from(Hand), st.sampled_from(FINGERS), st.none() | st.sampled_from(SIDES)
)


@given(SITES)
def test_sore_and_back_again_leaves_nothing(site: Site) -> None:
    sore = with_sore(BOTH, site, DAY)
    assert noted_for(site, sore.sore) == "2026-03-31"
    assert without_sore(sore, site) == BOTH


@given(SITES)
def test_left_out_and_back_again_leaves_nothing(site: Site) -> None:
    out = with_left_out(BOTH, site, "It is numb")
    assert noted_for(site, out.left_out) == "It is numb"
    assert without_left_out(out, site) == BOTH


def test_a_sore_side_leaves_the_other_side_free() -> None:
    free = free_sites(with_sore(BOTH, RING_SIDE, DAY))
    assert RING_SIDE not in free
    assert Site(Hand.LEFT, Place.RING, Side.LITTLE_FINGER_SIDE) in free


def test_a_whole_finger_takes_the_place_of_its_sides() -> None:
    settings = with_sore(with_sore(BOTH, RING_SIDE, DAY), RING, DAY)
    assert settings.sore == (("left.ring", "2026-03-31"),)
    # Told of one side, the whole finger is no longer sore: nobody can mean half of it.
    assert without_sore(settings, RING_SIDE).sore == ()


def test_a_hand_and_a_finger_are_left_out_apart() -> None:
    settings = with_hand_left_out(with_left_out(BOTH, RING, "It hurts"), Hand.LEFT, "A cast")
    assert {site.hand for site in sites_in_use(settings)} == {Hand.RIGHT}
    assert why_hand_is_left_out(settings, Hand.LEFT) == "A cast"
    back = with_hand_used(settings, Hand.LEFT)
    assert why_hand_is_left_out(back, Hand.LEFT) is None
    assert back.left_out == (("left.ring", "It hurts"),)


def test_what_is_sore_still_keeps_its_first_day() -> None:
    settings = with_sore(LogSettings(), RING, date(2026, 3, 1))
    for day in (date(2026, 3, 8), date(2026, 3, 15)):
        settings = with_sore_still(settings, RING.code, day)
        assert sore_since(RING, settings) == date(2026, 3, 1)
        assert needs_asking_about_sore(settings, day + timedelta(days=6)) == ()
        assert needs_asking_about_sore(settings, day + timedelta(days=7)) == (RING.code,)
    assert len(settings.sore) == 2
    assert without_sore(settings, RING).sore == ()
