"""The Book: what a person would call "my logbook".

One object to open, add, correct, cross out, undo, put back, ask and close. Every writing verb is
one durable transaction: when it returns, the change is on the disk. Whoever listens is told what
kind of record changed. No window and no SQL here: the store keeps, this says what is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from dataclasses import replace as with_other
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self, get_args
from uuid import UUID

from logbook.asked_book import AskedBook
from logbook.domain.actions import Action, Changed, Done, Record
from logbook.domain.bringing_in import BroughtIn, SideBySide
from logbook.domain.copies import GoneBack, OfferedCopy, OlderCopies, SecondFolder
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.health import Health
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Doubt, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.store.copies import Occasion, older_copies
from logbook.store.files import Beside
from logbook.store.health import check_log as check_closed
from logbook.store.health import check_open
from logbook.store.log_store import LogStore
from logbook.store.offers import (
    find_offers,
    forget_rebuild,
    has_traces,
    offered_copies,
    prove_copy,
    try_rebuild,
)
from logbook.store.rebuild import rebuild as rebuild_log
from logbook.store.restore import find_way_back, set_log_aside
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
    "find_offers",
    "find_way_back",
    "forget_rebuild",
    "has_traces",
    "offered_copies",
    "prove_copy",
    "rebuild_log",
    "restore_log",
    "set_log_aside",
    "try_rebuild",
]


class Book(AskedBook):
    """An open logbook. Use it as a context manager, or `close()` it.

    Made by `create` or `open`. It may be used from several threads; writes take turns.
    """

    def __init__(self, store: LogStore, clock: Callable[[], datetime]) -> None:
        super().__init__(store)
        self._clock = clock
        self._writer = Writer(store, clock)
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

    def take_in(
        self,
        records: Sequence[Record],
        name: str,
        told: Callable[[int, int], None] | None = None,
    ) -> Changed:
        """Keep many records from a file as one action; a checked copy is made before.

        `told` is called now and then with how many of how many are written; when it raises, none
        of them is in the log, and what it raised is handed on.
        """
        return self._tell(self._writer.take_in(records, name, told))

    def erase_words(self, record: Record) -> Changed:
        """Erase a record's words (its note, its name) for good, with all earlier versions of them.

        They go from the log, its history and its journal; the record stays. It can't be undone.
        Copies made before still have them. Raises `NoSuchRecord`, `DamagedLog`, the disk's errors.
        """
        return self._tell(self._writer.erase_words(record))

    def bring_in(self, other: Path) -> tuple[Changed, BroughtIn]:
        """Bring in another copy of this log as one action; a checked copy is made before.

        Records go by their ids; where both copies changed one, both versions are kept. Bringing
        the same copy in twice changes nothing. `other` stays as it is. Raises `NoSuchLog`,
        `CannotRead`, `NotALog` (why=other_log for a copy of another log), `NewerLog`, `DamagedLog`
        (why=another_copy) and the disk's errors; then nothing was changed.
        """
        changed, brought = self._writer.bring_in(other)
        return self._tell(changed), brought

    def look_at_copy(self, other: Path) -> BroughtIn:
        """What `bring_in` would bring. Raises what that raises; alters nothing."""
        return self._writer.look_at(other)

    def disagreements(self) -> list[SideBySide]:
        """Records of which two copies of the log say different things, and nobody chose yet."""
        return self._listing.disagreements()

    def settle(self, disagreement_id: UUID, *, take_other: bool) -> Changed:
        """Choose between two versions of a record; the one not chosen stays in its history.

        Raises `NoSuchRecord`.
        """
        return self._tell(self._writer.settle(disagreement_id, take_other=take_other))

    def undo(self) -> Changed:
        """Take the last action back (last in, first out, 50 deep). Raises `NothingToUndo`."""
        gone_back = self._store.gone_back
        if gone_back is not None and not gone_back.is_taken_back:
            return self._go_back(Path(gone_back.set_aside), is_taking_back=True)
        return self._tell(self._writer.undo())

    def put_back(self) -> Changed:
        """Put back what the last `undo` took; possible until the next action."""
        gone_back = self._store.gone_back
        if gone_back is not None and gone_back.is_taken_back:
            return self._go_back(Path(gone_back.set_aside))
        return self._tell(self._writer.put_back())

    @property
    def undoable(self) -> Done | None:
        """The action that `undo` would take back."""
        gone_back = self._store.gone_back
        if gone_back is not None and not gone_back.is_taken_back:
            return self._going_back(gone_back)
        return self._writer.undoable

    @property
    def restorable(self) -> Done | None:
        """The action that `put_back` would put back; None after any other action."""
        gone_back = self._store.gone_back
        if gone_back is not None:
            return self._going_back(gone_back) if gone_back.is_taken_back else None
        return self._writer.restorable

    def go_back_to(self, copy: Path) -> Changed:
        """Have a copy in the place of the log, as one action; what was there is set aside.

        The copy is read in full once more before. Raises what `restore_log` raises; then the log
        is what it was.
        """
        self._store.go_back_to(copy)
        return self._began_anew()

    def _go_back(self, set_aside: Path, *, is_taking_back: bool = False) -> Changed:
        # What was the person's own log a moment ago comes back as it was, damage and all.
        self._store.go_back_to(set_aside, even_damaged=True, is_taking_back=is_taking_back)
        return self._began_anew()

    def _began_anew(self) -> Changed:
        self._ask_anew()
        done = Done(Action.GO_BACK, self._store.last_sequence(), self._clock(), None, None, 0)
        return self._tell(Changed(done, frozenset({*get_args(Record), LogSettings})))

    def _going_back(self, gone_back: GoneBack) -> Done:
        sequence = self._store.last_sequence()
        return Done(Action.GO_BACK, sequence, gone_back.at, None, None, 0)

    def _tell(self, changed: Changed) -> Changed:
        if changed.kinds:
            for listener in tuple(self._listeners):
                listener(changed)
        return changed

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

    def copies(self, elsewhere: Iterable[Path] = (), *, with_own: bool = True) -> list[OfferedCopy]:
        """What can be gone back to, the newest first: beside the log, and in other folders.

        None of them was read in full: `prove_copy` does that, and `go_back_to` once more.
        """
        state = self._store.state()
        # A log without readings, as on a new computer, may become any log.
        whose = None if self.span() is None else state.log_id
        return offered_copies(self.path, whose, elsewhere, state, with_own=with_own)

    def older_copies(self, since: datetime) -> OlderCopies:
        """The copies beside the log made from `since` on, which hold what was there then."""
        now = self._clock()
        return older_copies(Beside(self.path).copies, self._store.log_id, since, now)

    def check(self, *, with_copies: bool = True) -> Health:
        """Read everything, the journal and the copies too, and tell what is not sound."""
        return check_open(self._store.engine, self._store.path, with_copies=with_copies)


def check_log(path: Path) -> Health:
    """Check the log at `path` without opening it for use, as `Book.check` does.

    It takes no lock and works on damaged files. Raises `NoSuchLog`, `NotALog` and, for a file of no
    bytes or without its end, `DamagedLog`. Not for a log that this process has open.
    """
    return check_closed(path)
