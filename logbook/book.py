"""The Book: what a person would call "my logbook".

One object to open, add, correct, cross out, undo, put back, ask and close. Every writing verb is
one durable transaction: when it returns, the change is on the disk. Whoever listens is told what
kind of record changed. No window and no SQL here: the store keeps, this says what is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from types import TracebackType
from typing import Self
from uuid import UUID

from logbook.domain.answers import Answer
from logbook.domain.glucose import Glucose
from logbook.domain.happenings import Happening
from logbook.domain.lancets import LancetChange
from logbook.domain.meters import Meter
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Doubt, Reading
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell
from logbook.domain.targets import Target, TargetBook
from logbook.domain.visit_data import VisitData
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
    UNDO = "undo"
    PUT_BACK = "put_back"


@dataclass(frozen=True, slots=True)
class Done:
    """One action, for the sentence on the Undo button.

    `record` is the record it was about (for an import the first one), `earlier` what that record
    said before, `count` how many records it touched, `name` an import's file name.
    """

    action: Action
    sequence: int
    at: datetime
    record: Record | LogSettings | None
    earlier: Record | LogSettings | None
    count: int
    name: str = ""


@dataclass(frozen=True, slots=True)
class Changed:
    """What a listener is told: the action and the types of record it touched."""

    done: Done
    kinds: frozenset[type]


class Book:
    """An open logbook. Use it as a context manager, or `close()` it."""

    @classmethod
    def create(cls, path: Path, settings: LogSettings, clock: Callable[[], datetime]) -> Book:
        """Make a new log at `path` and open it. Raises `AlreadyThere` and the disk's errors."""
        raise NotImplementedError

    @classmethod
    def open(cls, path: Path, clock: Callable[[], datetime], *, read_only: bool = False) -> Book:
        """Open the log at `path`. `clock` returns the aware current time.

        A writing Book holds the log's lock until it is closed. Raises `NoSuchLog`, `NotALog`,
        `DamagedLog`, `NewerLog` (unless read only), `LogInUse`, `LogBusy`, `LogReadOnly`.
        """
        raise NotImplementedError

    def close(self) -> None:
        """Make a checked copy if anything changed, let go of the lock and the file."""
        raise NotImplementedError

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    # --- writing -----------------------------------------------------------------------------------

    def add(self, *records: Record) -> Changed:
        """Keep new records as one action (a reading with its lancet, say)."""
        raise NotImplementedError

    def correct(
        self, reading_id: UUID, glucose: Glucose, at: Moment, slot: Slot, reason: str = ""
    ) -> Changed:
        """Correct a reading; what it said before is kept. Raises `NoSuchRecord`."""
        raise NotImplementedError

    def cross_out(self, reading_id: UUID, reason: str = "") -> Changed:
        """Cross a reading out: it stays in the log, outside every figure."""
        raise NotImplementedError

    def bring_back(self, reading_id: UUID) -> Changed:
        """Take a crossing out back."""
        raise NotImplementedError

    def doubt(self, reading_id: UUID, doubt: Doubt | None) -> Changed:
        """Mark a reading as not believed, with the reason, or believed again."""
        raise NotImplementedError

    def replace(self, *records: Record) -> Changed:
        """Keep new versions of records that are in the log, as one action.

        For circumstances (site, note, feelings, a question done, a visit's decisions). A reading's
        value, moment and slot change by `correct` only: `replace` refuses such a difference.
        """
        raise NotImplementedError

    def save_settings(self, settings: LogSettings) -> Changed:
        """Keep the settings that differ from the present ones."""
        raise NotImplementedError

    def take_in(self, records: Sequence[Record], name: str) -> Changed:
        """Keep many records from a file as one action; a checked copy is made before."""
        raise NotImplementedError

    def undo(self) -> Changed:
        """Take the last action back (last in, first out, 50 deep). Raises `NothingToUndo`."""
        raise NotImplementedError

    def put_back(self) -> Changed:
        """Put back what the last `undo` took; possible until the next action."""
        raise NotImplementedError

    @property
    def undoable(self) -> Done | None:
        """The action that `undo` would take back."""
        raise NotImplementedError

    @property
    def restorable(self) -> Done | None:
        """The action that `put_back` would put back; None after any other action."""
        raise NotImplementedError

    # --- asking ------------------------------------------------------------------------------------

    @property
    def path(self) -> Path:
        """Where the log lies."""
        raise NotImplementedError

    @property
    def is_read_only(self) -> bool:
        """Whether it was opened only to read."""
        raise NotImplementedError

    @property
    def settings(self) -> LogSettings:
        """The log's settings."""
        raise NotImplementedError

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
        raise NotImplementedError

    def reading(self, reading_id: UUID) -> Reading:
        """One reading. Raises `NoSuchRecord`."""
        raise NotImplementedError

    def has_records(self, ids: Iterable[UUID]) -> set[UUID]:
        """Which of `ids` are readings in the log."""
        raise NotImplementedError

    def series(self, period: Period | None = None) -> Series:
        """All readings of `period` (or of the whole log) in columns, for figures and pictures."""
        raise NotImplementedError

    def span(self) -> tuple[date, date] | None:
        """The person's first and last day with a reading, or None for an empty log."""
        raise NotImplementedError

    def happenings(self, period: Period | None = None) -> list[Happening]:
        """What happened without a number, oldest first."""
        raise NotImplementedError

    def answers(self, about: Iterable[UUID] | None = None) -> list[Answer]:
        """Answers given, all or those about some records, oldest first."""
        raise NotImplementedError

    def targets(self) -> TargetBook:
        """Every target the person ever had."""
        raise NotImplementedError

    def meters(self) -> list[Meter]:
        """The meters, in order of first use."""
        raise NotImplementedError

    def lancet_changes(self, period: Period | None = None) -> list[LancetChange]:
        """When lancets were changed, oldest first."""
        raise NotImplementedError

    def spells(self) -> list[Spell]:
        """Stretches that were not ordinary, in order of their first day."""
        raise NotImplementedError

    def appointments(self) -> list[Appointment]:
        """Appointments, in order of day."""
        raise NotImplementedError

    def questions(self, *, open_only: bool = True) -> list[Question]:
        """Questions for the provider, in the order in which they were written."""
        raise NotImplementedError

    def medicines(self) -> list[Medicine]:
        """Medicines as written, in order of their first day."""
        raise NotImplementedError

    def contacts(self) -> list[Contact]:
        """People to phone."""
        raise NotImplementedError

    def visit_data(self, period: Period, made_at: Moment) -> VisitData:
        """Everything a visit report over `period` is made from."""
        raise NotImplementedError

    # --- keeping safe ------------------------------------------------------------------------------

    def listen(self, listener: Callable[[Changed], None]) -> None:
        """Call `listener` after each change, in the thread that made it."""
        raise NotImplementedError

    def make_copy(self) -> Path:
        """Make a copy beside the log, read it back and check it. Returns where it lies."""
        raise NotImplementedError
