"""What the codes of the kit are called, on buttons and in tables."""

from __future__ import annotations

from logbook.domain.kit.comparison import Unfair
from logbook.domain.kit.control_due import ControlState, FirstFailCheck
from logbook.domain.kit.control_results import ControlDoubt, ControlResult
from logbook.domain.kit.kit_line import KitAction
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.strips import Packing, WhyEnded
from logbook.domain.kit.supplies import ForLows, SupplyKind
from logbook.wording import _, mark

_PACKING = {
    Packing.VIAL: mark("Strip pot (vial)"),
    Packing.SINGLES: mark("Strips in foil, one by one"),
    Packing.DRUM: mark("Drum of strips"),
}
_WHY_ENDED = {
    WhyEnded.EMPTY: mark("It was empty"),
    WhyEnded.OUT_OF_DATE: mark("It was out of date"),
    WhyEnded.DAMAGED: mark("It was damaged or damp"),
    WhyEnded.FAILED_CONTROL: mark("The control test failed"),
    WhyEnded.LOST: mark("It was lost"),
}
_METER_WHAT = {
    MeterWhat.FIRST_USED: mark("First used"),
    MeterWhat.DROPPED: mark("Dropped"),
    MeterWhat.DAMAGED: mark("Damaged"),
    MeterWhat.BATTERY_CHANGED: mark("Battery changed"),
    MeterWhat.NOT_BELIEVED: mark("Result not believed"),
    MeterWhat.CLEANED: mark("Cleaned"),
    MeterWhat.CLOCK_CHECKED: mark("Clock checked"),
    MeterWhat.NOT_FOR_DECISIONS: mark("Not to be used for decisions"),
    MeterWhat.FIT_AGAIN: mark("Fit for use again"),
}
_FOR_LOWS = {
    ForLows.GLUCOSE_TABLETS: mark("Glucose tablets"),
    ForLows.GLUCAGON: mark("Glucagon"),
    ForLows.KETONE_STRIPS: mark("Ketone strips"),
    ForLows.OTHER: mark("Something else for lows"),
}
_SUPPLY = {
    SupplyKind.STRIPS: mark("Test strips"),
    SupplyKind.LANCETS: mark("Lancets"),
    SupplyKind.CONTROL_SOLUTION: mark("Control solution"),
    SupplyKind.BATTERIES: mark("Batteries"),
    SupplyKind.PEN_NEEDLES: mark("Pen needles"),
    SupplyKind.SHARPS_CONTAINER: mark("Sharps container"),
    SupplyKind.OTHER: mark("Other supplies"),
}
_CONTROL_RESULT = {
    ControlResult.PASS: mark("Strips and meter work"),
    ControlResult.FAIL: mark("Strips and meter don't agree"),
    ControlResult.NOT_KNOWN: mark("Not known: no range on record"),
}
_CONTROL_STATE = {
    ControlState.NO_TEST: mark("No control test on record"),
    ControlState.NOT_KNOWN: mark("No control test that tells"),
    ControlState.PASSED: mark("Control test passed"),
    ControlState.FAILED_ONCE: mark("Control test failed once"),
    ControlState.FAILED_TWICE: mark("Control test failed twice"),
    ControlState.FAILED_NEW_VIAL: mark("Control test failed with a new pot too"),
}
_CONTROL_DOUBT = {
    ControlDoubt.BOTTLE_OUT_OF_DATE: mark("The control solution was out of date"),
    ControlDoubt.STRIPS_OUT_OF_DATE: mark("The strips were out of date"),
    ControlDoubt.TOO_COLD: mark("It was colder than 20 °C (68 °F)"),
    ControlDoubt.TOO_WARM: mark("It was warmer than 25 °C (77 °F)"),
}
_FIRST_FAIL_CHECK = {
    FirstFailCheck.BOTTLE_IN_DATE: mark("Is the control solution in date?"),
    FirstFailCheck.SHAKEN: mark("Was the bottle shaken first?"),
    FirstFailCheck.FIRST_DROP_WIPED: mark("Was the first drop wiped away?"),
    FirstFailCheck.RIGHT_LEVEL: mark("Is the level on the bottle the one you chose?"),
    FirstFailCheck.WARM_ENOUGH: mark("Is the room at 20 to 25 °C (68 to 77 °F)?"),
}
_UNFAIR = {
    Unfair.TOO_FAR_APART: mark("Taken more than 15 minutes apart"),
    Unfair.MINUTES_NOT_KNOWN: mark("Minutes apart not noted"),
    Unfair.NOT_FASTING: mark("Less than 4 hours after food"),
    Unfair.FASTING_NOT_KNOWN: mark("Time since food not noted"),
}
_ACTION = {
    KitAction.SHOW_WHAT_TO_DO: mark("What to do"),
    KitAction.OPEN_NEXT: mark("Open the next one (same as last)"),
    KitAction.COUNT_AGAIN: mark("Count again"),
    KitAction.CONTROL_TEST: mark("Control test"),
    KitAction.NEW_BOTTLE: mark("Open a new bottle"),
    KitAction.NEW_LANCET: mark("New lancet"),
    KitAction.CLOSE_CONTAINER: mark("Closed it"),
    KitAction.CHECK_CLOCK: mark("Check the clock"),
    KitAction.SHOW_FOR_LOWS: mark("Show things for lows"),
    KitAction.SHOW_REFILL: mark("Refill list"),
}


def packing_text(packing: Packing) -> str:
    """How strips come."""
    return _(_PACKING[packing])


def why_ended_text(why: WhyEnded) -> str:
    """Why a strip pot is no longer in use."""
    return _(_WHY_ENDED[why])


def meter_what_text(what: MeterWhat) -> str:
    """What happened to a meter."""
    return _(_METER_WHAT[what])


def for_lows_text(kind: ForLows) -> str:
    """A thing kept for lows."""
    return _(_FOR_LOWS[kind])


def supply_kind_text(kind: SupplyKind) -> str:
    """A kind of supply."""
    return _(_SUPPLY[kind])


def control_result_text(result: ControlResult) -> str:
    """What a control test showed."""
    return _(_CONTROL_RESULT[result])


def control_state_text(state: ControlState) -> str:
    """How strips and meter stand by their control tests."""
    return _(_CONTROL_STATE[state])


def control_doubt_text(doubt: ControlDoubt) -> str:
    """What speaks against a control test."""
    return _(_CONTROL_DOUBT[doubt])


def first_fail_check_text(check: FirstFailCheck) -> str:
    """One question of the list after a first fail."""
    return _(_FIRST_FAIL_CHECK[check])


def unfair_text(unfair: Unfair) -> str:
    """What makes a comparison with the laboratory unfair."""
    return _(_UNFAIR[unfair])


def kit_action_text(action: KitAction) -> str:
    """The button that settles a line of the kit."""
    return _(_ACTION[action])
