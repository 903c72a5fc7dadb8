"""How long sites have rested, and how evenly they share the work."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import entropy

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.moments import Moment
from logbook.domain.punctures import Puncture, punctures_of, recent
from logbook.domain.readings import CrossedOut, Reading
from logbook.domain.rest import (
    Sharing,
    SiteState,
    evenness,
    evenness_of_uses,
    rest_of,
    rests_of,
    sharing_of,
)
from logbook.domain.rotation import sites_in_use
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Slot

NOON = datetime(2026, 3, 31, 12, tzinfo=UTC)
DAY = timedelta(days=1)
NOW = Moment.at(NOON, "UTC")
RING = Site.from_code("left.ring.thumb_side")
MIDDLE = Site.from_code("left.middle.thumb_side")


def pricked(site: Site, before: timedelta, use: SiteUse = SiteUse.USED) -> Puncture:
    return Puncture(site, Moment.at(NOON - before, "UTC"), use)


def reading(site: Site | None, use: SiteUse, number: int = 1) -> Reading:
    glucose = Glucose.number(128, Unit.MG_DL)
    at = Moment.at(NOON - number * timedelta(hours=1), "UTC")
    return Reading(UUID(int=number), glucose, at, NOON, Slot.FASTING, site=site, site_use=use)


class TestEvenness:
    # SciPy 1.16, scipy.stats.entropy, is the witness: J is Shannon's entropy over its maximum.
    @given(
        st.lists(st.integers(0, 400), min_size=2, max_size=20).filter(lambda u: sum(u) >= len(u))
    )
    def test_is_entropy_over_the_most_there_can_be(self, uses: list[int]) -> None:
        measured = evenness_of_uses(uses)
        assert measured == pytest.approx(entropy(uses) / math.log(len(uses)), abs=1e-12)

    def test_control_another_measure_of_evenness_would_not_pass(self) -> None:
        uses = [20, 8, 5, 1]
        total = sum(uses)
        simpson = 1 / sum((n / total) ** 2 for n in uses) / len(uses)
        assert simpson != pytest.approx(entropy(uses) / math.log(len(uses)), abs=0.05)

    @given(st.integers(2, 20), st.integers(1, 50))
    def test_is_one_when_all_share_alike(self, sites: int, uses: int) -> None:
        assert evenness_of_uses([uses] * sites) == pytest.approx(1.0, abs=1e-12)

    def test_is_nought_when_one_does_all_the_work(self) -> None:
        assert evenness_of_uses([6, 0, 0]) == 0.0

    @pytest.mark.parametrize("uses", [[], [10], [0, 0, 0], [1, 1, 0], [2, 2, 1, 0, 0, 0]])
    def test_is_unknown_for_too_few(self, uses: list[int]) -> None:
        # Fewer than two sites share nothing; fewer punctures than sites can't be even.
        assert evenness_of_uses(uses) is None

    def test_counts_the_sites_asked_for_and_no_others(self) -> None:
        punctures = [pricked(s, DAY) for s in (RING, RING, MIDDLE, Site.from_code("left.palm"))]
        expected = entropy([2, 1]) / math.log(2)
        assert evenness(punctures, [RING, MIDDLE]) == pytest.approx(expected)

    def test_a_puncture_without_a_side_counts_half_for_either(self) -> None:
        sides = [RING, Site.from_code("left.ring.little_finger_side"), MIDDLE]
        punctures = [pricked(s, DAY) for s in (RING, Site.from_code("left.ring"), MIDDLE, MIDDLE)]
        expected = entropy([1.5, 0.5, 2]) / math.log(3)
        assert evenness(punctures, sides) == pytest.approx(expected)

    @pytest.mark.parametrize(
        ("uses", "share"),
        [
            ([10] * 6, Sharing.EVEN),
            ([20, 10, 10, 10, 10, 10], Sharing.EVEN),
            ([12, 12, 12, 12, 12, 0], Sharing.FAIRLY_EVEN),
            ([20, 20, 20, 0, 0, 0], Sharing.UNEVEN),
            ([1, 0, 0, 0, 0, 0], Sharing.TOO_FEW),
        ],
    )
    def test_has_a_name(self, uses: list[int], share: Sharing) -> None:
        assert sharing_of(evenness_of_uses(uses)) is share


class TestRest:
    def test_counts_the_persons_days_and_the_uses_of_thirty_of_them(self) -> None:
        punctures = [pricked(RING, n * DAY) for n in (2, 29, 30, 90)]
        rest = rest_of(RING, punctures, LogSettings(), NOW)
        assert (rest.days, rest.uses) == (2, 2)  # today is the 30th day

    def test_counts_a_prick_at_night_to_the_evening_before(self) -> None:
        night = pricked(RING, timedelta(hours=10, minutes=30))  # 01:30 of this very date
        assert rest_of(RING, [night], LogSettings(), NOW).days == 1

    def test_is_unknown_for_a_site_that_was_never_used(self) -> None:
        rest = rest_of(RING, [], LogSettings(), NOW)
        assert (rest.days, rest.uses, rest.state) == (None, 0, SiteState.NEVER_USED)

    def test_is_nought_today_and_never_less_when_a_clock_was_put_back(self) -> None:
        assert rest_of(RING, [pricked(RING, DAY / 24)], LogSettings(), NOW).days == 0
        assert rest_of(RING, [pricked(RING, -3 * DAY)], LogSettings(), NOW).days == 0

    def test_states(self) -> None:
        palm = Site.from_code("left.palm")
        little = Site.from_code("left.little.thumb_side")
        index = Site.from_code("left.index.thumb_side")
        thumb = Site.from_code("left.thumb.thumb_side")
        settings = LogSettings(
            sore=(("left.index", "2026-03-29"),), left_out=(("left.thumb", "scar"),)
        )
        punctures = [
            pricked(RING, DAY),
            pricked(MIDDLE, 2 * DAY),
            pricked(little, 4 * DAY),
            pricked(little, 3 * DAY, SiteUse.SUGGESTED),
            pricked(index, 5 * DAY),
        ]
        sites = (RING, MIDDLE, little, palm, index, thumb)
        rests = rests_of(sites, punctures, settings, NOW)
        assert [rest.state for rest in rests] == [
            SiteState.USED,
            SiteState.RESTED,
            SiteState.SUGGESTED,
            SiteState.NEVER_USED,
            SiteState.SORE,
            SiteState.LEFT_OUT,
        ]
        assert rests[2].days == 4  # a suggestion is no rest broken
        assert rests[4].sore_since == date(2026, 3, 29)
        assert rests[5].left_out_because == "scar"

    def test_a_suggestion_breaks_the_rest_of_whoever_always_follows(self) -> None:
        punctures = [pricked(RING, 4 * DAY), pricked(RING, 3 * DAY, SiteUse.SUGGESTED)]
        follows = LogSettings(always_follows_advice=True)
        rest = rest_of(RING, punctures, follows, NOW)
        assert (rest.days, rest.uses, rest.state) == (3, 2, SiteState.USED)

    def test_recent_leaves_out_what_does_not_count(self) -> None:
        punctures = [pricked(RING, DAY), pricked(RING, DAY, SiteUse.SUGGESTED)]
        assert recent(punctures, LogSettings(), NOW) == punctures[:1]


class TestPuncturesOfALog:
    def test_used_and_suggested_are_kept_apart_and_not_noted_left_away(self) -> None:
        readings = [
            reading(RING, SiteUse.USED, 3),
            reading(MIDDLE, SiteUse.SUGGESTED, 2),
            reading(RING, SiteUse.NOT_NOTED, 1),
            reading(None, SiteUse.NOT_NOTED, 4),
        ]
        found = punctures_of(readings)
        assert [(p.site, p.use) for p in found] == [
            (RING, SiteUse.USED),
            (MIDDLE, SiteUse.SUGGESTED),
        ]

    def test_a_crossed_out_reading_pricked_the_finger_all_the_same(self) -> None:
        crossed_out = replace(reading(RING, SiteUse.USED), crossed_out=CrossedOut(NOON))
        assert len(punctures_of([crossed_out])) == 1

    def test_neither_another_persons_meter_nor_a_damaged_record_tells_of_a_site(self) -> None:
        foreign = replace(reading(RING, SiteUse.USED), is_foreign=True)
        damaged = replace(reading(RING, SiteUse.USED), is_damaged=True)
        assert punctures_of([foreign, damaged]) == []

    @pytest.mark.parametrize(
        ("failure", "punctures"),
        [
            (StripFailure.PRICKED_AGAIN, 2),
            (StripFailure.SAME_DROP, 1),
            (StripFailure.ERROR_SHOWN, 1),
        ],
    )
    def test_pricked_again_is_a_puncture_more(self, failure: StripFailure, punctures: int) -> None:
        first = reading(RING, SiteUse.USED)
        happening = Happening(
            UUID(int=9),
            What.STRIP_FAILED,
            Moment.at(NOON - 2 * DAY, "UTC"),
            NOON,
            strip_failure=failure,
            about=first.id,
        )
        found = punctures_of([first], [happening])
        assert [p.site for p in found] == [RING] * punctures
        assert rest_of(RING, found, LogSettings(), NOW).uses == punctures

    def test_pricked_again_without_a_known_finger_tells_of_no_site(self) -> None:
        happening = Happening(
            UUID(int=9), What.STRIP_FAILED, NOW, NOON, strip_failure=StripFailure.PRICKED_AGAIN
        )
        assert punctures_of([], [happening]) == []

    def test_a_month_of_even_work_measures_as_even(self) -> None:
        sites = sites_in_use(LogSettings())
        punctures = [pricked(sites[n % 6], n * DAY) for n in range(30)]
        assert evenness(recent(punctures, LogSettings(), NOW), sites) == pytest.approx(1.0)
