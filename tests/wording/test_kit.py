"""What is said of the kit: every code has a name, every sentence is plain, none says too much."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from typing import Any
from uuid import UUID

import pytest

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.clock_checks import ClockReason
from logbook.domain.kit.comparison import Compared, ComparisonVerdict, Unfair, meter_bounds
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.control_due import (
    ControlReason,
    ControlStanding,
    ControlState,
    DueReason,
    FirstFailCheck,
)
from logbook.domain.kit.control_results import ControlDoubt, ControlResult
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_line import KitAction, KitLine, KitLineKind
from logbook.domain.kit.kit_questions import KitAsk, KitQuestion
from logbook.domain.kit.low_supplies import LowSupplyState
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer, SharpsCount, SharpsState
from logbook.domain.kit.strip_accounts import CountGap, VialAccount
from logbook.domain.kit.strip_stock import StockOutlook
from logbook.domain.kit.strips import ControlRange, Packing, WhyEnded
from logbook.domain.kit.supplies import ForLows, LowSupply, SupplyKind
from logbook.domain.kit.vial_life import Life, LifeState, WhyUntil
from logbook.domain.moments import Moment
from logbook.wording import kit, kit_control, kit_line, kit_terms
from tests.wording.plain_words import faults

TODAY = date(2026, 3, 31)
WRITTEN = datetime(2026, 3, 31, 8, tzinfo=UTC)
NOW = Moment.at(WRITTEN, "UTC")
ONE, OTHER = UUID(int=1), UUID(int=2)

TEXTS: list[tuple[type[Enum], Callable[[Any], str]]] = [
    (Packing, kit_terms.packing_text),
    (WhyEnded, kit_terms.why_ended_text),
    (MeterWhat, kit_terms.meter_what_text),
    (ForLows, kit_terms.for_lows_text),
    (SupplyKind, kit_terms.supply_kind_text),
    (ControlResult, kit_terms.control_result_text),
    (ControlState, kit_terms.control_state_text),
    (ControlDoubt, kit_terms.control_doubt_text),
    (FirstFailCheck, kit_terms.first_fail_check_text),
    (Unfair, kit_terms.unfair_text),
    (KitAction, kit_terms.kit_action_text),
]


@pytest.mark.parametrize(("codes", "text"), TEXTS, ids=lambda each: getattr(each, "__name__", ""))
def test_every_code_has_a_name_of_its_own(codes: type[Enum], text: Callable[[Any], str]) -> None:
    names = [text(code) for code in codes]
    assert len(set(names)) == len(names)
    for name in names:
        assert list(faults(name)) == []
        assert name[0].isupper()
        assert "_" not in name  # a code let through


# --- sentences ------------------------------------------------------------------------------------

PRINTED = Life(date(2026, 6, 30), WhyUntil.PRINTED)
OPENED = Life(date(2026, 3, 30), WhyUntil.AFTER_OPENING)
GLUCAGON = LowSupply(
    ONE,
    ForLows.GLUCAGON,
    WRITTEN,
    place="kitchen drawer",
    expires=PrintedDate(date(2026, 4, 10)),
    who_knows="Invented Anna",
)
CONTAINER = SharpsContainer(ONE, date(2026, 3, 1), WRITTEN, capacity=60)
OUTLOOK = StockOutlook(
    ONE,
    Fraction(4),
    50,
    run_out=date(2026, 4, 12),
    reserve_from=date(2026, 4, 9),
    reorder_by=date(2026, 4, 2),
)
TEST = ControlTest(ONE, NOW, WRITTEN, ONE, None, None, "1", Glucose.number(118, Unit.MG_DL), None)
RANGE = ControlRange("1", Unit.MG_DL, 104, 141)
WITHIN = Compared(ComparisonVerdict.WITHIN, Decimal("130.9"), Decimal("177.1"), Decimal(1))
KIT = KitData(
    meters=(
        Meter.usual(ONE, "bedside", Unit.MG_DL, date(2026, 1, 1)),
        Meter.usual(OTHER, "handbag", Unit.MG_DL, date(2026, 1, 1)),
    )
)


def sharps(state: SharpsState) -> SharpsCount:
    gone = replace(CONTAINER, closed_on=TODAY, handed_in_on=TODAY)
    return SharpsCount(gone, 41, 0, 41, state)


def line(kind: KitLineKind) -> KitLine:
    return KitLine(
        kind,
        ONE,
        KitAction.SHOW_WHAT_TO_DO,
        bottle=ControlBottle(ONE, "1", WRITTEN),
        left=4,
        life=OPENED,
        reason=DueReason(ControlReason.DROPPED, WRITTEN, ONE),
        supply=GLUCAGON,
        sharps=sharps(SharpsState.LOOK),
        clock=ClockReason.BATTERY_CHANGED,
        outlook=OUTLOOK,
        lancet_uses=4,
    )


SENTENCES = [
    kit.use_until_text(None, TODAY),
    kit.use_until_text(PRINTED, TODAY),
    kit.use_until_text(OPENED, TODAY),
    kit.left_text(VialAccount(50, 12, 38, 0, 0)),
    kit.left_text(VialAccount(50, 52, 0, 0, -2, beyond=2)),
    kit.gap_text(CountGap(40, 33)),
    kit.gap_text(CountGap(33, 40)),
    kit.out_of_date_reading(OPENED),
    kit.readings_out_of_date_text(1),
    kit.readings_out_of_date_text(3),
    kit.code_differs_text("17"),
    kit.keep_closed(),
    kit.strips_rubbish(),
    kit.stock_text(OUTLOOK, TODAY),
    kit.stock_text(replace(OUTLOOK, must_wait_until=TODAY, expiring=((ONE, 1),)), TODAY),
    kit.stock_text(StockOutlook(ONE, Fraction(0), 50), TODAY),
    kit.stock_text(replace(OUTLOOK, run_out=TODAY, reorder_by=TODAY), TODAY),
    kit.only_what_fits(),
    kit.reserve_text(12),
    kit.lancet_never_shared(),
    kit.lancet_reuse(),
    kit.depth_text(25),
    *[kit.sharps_text(sharps(state), TODAY) for state in SharpsState],
    *kit.sharps_labels(),
    *[kit.low_supply_text(LowSupplyState(GLUCAGON, state), TODAY) for state in LifeState],
    kit.low_supply_text(
        LowSupplyState(replace(GLUCAGON, is_there=False), LifeState.IN_DATE), TODAY
    ),
    *[kit_control.due_text((DueReason(kind, WRITTEN, ONE),)) for kind in ControlReason],
    kit_control.due_text([DueReason(ControlReason.DROPPED, WRITTEN, ONE)] * 3),
    kit_control.due_text(()),
    kit_control.no_test_on_record(),
    kit_control.no_control_solution(),
    kit_control.never_a_reading(),
    *[kit_control.standing_text(ControlStanding(s, TEST, (TEST,)), NOW) for s in ControlState],
    kit_control.next_step_text(ControlStanding(ControlState.FAILED_ONCE)),
    kit_control.next_step_text(ControlStanding(ControlState.FAILED_TWICE)),
    kit_control.next_step_text(ControlStanding(ControlState.FAILED_NEW_VIAL)),
    kit_control.control_test_text(TEST, RANGE),
    kit_control.control_test_text(TEST, None),
    kit_control.suspect_text(1),
    kit_control.suspect_text(7),
    kit_control.suspect_reading(),
    *[kit_control.clock_check_text(why) for why in ClockReason],
    *[kit_control.clock_ahead_text(minutes) for minutes in (-3, -1, 0, 1, 3)],
    kit_control.comparison_text(WITHIN, Unit.MG_DL),
    kit_control.comparison_text(
        replace(WITHIN, verdict=ComparisonVerdict.OUTSIDE, unfair=tuple(Unfair)), Unit.MG_DL
    ),
    kit_control.comparison_text(Compared(ComparisonVerdict.CAN_NOT_TELL), Unit.MG_DL),
    *kit_control.comparison_how(),
    *[kit_line.kit_line_text(line(kind), KitData(), TODAY) for kind in KitLineKind],
    *[kit_line.question_text(KitQuestion(ask, None, n)) for ask in KitAsk for n in (1, 3)],
]


@pytest.mark.parametrize("text", SENTENCES)
def test_is_plain(text: str) -> None:
    assert list(faults(text)) == []
    assert text[0].isupper() or text[0].isdigit() or text.startswith("bedside: ")
    assert text[-1] in ".?"


@pytest.mark.parametrize("text", SENTENCES)
def test_names_no_dose_and_no_verdict_on_a_container(text: str) -> None:
    assert not re.search(r"\b(\d+ units?|is full|overfull)\b", text)


class TestStrips:
    def test_a_month_is_told_as_it_is_printed(self) -> None:
        assert kit.printed_date_text(PrintedDate.from_code("2027-03")) == "March 2027"
        assert kit.printed_date_text(PrintedDate.from_code("2027-03-15")) == "March 15, 2027"

    @pytest.mark.parametrize(
        ("code", "text"),
        [
            ("3m", "3 months after opening"),
            ("1m", "1 month after opening"),
            ("90d", "90 days after opening"),
        ],
    )
    def test_months_and_days_stay_apart(self, code: str, text: str) -> None:
        assert kit.after_opening_text(AfterOpening.from_code(code)) == text
        assert kit.after_opening_text(None) == "No time after opening"

    def test_use_until_tells_which_rule_sets_it(self) -> None:
        assert kit.use_until_text(PRINTED, TODAY) == (
            "Use until June 30, 2026. That is the printed date."
        )
        assert kit.use_until_text(OPENED, TODAY) == (
            "Out of date since March 30, 2026. That is the time after opening."
        )

    def test_a_small_gap_asks_nothing(self) -> None:
        assert kit.gap_text(CountGap(40, 36)) == ""
        assert kit.gap_text(CountGap(40, 35)) == (
            "5 strips fewer than the log expects. Are there readings not written down yet?"
        )

    def test_the_stock_lasts_to_the_day_before_it_is_too_little(self) -> None:
        assert kit.stock_text(OUTLOOK, TODAY) == (
            "50 strips in date. Enough until April 11, 2026. Order by April 2, 2026."
        )


class TestSharps:
    def test_asks_to_look_and_to_close_at_three_quarters(self) -> None:
        # Closed at about three quarters: the FDA's two steps, read in a copy.
        assert kit.sharps_text(sharps(SharpsState.LOOK), TODAY) == (
            "About 41 sharps went in. Look at the fill line; at three quarters, close it."
        )

    def test_never_the_recycling(self) -> None:
        text = " ".join(kit.sharps_labels())
        assert "Never in the recycling" in text
        assert "local rules decide" in text


class TestControl:
    def test_a_test_stands_beside_its_range(self) -> None:
        assert kit_control.control_test_text(TEST, RANGE) == (
            "118 mg/dL; the range is 104 to 141 mg/dL."
        )

    def test_two_fails_stop_the_strips_and_a_third_the_meter(self) -> None:
        twice = kit_control.next_step_text(ControlStanding(ControlState.FAILED_TWICE))
        assert twice.startswith("Stop using these strips.")
        third = kit_control.next_step_text(ControlStanding(ControlState.FAILED_NEW_VIAL))
        assert third.startswith("Do not use this meter for decisions. Call its maker")
        for state in (ControlState.NO_TEST, ControlState.NOT_KNOWN, ControlState.PASSED):
            assert kit_control.next_step_text(ControlStanding(state)) == ""

    def test_one_pair_outside_is_no_verdict(self) -> None:
        outside = replace(WITHIN, verdict=ComparisonVerdict.OUTSIDE)
        assert kit_control.comparison_text(outside, Unit.MG_DL) == (
            "The meter is outside 131 to 177 mg/dL. One pair proves nothing; compare once more."
        )

    @pytest.mark.parametrize(
        ("laboratory", "bounds"), [(105, "90 to 120 mg/dL"), (99, "84 to 114 mg/dL")]
    )
    def test_bounds_are_shown_as_values_that_are_inside(self, laboratory: int, bounds: str) -> None:
        # 105 x 0.85 = 89.25: a meter that shows 89 is outside.
        lowest, highest = meter_bounds(Decimal(laboratory), Unit.MG_DL)
        result = replace(WITHIN, lowest=lowest, highest=highest)
        assert bounds in kit_control.comparison_text(result, Unit.MG_DL)

    def test_bounds_in_mmol_l_have_one_decimal(self) -> None:
        lowest, highest = meter_bounds(Decimal("6.0"), Unit.MMOL_L)
        result = replace(WITHIN, lowest=lowest, highest=highest)
        assert "5.1 to 6.9 mmol/L" in kit_control.comparison_text(result, Unit.MMOL_L)


def test_the_meter_is_named_where_there_are_several() -> None:
    named = replace(line(KitLineKind.CONTROL_DUE), meter_id=OTHER)
    assert kit_line.kit_line_text(named, KIT, TODAY) == (
        "handbag: Control test due: the meter was dropped."
    )
    alone = replace(KIT, meters=KIT.meters[1:])
    assert kit_line.kit_line_text(named, alone, TODAY) == (
        "Control test due: the meter was dropped."
    )
