"""What the Book can be asked: every list in the order in which a person would read it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time
from typing import Any
from uuid import UUID

from sqlalchemy import Engine, or_

from logbook.domain.answers import Answer
from logbook.domain.bringing_in import SideBySide
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
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PutAside
from logbook.domain.readings import Reading
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import Target, TargetBook
from logbook.domain.ticks import TickBook
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.store import records
from logbook.store.columns import read_series
from logbook.store.kept_records import KeptRecords
from logbook.store.kit_listing import read_kit, read_strip_uses
from logbook.store.merging import open_disagreements
from logbook.store.pages import Query
from logbook.store.pages import readings as readings_table
from logbook.store.readings import find_present, read_reading, read_readings
from logbook.store.small_records import read_records, read_settings
from logbook.store.types import microseconds

# How many times more readings are looked at when all so far were damaged.
_MORE = 8
# The columns of longer periods are too large to be kept in memory.
_KEPT_DAYS = 100


class Listing:
    """Questions to an open log. Times of a period are the person's days."""

    def __init__(self, engine: Engine, kept: KeptRecords) -> None:
        self._engine = engine
        self._kept = kept

    def settings(self) -> LogSettings:
        """The log's settings."""
        name = records.SETTING.name
        return self._kept.get(name, lambda: read_settings(self._engine), of=name)

    def _all(self, kind: records.RecordKind) -> list[Any]:
        return self._kept.get(kind.name, lambda: read_records(self._engine, kind), of=kind.name)

    # --- readings --------------------------------------------------------------------------------

    def readings(
        self,
        period: Period | None = None,
        *,
        newest_first: bool = False,
        limit: int | None = None,
        older_than: Moment | None = None,
    ) -> list[Reading]:
        """Whole readings, damaged ones marked."""
        before = None if older_than is None else microseconds(older_than.instant)
        query = Query(self._minutes(period), before, newest_first=newest_first, limit=limit)
        return read_readings(self._engine, query)

    def with_circumstances(self, period: Period) -> list[Reading]:
        """Whole readings with feelings or with something different noted, oldest first."""
        columns = readings_table.c
        has_something = or_(columns.feelings != "", columns.differences != "")
        query = Query(self._minutes(period), conditions=(has_something,))
        return read_readings(self._engine, query)

    def reading(self, reading_id: UUID) -> Reading:
        """One reading. Raises `NoSuchRecord`."""
        return read_reading(self._engine, reading_id)

    def present(self, ids: Iterable[UUID]) -> set[UUID]:
        """Which of `ids` are readings."""
        return find_present(self._engine, ids)

    def series(self, period: Period | None = None) -> Series:
        """The readings in columns."""
        query = Query(self._minutes(period))
        if period is None or period.days > _KEPT_DAYS:
            return read_series(self._engine, query)
        name = ("series", query.wall_minutes)
        return self._kept.get(
            name, lambda: read_series(self._engine, query), of=records.READING.name
        )

    def span(self) -> tuple[date, date] | None:
        """The first and last day with a reading that is not damaged."""
        starts_at = self.settings().day_starts_at
        first = self._outermost(newest_first=False)
        last = self._outermost(newest_first=True)
        if first is None or last is None:
            return None
        return first.at.day(starts_at), last.at.day(starts_at)

    def _outermost(self, *, newest_first: bool) -> Reading | None:
        """The reading with the first or last wall minute."""
        limit = 1
        while True:
            query = Query(newest_first=newest_first, limit=limit, by_wall_minute=True)
            found = read_readings(self._engine, query)
            for reading in found:
                if not reading.is_damaged:
                    return reading
            if len(found) < limit:
                return None
            limit *= _MORE

    def _minutes(self, period: Period | None) -> tuple[int, int] | None:
        return None if period is None else period.wall_minutes(self.settings().day_starts_at)

    # --- everything else -------------------------------------------------------------------------

    def happenings(self, period: Period | None = None) -> list[Happening]:
        """What happened without a number, oldest first."""
        return self._timed(records.HAPPENING, period)

    def answers(self, about: Iterable[UUID] | None = None) -> list[Answer]:
        """Answers, oldest first."""
        found: list[Answer] = self._all(records.ANSWER)
        wanted = None if about is None else frozenset(about)
        return sorted(
            (one for one in found if wanted is None or one.about in wanted),
            key=lambda one: (one.at, one.id),
        )

    def targets(self) -> TargetBook:
        """Every target, in the order of their days."""
        found: list[Target] = self._all(records.TARGET)
        return TargetBook(sorted(found, key=lambda one: (one.holds_from, one.kind, one.id)))

    def meters(self) -> list[Meter]:
        """The meters, in order of first use."""
        found: list[Meter] = self._all(records.METER)
        return sorted(found, key=lambda one: (one.in_use_from, one.name, one.id))

    def lancet_changes(self, period: Period | None = None) -> list[LancetChange]:
        """When lancets were changed, oldest first."""
        return self._timed(records.LANCET_CHANGE, period)

    def puncture_notes(self) -> list[PunctureNote]:
        """How punctures went, oldest first."""
        found: list[PunctureNote] = read_records(self._engine, records.PUNCTURE_NOTE)
        return sorted(found, key=lambda one: (one.at, one.id))

    def spells(self) -> list[Spell]:
        """Stretches that were not ordinary, in order of their first day."""
        found: list[Spell] = self._all(records.SPELL)
        return sorted(found, key=lambda one: (one.first, one.id))

    def appointments(self) -> list[Appointment]:
        """Appointments, in order of day and time."""
        found: list[Appointment] = self._all(records.APPOINTMENT)
        return sorted(found, key=lambda one: (one.day, one.at or time.min, one.id))

    def questions(self, *, open_only: bool = True) -> list[Question]:
        """Questions for the provider, as they were written."""
        found: list[Question] = self._all(records.QUESTION)
        return sorted(
            (one for one in found if not (open_only and one.done_on is not None)),
            key=lambda one: (one.written_at, one.id),
        )

    def medicines(self) -> list[Medicine]:
        """Medicines, in order of their first day."""
        found: list[Medicine] = self._all(records.MEDICINE)
        return sorted(found, key=lambda one: (one.holds_from, one.text, one.id))

    def contacts(self) -> list[Contact]:
        """People to phone, by role and name."""
        found: list[Contact] = self._all(records.CONTACT)
        return sorted(found, key=lambda one: (one.role, one.name, one.id))

    # --- kit -------------------------------------------------------------------------------------

    def kit(self, since: datetime | None = None) -> KitData:
        """All of the kit; strips used are told from `since` on at least."""
        return self._kept.get(("kit", since), lambda: read_kit(self._engine, self._all, since))

    def strip_uses(self, since: datetime, until: datetime) -> list[StripUse]:
        """Strips used in a stretch of time."""
        return read_strip_uses(self._engine, self._all, since, until)

    # --- plan and health -------------------------------------------------------------------------

    def plans(self) -> list[CheckPlan]:
        """Plans of checks, in the order in which they hold."""
        found: list[CheckPlan] = self._all(records.CHECK_PLAN)
        return sorted(found, key=lambda one: (one.holds_from, one.written_at, one.id))

    def pauses(self) -> list[Pause]:
        """Days on which nothing is asked, in order of the first."""
        found: list[Pause] = self._all(records.PAUSE)
        return sorted(found, key=lambda one: (one.first, one.written_at, one.id))

    def put_asides(self) -> list[PutAside]:
        """Checks put aside for a day, in order of day and as they were written."""
        found: list[PutAside] = self._all(records.PUT_ASIDE)
        return sorted(found, key=lambda one: (one.day, one.written_at, one.id))

    def meal_starts(self, period: Period | None = None) -> list[MealStart]:
        """First bites, oldest first."""
        return self._timed(records.MEAL_START, period)

    def ticks(self) -> TickBook:
        """What was told about medicines and health."""
        return TickBook(self._all(records.TICK))

    def a1cs(self) -> list[LabA1C]:
        """Laboratory A1C, in the order in which blood was drawn."""
        found: list[LabA1C] = self._all(records.LAB_A1C)
        return sorted(found, key=lambda one: (one.drawn_on, one.written_at, one.id))

    def meter_averages(self) -> list[MeterAverage]:
        """Averages that meters showed, oldest first."""
        return self._timed(records.METER_AVERAGE, None)

    def medicine_notes(self, period: Period | None = None) -> list[MedicineNote]:
        """Medicine that was not taken as planned, oldest first."""
        return self._timed(records.MEDICINE_NOTE, period)

    def disagreements(self) -> list[SideBySide]:
        """What the person has not chosen between yet, readings first."""
        return open_disagreements(self._engine)

    def _timed(self, kind: records.RecordKind, period: Period | None) -> list[Any]:
        return sorted(
            (one for one in self._all(kind) if self._is_within(one.at, period)),
            key=lambda one: (one.at.instant, one.id),
        )

    def _is_within(self, at: Moment, period: Period | None) -> bool:
        return period is None or at.day(self.settings().day_starts_at) in period
