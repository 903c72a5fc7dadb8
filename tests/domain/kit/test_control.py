"""Control tests: pass and fail, when one is due, and what follows from fails.

The reasons for a test are common practice and are told alike in several meter manuals and in a
consumer text drawn from the FDA's (read in copies): a new vial, a new meter, a drop, a battery
change, an unexpected result, suspected damage, and now and then.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.control_due import (
    ControlReason,
    ControlState,
    due_reasons,
    is_not_for_decisions,
    standing_of,
    suspect_spans,
)
from logbook.domain.kit.control_results import (
    ControlDoubt,
    ControlResult,
    doubts_of,
    position_of,
    range_of,
    result_of,
    with_range,
)
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meter_care import MeterEvent, MeterWhat
from logbook.domain.kit.strips import ControlRange, Vial
from logbook.domain.kit.suspects import suspect_readings
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import (
    BEDSIDE,
    CLINIC,
    HANDBAG,
    RANGE,
    START,
    at,
    control,
    event,
    instant,
    meter,
    new_id,
    reading,
    vial,
)

SETTINGS = LogSettings()
METERS = (meter(), meter(HANDBAG), meter(CLINIC, is_own=False))
PASS, FAIL = 120, 150


def kit_of(
    *tests: ControlTest,
    vials: tuple[Vial, ...] = (),
    events: tuple[MeterEvent, ...] = (),
    bottles: tuple[ControlBottle, ...] = (),
) -> KitData:
    return KitData(
        meters=METERS, vials=vials, control_tests=tests, meter_events=events, bottles=bottles
    )


def kinds(kit: KitData, settings: LogSettings = SETTINGS, days: float = 30) -> list[ControlReason]:
    return [reason.kind for reason in due_reasons(BEDSIDE, kit, settings, at(days))]


class TestResult:
    @pytest.mark.parametrize(
        ("value", "result", "position"),
        [
            (99, ControlResult.FAIL, -0.025),
            (100, ControlResult.PASS, 0),
            (120, ControlResult.PASS, 0.5),
            (140, ControlResult.PASS, 1),
            (141, ControlResult.FAIL, 1.025),
        ],
    )
    def test_is_told_by_the_range_of_its_vial(
        self, value: int, result: ControlResult, position: float
    ) -> None:
        test = control(1, value)
        kit = kit_of(test, vials=(vial(0),))
        assert result_of(test, kit) is result
        assert position_of(test, kit) == pytest.approx(position)

    def test_is_not_known_without_a_range_for_level_and_unit(self) -> None:
        kit = kit_of(vials=(vial(0),))
        for test in (
            control(1, 120, level="2"),
            control(-1, 120),
            replace(control(1, 120), glucose=Glucose.number(67, Unit.MMOL_L)),
        ):
            assert result_of(test, kit) is ControlResult.NOT_KNOWN
            assert position_of(test, kit) is None

    def test_goes_by_the_vial_that_was_named(self) -> None:
        other = vial(None, ranges=(ControlRange("1", Unit.MG_DL, 30, 60),))
        test = control(1, 50, of=other)
        assert result_of(test, kit_of(test, vials=(vial(0), other))) is ControlResult.PASS

    def test_lo_and_hi_are_outside(self) -> None:
        for shown in (Glucose.reads_low(Unit.MG_DL), Glucose.reads_high(Unit.MG_DL)):
            test = replace(control(1, 120), glucose=shown)
            kit = kit_of(test, vials=(vial(0),))
            assert result_of(test, kit) is ControlResult.FAIL
            assert position_of(test, kit) is None

    def test_ranges_are_one_for_each_level_and_unit(self) -> None:
        strips = vial(0)
        wider = ControlRange(" 1 ", Unit.MG_DL, 90, 150)
        strips = with_range(with_range(strips, wider), ControlRange("High", Unit.MG_DL, 250, 350))
        assert range_of(strips, "1", Unit.MG_DL) == wider
        assert range_of(strips, "high", Unit.MG_DL) is not None
        assert [one.level for one in strips.ranges] == [" 1 ", "High"]
        assert RANGE not in strips.ranges


class TestDoubts:
    def bottle(self, until: str) -> ControlBottle:
        return ControlBottle(new_id(), "1", START, expires=PrintedDate.from_code(until))

    def test_none_speaks_against_an_ordinary_test(self) -> None:
        bottle = self.bottle("2027-01")
        for tenths in (None, 200, 250):
            test = control(1, PASS, bottle=bottle, tenths=tenths)
            assert doubts_of(test, kit_of(test, bottles=(bottle,)), SETTINGS) == ()

    def test_each_is_told(self) -> None:
        # Control tests are made at 20 to 25 C: leaflets, read in copies.
        bottle, strips = self.bottle("2026-01"), vial(0, printed="2026-02")
        cold = control(1, PASS, bottle=bottle, tenths=199)
        warm = replace(cold, temperature_tenths=251)
        kit = kit_of(cold, vials=(strips,), bottles=(bottle,))
        assert doubts_of(cold, kit, SETTINGS) == (
            ControlDoubt.BOTTLE_OUT_OF_DATE,
            ControlDoubt.STRIPS_OUT_OF_DATE,
            ControlDoubt.TOO_COLD,
        )
        assert doubts_of(warm, kit, SETTINGS)[-1] is ControlDoubt.TOO_WARM

    def test_an_out_of_date_bottle_clears_nothing_and_fails_nothing(self) -> None:
        bottle, strips = self.bottle("2026-01"), vial(0)
        passed = control(1, PASS, bottle=bottle)
        assert kinds(kit_of(passed, vials=(strips,), bottles=(bottle,))) == [ControlReason.NEW_VIAL]
        fails = [control(days, FAIL, bottle=bottle) for days in (1, 2)]
        kit = kit_of(*fails, vials=(strips,), bottles=(bottle,))
        assert standing_of(BEDSIDE, kit, SETTINGS).state is ControlState.NOT_KNOWN


class TestDue:
    @pytest.mark.parametrize(
        ("what", "reason"),
        [
            (MeterWhat.FIRST_USED, ControlReason.NEW_METER),
            (MeterWhat.DROPPED, ControlReason.DROPPED),
            (MeterWhat.DAMAGED, ControlReason.DAMAGED),
            (MeterWhat.BATTERY_CHANGED, ControlReason.BATTERY),
            (MeterWhat.NOT_BELIEVED, ControlReason.NOT_BELIEVED),
        ],
    )
    def test_after_an_event_until_a_later_pass(
        self, what: MeterWhat, reason: ControlReason
    ) -> None:
        happened, strips = event(what, 5), vial(-9, ended=-1)
        due = kit_of(vials=(strips,), events=(happened,))
        (found,) = due_reasons(BEDSIDE, due, SETTINGS, at(30))
        assert (found.kind, found.arose, found.about) == (reason, instant(5), happened.id)
        # A test of the very minute looked at nothing that happened in it.
        assert kinds(kit_of(control(5, PASS), vials=(vial(0),), events=(happened,))) == [reason]
        earlier, fail, later = control(4, PASS), control(6, FAIL), control(7, PASS)
        vials = (vial(0),)
        tested = [
            kinds(kit_of(*tests, vials=vials, events=(happened,)))
            for tests in ([earlier], [earlier, fail], [earlier, fail, later])
        ]
        assert tested == [[reason], [reason], []]

    @pytest.mark.parametrize("what", [MeterWhat.CLEANED, MeterWhat.CLOCK_CHECKED])
    def test_not_after_other_events(self, what: MeterWhat) -> None:
        assert kinds(kit_of(events=(event(what, 5),))) == []

    def test_not_after_one_crossed_out_or_to_come_or_of_another_meter(self) -> None:
        dropped = event(MeterWhat.DROPPED, 5)
        assert kinds(kit_of(events=(replace(dropped, crossed_out_at=START),))) == []
        assert kinds(kit_of(events=(dropped,)), days=4) == []
        assert kinds(kit_of(events=(event(MeterWhat.DROPPED, 5, HANDBAG),))) == []

    def test_for_a_new_vial_until_a_pass_with_it(self) -> None:
        old, new = vial(0, ended=10), vial(10)
        assert kinds(kit_of(control(5, PASS), vials=(old, new))) == [ControlReason.NEW_VIAL]
        with_old = control(11, PASS, of=old)
        assert kinds(kit_of(with_old, vials=(old, new))) == [ControlReason.NEW_VIAL]
        assert kinds(kit_of(control(11, PASS), vials=(old, new))) == []

    def test_after_the_interval(self) -> None:
        monthly = replace(SETTINGS, control_interval_days=28)
        kit = kit_of(control(1, PASS), vials=(vial(0),))
        # Half past two at night still belongs to the 28th day; the 29th begins at four.
        assert kinds(kit, monthly, days=28.6) == []
        assert kinds(kit, monthly, days=28.7) == [ControlReason.INTERVAL]
        assert kinds(kit, SETTINGS, days=400) == []

    def test_after_the_interval_of_a_meter_never_tested(self) -> None:
        monthly = replace(SETTINGS, control_interval_days=28)
        assert kinds(kit_of(), monthly) == [ControlReason.INTERVAL]

    def test_the_newest_reason_stands_first(self) -> None:
        events = (event(MeterWhat.DROPPED, 5), event(MeterWhat.BATTERY_CHANGED, 9))
        kit = kit_of(vials=(vial(7),), events=events)
        assert kinds(kit) == [
            ControlReason.BATTERY,
            ControlReason.NEW_VIAL,
            ControlReason.DROPPED,
        ]

    def test_never_without_control_solution(self) -> None:
        none = replace(SETTINGS, has_control_solution=False, control_interval_days=1)
        kit = kit_of(vials=(vial(7),), events=(event(MeterWhat.DROPPED, 5),))
        assert kinds(kit, none) == []


class TestStanding:
    def state(self, *tests: ControlTest, **more: tuple[MeterEvent, ...]) -> ControlState:
        return standing_of(BEDSIDE, self.kit(*tests, **more), SETTINGS).state

    def kit(self, *tests: ControlTest, events: tuple[MeterEvent, ...] = ()) -> KitData:
        return kit_of(*tests, vials=self.vials, events=events)

    two_levels = (RANGE, ControlRange("2", Unit.MG_DL, 250, 350))
    vials = (vial(0, ended=10, ranges=two_levels), vial(10, ranges=two_levels))

    def test_without_tests(self) -> None:
        assert self.state() is ControlState.NO_TEST
        assert self.state(replace(control(1, FAIL), crossed_out_at=START)) is ControlState.NO_TEST
        assert self.state(control(1, FAIL, meter_id=HANDBAG)) is ControlState.NO_TEST

    def test_without_a_range(self) -> None:
        assert self.state(control(1, FAIL, level="3")) is ControlState.NOT_KNOWN

    def test_one_fail_is_not_the_end(self) -> None:
        assert self.state(control(1, PASS)) is ControlState.PASSED
        assert self.state(control(1, PASS), control(2, FAIL)) is ControlState.FAILED_ONCE
        fail_and_pass = (control(2, FAIL), control(2.1, PASS))
        assert self.state(*fail_and_pass) is ControlState.PASSED
        assert self.state(*fail_and_pass, control(3, FAIL)) is ControlState.FAILED_ONCE

    def test_two_running_stop_the_strips(self) -> None:
        fails = (control(2, FAIL), control(3, FAIL))
        standing = standing_of(BEDSIDE, self.kit(control(1, PASS), *fails), SETTINGS)
        assert (standing.state, standing.fails) == (ControlState.FAILED_TWICE, fails)
        assert standing.must_stop
        assert not is_not_for_decisions(BEDSIDE, self.kit(*fails), SETTINGS)

    def test_a_fail_with_a_new_vial_too_stops_the_meter(self) -> None:
        fails = (control(2, FAIL), control(3, FAIL), control(11, FAIL))
        assert self.state(*fails) is ControlState.FAILED_NEW_VIAL
        assert is_not_for_decisions(BEDSIDE, self.kit(*fails), SETTINGS)

    def test_a_pass_with_a_new_vial_ends_it(self) -> None:
        fails = (control(2, FAIL), control(3, FAIL))
        assert self.state(*fails, control(11, 300, level="2")) is ControlState.PASSED

    def test_a_pass_at_another_level_clears_no_fail_of_the_same_vial(self) -> None:
        tests = (control(2, 400, level="2"), control(2.1, PASS), control(3, 400, level="2"))
        assert self.state(*tests) is ControlState.FAILED_TWICE

    def test_fit_again_ends_it(self) -> None:
        fails = (control(2, FAIL), control(3, FAIL), control(11, FAIL))
        again = (event(MeterWhat.FIT_AGAIN, 12),)
        assert self.state(*fails, events=again) is ControlState.NOT_KNOWN
        assert not is_not_for_decisions(BEDSIDE, self.kit(*fails, events=again), SETTINGS)

    def test_the_person_may_say_so_too(self) -> None:
        said = event(MeterWhat.NOT_FOR_DECISIONS, 5)
        again = event(MeterWhat.FIT_AGAIN, 6)
        assert is_not_for_decisions(BEDSIDE, self.kit(events=(said,)), SETTINGS)
        assert not is_not_for_decisions(BEDSIDE, self.kit(events=(said, again)), SETTINGS)
        assert not is_not_for_decisions(HANDBAG, self.kit(events=(said,)), SETTINGS)


class TestSuspects:
    def spans(self, *tests: ControlTest) -> list[tuple[object, object]]:
        kit = kit_of(*tests, vials=(vial(0),))
        return [(span.after, span.until) for span in suspect_spans(kit, SETTINGS)]

    def test_only_two_fails_running_after_a_pass_mark_anything(self) -> None:
        one, two, three = control(1, PASS), control(4, FAIL), control(5, FAIL)
        assert self.spans(two, three) == []  # no pass on record
        assert self.spans(one, two) == []
        assert self.spans(one, two, control(4.5, PASS), three) == []
        assert self.spans(one, two, three) == [(instant(1), instant(5))]

    def test_a_third_fail_makes_it_longer_and_a_pass_does_not_lift_it(self) -> None:
        tests = [control(1, PASS), *(control(days, FAIL) for days in (4, 5, 6))]
        assert self.spans(*tests) == [(instant(1), instant(6))]
        assert self.spans(*tests, control(7, PASS)) == [(instant(1), instant(6))]

    def test_each_run_has_its_own(self) -> None:
        days = [(1, PASS), (4, FAIL), (5, FAIL), (7, PASS), (8, FAIL), (9, FAIL)]
        assert self.spans(*(control(*each) for each in days)) == [
            (instant(1), instant(5)),
            (instant(7), instant(9)),
        ]

    def test_are_readings_of_that_meter_only(self) -> None:
        tests = (control(1, PASS), control(4, FAIL), control(5, FAIL))
        readings = [reading(days) for days in (0.5, 1, 1.1, 4.5, 5, 5.1)]
        others = [reading(2, HANDBAG), reading(2, None), reading(2, CLINIC, is_foreign=True)]
        kit = kit_of(*tests, vials=(vial(0),))
        assert suspect_readings(readings + others, kit, SETTINGS) == tuple(
            one.id for one in readings[2:5]
        )
        alone = replace(kit, meters=(meter(),))
        assert others[1].id in suspect_readings(others, alone, SETTINGS)
