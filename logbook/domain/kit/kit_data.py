"""Everything the log knows of the kit, gathered in one object by the Book."""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import LabComparison, MeterEvent
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import StripCount, StripUse, Vial
from logbook.domain.kit.supplies import LowSupply, Supply


@dataclass(frozen=True, slots=True)
class KitData:
    """All records of the kit, each in the order of time; crossed-out ones included.

    `strip_uses` are all strips used since the first vial still in use was opened, and those of the
    last 28 days at least, in order of time.
    """

    meters: tuple[Meter, ...] = ()
    vials: tuple[Vial, ...] = ()
    strip_counts: tuple[StripCount, ...] = ()
    strip_uses: tuple[StripUse, ...] = ()
    bottles: tuple[ControlBottle, ...] = ()
    control_tests: tuple[ControlTest, ...] = ()
    meter_events: tuple[MeterEvent, ...] = ()
    lab_comparisons: tuple[LabComparison, ...] = ()
    lancet_changes: tuple[LancetChange, ...] = ()
    puncture_notes: tuple[PunctureNote, ...] = ()
    sharps_containers: tuple[SharpsContainer, ...] = ()
    low_supplies: tuple[LowSupply, ...] = ()
    supplies: tuple[Supply, ...] = ()
