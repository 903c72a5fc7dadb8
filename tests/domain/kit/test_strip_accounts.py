"""Exact bookkeeping of strips: opened = used + left + discarded + put right by count, always."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strip_accounts import (
    CountGap,
    GapQuestion,
    VialAccount,
    account_of,
    count_gap,
    is_account_complete,
    strips_taken,
)
from logbook.domain.kit.strips import StripCount, StripUse, StripUseKind, Vial, WhyEnded
from tests.domain.kit.invented_kit import (
    BEDSIDE,
    CLINIC,
    HANDBAG,
    START,
    at,
    counted,
    instant,
    meter,
    use,
    vial,
)

METERS = (meter(), meter(CLINIC, is_own=False))


def kit_of(strips: Vial, *uses: StripUse, counts: tuple[StripCount, ...] = ()) -> KitData:
    return KitData(meters=METERS, vials=(strips,), strip_uses=uses, strip_counts=counts)


class TestAccount:
    def test_readings_failed_strips_and_control_tests_take_one_each(self) -> None:
        strips = vial(0)
        uses = [use(1, kind=kind) for kind in StripUseKind]
        assert account_of(strips, kit_of(strips, *uses)) == VialAccount(50, 3, 47, 0, 0)

    def test_a_count_puts_it_right(self) -> None:
        strips = vial(0)
        kit = kit_of(strips, use(1), use(3), counts=(counted(strips, 2, 45),))
        assert account_of(strips, kit) == VialAccount(50, 2, 44, 0, 4)

    def test_a_count_may_find_more(self) -> None:
        strips = vial(0)
        kit = kit_of(strips, use(1), use(1.5), counts=(counted(strips, 2, 50),))
        assert account_of(strips, kit) == VialAccount(50, 2, 50, 0, -2)

    def test_a_crossed_out_count_puts_nothing_right(self) -> None:
        strips = vial(0)
        wrong = replace(counted(strips, 2, 5), crossed_out_at=START)
        assert account_of(strips, kit_of(strips, use(1), counts=(wrong,))).left == 49

    def test_a_count_of_the_same_instant_is_of_what_is_left(self) -> None:
        strips = vial(0)
        kit = kit_of(strips, use(2), counts=(counted(strips, 2, 49),))
        assert account_of(strips, kit) == VialAccount(50, 1, 49, 0, 0)

    def test_an_empty_vial_has_nothing_left(self) -> None:
        strips = replace(vial(0, ended=5), why_ended=WhyEnded.EMPTY)
        assert account_of(strips, kit_of(strips, use(1))) == VialAccount(50, 1, 0, 0, 49)

    def test_what_is_thrown_away_is_discarded(self) -> None:
        strips = replace(vial(0, ended=5), why_ended=WhyEnded.OUT_OF_DATE)
        assert account_of(strips, kit_of(strips, use(1))) == VialAccount(50, 1, 0, 49, 0)

    def test_more_used_than_it_held_is_told(self) -> None:
        strips = vial(0, count=1)
        account = account_of(strips, kit_of(strips, use(1), use(2), use(3)))
        assert account == VialAccount(1, 3, 0, 0, -2, beyond=2)


class TestWhichStripsAreTaken:
    def test_only_those_used_while_it_was_in_use(self) -> None:
        strips = vial(0, ended=5)
        early, first, last, late = use(-0.1), use(0), use(4.9), use(5)
        assert strips_taken(strips, kit_of(strips, early, first, last, late)) == (first, last)

    def test_none_of_another_meter(self) -> None:
        strips = vial(0)
        kit = replace(
            kit_of(strips, use(1, HANDBAG), use(1, CLINIC)), meters=(*METERS, meter(HANDBAG))
        )
        assert strips_taken(strips, kit) == ()

    def test_a_typed_one_without_meter_is_of_the_only_own_meter(self) -> None:
        strips = vial(0)
        unnamed = use(1, None)
        assert strips_taken(strips, kit_of(strips, unnamed)) == (unnamed,)
        two = replace(kit_of(strips, unnamed), meters=(*METERS, meter(HANDBAG)))
        assert strips_taken(strips, two) == ()

    def test_one_from_a_file_must_name_the_meter(self) -> None:
        strips = vial(0)
        named = use(1, was_typed=False)
        assert strips_taken(strips, kit_of(strips, use(1, None, was_typed=False))) == ()
        assert strips_taken(strips, kit_of(strips, named)) == (named,)

    def test_no_strip_is_taken_twice(self) -> None:
        first, second = vial(0), vial(3)
        uses = (use(1), use(4))
        kit = KitData(meters=METERS, vials=(first, second), strip_uses=uses)
        assert strips_taken(first, kit) == uses[:1]
        assert strips_taken(second, kit) == uses[1:]


class TestCountGap:
    @pytest.mark.parametrize(
        ("found", "question"),
        [
            (45, GapQuestion.NOT_WRITTEN_DOWN),
            (46, None),
            (50, None),
            (54, None),
            (55, GapQuestion.FROM_ANOTHER_PACK),
        ],
    )
    def test_of_five_is_asked_about(self, found: int, question: GapQuestion | None) -> None:
        strips = vial(0)
        gap = count_gap(strips, found, kit_of(strips))
        assert gap == CountGap(50, found)
        assert gap.question is question


METER_IDS = st.sampled_from([None, BEDSIDE, HANDBAG, CLINIC])
DAYS = st.integers(-40, 400).map(lambda tenths: tenths / 10)
USES = st.builds(
    lambda days, meter_id, kind, typed: StripUse(instant(days), meter_id, kind, typed),
    DAYS,
    METER_IDS,
    st.sampled_from(StripUseKind),
    st.booleans(),
)


@st.composite
def kits(draw: st.DrawFn) -> KitData:
    vials = []
    for number in range(draw(st.integers(1, 5))):
        opened = draw(st.none() | DAYS)
        strips = vial(opened, count=draw(st.integers(1, 60)), meter_id=draw(METER_IDS))
        strips = replace(strips, id=UUID(int=100 + number))
        if opened is not None and draw(st.booleans()):
            ended = instant(opened + draw(st.integers(0, 200)) / 10)
            strips = replace(strips, ended_at=ended, why_ended=draw(st.sampled_from(WhyEnded)))
        vials.append(strips)
    counts = draw(
        st.lists(
            st.builds(
                counted,
                st.sampled_from(vials),
                DAYS,
                st.integers(0, 70),
            ),
            max_size=5,
        )
    )
    meters = METERS if draw(st.booleans()) else (*METERS, meter(HANDBAG))
    uses = sorted(draw(st.lists(USES, max_size=60)), key=lambda one: one.at)
    return KitData(
        meters=meters, vials=tuple(vials), strip_uses=tuple(uses), strip_counts=tuple(counts)
    )


@given(kits())
def test_the_books_balance(kit: KitData) -> None:
    taken = 0
    for strips in kit.vials:
        account = account_of(strips, kit)
        assert strips.count == account.used + account.left + account.discarded + account.put_right
        assert min(account.used, account.left, account.discarded, account.beyond) >= 0
        assert strips.ended_at is None or account.left == 0
        assert account.used == len(strips_taken(strips, kit))
        taken += account.used
    own = [one for one in kit.strip_uses if one.meter_id != CLINIC]
    assert taken <= len(own)


@given(kits())
def test_without_counts_and_ends_what_is_gone_was_used(kit: KitData) -> None:
    """Against a plain count of the uses in the time of each vial, of one meter and one vial."""
    strips = replace(kit.vials[0], meter_id=BEDSIDE, ended_at=None, opened_at=instant(0))
    alone = KitData(meters=(meter(),), vials=(strips,), strip_uses=kit.strip_uses)
    expected = sum(
        1
        for one in kit.strip_uses
        if one.at >= START and (one.meter_id == BEDSIDE or (one.meter_id is None and one.was_typed))
    )
    account = account_of(strips, alone)
    assert account.used == expected
    assert account.left == max(0, strips.count - expected)
    assert account.beyond == max(0, expected - strips.count)


def test_an_account_is_complete_from_the_first_vial_in_use_on() -> None:
    old, before, in_use = vial(-90, ended=-60), vial(-60, ended=-29), vial(-29)
    kit = KitData(meters=METERS, vials=(old, before, in_use))
    since = at(-28).instant
    assert is_account_complete(in_use, kit, since)
    assert not is_account_complete(before, kit, since)
    assert not is_account_complete(old, kit, since)
