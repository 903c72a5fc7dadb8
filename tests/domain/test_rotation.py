"""Which finger is next: even shares, a day of rest for each finger, and what is never advised."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.moments import Moment
from logbook.domain.punctures import Puncture, finger_of
from logbook.domain.rotation import (
    FINGER_REST,
    Reason,
    SiteNote,
    advise,
    free_sites,
    needs_asking_about_sore,
    notes_about,
    sites_in_use,
    sore_since,
)
from logbook.domain.settings import HandsPricked, LogSettings, RotationHabit
from logbook.domain.sites import FINGERS, Hand, Place, Side, Site, SiteUse

# A Tuesday, at noon, so that the person's day and the calendar's agree.
NOON = datetime(2026, 3, 31, 12, tzinfo=UTC)
DAY = timedelta(days=1)
THUMB_SIDE, LITTLE_FINGER_SIDE = Side.THUMB_SIDE, Side.LITTLE_FINGER_SIDE

settings_of_any_person = st.builds(
    LogSettings,
    hand_with_device=st.sampled_from(Hand),
    hands_pricked=st.sampled_from(HandsPricked),
    fingers_in_use=st.sets(st.sampled_from(FINGERS), min_size=1).map(tuple),
)
# For each of 30 days the minutes of its 1 to 7 checks.
checks_of_a_month = st.lists(
    st.lists(st.integers(0, 24 * 60 - 1), min_size=1, max_size=7, unique=True),
    min_size=30,
    max_size=30,
)


def at(after: timedelta) -> Moment:
    return Moment.at(NOON + after, "UTC")


def site(code: str) -> Site:
    return Site.from_code(code)


def pricked(code: str, before: timedelta, use: SiteUse = SiteUse.USED) -> Puncture:
    return Puncture(site(code), at(-before), use)


def followed(
    settings: LogSettings, moments: list[Moment], finger_rest: timedelta = FINGER_REST
) -> list[Puncture]:
    """The punctures of someone who always pricks what is advised."""
    punctures: list[Puncture] = []
    for moment in moments:
        advised = advise(punctures, settings, moment, finger_rest=finger_rest).site
        assert advised is not None
        punctures.append(Puncture(advised, moment))
    return punctures


def moments_of(days: list[list[int]]) -> list[Moment]:
    return [
        at(number * DAY + timedelta(minutes=minute))
        for number, minutes in enumerate(days)
        for minute in sorted(minutes)
    ]


def pricked_too_soon(punctures: list[Puncture], settings: LogSettings) -> list[Puncture]:
    """Those within 24 hours of another of the same finger, while some finger had rested a day."""
    fingers = {finger_of(s) for s in sites_in_use(settings)}
    found = []
    for number, puncture in enumerate(punctures):
        lately = {
            finger_of(p.site)
            for p in punctures[:number]
            if puncture.at.instant - p.at.instant < timedelta(hours=24)
        }
        if finger_of(puncture.site) in lately and fingers - lately:
            found.append(puncture)
    return found


def uneven_by(punctures: list[Puncture], settings: LogSettings) -> int:
    uses = Counter(puncture.site for puncture in punctures)
    counts = [uses[s] for s in sites_in_use(settings)]
    return max(counts) - min(counts)


class TestSharingTheWork:
    @given(settings_of_any_person)
    def test_without_the_day_of_rest_every_round_uses_each_site_once(
        self, settings: LogSettings
    ) -> None:
        sites = sites_in_use(settings)
        moments = [at(timedelta(hours=3 * n)) for n in range(3 * len(sites))]
        punctures = followed(settings, moments, finger_rest=timedelta(0))
        used = [puncture.site for puncture in punctures]
        for first in range(2 * len(sites) + 1):  # every run of N, not only whole rounds
            assert set(used[first : first + len(sites)]) == set(sites)

    @given(settings_of_any_person, checks_of_a_month)
    def test_in_a_month_uses_differ_by_two_at_most_and_fingers_rest_a_day(
        self, settings: LogSettings, days: list[list[int]]
    ) -> None:
        punctures = followed(settings, moments_of(days))
        assert pricked_too_soon(punctures, settings) == []
        assert uneven_by(punctures, settings) <= 2

    @given(
        settings_of_any_person,
        checks_of_a_month,
        st.lists(st.tuples(st.integers(0, 19), st.integers(1, 600)), max_size=30),
    )
    def test_the_same_whatever_was_pricked_before(
        self,
        settings: LogSettings,
        days: list[list[int]],
        earlier: list[tuple[int, int]],
    ) -> None:
        sites = sites_in_use(settings)
        punctures = [
            Puncture(sites[number % len(sites)], at(-timedelta(hours=hours)))
            for number, hours in sorted(earlier, key=lambda each: -each[1])
        ]
        before = len(punctures)
        for moment in moments_of(days):
            advised = advise(punctures, settings, moment).site
            assert advised is not None
            punctures.append(Puncture(advised, moment))
        assert uneven_by(punctures[before:], settings) <= 2
        assert not set(pricked_too_soon(punctures, settings)) & set(punctures[before:])

    def test_control_the_checks_would_see_a_rule_that_takes_one_finger_only(self) -> None:
        settings = LogSettings()
        punctures = [Puncture(sites_in_use(settings)[0], at(n * DAY / 2)) for n in range(60)]
        assert len(pricked_too_soon(punctures, settings)) == 59
        assert uneven_by(punctures, settings) == 60

    @given(settings_of_any_person, st.integers(0, 19), checks_of_a_month)
    def test_the_day_of_rest_goes_first_where_a_sore_side_makes_fingers_unlike(
        self, settings: LogSettings, sore: int, days: list[list[int]]
    ) -> None:
        # With one side of a finger sore, a day of rest and an even share can't both be had: of
        # three fingers at two checks a day, each is due every third time, whatever its sides.
        sites = sites_in_use(settings)
        settings = replace(settings, sore=((sites[sore % len(sites)].code, "2026-03-31"),))
        punctures = followed(settings, moments_of(days))
        assert pricked_too_soon(punctures, settings) == []
        assert {p.site for p in punctures} <= set(free_sites(settings))


class TestLongestRest:
    def test_the_first_advice_is_the_first_of_the_fixed_order(self) -> None:
        advice = advise([], LogSettings(), at(0 * DAY))
        assert advice.site == site("left.middle.thumb_side")
        assert advice.days is None
        assert advice.reason is Reason.NEVER_USED

    def test_the_first_round_goes_to_a_finger_not_beside_the_last(self) -> None:
        moments = [at(n * DAY) for n in range(6)]
        codes = [p.site.code for p in followed(LogSettings(), moments)]
        assert codes == [
            "left.middle.thumb_side",
            "left.little.thumb_side",  # the ring finger is beside the middle one
            "left.ring.thumb_side",
            "left.middle.little_finger_side",
            "left.little.little_finger_side",
            "left.ring.little_finger_side",
        ]

    def test_never_used_is_the_longest_rest(self) -> None:
        used = [pricked(s.code, 400 * DAY) for s in sites_in_use(LogSettings())]
        never = used.pop(3)
        assert advise(used, LogSettings(), at(0 * DAY)).site == never.site

    def test_the_longest_rest_wins_and_is_told_in_the_persons_days(self) -> None:
        ages = dict(zip(sites_in_use(LogSettings()), (3, 9, 5, 8, 4, 7), strict=True))
        punctures = [Puncture(s, at(-days * DAY)) for s, days in ages.items()]
        advice = advise(punctures, LogSettings(), at(0 * DAY))
        assert (advice.site, advice.days) == (site("left.middle.little_finger_side"), 9)
        assert advice.reason is Reason.LONGEST_REST
        assert [ages[s] for s in advice.ranking] == [9, 8, 7, 5, 4, 3]

    def test_half_past_one_at_night_is_a_rest_from_the_evening_before(self) -> None:
        night = Moment.at(datetime(2026, 4, 1, 1, 30, tzinfo=UTC), "UTC")
        punctures = [Puncture(site("left.ring.thumb_side"), at(-DAY))]
        settings = replace(LogSettings(), fingers_in_use=(Place.RING,))
        advice = advise([*punctures, pricked("left.ring.little_finger_side", DAY)], settings, night)
        assert advice.days == 1  # two calendar days

    def test_a_finger_pricked_lately_waits_while_another_is_free(self) -> None:
        others = [pricked(s.code, 3 * DAY) for s in sites_in_use(LogSettings())]
        lately = [
            pricked("left.middle.thumb_side", timedelta(hours=23)),
            pricked("left.ring.thumb_side", timedelta(hours=24)),  # a whole day: free again
            pricked("left.little.thumb_side", timedelta(hours=1)),
        ]
        advice = advise(others + lately, LogSettings(), at(0 * DAY))
        assert advice.site == site("left.ring.little_finger_side")

    def test_when_no_finger_has_rested_the_longest_rest_is_taken_and_it_is_said(self) -> None:
        punctures = [
            pricked(s.code, timedelta(hours=hours))
            for hours, s in enumerate(sites_in_use(LogSettings()), start=1)
        ]
        advice = advise(punctures, LogSettings(), at(0 * DAY))
        assert advice.site == site("left.little.little_finger_side")
        assert advice.reason is Reason.NO_FINGER_RESTED
        assert SiteNote.FINGER_PRICKED_LATELY in advice.notes

    def test_a_puncture_without_a_side_counts_against_both_sides(self) -> None:
        punctures = [pricked(s.code, 5 * DAY) for s in sites_in_use(LogSettings())]
        punctures.append(pricked("left.middle", 2 * DAY))
        ranking = advise(punctures, LogSettings(), at(0 * DAY)).ranking
        assert {s.place for s in ranking[-2:]} == {Place.MIDDLE}

    def test_two_of_the_same_minute_have_an_order(self) -> None:
        settings = replace(LogSettings(), fingers_in_use=(Place.RING,))
        both = [pricked(f"left.ring.{side}", 2 * DAY) for side in (LITTLE_FINGER_SIDE, THUMB_SIDE)]
        advised = advise(both, settings, at(0 * DAY)).site
        assert advised == both[0].site

    @given(st.permutations(range(6)))
    def test_the_order_of_the_input_does_not_matter(self, order: list[int]) -> None:
        sites = sites_in_use(LogSettings())
        punctures = [Puncture(sites[n], at(-(n + 2) * DAY)) for n in range(6)]
        shuffled = [punctures[n] for n in order]
        assert advise(shuffled, LogSettings(), at(0 * DAY)) == advise(
            punctures, LogSettings(), at(0 * DAY)
        )


class TestOneFingerADay:
    settings = LogSettings(rotation_habit=RotationHabit.ONE_FINGER_A_DAY)

    @given(checks_of_a_month)
    def test_a_day_has_one_finger_and_its_sides_take_turns(self, days: list[list[int]]) -> None:
        punctures = followed(self.settings, moments_of(days))
        by_day: dict[date, list[Site]] = {}
        for puncture in punctures:
            by_day.setdefault(puncture.at.day(), []).append(puncture.site)
        fingers = [{finger_of(s) for s in sites} for sites in by_day.values()]
        assert all(len(of_day) == 1 for of_day in fingers)
        for sites in by_day.values():
            assert all(one.side is not next_.side for one, next_ in pairwise(sites))
        for one, next_ in pairwise(fingers):
            assert one != next_

    def test_three_fingers_take_three_days(self) -> None:
        moments = [at(n * DAY) for n in range(6)]
        places = [p.site.place for p in followed(self.settings, moments)]
        assert places == [Place.MIDDLE, Place.LITTLE, Place.RING] * 2

    def test_another_finger_once_does_not_move_the_day(self) -> None:
        today = [
            pricked("left.ring.thumb_side", timedelta(hours=4)),
            pricked("left.middle.thumb_side", timedelta(hours=2)),
        ]
        advice = advise(today, self.settings, at(0 * DAY))
        assert advice.site == site("left.ring.little_finger_side")
        assert advice.reason is Reason.FINGER_OF_THE_DAY

    def test_a_finger_that_became_sore_hands_the_day_on(self) -> None:
        today = [pricked("left.ring.thumb_side", timedelta(hours=4))]
        settings = replace(self.settings, sore=(("left.ring", "2026-03-31"),))
        advised = advise(today, settings, at(0 * DAY)).site
        assert advised is not None
        assert advised.place is not Place.RING


class TestOneHandAWeek:
    settings = LogSettings(
        rotation_habit=RotationHabit.ONE_HAND_A_WEEK, hands_pricked=HandsPricked.BOTH
    )

    @given(checks_of_a_month)
    def test_a_week_has_one_hand_and_the_next_week_the_other(self, days: list[list[int]]) -> None:
        punctures = followed(self.settings, moments_of(days))
        weeks: dict[tuple[int, int], set[Hand]] = {}
        for puncture in punctures:
            weeks.setdefault(puncture.at.day().isocalendar()[:2], set()).add(puncture.site.hand)
        hands = list(weeks.values())
        assert len(hands) >= 5
        assert all(len(of_week) == 1 for of_week in hands)
        assert all(one != next_ for one, next_ in pairwise(hands))

    def test_a_hand_left_out_is_never_the_weeks_hand(self) -> None:
        settings = replace(self.settings, left_out=(("right", "fistula"),))
        moments = [at(n * DAY) for n in range(30)]
        assert {p.site.hand for p in followed(settings, moments)} == {Hand.LEFT}


class TestWhatIsNeverAdvised:
    @given(
        settings_of_any_person,
        st.sampled_from(RotationHabit),
        st.data(),
        st.booleans(),
    )
    def test_sore_and_left_out(
        self, settings: LogSettings, habit: RotationHabit, data: st.DataObject, is_sore: bool
    ) -> None:
        sites = sites_in_use(settings)
        codes = [s.code for s in sites]
        codes += [f"{s.hand}.{s.place}" for s in sites] + [h.value for h in Hand]
        marked = data.draw(st.lists(st.sampled_from(sorted(set(codes))), max_size=4))
        entries = tuple((code, "2026-03-31" if is_sore else "numb") for code in marked)
        settings = replace(
            settings,
            rotation_habit=habit,
            sore=entries if is_sore else (),
            left_out=() if is_sore else entries,
        )
        free = [s for s in sites if not any((s.code + ".").startswith(c + ".") for c in marked)]
        punctures: list[Puncture] = []
        for hours in range(0, 100, 7):
            advice = advise(punctures, settings, at(timedelta(hours=hours)))
            if not free:
                assert (advice.site, advice.reason) == (None, Reason.NO_SITE_FREE)
                return
            assert advice.site in free
            assert set(advice.ranking) == set(free)
            punctures.append(Puncture(advice.site, at(timedelta(hours=hours))))

    def test_another_place_for_the_recheck_of_a_low(self) -> None:
        settings = LogSettings(other_places_in_use=(Place.PALM, Place.FOREARM))
        moments = [at(n * DAY) for n in range(8)]
        assert {p.site.place for p in followed(settings, moments)} >= {Place.PALM, Place.FOREARM}
        for count in range(8):
            punctures = followed(settings, moments[:count])
            advice = advise(punctures, settings, moments[count], fingertips_only=True)
            assert all(s.place.is_finger for s in advice.ranking)

    def test_anything_when_fingers_are_not_tracked(self) -> None:
        advice = advise([], LogSettings(tracks_fingers=False), at(0 * DAY))
        assert (advice.site, advice.reason) == (None, Reason.NOT_TRACKED)


class TestWhatCounts:
    def test_a_suggestion_counts_only_for_whoever_always_follows(self) -> None:
        first = sites_in_use(LogSettings())[0]
        suggested = [Puncture(first, at(-2 * DAY), SiteUse.SUGGESTED)]
        assert advise(suggested, LogSettings(), at(0 * DAY)).site == first
        follows = LogSettings(always_follows_advice=True)
        assert advise(suggested, follows, at(0 * DAY)).site != first

    @pytest.mark.parametrize("always_follows", [False, True])
    def test_what_nobody_noted_never_counts(self, always_follows: bool) -> None:
        settings = LogSettings(always_follows_advice=always_follows)
        first = sites_in_use(settings)[0]
        not_noted = [Puncture(first, at(-2 * DAY), SiteUse.NOT_NOTED)]
        assert advise(not_noted, settings, at(0 * DAY)).site == first


class TestSitesInUse:
    def test_by_default_two_sides_of_three_fingers_of_the_hand_without_the_device(self) -> None:
        assert [s.code for s in sites_in_use(LogSettings(hand_with_device=Hand.LEFT))] == [
            f"right.{finger}.{side}"
            for finger in ("middle", "ring", "little")
            for side in ("thumb_side", "little_finger_side")
        ]

    def test_both_hands(self) -> None:
        sites = sites_in_use(LogSettings(hands_pricked=HandsPricked.BOTH))
        assert Counter(s.hand for s in sites) == {Hand.LEFT: 6, Hand.RIGHT: 6}

    def test_other_places_only_when_turned_on_and_without_sides(self) -> None:
        assert all(s.place.is_finger for s in sites_in_use(LogSettings()))
        sites = sites_in_use(LogSettings(other_places_in_use=(Place.PALM,)))
        assert sites[-1] == Site(Hand.LEFT, Place.PALM)

    def test_thumb_and_index_are_allowed_with_a_soft_word(self) -> None:
        settings = LogSettings(fingers_in_use=(Place.THUMB, Place.INDEX))
        assert {s.place for s in sites_in_use(settings)} == {Place.THUMB, Place.INDEX}
        now = at(0 * DAY)
        assert notes_about(site("left.thumb.thumb_side"), [], settings, now) == (SiteNote.THUMB,)
        assert notes_about(site("left.index.thumb_side"), [], settings, now) == (SiteNote.INDEX,)
        assert notes_about(site("left.ring.thumb_side"), [], settings, now) == ()
        assert notes_about(site("left.thigh"), [], settings, now) == (SiteNote.LAGS_BEHIND,)
        assert notes_about(site("left.palm"), [], settings, now) == ()

    def test_a_finger_left_out_takes_both_sides_with_it(self) -> None:
        settings = LogSettings(left_out=(("left.ring", "scar"),))
        assert {s.place for s in sites_in_use(settings)} == {Place.MIDDLE, Place.LITTLE}
        assert SiteNote.LEFT_OUT in notes_about(
            site("left.ring.thumb_side"), [], settings, at(0 * DAY)
        )

    def test_a_sore_site_is_in_use_but_not_free(self) -> None:
        settings = LogSettings(sore=(("left.ring.thumb_side", "2026-03-30"),))
        sore = site("left.ring.thumb_side")
        assert sore in sites_in_use(settings)
        assert sore not in free_sites(settings)
        assert sore_since(sore, settings) == date(2026, 3, 30)
        assert len(free_sites(settings)) == 5


class TestAskingAboutSore:
    @pytest.mark.parametrize(("days", "is_asked"), [(0, False), (6, False), (7, True), (30, True)])
    def test_after_a_week(self, days: int, is_asked: bool) -> None:
        today = date(2026, 3, 31)
        settings = LogSettings(sore=(("left.ring", (today - timedelta(days)).isoformat()),))
        assert needs_asking_about_sore(settings, today) == (("left.ring",) if is_asked else ())

    def test_at_once_when_the_day_is_not_known(self) -> None:
        settings = LogSettings(sore=(("left.ring", ""),))
        assert needs_asking_about_sore(settings, date(2026, 3, 31)) == ("left.ring",)
