"""Until when strips may be used, and which vial a reading came from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from logbook.domain.kit.control import ControlBottle
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import meter_used, own_meters
from logbook.domain.kit.vial_life import (
    Life,
    LifeState,
    WhyUntil,
    life_of,
    life_state,
    out_of_date,
    out_of_date_vial,
    stock_vials,
    vial_for,
    vial_in_use,
)
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import (
    BEDSIDE,
    CLINIC,
    HANDBAG,
    START,
    at,
    day,
    instant,
    meter,
    new_id,
    reading,
    vial,
)

UNTIL = date(2026, 6, 30)


class TestLife:
    def test_the_time_after_opening_comes_first(self) -> None:
        # Opened on March 2, 2026.
        strips = vial(0, printed="2027-03", after="3m")
        assert life_of(strips) == Life(date(2026, 6, 2), WhyUntil.AFTER_OPENING)

    def test_the_printed_date_comes_first(self) -> None:
        strips = vial(0, printed="2026-04", after="3m")
        assert life_of(strips) == Life(date(2026, 4, 30), WhyUntil.PRINTED)

    def test_an_unopened_vial_has_its_printed_date(self) -> None:
        strips = vial(None, printed="2026-04", after="3m")
        assert life_of(strips) == Life(date(2026, 4, 30), WhyUntil.PRINTED)

    def test_no_time_after_opening_may_be_printed(self) -> None:
        assert life_of(vial(0, printed="2026-12-05")) == Life(date(2026, 12, 5), WhyUntil.PRINTED)

    def test_nothing_is_assumed(self) -> None:
        assert life_of(vial(0)) is None

    def test_a_bottle_has_the_same_rule(self) -> None:
        bottle = ControlBottle(
            new_id(),
            "1",
            START,
            expires=PrintedDate.from_code("2027-01"),
            after_opening=AfterOpening.from_code("90d"),
            opened_on=date(2025, 5, 15),
        )
        assert life_of(bottle) == Life(date(2025, 8, 13), WhyUntil.AFTER_OPENING)

    @pytest.mark.parametrize(
        ("days_before", "state"),
        [
            (8, LifeState.IN_DATE),
            (7, LifeState.ENDS_SOON),
            (0, LifeState.ENDS_SOON),
            (-1, LifeState.OUT_OF_DATE),
        ],
    )
    def test_is_warned_of_seven_days_before(self, days_before: int, state: LifeState) -> None:
        assert life_state(UNTIL, UNTIL - timedelta(days=days_before)) is state

    def test_is_not_known_without_a_date(self) -> None:
        assert life_state(None, UNTIL) is LifeState.NOT_KNOWN


class TestVialOfAReading:
    def test_is_the_one_in_use_in_that_meter(self) -> None:
        first, second = vial(0, ended=10), vial(10)
        other = vial(0, meter_id=HANDBAG)
        meters = (meter(), meter(HANDBAG))
        vials = (first, second, other)
        assert vial_for(BEDSIDE, instant(0), vials, meters) == first
        assert vial_for(BEDSIDE, instant(9.99), vials, meters) == first
        # At the instant of the change the new one is in use.
        assert vial_for(BEDSIDE, instant(10), vials, meters) == second
        assert vial_for(HANDBAG, instant(10), vials, meters) == other
        assert vial_for(BEDSIDE, instant(-0.01), vials, meters) is None
        assert vial_for(BEDSIDE, instant(10), (first,), meters) is None

    def test_of_two_open_ones_is_the_later(self) -> None:
        first, second = vial(0), vial(5)
        assert vial_for(BEDSIDE, instant(6), (second, first), (meter(),)) == second
        assert vial_for(BEDSIDE, instant(4), (second, first), (meter(),)) == first

    def test_falls_back_to_an_older_one_that_is_open_still(self) -> None:
        first, second = vial(0), vial(5, ended=7)
        assert vial_for(BEDSIDE, instant(8), (first, second), (meter(),)) == first

    def test_without_a_meter_is_that_of_the_only_own_meter(self) -> None:
        strips = vial(0)
        clinic = meter(CLINIC, is_own=False)
        assert vial_for(None, instant(1), (strips,), (meter(), clinic)) == strips
        assert vial_for(None, instant(1), (strips,), (meter(), meter(HANDBAG))) is None

    def test_a_vial_without_a_meter_is_of_the_only_own_meter(self) -> None:
        strips = vial(0, meter_id=None)
        assert vial_for(BEDSIDE, instant(1), (strips,), (meter(),)) == strips
        assert vial_for(None, instant(1), (strips,)) == strips

    def test_a_clinics_meter_has_none(self) -> None:
        strips = vial(0, meter_id=CLINIC)
        meters = (meter(), meter(CLINIC, is_own=False))
        assert vial_for(CLINIC, instant(1), (strips,), meters) is None

    def test_the_stock_is_in_the_order_of_printed_dates(self) -> None:
        late, never, soon = vial(None, printed="2027-03"), vial(None), vial(None, printed="2026-09")
        kit = KitData(meters=(meter(),), vials=(late, never, soon, vial(0)))
        assert stock_vials(BEDSIDE, kit) == (soon, late, never)

    def test_in_use_is_the_one_opened_last(self) -> None:
        first, second = vial(0), vial(3)
        kit = KitData(meters=(meter(),), vials=(second, first, vial(4, ended=5)))
        assert vial_in_use(BEDSIDE, kit) == second


class TestMeters:
    def test_the_one_noted_is_taken_as_it_is(self) -> None:
        assert meter_used(HANDBAG, instant(0), (meter(), meter(HANDBAG))) == HANDBAG

    def test_none_noted_is_the_only_own_one_in_use_then(self) -> None:
        old = replace(meter(), in_use_until=day(0))
        new = meter(HANDBAG, first=1)
        assert meter_used(None, instant(-1), (old, new)) == BEDSIDE
        assert meter_used(None, instant(2), (old, new)) == HANDBAG

    def test_before_any_was_in_use_is_the_only_own_one(self) -> None:
        assert meter_used(None, instant(0), (meter(first=5),)) == BEDSIDE

    def test_someone_elses_is_none(self) -> None:
        assert meter_used(CLINIC, instant(0), (meter(), meter(CLINIC, is_own=False))) is None
        assert meter_used(new_id(), instant(0), (meter(),)) is None

    def test_clinic_meters_are_kept_apart(self) -> None:
        clinic = meter(CLINIC, is_own=False)
        ended = replace(meter(HANDBAG), in_use_until=day(-1))
        assert own_meters((meter(), clinic, ended), day(0)) == (meter(),)


class TestOutOfDate:
    settings = LogSettings()

    def test_is_told_of_readings_after_the_last_day(self) -> None:
        strips = vial(0, after="3m")  # until June 2
        kit = KitData(meters=(meter(),), vials=(strips,))
        in_time, late = reading(92), reading(93)
        assert at(92).wall.date() == date(2026, 6, 2)
        (found,) = out_of_date((in_time, late), kit, self.settings)
        assert (found.reading_id, found.vial) == (late.id, strips)
        assert out_of_date_vial(BEDSIDE, late.at, kit, self.settings) is not None

    def test_goes_by_the_persons_day(self) -> None:
        kit = KitData(meters=(meter(),), vials=(vial(0, after="3m"),))
        # 02:00 on June 3 is still June 2 of a day that starts at four.
        night = at(92 + 14 / 24)
        assert night.wall.isoformat() == "2026-06-03T02:00:00"
        assert out_of_date_vial(BEDSIDE, night, kit, self.settings) is None

    def test_is_told_of_no_one_elses_meter(self) -> None:
        kit = KitData(meters=(meter(),), vials=(vial(0, after="3m"),))
        assert out_of_date((reading(99, is_foreign=True),), kit, self.settings) == ()
        assert out_of_date((replace(reading(99), is_damaged=True),), kit, self.settings) == ()
