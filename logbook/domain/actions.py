"""What a person did to the log, so that it can be named, taken back and put back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from logbook.domain.answers import Answer
from logbook.domain.disagreements import Disagreement
from logbook.domain.happenings import Happening
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import StripCount, Vial
from logbook.domain.kit.supplies import LowSupply, Supply
from logbook.domain.laboratory import LabA1C
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import Target
from logbook.domain.ticks import Tick
from logbook.domain.visits import Appointment, Contact, Medicine, Question

Record = (
    Reading
    | Happening
    | Answer
    | Target
    | Meter
    | LancetChange
    | Spell
    | Appointment
    | Question
    | Medicine
    | Contact
    | Tick
    | LabA1C
    | MeterAverage
    | Vial
    | StripCount
    | ControlBottle
    | ControlTest
    | MeterEvent
    | LabComparison
    | PunctureNote
    | SharpsContainer
    | LowSupply
    | Supply
    | CheckPlan
    | Pause
    | PutAside
    | MealStart
    | MedicineNote
    | Disagreement
)


class Action(StrEnum):
    """What was done to the log."""

    ADD = "add"
    CORRECT = "correct"
    CROSS_OUT = "cross_out"
    BRING_BACK = "bring_back"
    DOUBT = "doubt"
    REPLACE = "replace"
    SETTINGS = "settings"
    IMPORT = "import"
    MERGE = "merge"
    UNDO = "undo"
    PUT_BACK = "put_back"
    ERASE = "erase"
    GO_BACK = "go_back"
    """The whole log was replaced by a copy of it; it is no change of the log itself."""


@dataclass(frozen=True, slots=True)
class Done:
    """One action, for the sentence on the Undo button.

    `record` is the record it was about (for an import the first one), `earlier` what that record
    said before, `count` how many records it touched, `name` the name of the file of an import or a
    merge. Either record is None where there was none. `of` is the action that an undo took back or
    a put back put back.
    """

    action: Action
    sequence: int
    at: datetime
    record: Record | LogSettings | None
    earlier: Record | LogSettings | None
    count: int
    name: str = ""
    of: Done | None = None


@dataclass(frozen=True, slots=True)
class Changed:
    """What a listener is told: the action and the types of record it touched."""

    done: Done
    kinds: frozenset[type]
