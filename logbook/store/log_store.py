"""An open log: its file, lock, journal and copies, and the one way to write.

`logbook.book` says what is kept; this keeps it. It may be used from several threads: writes take
turns, and each read has a connection of its own.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from uuid import UUID

from sqlalchemy import Connection, Engine

from logbook.domain.copies import GoneBack, Restored
from logbook.domain.errors import LogbookError, LogReadOnly, NothingToUndo, NotSaved
from logbook.domain.settings import LogSettings
from logbook.store.birth import give_birth, remove_unfinished
from logbook.store.changes import (
    LogState,
    Step,
    StepsInTurn,
    Told,
    Written,
    find_change,
    read_state,
    read_steps,
    write_change,
)
from logbook.store.copies import Occasion, remove_unfinished_copies
from logbook.store.copy_keeper import CopyKeeper
from logbook.store.engine import reading, translating, writing
from logbook.store.files import Beside, make_folder, real_path, recognise, sync_folder
from logbook.store.going_back import read_going_back
from logbook.store.journal import Journal, JournalState
from logbook.store.kept_records import KeptRecords
from logbook.store.lines import Header
from logbook.store.lock import WriterLock
from logbook.store.opening import open_to_read, open_to_write, refuse_newer
from logbook.store.records import RecordKind
from logbook.store.restore import (
    finish_interrupted_restore,
    finish_restore,
    remove_unfinished_restore,
    restore,
)
from logbook.store.tables import ChangeKind
from logbook.store.undo import UndoState, read_undo_state

Clock = Callable[[], datetime]
StepsOf = Callable[[Connection], Sequence[Step]]


class LogStore:
    """One open log. Made by `create` or `open`."""

    def __init__(self, path: Path, clock: Clock, engine: Engine, lock: WriterLock | None) -> None:
        self.path = path
        self._clock = clock
        self._lock = lock
        self._turn = threading.RLock()
        self._begin(engine)

    def _begin(self, engine: Engine) -> None:
        """Take up the log that `engine` has open."""
        self.engine = engine
        self._undo_state: UndoState | None = None
        self.journal_state = JournalState()
        try:
            with reading(engine) as connection:
                state = read_state(connection)
        except BaseException:
            engine.dispose()
            raise
        self.log_id = state.log_id
        self._gone_back = read_going_back(self.path, state.last_sequence)
        self._journal = Journal(Beside(self.path).journal, self.log_id)
        self._keeper = CopyKeeper(self.path, self.log_id, self._clock())
        self.kept = KeptRecords(self.path)
        if self._lock is not None:
            self._heal_journal()

    @classmethod
    def create(cls, path: Path, settings: LogSettings, clock: Clock) -> LogStore:
        """Make a new log and open it for writing."""
        path = real_path(path)
        with translating(path):
            make_folder(path.parent)
        lock = WriterLock(path)
        lock.take()
        try:
            with translating(path):
                finish_restore(path)
                remove_unfinished(path)
            give_birth(path, settings, clock())
            return cls(path, clock, open_to_write(path, clock()), lock)
        except BaseException:
            lock.release()
            raise

    @classmethod
    def open(cls, path: Path, clock: Clock, *, read_only: bool) -> LogStore:
        """Open the log at `path`."""
        path = real_path(path)
        finish_interrupted_restore(path)
        with translating(path):
            version = recognise(path)
        if read_only:
            return cls(path, clock, open_to_read(path), None)
        if not Beside(path).rollback.exists():  # else the header may be half written
            refuse_newer(path, version)
        if not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)):
            raise LogReadOnly(path, why="permission")
        lock = WriterLock(path)
        lock.take()
        try:
            with translating(path):
                remove_unfinished(path)
                remove_unfinished_restore(path)
                remove_unfinished_copies(Beside(path).copies)
            return cls(path, clock, open_to_write(path, clock()), lock)
        except BaseException:
            lock.release()
            raise

    @property
    def is_read_only(self) -> bool:
        """Whether nothing can be written."""
        return self._lock is None

    def close(self) -> None:
        """Let go of file and lock; harmless when it was done already."""
        self._keeper.finish()
        self.engine.dispose()
        if self._lock is not None:
            self._lock.release()

    # --- writing ---------------------------------------------------------------------------------

    def write(
        self, kind: ChangeKind, steps_of: StepsOf, *, name: str = "", told: Told | None = None
    ) -> Written | None:
        """Write one change; what it does is told by `steps_of` within the transaction.

        `told` hears of each batch of records; what it raises leaves the log as it was.

        Returns None, and writes nothing, when there is nothing to do. When it returns a change,
        that is on the disk; when it raises, nothing of it is in the log.
        """
        return self._write(kind, lambda connection: (steps_of(connection), None), name, told)

    def erase_words(self, kind: RecordKind, key: str) -> Header | None:
        """Erase the words of one record for good; None when there are none. See `erasing`."""
        from logbook.store.erasing import erase_words  # rarely wanted

        if self._lock is None:
            raise LogReadOnly(self.path, why="opened_to_read")
        with self._turn:
            self._keeper.finish()
            at = self._clock()
            with writing(self.engine) as connection:
                written = erase_words(connection, kind, key, at)
                if written is None:
                    return None
                try:
                    connection.commit()
                except LogbookError as error:
                    connection.invalidate()
                    self._make_sure(written, error)
            self._undo_state = None
            self._gone_back = None
            self.kept.wrote(None, ())
            with reading(self.engine) as connection:
                self._journal.write_anew(connection)
            self._keeper.changed(at)
            return written.header

    def undo(self) -> Written:
        """Take the last action back. Raises `NothingToUndo`."""

        def work(connection: Connection) -> tuple[Sequence[Step], UUID | None]:
            taken = read_undo_state(connection).undoable
            return self._backwards(connection, taken)

        return self._needed(self._write(ChangeKind.UNDO, work))

    def put_back(self) -> Written:
        """Put back what the last undo took. Raises `NothingToUndo`."""

        def work(connection: Connection) -> tuple[Sequence[Step], UUID | None]:
            return self._backwards(connection, read_undo_state(connection).undo_to_reverse)

        return self._needed(self._write(ChangeKind.PUT_BACK, work))

    def go_back_to(
        self, copy: Path, *, even_damaged: bool = False, is_taking_back: bool = False
    ) -> Restored:
        """Have `copy` in the place of the log, and what was there set aside; see `restore`."""
        if self._lock is None:
            raise LogReadOnly(self.path, why="opened_to_read")
        with self._turn:
            self._keeper.finish()
            self.engine.dispose()
            at = self._clock()
            try:
                return restore(
                    self.path,
                    copy,
                    at,
                    even_damaged=even_damaged,
                    is_taking_back=is_taking_back,
                    held=self._lock,
                )
            finally:
                self._begin(open_to_write(self.path, at))

    @property
    def gone_back(self) -> GoneBack | None:
        """The last going back to a copy, for as long as nothing was changed since."""
        return self._gone_back

    def _backwards(
        self, connection: Connection, header: Header | None
    ) -> tuple[Sequence[Step], UUID | None]:
        if header is None:
            raise NothingToUndo(self.path)
        steps = read_steps(connection, header)
        return StepsInTurn(len(steps), lambda place: steps[-1 - place].backwards), header.id

    def _needed(self, written: Written | None) -> Written:
        if written is None:
            raise NothingToUndo(self.path)
        return written

    def _write(
        self,
        kind: ChangeKind,
        work: Callable[[Connection], tuple[Sequence[Step], UUID | None]],
        name: str = "",
        told: Told | None = None,
    ) -> Written | None:
        if self._lock is None:
            raise LogReadOnly(self.path, why="opened_to_read")
        with self._turn:
            before = self.kept.mark()
            with writing(self.engine) as connection:
                steps, undoes = work(connection)
                if not steps:
                    return None
                at = self._clock()
                written = write_change(
                    connection, kind, steps, at, name=name, undoes=undoes, told=told
                )
                try:
                    connection.commit()
                except LogbookError as error:
                    connection.invalidate()
                    self._make_sure(written, error)
            self._undo_state = None
            self._gone_back = None
            self.kept.wrote(before, {one.name for one in written.kinds})
            if not self._journal.append(written.header, written.pieces):
                self._heal_journal()
            self._keeper.changed(at)
            return written

    def _make_sure(self, written: Written, error: LogbookError) -> None:
        """After a COMMIT that failed: look whether the change is in the log all the same.

        The last thing a COMMIT does is to sync the folder. When that failed, the change is there
        but not yet durable: then the sync is tried again, and only its success means "saved".
        """
        self.engine.dispose()
        if not isinstance(error, NotSaved):
            raise error
        try:
            with reading(self.engine) as connection:
                find_change(connection, written.header.id)
        except LogbookError:
            raise error from None
        with translating(self.path):
            sync_folder(self.path.parent)

    # --- asking ----------------------------------------------------------------------------------

    def undo_state(self) -> UndoState:
        """What can be taken back and put back now."""
        state = self._undo_state
        if state is None:
            with reading(self.engine) as connection:
                state = read_undo_state(connection)
            if self._lock is not None:
                self._undo_state = state
        return state

    def state(self) -> LogState:
        """Who the log is, and where it stands."""
        with reading(self.engine) as connection:
            return read_state(connection)

    def last_sequence(self) -> int:
        """The sequence of the last change."""
        return self.state().last_sequence

    @property
    def has_changed(self) -> bool:
        """Whether something changed since the last copy; waits for one that is being made."""
        return self._keeper.is_behind

    def make_copy(self, occasion: Occasion) -> Path:
        """Make a checked copy beside the log, and let go of those that are no longer kept."""
        return self._keeper.make(self._clock(), occasion)

    def finish_copy(self) -> None:
        """Wait for a copy that is made in use, if there is one."""
        self._keeper.finish()

    def _heal_journal(self) -> None:
        with reading(self.engine) as connection:
            self.journal_state = self._journal.heal(connection)
