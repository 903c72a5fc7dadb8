"""What is said of control tests, of the meter's clock, and of a comparison with the laboratory."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from logbook.domain.glucose import Unit
from logbook.domain.kit.clock_checks import ClockReason
from logbook.domain.kit.comparison import Compared, ComparisonVerdict
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.control_due import (
    ControlReason,
    ControlStanding,
    ControlState,
    DueReason,
)
from logbook.domain.kit.meter_care import MeterEvent
from logbook.domain.kit.strips import ControlRange
from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import moment_text
from logbook.wording.kit_terms import meter_what_text, unfair_text
from logbook.wording.numbers import glucose_text, number_text, range_text
from logbook.wording.travel import meter_elsewhere_text

_DUE = {
    ControlReason.NEW_VIAL: mark("Control test due: a new strip pot (vial) was opened."),
    ControlReason.NEW_METER: mark("Control test due: the meter is new."),
    ControlReason.DROPPED: mark("Control test due: the meter was dropped."),
    ControlReason.DAMAGED: mark("Control test due: the meter was damaged."),
    ControlReason.BATTERY: mark("Control test due: the battery was changed."),
    ControlReason.NOT_BELIEVED: mark("Control test due: a result was not believed."),
    ControlReason.INTERVAL: mark("Control test due: the usual time between tests is over."),
}


def due_text(reasons: Sequence[DueReason]) -> str:
    """That a control test is due and why; the newest reason is told, the others are counted."""
    if not reasons:
        return _("No control test is due.")
    text = _(_DUE[reasons[0].kind])
    others = len(reasons) - 1
    if others:
        text += " " + ngettext(
            "{n} more reason besides.", "{n} more reasons besides.", others
        ).format(n=number_text(others))
    return text


def no_test_on_record() -> str:
    """Where no control test was ever written down."""
    return _("No control test on record.")


def no_control_solution() -> str:
    """For whoever has none."""
    return _("You have no control solution. Ask your provider how your meter is checked.")


def never_a_reading() -> str:
    """On the page of a control test."""
    return _("A control test is never a reading and is in no figure.")


def control_how() -> str:
    """How a control test is made."""
    return _("Shake the bottle. Wipe the first drop away, and use the second.")


def standing_text(
    standing: ControlStanding, now: Moment, day_starts_at: time = DAY_STARTS_AT
) -> str:
    """How strips and meter stand, in one or two sentences."""
    match standing.state:
        case ControlState.NO_TEST:
            return no_test_on_record()
        case ControlState.NOT_KNOWN:
            return _("Control tests are on record, but none has a range or a bottle in date.")
        case ControlState.PASSED:
            if standing.last_pass is None:
                return no_test_on_record()
            return _("Strips and meter worked {when}.").format(
                when=moment_text(standing.last_pass.at, now, day_starts_at)
            )
        case ControlState.FAILED_ONCE:
            return _("The control test failed once.")
        case ControlState.FAILED_TWICE:
            return _("Two control tests in a row failed. Strips and meter don't agree.")
        case ControlState.FAILED_NEW_VIAL:
            return _("The control test failed with a new strip pot (vial) too.")


def next_step_text(standing: ControlStanding) -> str:
    """What follows from failed tests; empty when nothing does."""
    match standing.state:
        case ControlState.FAILED_ONCE:
            return _("Go through the list, then test once more.")
        case ControlState.FAILED_TWICE:
            return _("Stop using these strips. Open a new strip pot (vial) and test again.")
        case ControlState.FAILED_NEW_VIAL:
            return stop_meter()
        case ControlState.NO_TEST | ControlState.NOT_KNOWN | ControlState.PASSED:
            return ""


def stop_meter() -> str:
    """For a meter that is not to be relied on."""
    return _(
        "Do not use this meter for decisions. Call its maker; the number is on the back. "
        "Ask your provider how to check until then."
    )


def control_test_text(test: ControlTest, known: ControlRange | None) -> str:
    """What one test showed beside its range: "118 mg/dL; the range is 104 to 141 mg/dL."."""
    value = glucose_text(test.glucose)
    if known is None:
        return _("{value}; no range on record for level {level}.").format(
            value=value, level=test.level
        )
    return _("{value}; the range is {range}.").format(
        value=value, range=range_text(known.lowest, known.highest, known.unit)
    )


def suspect_text(count: int) -> str:
    """On screen and paper: readings between the last pass and two fails running."""
    return ngettext(
        "{n} reading lies between the last passed control test and the failed ones. "
        "It may be wrong.",
        "{n} readings lie between the last passed control test and the failed ones. "
        "They may be wrong.",
        count,
    ).format(n=number_text(count))


def suspect_reading() -> str:
    """Beside one such reading."""
    return _("Two control tests failed after this reading. The number may be wrong.")


# --- clock ----------------------------------------------------------------------------------------


def clock_check_text(why: ClockReason) -> str:
    """Why to look at the meter's clock."""
    if why is ClockReason.CLOCKS_CHANGED:
        return _("The clocks changed. Does the meter show the right time and date?")
    if why is ClockReason.OTHER_PLACE:
        return meter_elsewhere_text()
    return _("The battery was changed. Does the meter show the right time and date?")


def clock_ahead_text(minutes: int) -> str:
    """How far the meter's clock is off, in minutes."""
    if not minutes:
        return _("The meter's clock is right.")
    if minutes > 0:
        return ngettext(
            "The meter's clock is {n} minute ahead.",
            "The meter's clock is {n} minutes ahead.",
            minutes,
        ).format(n=number_text(minutes))
    return ngettext(
        "The meter's clock is {n} minute behind.",
        "The meter's clock is {n} minutes behind.",
        -minutes,
    ).format(n=number_text(-minutes))


def clock_checked_text(check: MeterEvent, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """What the last look at the meter's clock showed, and when that was."""
    when = moment_text(check.at, now, day_starts_at)
    return _("{state} Checked {when}.").format(
        state=clock_ahead_text(check.clock_ahead_minutes or 0), when=when
    )


def meter_event_text(event: MeterEvent, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """What happened to a meter, and when: "Dropped: November 3 at 9:10 AM."."""
    return _("{what}: {when}.").format(
        what=meter_what_text(event.what), when=moment_text(event.at, now, day_starts_at)
    )


# --- laboratory -----------------------------------------------------------------------------------


def comparison_text(result: Compared, unit: Unit) -> str:
    """What a comparison with the laboratory shows: a prompt to repeat, never a verdict."""
    if result.lowest is None or result.highest is None:
        return _("These two cannot be compared: both must be numbers in one unit.")
    bounds = _("{lowest} to {highest} {unit}").format(
        lowest=_shown(result.lowest, unit, ROUND_CEILING),
        highest=_shown(result.highest, unit, ROUND_FLOOR),
        unit=unit.value,
    )
    if result.verdict is ComparisonVerdict.WITHIN:
        text = _("Meter and laboratory agree: {bounds} is allowed.").format(bounds=bounds)
    else:
        text = _(
            "The meter is outside {bounds}. One pair proves nothing; compare once more."
        ).format(bounds=bounds)
    if result.unfair:
        reasons = " ".join(unfair_text(one) + "." for one in result.unfair)
        text += " " + _("Not a fair comparison. {reasons}").format(reasons=reasons)
    return text


def comparison_how() -> list[str]:
    """How to compare."""
    return [
        _("Test your finger within 15 minutes of the blood sample, 4 hours or more after food."),
        _("Wash your hands, and make a control test first. Compare with the laboratory only."),
    ]


def _shown(bound: Decimal, unit: Unit, inwards: str) -> str:
    # Both ends inwards, so that what is named as allowed is allowed.
    shown = bound.quantize(Decimal(1).scaleb(-unit.decimals), inwards)
    return number_text(shown, unit.decimals)
