"""How long the strips last, against an independent brute force with NumPy on 1,000 random kits."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

import numpy as np
import pytest

from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.refill import refill_list, stock_outlooks
from logbook.domain.kit.strip_stock import StockOutlook, stock_outlook, strips_a_day
from logbook.domain.kit.strips import StripUseKind
from logbook.domain.kit.supplies import Supply, SupplyKind
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import (
    BEDSIDE,
    CLINIC,
    HANDBAG,
    START,
    at,
    day,
    meter,
    new_id,
    use,
    vial,
)

TODAY = START.date()
NOW = at(0)
SETTINGS = LogSettings(strip_reserve=12, delivery_days=7)


def outlook(
    kit: KitData, plan: float | Fraction | None, settings: LogSettings = SETTINGS
) -> StockOutlook:
    return stock_outlook(BEDSIDE, kit, settings, NOW, plan)


def kit_of(*vials: object, **more: object) -> KitData:
    return KitData(meters=(meter(),), vials=vials, **more)  # type: ignore[arg-type]


class TestRate:
    def test_is_the_real_one_when_it_is_larger(self) -> None:
        uses = tuple(use(-days, kind=kind) for days in range(28) for kind in StripUseKind)
        kit = kit_of(vial(-30), strip_uses=(use(-29), *uses))
        assert strips_a_day(BEDSIDE, kit, NOW) == 3
        assert strips_a_day(BEDSIDE, kit, NOW, plan=2) == 3
        assert strips_a_day(BEDSIDE, kit, NOW, plan=3.5) == Fraction(7, 2)

    def test_of_a_young_log_is_of_its_days_and_a_week_at_least(self) -> None:
        ten_days = tuple(use(-days) for days in range(1, 11))
        assert strips_a_day(BEDSIDE, kit_of(strip_uses=ten_days), NOW) == 1
        one_day = (use(-0.5),) * 7
        assert strips_a_day(BEDSIDE, kit_of(strip_uses=one_day), NOW) == 1

    def test_is_of_this_meter_and_none_of_the_future(self) -> None:
        kit = replace(
            kit_of(strip_uses=(use(-1, HANDBAG), use(-1, CLINIC), use(1))),
            meters=(meter(), meter(HANDBAG), meter(CLINIC, is_own=False)),
        )
        assert strips_a_day(BEDSIDE, kit, NOW) == 0

    def test_nothing_is_said_without_one(self) -> None:
        found = outlook(kit_of(vial(0)), None)
        assert (found.strips, found.run_out, found.reorder_by) == (50, None, None)
        assert found.rate == 0


class TestOutlook:
    def test_by_hand(self) -> None:
        # 50 strips, 4 a day from today: 48 in 12 days, 2 left on the 13th. The reserve of 12 is
        # touched on the 10th day (36 used, 14 left, 4 needed); ordered a week before.
        found = outlook(kit_of(vial(0)), 4)
        assert (found.run_out, found.reserve_from) == (day(12), day(9))
        assert found.reorder_by == day(2)
        assert found.expiring == ()

    def test_the_day_to_order_is_never_past(self) -> None:
        assert outlook(kit_of(vial(0, count=20)), 4).reorder_by == TODAY
        assert outlook(kit_of(), 4).run_out == TODAY

    def test_waits_for_the_earliest_refill(self) -> None:
        later = replace(SETTINGS, earliest_refill=day(5))
        assert outlook(kit_of(vial(0)), 4, later).must_wait_until == day(5)
        sooner = replace(SETTINGS, earliest_refill=day(1))
        assert outlook(kit_of(vial(0)), 4, sooner).must_wait_until is None

    def test_strips_that_expire_unused_are_told(self) -> None:
        open_one = vial(0, printed=day(4).isoformat())
        found = outlook(kit_of(open_one), 4)
        # Five days of four: 20 used, 30 left over on the sixth.
        assert (found.run_out, found.expiring) == (day(5), ((open_one.id, 30),))
        assert found.expiring_strips == 30

    def test_what_is_out_of_date_is_no_stock(self) -> None:
        found = outlook(kit_of(vial(None, printed=day(-1).isoformat())), 4)
        assert (found.strips, found.run_out, found.expiring) == (0, TODAY, ())

    def test_the_time_after_opening_counts_from_the_day_it_is_opened(self) -> None:
        stocked = vial(None, after="10d")
        found = outlook(kit_of(vial(0, count=4), stocked), 1)
        # Opened on the fifth day; ten days on it is the last: 11 used of 50.
        assert (found.run_out, found.expiring) == (day(15), ((stocked.id, 39),))

    def test_half_a_strip_a_day_is_one_every_other_day(self) -> None:
        assert outlook(kit_of(vial(0, count=5)), Fraction(1, 2)).run_out == day(11)


@dataclass(frozen=True)
class Drawn:
    """One random kit in plain numbers: days from today, 9999 for a date that is not printed."""

    left: np.ndarray
    printed: np.ndarray
    after: np.ndarray
    is_open: np.ndarray
    rate: Fraction
    reserve: int


NEVER = 9999


def draw(seed: int) -> Drawn:
    random = np.random.default_rng(seed)
    packs = int(random.integers(0, 7))
    is_open = np.zeros(packs, bool)
    is_open[: int(random.integers(0, 2))] = True
    printed = random.choice(600, size=packs, replace=False) - 20
    printed[random.random(packs) < 0.1] = NEVER
    return Drawn(
        left=random.integers(0, 60, packs),
        printed=printed,
        after=np.where(random.random(packs) < 0.5, random.integers(1, 120, packs), NEVER),
        is_open=is_open,
        rate=Fraction(int(random.integers(1, 60)), int(random.integers(4, 14))),
        reserve=int(random.integers(0, 30)),
    )


def brute_force(drawn: Drawn, *, first_expiring_first: bool = True) -> tuple[int, int, int]:
    """Run-out day, day the reserve is touched, strips expired unused, in days from today.

    Strip by strip, with one row for each: the row's last day, whether its pack is open, whose it
    is; each strip needed takes the first of the rows still good.
    """
    order = np.lexsort((drawn.printed, ~drawn.is_open))
    if not first_expiring_first:
        order = order[::-1]
    pack_of = np.repeat(np.arange(len(order)), drawn.left[order])
    printed = drawn.printed[order].copy()
    after, opened = drawn.after[order], drawn.is_open[order].copy()
    # The pack in use counts its time after opening from today, as it is drawn.
    last = np.where(opened, np.minimum(printed, after), printed)
    there = last[pack_of] >= 0
    reserve_from = -1
    expired = 0
    due = Fraction(0)
    taken = 0
    for now in range(4000):
        gone = there & (last[pack_of] < now)
        expired += int(gone.sum())
        there &= ~gone
        due += drawn.rate
        needed = int(due) - taken
        if reserve_from < 0 and int(there.sum()) - needed < drawn.reserve:
            reserve_from = now
        if int(there.sum()) < needed:
            return now, reserve_from, expired
        for _ in range(needed):
            strip = int(np.flatnonzero(there)[0])
            pack = pack_of[strip]
            if not opened[pack]:
                opened[pack] = True
                last[pack] = min(last[pack], now + after[pack])
            there[strip] = False
            taken += 1
    raise AssertionError("strips that never run out")


def as_kit(drawn: Drawn) -> KitData:
    vials = []
    rows = zip(drawn.left, drawn.printed, drawn.after, drawn.is_open, strict=True)
    for left, printed, after, is_open in rows:
        one = vial(0 if is_open else None, count=int(left))
        if printed != NEVER:
            one = replace(one, expires=PrintedDate(TODAY + timedelta(days=int(printed))))
        if after != NEVER:
            one = replace(one, after_opening=AfterOpening(int(after), in_months=False))
        vials.append(one)
    return kit_of(*vials)


def simulated(drawn: Drawn) -> tuple[int, int, int]:
    found = outlook(as_kit(drawn), drawn.rate, replace(SETTINGS, strip_reserve=drawn.reserve))
    assert found.run_out is not None
    assert found.reserve_from is not None

    def days(when: date) -> int:
        return (when - TODAY).days

    return days(found.run_out), days(found.reserve_from), found.expiring_strips


class TestAgainstBruteForce:
    kits = tuple(draw(seed) for seed in range(1000))

    def test_on_1000_random_kits(self) -> None:
        wrong = [
            seed for seed, drawn in enumerate(self.kits) if simulated(drawn) != brute_force(drawn)
        ]
        assert wrong == []

    def test_the_check_would_see_another_order(self) -> None:
        """Negative control: the last-expiring first gives other days."""
        different = sum(
            simulated(drawn) != brute_force(drawn, first_expiring_first=False)
            for drawn in self.kits[:200]
        )
        assert different > 50

    def test_the_kits_are_of_all_sorts(self) -> None:
        found = [brute_force(drawn) for drawn in self.kits[:200]]
        assert sum(expired > 0 for _, _, expired in found) > 40
        assert sum(expired == 0 for _, _, expired in found) > 40
        assert len({run_out for run_out, _, _ in found}) > 40


class TestRefillList:
    def supply(self, kind: SupplyKind, text: str, count: int | None = None) -> Supply:
        return Supply(new_id(), kind, text, START, count, None if count is None else day(-3))

    def test_strips_carry_their_exact_type_and_day(self) -> None:
        supplies = (
            self.supply(SupplyKind.LANCETS, "30 G, twist top", 90),
            self.supply(SupplyKind.STRIPS, "Invented strips 50", 7),
            replace(self.supply(SupplyKind.BATTERIES, "CR2032"), ended_on=day(-1)),
        )
        kit = kit_of(vial(0), vial(None), supplies=supplies)
        strips, lancets = refill_list(kit, SETTINGS, NOW, 4)
        assert (strips.exact_type, strips.count) == ("Invented strips 50", 100)
        assert strips.needed_by == outlook(kit, 4).reorder_by
        assert (lancets.exact_type, lancets.count, lancets.counted_on) == (
            "30 G, twist top",
            90,
            day(-3),
        )

    def test_types_of_several_meters_are_not_guessed(self) -> None:
        supplies = (self.supply(SupplyKind.STRIPS, "one"), self.supply(SupplyKind.STRIPS, "two"))
        kit = replace(kit_of(vial(0), supplies=supplies), meters=(meter(), meter(HANDBAG)))
        lines = refill_list(kit, SETTINGS, NOW)
        assert [(line.exact_type, line.meter_id) for line in lines] == [
            ("", BEDSIDE),
            ("", HANDBAG),
            ("one", None),
            ("two", None),
        ]

    def test_each_meter_has_the_type_that_is_on_the_list_for_it(self) -> None:
        for_bag = replace(self.supply(SupplyKind.STRIPS, "two"), meter_id=HANDBAG)
        no_one = self.supply(SupplyKind.STRIPS, "three")
        kit = replace(kit_of(vial(0), supplies=(no_one, for_bag)), meters=(meter(), meter(HANDBAG)))
        lines = refill_list(kit, SETTINGS, NOW)
        assert [(line.exact_type, line.meter_id, line.supply_id) for line in lines] == [
            ("", BEDSIDE, None),
            ("two", HANDBAG, for_bag.id),
            ("three", None, no_one.id),
        ]

    def test_the_plan_goes_to_the_only_meter(self) -> None:
        assert [one.rate for one in stock_outlooks(kit_of(), SETTINGS, NOW, 4)] == [4]
        two = replace(kit_of(), meters=(meter(), meter(HANDBAG)))
        assert [one.rate for one in stock_outlooks(two, SETTINGS, NOW, 4)] == [0, 0]

    @pytest.mark.parametrize("plan", [None, 4])
    def test_a_clinics_meter_has_no_line(self, plan: float | None) -> None:
        kit = replace(kit_of(), meters=(meter(CLINIC, is_own=False),))
        assert refill_list(kit, SETTINGS, NOW, plan) == ()
