"""Everything that a log holds, for whoever writes it into another format."""

from __future__ import annotations

from dataclasses import dataclass, field

from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.laboratory import LabA1C
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import Target
from logbook.domain.ticks import Tick
from logbook.domain.visits import Appointment, Contact, Medicine, Question


@dataclass(frozen=True, slots=True)
class WholeLog:
    """All records of a log, each kind in the order of time; crossed-out and done ones included.

    Readings that are damaged come marked as such. `kit.strip_uses` is derived from the rest and
    holds only what the kit needs.
    """

    settings: LogSettings
    readings: tuple[Reading, ...] = ()
    happenings: tuple[Happening, ...] = ()
    answers: tuple[Answer, ...] = ()
    spells: tuple[Spell, ...] = ()
    targets: tuple[Target, ...] = ()
    ticks: tuple[Tick, ...] = ()
    medicines: tuple[Medicine, ...] = ()
    medicine_notes: tuple[MedicineNote, ...] = ()
    plans: tuple[CheckPlan, ...] = ()
    pauses: tuple[Pause, ...] = ()
    put_asides: tuple[PutAside, ...] = ()
    meal_starts: tuple[MealStart, ...] = ()
    appointments: tuple[Appointment, ...] = ()
    questions: tuple[Question, ...] = ()
    contacts: tuple[Contact, ...] = ()
    a1cs: tuple[LabA1C, ...] = ()
    meter_averages: tuple[MeterAverage, ...] = ()
    kit: KitData = field(default_factory=KitData)
