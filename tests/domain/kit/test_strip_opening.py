"""Opening the next vial: what it keeps of the last, and that one is in use per meter."""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strip_opening import (
    Opening,
    does_code_differ,
    like_last,
    needs_new_code,
    open_next,
    open_vial,
)
from logbook.domain.kit.strips import Packing, Vial, WhyEnded
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import BEDSIDE, HANDBAG, RANGE, START, at, instant, meter, new_id
from tests.domain.kit.invented_kit import vial as invented

SETTINGS = LogSettings()
PRINTED = PrintedDate.from_code("2027-08")


def opened(kit: KitData, *, lot: str | None = None, code: str | None = None) -> Opening:
    found = open_next(
        BEDSIDE,
        kit,
        at(20),
        SETTINGS,
        new_id=new_id(),
        written_at=START,
        expires=PRINTED,
        lot=lot,
        code=code,
    )
    assert found is not None
    return found


class TestLikeLast:
    last = replace(
        invented(0, printed="2027-01", after="3m", code="17", count=25), packing=Packing.DRUM
    )

    def test_keeps_what_the_next_pack_shares(self) -> None:
        new = like_last(self.last, new_id(), START, expires=PRINTED)
        assert new.meter_id == self.last.meter_id
        assert (new.packing, new.count, new.code) == (Packing.DRUM, 25, "17")
        assert new.after_opening == self.last.after_opening
        assert new.expires == PRINTED
        assert new.is_in_stock

    def test_keeps_ranges_for_the_very_same_lot_only(self) -> None:
        assert like_last(self.last, new_id(), START, lot=" a1 ").ranges == (RANGE,)
        assert like_last(self.last, new_id(), START, lot="B2").ranges == ()
        assert like_last(self.last, new_id(), START).ranges == ()

    def test_never_takes_over_the_printed_date(self) -> None:
        assert like_last(self.last, new_id(), START).expires is None


class TestOpenNext:
    def test_ends_the_one_before_at_the_same_instant(self) -> None:
        before = invented(0)
        result = opened(KitData(meters=(meter(),), vials=(before,)))
        (ended,) = result.ended
        assert (ended.id, ended.ended_at) == (before.id, instant(20))
        assert ended.why_ended is WhyEnded.EMPTY
        assert (result.opened.opened_at, result.opened.opened_on) == (
            instant(20),
            instant(20).date(),
        )
        assert result.is_new
        assert result.records == (ended, result.opened)

    def test_says_out_of_date_for_one_past_its_day(self) -> None:
        before = invented(0, printed="2026-03-10")
        result = opened(KitData(meters=(meter(),), vials=(before,)))
        assert result.ended[0].why_ended is WhyEnded.OUT_OF_DATE

    def test_takes_the_first_expiring_from_stock(self) -> None:
        late, soon = invented(None, printed="2027-03"), invented(None, printed="2026-09")
        result = opened(KitData(meters=(meter(),), vials=(invented(0), late, soon)))
        assert (result.opened.id, result.is_new) == (soon.id, False)
        assert result.opened.ranges == soon.ranges

    def test_a_lot_told_late_drops_the_ranges_of_another(self) -> None:
        stocked = invented(None, printed="2027-03", lot="A1")
        kit = KitData(meters=(meter(),), vials=(stocked,))
        assert opened(kit, lot="A1").opened.ranges == (RANGE,)
        assert opened(kit, lot="B2").opened.ranges == ()

    def test_leaves_other_meters_alone(self) -> None:
        other = invented(0, meter_id=HANDBAG)
        kit = KitData(meters=(meter(), meter(HANDBAG)), vials=(invented(0), other))
        assert other.id not in {ended.id for ended in opened(kit).ended}

    def test_works_again_after_the_last_one_ended(self) -> None:
        result = opened(KitData(meters=(meter(),), vials=(invented(0, ended=5),)), code="9")
        assert result.ended == ()
        assert (result.opened.count, result.opened.code) == (50, "9")

    def test_needs_something_to_be_like(self) -> None:
        kit = KitData(meters=(meter(),))
        assert (
            open_next(
                BEDSIDE, kit, at(0), SETTINGS, new_id=new_id(), written_at=START, expires=PRINTED
            )
            is None
        )

    def test_one_vial_is_in_use_whatever_was(self) -> None:
        vials: tuple[Vial, ...] = (invented(0), invented(1), invented(2, meter_id=None))
        new = invented(None)
        result = open_vial(new, KitData(meters=(meter(),), vials=vials), at(20), SETTINGS)
        assert {ended.id for ended in result.ended} == {strips.id for strips in vials}
        assert result.opened.is_in_use


class TestCode:
    @pytest.mark.parametrize(
        ("needed", "shown", "differs"),
        [("17", "17", False), ("17", " 17", False), ("17", "18", True), ("", "18", False)],
    )
    def test_is_compared_with_what_the_meter_shows(
        self, needed: str, shown: str, differs: bool
    ) -> None:
        assert does_code_differ(invented(0, code=needed), shown) is differs

    def test_is_asked_when_the_next_vial_has_another(self) -> None:
        old, new = invented(0, code="17"), invented(None, code="18")
        assert needs_new_code(old, new)
        assert needs_new_code(None, new)
        assert not needs_new_code(old, replace(new, code="17"))
        assert not needs_new_code(old, replace(new, code=""))
