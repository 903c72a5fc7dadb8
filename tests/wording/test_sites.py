"""Fingers, sides and their rest in words."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.domain.rest import SiteRest, SiteState
from logbook.domain.rotation import Advice, Reason
from logbook.domain.sites import FINGERS, OTHER_PLACES, SIDES, Hand, Place, Side, Site
from logbook.wording.sites import (
    advice_text,
    evenness_text,
    rest_text,
    side_text,
    site_rest_text,
    site_text,
    uses_text,
)


class TestNames:
    @pytest.mark.parametrize(
        ("code", "text"),
        [
            ("right.ring.little_finger_side", "Right ring finger, little-finger side"),
            ("left.index.thumb_side", "Left index finger, thumb side"),
            # The edge that faces the other fingers is the inner one.
            ("left.thumb.little_finger_side", "Left thumb, inner edge"),
            ("left.thumb.thumb_side", "Left thumb, outer edge"),
            ("right.little.thumb_side", "Right little finger, inner edge"),
            ("right.little.little_finger_side", "Right little finger, outer edge"),
            ("left.ring", "Left ring finger"),
            ("right.palm", "Right palm"),
            ("left.forearm", "Left forearm"),
        ],
    )
    def test_of_sites(self, code: str, text: str) -> None:
        assert site_text(Site.from_code(code)) == text

    def test_of_all_sites_differ(self) -> None:
        sites = [Site(h, p, s) for h in Hand for p in FINGERS for s in SIDES]
        sites += [Site(h, p) for h in Hand for p in (*FINGERS, *OTHER_PLACES)]
        assert len({site_text(site) for site in sites}) == len(sites)

    def test_of_sides_on_buttons(self) -> None:
        assert side_text(Place.RING, Side.THUMB_SIDE) == "Thumb side"
        assert side_text(Place.LITTLE, Side.THUMB_SIDE) == "Inner edge"


class TestRest:
    @pytest.mark.parametrize(
        ("days", "text"),
        [(None, "Not used yet"), (0, "Used today"), (1, "Rested 1 day"), (6, "Rested 6 days")],
    )
    def test_in_days(self, days: int | None, text: str) -> None:
        assert rest_text(days) == text

    @pytest.mark.parametrize(
        ("count", "text"),
        [
            (0, "Not used in the last 30 days"),
            (1, "Used 1 time in the last 30 days"),
            (5, "Used 5 times in the last 30 days"),
        ],
    )
    def test_in_uses(self, count: int, text: str) -> None:
        assert uses_text(count) == text

    @pytest.mark.parametrize(
        ("state", "since", "because", "text"),
        [
            (SiteState.RESTED, None, None, "Rested 6 days"),
            (SiteState.USED, None, None, "Rested 6 days"),
            (SiteState.SUGGESTED, None, None, "Suggested, not confirmed"),
            (SiteState.SORE, date(2026, 3, 3), None, "Sore since March 3"),
            (SiteState.SORE, None, None, "Sore"),
            (SiteState.LEFT_OUT, None, "scar", "Left out: scar"),
            (SiteState.LEFT_OUT, None, "", "Left out"),
        ],
    )
    def test_of_a_site(
        self, state: SiteState, since: date | None, because: str | None, text: str
    ) -> None:
        rest = SiteRest(Site.from_code("left.ring"), 6, 2, state, since, because)
        assert site_rest_text(rest) == text

    def test_of_the_advised_site(self) -> None:
        site = Site.from_code("right.ring.little_finger_side")
        advice = Advice(site, 6, Reason.LONGEST_REST)
        assert advice_text(advice) == "Right ring finger, little-finger side. Rested 6 days."
        nothing = Advice(None, None, Reason.NO_SITE_FREE)
        assert advice_text(nothing) == "Every finger is sore or left out. Choose which one to use."


def test_evenness_is_told_without_a_figure_and_without_the_word() -> None:
    texts = [evenness_text(measured) for measured in (1.0, 0.9, 0.5, None)]
    assert len(set(texts)) == 4
    for text in texts:
        assert "work" in text
        assert "evenness" not in text.lower()
        assert not any(letter.isdigit() for letter in text)
