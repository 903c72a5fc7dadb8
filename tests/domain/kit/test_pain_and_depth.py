"""What pain marks and depths do: the finger rests longer, and the depth that worked is offered."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import pytest

from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.kit.depths import PunctureNote, next_depth
from logbook.domain.punctures import Puncture, punctures_of
from logbook.domain.rotation import Reason, SiteNote, advise, notes_about, sites_in_use
from logbook.domain.settings import LogSettings, RotationHabit
from logbook.domain.sites import Hand, Place, Side, Site, SiteUse
from tests.domain.kit.invented_kit import START, at, instant, new_id, reading

SETTINGS = LogSettings()
MIDDLE = Site(Hand.LEFT, Place.MIDDLE, Side.THUMB_SIDE)
RING = Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE)


def note(about: UUID, days: float, **more: object) -> PunctureNote:
    return replace(PunctureNote(new_id(), about, instant(days)), **more)  # type: ignore[arg-type]


class TestPunctures:
    first = replace(reading(0), site=MIDDLE, site_use=SiteUse.USED)

    def again(self, **more: object) -> Happening:
        failed = Happening(
            new_id(),
            What.STRIP_FAILED,
            at(0.001),
            START,
            StripFailure.PRICKED_AGAIN,
            self.first.id,
        )
        return replace(failed, **more)  # type: ignore[arg-type]

    def test_pricked_again_is_the_finger_noted_there(self) -> None:
        again = self.again(site=RING)
        assert [p.site for p in punctures_of([self.first], [again])] == [MIDDLE, RING]
        alone = self.again(site=RING, about=None)
        assert punctures_of([], [alone]) == [Puncture(RING, alone.at)]

    def test_pricked_again_without_a_finger_is_that_of_the_reading(self) -> None:
        assert [p.site for p in punctures_of([self.first], [self.again()])] == [MIDDLE, MIDDLE]
        assert punctures_of([], [self.again()]) == []

    def test_the_same_drop_is_no_puncture(self) -> None:
        same = self.again(site=RING, strip_failure=StripFailure.SAME_DROP)
        assert len(punctures_of([self.first], [same])) == 1

    def test_are_marked_when_they_hurt(self) -> None:
        again = self.again(site=RING)
        notes = [
            note(self.first.id, 0, did_hurt=False),
            note(again.id, 0, did_hurt=True),
        ]
        found = punctures_of([self.first], [again], notes)
        assert [p.did_hurt for p in found] == [False, True]


class TestRotation:
    """A finger that hurt comes last for 72 hours, among those that rested for 24."""

    round = tuple(
        Puncture(site, at(-2 - number / 100))
        for number, site in enumerate(reversed(sites_in_use(SETTINGS)))
    )

    def test_a_finger_that_hurt_is_passed_over(self) -> None:
        plain = advise(self.round, SETTINGS, at(0)).site
        assert plain is not None
        hurt = [
            replace(p, did_hurt=(p.site.hand, p.site.place) == (plain.hand, plain.place))
            for p in self.round
        ]
        advised = advise(hurt, SETTINGS, at(0)).site
        assert advised is not None
        assert advised.place is not plain.place
        # 72 hours after the last of its pricks it is like any other.
        assert advise(hurt, SETTINGS, at(1.1)).site == plain

    def test_one_that_hurt_is_still_better_than_one_of_the_last_24_hours(self) -> None:
        fingers = {p.site.place for p in self.round}
        hurt = [replace(p, did_hurt=p.site.place is Place.RING) for p in self.round]
        fresh = [
            Puncture(Site(Hand.LEFT, place), at(-0.1)) for place in sorted(fingers - {Place.RING})
        ]
        advice = advise(hurt + fresh, SETTINGS, at(0))
        assert advice.site is not None
        assert advice.site.place is Place.RING
        assert SiteNote.HURT_LATELY in advice.notes

    def test_when_all_hurt_the_longest_rest_wins_as_ever(self) -> None:
        hurt = [replace(p, did_hurt=True) for p in self.round]
        advice = advise(hurt, SETTINGS, at(0))
        assert advice.site == advise(self.round, SETTINGS, at(0)).site
        assert advice.reason is Reason.LONGEST_REST

    def test_the_finger_of_the_day_changes_when_it_hurt(self) -> None:
        habit = replace(SETTINGS, rotation_habit=RotationHabit.ONE_FINGER_A_DAY)
        today = Puncture(MIDDLE, at(-0.1))
        assert advise([*self.round, today], habit, at(0)).site is not None
        kept = advise([*self.round, today], habit, at(0)).site
        changed = advise([*self.round, replace(today, did_hurt=True)], habit, at(0)).site
        assert kept is not None
        assert changed is not None
        assert (kept.place, changed.place is Place.MIDDLE) == (Place.MIDDLE, False)

    def test_is_said_beside_the_finger(self) -> None:
        hurt = [Puncture(MIDDLE, at(-2), did_hurt=True)]
        other_side = replace(MIDDLE, side=Side.LITTLE_FINGER_SIDE)
        assert SiteNote.HURT_LATELY in notes_about(other_side, hurt, SETTINGS, at(0))
        assert SiteNote.HURT_LATELY not in notes_about(MIDDLE, hurt, SETTINGS, at(1))
        assert SiteNote.HURT_LATELY not in notes_about(RING, hurt, SETTINGS, at(0))


class TestDepth:
    def offered(self, *told: tuple[float, int, bool | None], site: Site = MIDDLE) -> int | None:
        notes = [
            note(UUID(int=number), days, depth_tenths=depth, was_enough_blood=enough)
            for number, (days, depth, enough) in enumerate(told)
        ]
        sites = {UUID(int=number): MIDDLE for number in range(len(told))}
        return next_depth(site, notes, sites, instant(100))

    def test_is_the_shallowest_that_worked(self) -> None:
        assert self.offered((50, 30, True), (60, 25, True), (70, 35, None)) == 25

    def test_works_where_nobody_said_that_blood_was_too_little(self) -> None:
        assert self.offered((60, 30, True), (70, 25, None)) == 25

    def test_leaves_out_one_that_worked_no_longer(self) -> None:
        assert self.offered((50, 25, True), (60, 30, True), (70, 25, False)) == 30
        assert self.offered((50, 25, False), (70, 25, True)) == 25

    def test_looks_back_90_days(self) -> None:
        assert self.offered((9.9, 20, True), (60, 30, True)) == 30
        assert self.offered((10, 20, True), (60, 30, True)) == 20

    def test_is_of_the_finger_whatever_the_side(self) -> None:
        other_side = replace(MIDDLE, side=Side.LITTLE_FINGER_SIDE)
        assert self.offered((60, 30, True), site=other_side) == 30
        assert self.offered((60, 30, True), site=RING) is None

    @pytest.mark.parametrize("told", [(), ((60, 30, False),)])
    def test_none_is_offered_where_none_worked(
        self, told: tuple[tuple[float, int, bool], ...]
    ) -> None:
        assert self.offered(*told) is None

    def test_what_is_to_come_does_not_count(self) -> None:
        assert self.offered((100 + timedelta(minutes=1) / timedelta(days=1), 20, True)) is None
