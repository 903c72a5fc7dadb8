"""The one line that matters most, in its order, and what can be put off until tomorrow."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from uuid import UUID

import pytest

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.kit.clock_checks import ClockReason
from logbook.domain.kit.control import ControlBottle
from logbook.domain.kit.control_due import ControlReason
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_line import KitAction, KitLineKind, kit_line, kit_lines
from logbook.domain.kit.lancets import LancetChange, LancetHabit
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import (
    BEDSIDE,
    HANDBAG,
    START,
    at,
    control,
    counted,
    day,
    event,
    instant,
    meter,
    new_id,
    use,
    vial,
)

SETTINGS = LogSettings(lancet_habit=LancetHabit.REUSE)
NOW = at(30)
PUNCTURES = [at(days) for days in (26, 27, 28, 29)]
TESTED = control(1, 120)


def printed(days: int) -> PrintedDate:
    return PrintedDate(day(days))


def bottle(days: int) -> ControlBottle:
    return ControlBottle(new_id(), "1", START, expires=printed(days), opened_on=day(0))


def glucagon(days: int) -> LowSupply:
    return LowSupply(new_id(), ForLows.GLUCAGON, START, expires=printed(days))


def quiet() -> KitData:
    """A kit of which nothing needs doing: a tested vial, stock, a fresh lancet."""
    return KitData(
        meters=(meter(),),
        vials=(vial(0, count=200), vial(None, count=200)),
        control_tests=(TESTED,),
        lancet_changes=(LancetChange(new_id(), at(29.5), START),),
        bottles=(bottle(100),),
        low_supplies=(glucagon(300),),
        sharps_containers=(SharpsContainer(new_id(), day(0), START, capacity=100),),
        strip_uses=tuple(use(days) for days in range(30)),
    )


def troubles() -> dict[KitLineKind, KitData]:
    """One kit for each line, in the order of importance, each else quiet."""
    kit = quiet()
    in_use, stocked = kit.vials
    fails = (control(2, 180), control(3, 180))
    last_day = replace(in_use, expires=printed(29))
    few = (counted(in_use, 29.5, 5),)
    blunt = (LancetChange(new_id(), at(20), START),)
    packed = (SharpsContainer(new_id(), day(0), START, capacity=100, counted=90),)
    not_fit = (event(MeterWhat.NOT_FOR_DECISIONS, 2),)
    battery = (event(MeterWhat.BATTERY_CHANGED, 0.5),)
    ends_soon = replace(in_use, expires=printed(35))
    return {
        KitLineKind.STOP_METER: replace(kit, meter_events=not_fit),
        KitLineKind.STOP_STRIPS: replace(kit, control_tests=(TESTED, *fails)),
        KitLineKind.STRIPS_OUT_OF_DATE: replace(kit, vials=(last_day, stocked)),
        KitLineKind.BOTTLE_OUT_OF_DATE: replace(kit, bottles=(bottle(29),)),
        KitLineKind.LAST_STRIPS: replace(kit, strip_counts=few),
        KitLineKind.NO_VIAL_OPEN: replace(
            kit, vials=(replace(in_use, ended_at=instant(29)), stocked)
        ),
        KitLineKind.TEST_AGAIN: replace(kit, control_tests=(TESTED, fails[0])),
        KitLineKind.CONTROL_DUE: replace(kit, meter_events=(event(MeterWhat.DROPPED, 5),)),
        KitLineKind.LANCET_BLUNT: replace(kit, lancet_changes=blunt),
        KitLineKind.SHARPS_LOOK: replace(kit, sharps_containers=packed),
        KitLineKind.CLOCK_CHECK: replace(kit, meter_events=battery),
        KitLineKind.STRIPS_END_SOON: replace(kit, vials=(ends_soon, stocked)),
        KitLineKind.BOTTLE_ENDS_SOON: replace(kit, bottles=(bottle(35),)),
        KitLineKind.LOW_SUPPLY_OUT_OF_DATE: replace(kit, low_supplies=(glucagon(29),)),
        KitLineKind.LOW_SUPPLY_ENDS_SOON: replace(kit, low_supplies=(glucagon(59),)),
        KitLineKind.REORDER: replace(kit, vials=(replace(in_use, count=45),)),
    }


def lines_of(kit: KitData, settings: LogSettings = SETTINGS) -> list[KitLineKind]:
    found = kit_lines(kit, settings, NOW, punctured_at=PUNCTURES)
    return [line.kind for line in found]


def test_nothing_is_said_of_a_quiet_kit() -> None:
    assert lines_of(quiet()) == []
    assert kit_line(quiet(), SETTINGS, NOW, punctured_at=PUNCTURES) is None
    assert lines_of(KitData()) == []
    assert lines_of(KitData(meters=(meter(),))) == []


def test_a_log_that_keeps_no_kit_is_never_asked_to_order() -> None:
    kit = KitData(meters=(meter(),), strip_uses=tuple(use(days) for days in range(30)))
    assert lines_of(kit) == []


@pytest.mark.parametrize("kind", KitLineKind)
def test_each_trouble_has_its_line(kind: KitLineKind) -> None:
    kit = troubles()[kind]
    found = kit_line(kit, SETTINGS, NOW, punctured_at=PUNCTURES)
    assert found is not None
    assert found.kind is kind


def test_the_order_is_that_of_importance() -> None:
    assert list(troubles()) == list(KitLineKind)
    kit = quiet()
    in_use = replace(kit.vials[0], expires=printed(29), count=40)
    everything = replace(
        kit,
        vials=(in_use,),
        control_tests=(TESTED, control(2, 180), control(3, 180)),
        bottles=(bottle(29), bottle(35)),
        lancet_changes=(LancetChange(new_id(), at(20), START),),
        sharps_containers=(SharpsContainer(new_id(), day(0), START, capacity=100, counted=90),),
        meter_events=(event(MeterWhat.BATTERY_CHANGED, 0.5),),
        low_supplies=(glucagon(29), glucagon(59)),
    )
    assert lines_of(everything) == [
        KitLineKind.STOP_STRIPS,
        KitLineKind.STRIPS_OUT_OF_DATE,
        KitLineKind.BOTTLE_OUT_OF_DATE,
        KitLineKind.LANCET_BLUNT,
        KitLineKind.SHARPS_LOOK,
        KitLineKind.CLOCK_CHECK,
        KitLineKind.BOTTLE_ENDS_SOON,
        KitLineKind.LOW_SUPPLY_OUT_OF_DATE,
        KitLineKind.LOW_SUPPLY_ENDS_SOON,
        KitLineKind.REORDER,
    ]


class TestFacts:
    def test_of_strips(self) -> None:
        line = kit_line(troubles()[KitLineKind.LAST_STRIPS], SETTINGS, NOW)
        assert line is not None
        assert (line.left, line.meter_id, line.action) == (5, BEDSIDE, KitAction.OPEN_NEXT)
        assert line.vial is not None
        assert line.about == line.vial.id

    def test_without_stock_the_last_strips_lead_to_the_refill_list(self) -> None:
        kit = troubles()[KitLineKind.LAST_STRIPS]
        line = kit_line(replace(kit, vials=kit.vials[:1]), SETTINGS, NOW)
        assert line is not None
        assert line.action is KitAction.SHOW_REFILL

    def test_more_used_than_it_held_asks_to_count(self) -> None:
        kit = quiet()
        line = kit_line(
            replace(kit, vials=(replace(kit.vials[0], count=20), kit.vials[1])), SETTINGS, NOW
        )
        assert line is not None
        assert (line.kind, line.action) == (KitLineKind.LAST_STRIPS, KitAction.COUNT_AGAIN)

    def test_of_a_control_test(self) -> None:
        line = kit_line(troubles()[KitLineKind.CONTROL_DUE], SETTINGS, NOW)
        assert line is not None
        assert line.reason is not None
        assert (line.reason.kind, line.about) == (ControlReason.DROPPED, line.reason.about)

    def test_of_a_clock(self) -> None:
        line = kit_line(troubles()[KitLineKind.CLOCK_CHECK], SETTINGS, NOW)
        # The battery asks for a control test too; that was passed since.
        assert line is not None
        assert line.clock is ClockReason.BATTERY_CHANGED

    def test_once_another_vial_is_open_it_is_that_one_which_is_tested(self) -> None:
        kit = troubles()[KitLineKind.STOP_STRIPS]
        old = replace(kit.vials[0], ended_at=instant(10))
        line = kit_line(replace(kit, vials=(old, vial(10, count=200))), SETTINGS, NOW)
        assert line is not None
        assert line.kind is KitLineKind.CONTROL_DUE

    def test_lancets_changed_each_time_are_never_blunt(self) -> None:
        each_time = replace(SETTINGS, lancet_habit=LancetHabit.NEW_EACH_TIME)
        assert lines_of(troubles()[KitLineKind.LANCET_BLUNT], each_time) == []

    def test_each_own_meter_has_its_lines(self) -> None:
        kit = quiet()
        other = vial(0, meter_id=HANDBAG)
        both = replace(kit, meters=(meter(), meter(HANDBAG)), vials=(*kit.vials, other))
        line = kit_line(both, SETTINGS, NOW)
        assert line is not None
        assert (line.kind, line.meter_id) == (KitLineKind.CONTROL_DUE, HANDBAG)

    def test_control_tests_are_silent_without_solution(self) -> None:
        none = replace(SETTINGS, has_control_solution=False)
        assert lines_of(troubles()[KitLineKind.CONTROL_DUE], none) == []


class TestLater:
    kit = troubles()[KitLineKind.CONTROL_DUE]

    def later(self, about: UUID, when: datetime, said: Said = Said.LATER) -> Answer:
        return Answer(new_id(), about, Asked.KIT_LINE, said, when)

    def shown(self, *answers: Answer) -> KitLineKind | None:
        line = kit_line(self.kit, SETTINGS, NOW, answers)
        return None if line is None else line.kind

    def test_puts_a_line_off_until_the_next_day(self) -> None:
        about = self.kit.meter_events[0].id
        assert self.shown() is KitLineKind.CONTROL_DUE
        assert self.shown(self.later(about, instant(29.9))) is None
        # Half past three at night is yesterday still, half past four is today.
        assert self.shown(self.later(about, instant(30 - 8.5 / 24))) is KitLineKind.CONTROL_DUE
        assert self.shown(self.later(about, instant(30 - 7.5 / 24))) is None

    def test_is_about_that_record_and_that_question_only(self) -> None:
        about = self.kit.meter_events[0].id
        assert self.shown(self.later(new_id(), instant(29.9))) is KitLineKind.CONTROL_DUE
        other = replace(self.later(about, instant(29.9)), asked=Asked.RECHECK_DUE)
        assert self.shown(other) is KitLineKind.CONTROL_DUE
        assert self.shown(self.later(about, instant(29.9), Said.NO)) is KitLineKind.CONTROL_DUE

    def test_lets_the_next_line_come_up(self) -> None:
        kit = replace(self.kit, low_supplies=(glucagon(29),))
        later = self.later(self.kit.meter_events[0].id, instant(29.9))
        line = kit_line(kit, SETTINGS, NOW, (later,))
        assert line is not None
        assert line.kind is KitLineKind.LOW_SUPPLY_OUT_OF_DATE
