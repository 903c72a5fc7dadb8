"""What records of the kit, the plan and health are called on Undo and Put back, in a few words."""

from __future__ import annotations

from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import Packing, StripCount, Vial
from logbook.domain.kit.supplies import LowSupply, Supply
from logbook.domain.laboratory import LabA1C
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.ticks import Tick
from logbook.wording import _, mark
from logbook.wording.dates import short_day_text

_LONGEST_LOT = 20

_PACKING = {
    Packing.VIAL: mark("strip pot"),
    Packing.SINGLES: mark("pack of single strips"),
    Packing.DRUM: mark("strip drum"),
}

_TIMED: dict[type, str] = {
    StripCount: mark("count of strips"),
    ControlTest: mark("control test"),
    MeterEvent: mark("entry about the meter"),
    LabComparison: mark("comparison with the laboratory"),
    MeterAverage: mark("meter's average"),
    MealStart: mark("first bite"),
    MedicineNote: mark("medicine note"),
}

_OTHER: dict[type, str] = {
    ControlBottle: mark("control solution"),
    PunctureNote: mark("how the puncture went"),
    SharpsContainer: mark("sharps container"),
    LowSupply: mark("thing for a low"),
    Supply: mark("supply"),
    PutAside: mark("check put aside"),
    Tick: mark("answer about medicines and health"),
}


def timed_record(record: object) -> tuple[str, Moment] | None:
    """The words and the moment of a record that has one; None for any other."""
    words = _TIMED.get(type(record))
    at = getattr(record, "at", None)
    return None if words is None or not isinstance(at, Moment) else (_(words), at)


def kit_record_text(record: object) -> str | None:
    """A few words for a record of the kit, the plan or health; None for any other."""
    match record:
        case Vial():
            return _opening(record) if record.is_in_use else _vial(record)
        case CheckPlan():
            return _("check plan from {day}").format(day=short_day_text(record.holds_from))
        case Pause():
            return _("pause from {day}").format(day=short_day_text(record.first))
        case LabA1C():
            return _("A1C of {day}").format(day=short_day_text(record.drawn_on))
        case _:
            words = _OTHER.get(type(record))
            return None if words is None else _(words)


def step_text(earlier: object, later: object) -> str | None:
    """What became of a thing, where that has a name of its own; None for any other change."""
    if isinstance(earlier, Vial) and isinstance(later, Vial):
        if earlier.opened_at is None and later.opened_at is not None:
            return _opening(later)
        if earlier.ended_at is None and later.ended_at is not None:
            return _("end of {thing}").format(thing=_vial(later))
    return None


def _vial(vial: Vial) -> str:
    packing = _(_PACKING[vial.packing])
    if not vial.lot:
        return packing
    return _("{packing} lot {lot}").format(packing=packing, lot=vial.lot[:_LONGEST_LOT])


def _opening(vial: Vial) -> str:
    return _("opening of {thing}").format(thing=_vial(vial))
