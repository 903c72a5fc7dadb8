"""Everything a visit report is made from, gathered in one object by the Book.

The report draws from this alone, so it needs neither the store nor the Book.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.kit.meters import Meter
from logbook.domain.laboratory import LabA1C
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.readings import Reading
from logbook.domain.series import EMPTY_SERIES, Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook
from logbook.domain.travel import Elsewhere
from logbook.domain.visits import Appointment, Contact, Medicine, Question


@dataclass(frozen=True, slots=True)
class VisitData:
    """The log's content for one period.

    `series` holds every reading of the period, `before` those of the period of equal length just
    before it. `noted` are the whole readings that carry a note, a correction, a crossing out or a
    doubt, oldest first. `made_at` is when the report is made.

    `reach` and `reach_happenings` go as far back as the rules of findings and calls look
    (`visit_review.reach_of`). `with_circumstances` are the readings of that reach with feelings or
    with something that was different, `kit_readings` those of the days on which strips or control
    tests can put a reading in question (`kit.suspects`), `average_readings` those of the days of
    the latest average read off a meter. `elsewhere` are runs of readings of the period that were
    made by another clock than the one at home, `helped` those that someone else wrote down.

    `answers` are those about readings and happenings of the period, and all about spells and ticks.
    `meal_starts` and `medicine_notes` are of the period; ticks, A1C values, averages of meters,
    appointments, plans, pauses and what was put aside are all there are. `kit.strip_uses` cover the
    period too.
    """

    period: Period
    settings: LogSettings
    series: Series
    before: Series
    noted: tuple[Reading, ...]
    happenings: tuple[Happening, ...]
    answers: tuple[Answer, ...]
    targets: TargetBook
    meters: tuple[Meter, ...]
    lancet_changes: tuple[LancetChange, ...]
    spells: tuple[Spell, ...]
    medicines: tuple[Medicine, ...]
    questions: tuple[Question, ...]
    last_appointment: Appointment | None
    next_appointment: Appointment | None
    sites: tuple[tuple[date, str], ...]
    made_at: Moment
    ticks: TickBook = field(default_factory=TickBook)
    a1cs: tuple[LabA1C, ...] = ()
    meter_averages: tuple[MeterAverage, ...] = ()
    kit: KitData = field(default_factory=KitData)
    plans: tuple[CheckPlan, ...] = ()
    pauses: tuple[Pause, ...] = ()
    put_asides: tuple[PutAside, ...] = ()
    appointments: tuple[Appointment, ...] = ()
    meal_starts: tuple[MealStart, ...] = ()
    medicine_notes: tuple[MedicineNote, ...] = ()
    contacts: tuple[Contact, ...] = ()
    reach: Series = EMPTY_SERIES
    reach_happenings: tuple[Happening, ...] = ()
    with_circumstances: tuple[Reading, ...] = ()
    kit_readings: tuple[Reading, ...] = ()
    average_readings: tuple[Reading, ...] = ()
    elsewhere: tuple[Elsewhere, ...] = ()
    helped: tuple[Reading, ...] = ()
