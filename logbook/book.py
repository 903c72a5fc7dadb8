"""The Book: what a person would call "my logbook".

One object to open, add, correct, cross out, undo, put back, ask and close. Every writing verb is
one durable transaction: when it returns, the change is on the disk. Whoever listens is told what
kind of record changed. No window and no SQL here: the store keeps, this says what is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from dataclasses import replace as with_other
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Self
from uuid import UUID

from logbook.domain.actions import Action, Changed, Done, Record
from logbook.domain.answers import Answer
from logbook.domain.copies import SecondFolder
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.happenings import Happening
from logbook.domain.health import Health
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
from logbook.domain.readings import CrossedOut, Doubt, Reading
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.store.copies import Occasion
from logbook.store.health import check_log as check_closed
from logbook.store.health import check_open
from logbook.store.listing import Listing
from logbook.store.log_store import LogStore
from logbook.store.rebuild import rebuild as rebuild_log
from logbook.store.restore import find_way_back
from logbook.store.restore import restore as restore_log
from logbook.store.second_folder import choose_second_folder, copy_there, second_folder
from logbook.store.writer import Writer

__all__ = [
    "Action",
    "Book",
    "Changed",
    "Done",
    "Record",
    "check_log",
    "find_way_back",
    "rebuild_log",
    "restore_log",
]


class Book:
    """An open logbook. Use it as a context manager, or `close()` it.

    Made by `create` or `open`. It may be used from several threads; writes take turns.
    """

    def __init__(self, store: LogStore, clock: Callable[[], datetime]) -> None:
        self._store = store
        self._clock = clock
        self._writer = Writer(store, clock)
        self._listing = Listing(store.engine, store.kept)
        self._listeners: list[Callable[[Changed], None]] = []

    @classmethod
    def create(cls, path: Path, settings: LogSettings, clock: Callable[[], datetime]) -> Book:
        """Make a new log at `path` and open it. Raises `AlreadyThere` and the disk's errors."""
        return cls(LogStore.create(path, settings, clock), clock)

    @classmethod
    def open(cls, path: Path, clock: Callable[[], datetime], *, read_only: bool = False) -> Book:
        """Open the log at `path`. `clock` returns the aware current time.

        A writing Book holds the log's lock until it is closed. Raises `NoSuchLog`, `CannotRead`,
        `NotALog`, `DamagedLog`, `NewerLog` (to read only when its tables are unknown), `LogInUse`,
        `LogBusy` and `LogReadOnly`.
        """
        return cls(LogStore.open(path, clock, read_only=read_only), clock)

    def close(self) -> None:
        """Make a checked copy if anything changed, let go of the lock and the file.

        Never raises for a copy that could not be made: the log itself is safe, and `check` tells.
        """
        try:
            if self._store.has_changed:
                with suppress(LogbookError):
                    self._store.make_copy(Occasion.CLOSE)
        finally:
            self._store.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # --- writing ---------------------------------------------------------------------------------

    def add(self, *records: Record) -> Changed:
        """Keep new records as one action (a reading with its lancet, say)."""
        return self._tell(self._writer.add(records))

    def correct(
        self, reading_id: UUID, glucose: Glucose, at: Moment, slot: Slot, reason: str = ""
    ) -> Changed:
        """Correct a reading; what it said before is kept. Raises `NoSuchRecord`."""

        def corrected(reading: Reading) -> Reading:
            if (glucose, at, slot) == (reading.glucose, reading.at, reading.slot):
                return reading
            return reading.corrected(glucose, at, slot, self._clock(), reason)

        return self._tell(self._writer.alter(Action.CORRECT, reading_id, corrected))

    def cross_out(self, reading_id: UUID, reason: str = "") -> Changed:
        """Cross a reading out: it stays in the log, outside every figure."""

        def crossed_out(reading: Reading) -> Reading:
            if reading.crossed_out is not None:
                return reading
            return with_other(reading, crossed_out=CrossedOut(self._clock(), reason))

        return self._tell(self._writer.alter(Action.CROSS_OUT, reading_id, crossed_out))

    def bring_back(self, reading_id: UUID) -> Changed:
        """Take a crossing out back."""
        return self._tell(
            self._writer.alter(
                Action.BRING_BACK, reading_id, lambda reading: with_other(reading, crossed_out=None)
            )
        )

    def doubt(self, reading_id: UUID, doubt: Doubt | None) -> Changed:
        """Mark a reading as not believed, with the reason, or believed again."""
        return self._tell(
            self._writer.alter(
                Action.DOUBT, reading_id, lambda reading: with_other(reading, doubt=doubt)
            )
        )

    def replace(self, *records: Record) -> Changed:
        """Keep new versions of records that are in the log, as one action.

        For circumstances (site, note, feelings, a question done, a visit's decisions). A reading's
        value, moment and slot change by `correct` only: `replace` refuses such a difference.
        """
        return self._tell(self._writer.replace(records))

    def keep(self, *records: Record) -> Changed:
        """Keep new records and new versions of others as one action; the first names it on *Undo*.

        A strip pot is opened and the one before it ends, say.
        """
        return self._tell(self._writer.keep(records))

    def save_settings(self, settings: LogSettings) -> Changed:
        """Keep the settings that differ from the present ones."""
        return self._tell(self._writer.save_settings(settings))

    def take_in(self, records: Sequence[Record], name: str) -> Changed:
        """Keep many records from a file as one action; a checked copy is made before."""
        return self._tell(self._writer.take_in(records, name))

    def undo(self) -> Changed:
        """Take the last action back (last in, first out, 50 deep). Raises `NothingToUndo`."""
        return self._tell(self._writer.undo())

    def put_back(self) -> Changed:
        """Put back what the last `undo` took; possible until the next action."""
        return self._tell(self._writer.put_back())

    @property
    def undoable(self) -> Done | None:
        """The action that `undo` would take back."""
        return self._writer.undoable

    @property
    def restorable(self) -> Done | None:
        """The action that `put_back` would put back; None after any other action."""
        return self._writer.restorable

    def _tell(self, changed: Changed) -> Changed:
        if changed.kinds:
            for listener in tuple(self._listeners):
                listener(changed)
        return changed

    # --- asking ----------------------------------------------------------------------------------

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

    # --- keeping safe ----------------------------------------------------------------------------

    def listen(self, listener: Callable[[Changed], None]) -> None:
        """Call `listener` after each change, in the thread that made it."""
        self._listeners.append(listener)

    def make_copy(self, folder: Path | None = None) -> Path:
        """Make a copy, read it back and check it. Returns where it lies.

        It lies beside the log, or in `folder`. Raises `CannotWrite` (why=missing) for a folder that
        is not there, `DamagedLog` and the disk's errors.
        """
        if folder is None:
            return self._store.make_copy(Occasion.ASKED)
        at = self._clock()
        return copy_there(self.path, self._store.log_id, at, folder, Occasion.ASKED)

    def second_folder(self) -> SecondFolder | None:
        """The folder elsewhere that gets a copy a day too, at closing; None when none is chosen."""
        return second_folder(self.path)

    def choose_second_folder(self, folder: Path | None) -> None:
        """Have copies made in `folder` too, or None for no more. Raises `CannotWrite`."""
        choose_second_folder(self.path, folder)

    def check(self) -> Health:
        """Read everything, the journal and the copies too, and tell what is not sound."""
        return check_open(self._store.engine, self._store.path)


def check_log(path: Path) -> Health:
    """Check the log at `path` without opening it for use, as `Book.check` does.

    It takes no lock and works on damaged files. Raises `NoSuchLog`, `NotALog` and, for a file of no
    bytes or without its end, `DamagedLog`. Not for a log that this process has open.
    """
    return check_closed(path)
