"""What a Book can be asked: readings and all other records, as they are now.

The questions alone; opening, writing and keeping safe are in `book`.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from uuid import UUID

from logbook.domain.answers import Answer
from logbook.domain.happenings import Happening
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import StripUse
from logbook.domain.laboratory import LabA1C
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.readings import Reading
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.domain.whole_log import WholeLog
from logbook.store.listing import Listing
from logbook.store.log_store import LogStore


class AskedBook:
    """The asking side of a Book. Every answer is read from the log and verified."""

    def __init__(self, store: LogStore) -> None:
        self._store = store
        self._ask_anew()

    def _ask_anew(self) -> None:
        """Another log has come into the place of this one."""
        self._listing = Listing(self._store.engine, self._store.kept)

    @property
    def path(self) -> Path:
        """Where the log lies."""
        return self._store.path

    @property
    def is_read_only(self) -> bool:
        """Whether it was opened only to read."""
        return self._store.is_read_only

    @property
    def settings(self) -> LogSettings:
        """The log's settings."""
        return self._listing.settings()

    def readings(
        self,
        period: Period | None = None,
        *,
        newest_first: bool = False,
        limit: int | None = None,
        older_than: Moment | None = None,
    ) -> list[Reading]:
        """Whole readings of the person's days in `period`, oldest first unless said otherwise.

        For lists and grids, a screenful at a time. A damaged record comes with `is_damaged` set.
        """
        return self._listing.readings(
            period, newest_first=newest_first, limit=limit, older_than=older_than
        )

    def with_circumstances(self, period: Period) -> list[Reading]:
        """Whole readings of `period` with feelings, or with something different noted."""
        return self._listing.with_circumstances(period)

    def reading(self, reading_id: UUID) -> Reading:
        """One reading. Raises `NoSuchRecord`."""
        return self._listing.reading(reading_id)

    def has_records(self, ids: Iterable[UUID]) -> set[UUID]:
        """Which of `ids` are readings in the log."""
        return self._listing.present(ids)

    def series(self, period: Period | None = None) -> Series:
        """All readings of `period` (or of the whole log) in columns, for figures and pictures."""
        return self._listing.series(period)

    def span(self) -> tuple[date, date] | None:
        """The person's first and last day with a reading, or None for an empty log."""
        return self._listing.span()

    def happenings(self, period: Period | None = None) -> list[Happening]:
        """What happened without a number, oldest first."""
        return self._listing.happenings(period)

    def answers(self, about: Iterable[UUID] | None = None) -> list[Answer]:
        """Answers given, all or those about some records, oldest first."""
        return self._listing.answers(about)

    def targets(self) -> TargetBook:
        """Every target the person ever had."""
        return self._listing.targets()

    def meters(self) -> list[Meter]:
        """The meters, in order of first use."""
        return self._listing.meters()

    def lancet_changes(self, period: Period | None = None) -> list[LancetChange]:
        """When lancets were changed, oldest first."""
        return self._listing.lancet_changes(period)

    def puncture_notes(self) -> list[PunctureNote]:
        """How punctures went (depth, blood, pain), oldest first."""
        return self._listing.puncture_notes()

    def spells(self) -> list[Spell]:
        """Stretches that were not ordinary, in order of their first day."""
        return self._listing.spells()

    def appointments(self) -> list[Appointment]:
        """Appointments, in order of day."""
        return self._listing.appointments()

    def questions(self, *, open_only: bool = True) -> list[Question]:
        """Questions for the provider, in the order in which they were written."""
        return self._listing.questions(open_only=open_only)

    def medicines(self) -> list[Medicine]:
        """Medicines as written, in order of their first day."""
        return self._listing.medicines()

    def contacts(self) -> list[Contact]:
        """People to phone."""
        return self._listing.contacts()

    def kit(self) -> KitData:
        """Meters, strips, control tests and all else of the kit, each in order of time."""
        return self._listing.kit()

    def strip_uses(self, since: datetime, until: datetime) -> list[StripUse]:
        """Strips used from the instant `since` on and before `until`, oldest first."""
        return self._listing.strip_uses(since, until)

    def plans(self) -> list[CheckPlan]:
        """Plans of checks, in the order in which they hold."""
        return self._listing.plans()

    def pauses(self) -> list[Pause]:
        """Stretches in which nothing is asked, in order of their first day."""
        return self._listing.pauses()

    def put_asides(self) -> list[PutAside]:
        """Planned checks that were put aside, in order of day."""
        return self._listing.put_asides()

    def meal_starts(self, period: Period | None = None) -> list[MealStart]:
        """First bites of meals, oldest first."""
        return self._listing.meal_starts(period)

    def plan_facts(self, meals: Period | None = None) -> PlanFacts:
        """All that says which checks are asked; `meals` are the days whose first bites matter."""
        return PlanFacts(
            plans=tuple(self.plans()),
            pauses=tuple(self.pauses()),
            put_asides=tuple(self.put_asides()),
            spells=tuple(self.spells()),
            appointments=tuple(self.appointments()),
            meal_starts=tuple(self.meal_starts(meals)),
        )

    def ticks(self) -> TickBook:
        """What was told about medicines and health, asked as of a day."""
        return self._listing.ticks()

    def a1cs(self) -> list[LabA1C]:
        """Laboratory A1C values, in the order in which blood was drawn."""
        return self._listing.a1cs()

    def meter_averages(self) -> list[MeterAverage]:
        """Averages that meters showed, oldest first."""
        return self._listing.meter_averages()

    def medicine_notes(self, period: Period | None = None) -> list[MedicineNote]:
        """Medicine that was not taken as planned, oldest first."""
        return self._listing.medicine_notes(period)

    def visit_data(self, period: Period, made_at: Moment) -> VisitData:
        """Everything a visit report over `period` is made from."""
        # What a report alone needs: a start does not wait for it.
        from logbook.store.visit import gather_visit

        return gather_visit(self._store.engine, self._listing, period, made_at)

    def whole_log(self) -> WholeLog:
        """Every record of the log, for another format."""
        from logbook.store.whole_log import gather_whole_log

        return gather_whole_log(self._listing)
