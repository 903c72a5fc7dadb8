"""What a control test showed: inside the range printed on the vial or not, and what questions it.

When one is due and what follows from a failed one is in `control_due`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from uuid import UUID

from logbook.domain.glucose import Unit
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import meter_used
from logbook.domain.kit.strip_opening import same_text
from logbook.domain.kit.strips import ControlRange, Vial
from logbook.domain.kit.vial_life import VialShelf, is_out_of_date, vial_for
from logbook.domain.settings import LogSettings

# Control tests are made at 20 to 25 degrees Celsius (leaflets, read in copies). In tenths.
LEAST_TEMPERATURE_TENTHS = 200
MOST_TEMPERATURE_TENTHS = 250


class ControlResult(StrEnum):
    """Passed, failed, or not known because no range is on record."""

    PASS = "pass"  # noqa: S105  (a result, not a password)
    FAIL = "fail"
    NOT_KNOWN = "not_known"


class ControlDoubt(StrEnum):
    """What speaks against a test, whatever it showed."""

    BOTTLE_OUT_OF_DATE = "bottle_out_of_date"
    STRIPS_OUT_OF_DATE = "strips_out_of_date"
    TOO_COLD = "too_cold"
    TOO_WARM = "too_warm"


def range_of(vial: Vial | None, level: str, unit: Unit) -> ControlRange | None:
    """The range printed on a vial for a level of solution, in that very unit; None for none.

    A range in the other unit is not converted: vials print both, rounded.
    """
    if vial is None:
        return None
    return next((r for r in vial.ranges if r.unit is unit and same_text(r.level, level)), None)


def with_range(vial: Vial, control_range: ControlRange) -> Vial:
    """The vial with that range in place of an earlier one for the same level and unit."""
    before = range_of(vial, control_range.level, control_range.unit)
    kept = tuple(one for one in vial.ranges if one is not before)
    return replace(vial, ranges=(*kept, control_range))


def vial_tested(test: ControlTest, kit: KitData) -> Vial | None:
    """The vial a test was made with: the one it names, else the one in use in its meter then."""
    if test.vial_id is not None:
        return next((vial for vial in kit.vials if vial.id == test.vial_id), None)
    return vial_for(test.meter_id, test.at.instant, kit.vials, kit.meters)


def result_of(test: ControlTest, kit: KitData) -> ControlResult:
    """Pass or fail against the range of that vial, its ends included; LO and HI are outside."""
    return _result(test, vial_tested(test, kit))


def position_of(test: ControlTest, kit: KitData) -> float | None:
    """Where it lies in the range: 0 at its lowest, 1 at its highest value, beyond them outside.

    None without a range, or for LO and HI.
    """
    known = range_of(vial_tested(test, kit), test.level, test.glucose.unit)
    if known is None or test.glucose.steps is None or known.highest <= known.lowest:
        return None
    return (test.glucose.steps - known.lowest) / (known.highest - known.lowest)


def bottle_of(test: ControlTest, kit: KitData) -> ControlBottle | None:
    """The bottle a test was made with, where it was noted."""
    return next((bottle for bottle in kit.bottles if bottle.id == test.bottle_id), None)


def doubts_of(test: ControlTest, kit: KitData, settings: LogSettings) -> tuple[ControlDoubt, ...]:
    """What speaks against a test: bottle or strips past their last day, or not 20 to 25 C."""
    return _doubts(test, vial_tested(test, kit), bottle_of(test, kit), settings)


@dataclass(frozen=True, slots=True)
class JudgedTest:
    """A control test, its vial, and the result as far as it decides anything.

    With an out-of-date bottle that is not known, whatever the meter showed.
    """

    test: ControlTest
    vial: Vial | None
    result: ControlResult


def judged_tests(
    meter_id: UUID | None, kit: KitData, settings: LogSettings
) -> tuple[JudgedTest, ...]:
    """The control tests of one meter that were not crossed out, judged, in order of time."""
    shelf = VialShelf(kit.vials, kit.meters)
    vials = {vial.id: vial for vial in kit.vials}
    bottles = {bottle.id: bottle for bottle in kit.bottles}
    found = []
    for test in sorted(kit.control_tests, key=lambda test: test.at.instant):
        instant = test.at.instant
        if not test.counts or meter_used(test.meter_id, instant, kit.meters) != meter_id:
            continue
        named = test.vial_id
        vial = shelf.find(test.meter_id, instant) if named is None else vials.get(named)
        bottle = None if test.bottle_id is None else bottles.get(test.bottle_id)
        doubts = _doubts(test, vial, bottle, settings)
        is_undecided = ControlDoubt.BOTTLE_OUT_OF_DATE in doubts
        result = ControlResult.NOT_KNOWN if is_undecided else _result(test, vial)
        found.append(JudgedTest(test, vial, result))
    return tuple(found)


def _result(test: ControlTest, vial: Vial | None) -> ControlResult:
    known = range_of(vial, test.level, test.glucose.unit)
    if known is None:
        return ControlResult.NOT_KNOWN
    is_inside = known.lowest <= test.glucose.order_steps <= known.highest
    return ControlResult.PASS if is_inside else ControlResult.FAIL


def _doubts(
    test: ControlTest, vial: Vial | None, bottle: ControlBottle | None, settings: LogSettings
) -> tuple[ControlDoubt, ...]:
    day = test.at.day(settings.day_starts_at)
    warmth = test.temperature_tenths
    said = {
        ControlDoubt.BOTTLE_OUT_OF_DATE: bottle is not None and is_out_of_date(bottle, day),
        ControlDoubt.STRIPS_OUT_OF_DATE: vial is not None and is_out_of_date(vial, day),
        ControlDoubt.TOO_COLD: warmth is not None and warmth < LEAST_TEMPERATURE_TENTHS,
        ControlDoubt.TOO_WARM: warmth is not None and warmth > MOST_TEMPERATURE_TENTHS,
    }
    return tuple(doubt for doubt, holds in said.items() if holds)
