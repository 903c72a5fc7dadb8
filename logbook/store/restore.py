"""Going back to a copy. What was there is set aside under a plain name, never deleted.

The steps that a kill or a power cut could part are written down beforehand, as a *plan* beside the
log; whoever opens the log next finishes a plan that is there, so the person finds either the log of
before or the one that was gone back to, with no step to take. Until the plan is on the disk nothing
of the log is touched. Going back once more, to what was set aside, is the same thing again.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import stat
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID, uuid4

from sqlalchemy import select

from logbook.domain.copies import GoneBack, Restored, WayBack
from logbook.domain.errors import (
    CannotRead,
    DamagedLog,
    LogbookError,
    LogInUse,
    LogReadOnly,
    NoSuchLog,
    NotALog,
)
from logbook.store import tables
from logbook.store.changes import LogState, read_state
from logbook.store.copies import (
    Occasion,
    look_at,
    make_copy,
    newest_good_copy,
    state_of,
    thin_copies,
)
from logbook.store.engine import Access, make_engine, reading, translating
from logbook.store.files import (
    FILE_MODE,
    Beside,
    real_path,
    recognise,
    sync_file,
    sync_folder,
    write_durably,
)
from logbook.store.going_back import forget_going_back, note_going_back
from logbook.store.journal import write_journal
from logbook.store.journal_lines import read_lines
from logbook.store.lock import WriterLock
from logbook.store.opening import refuse_newer

_FIRST_LINE = re.compile(rb"# .*, log ([0-9a-f-]{36})\n", re.ASCII)
_TIME = "%Y-%m-%dT%H%M%SZ"


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is to be done: names in the log's folder.

    Each of `aside` is to be kept under a second name; each of `gone` then loses its first; each of
    `new` is given its name, taking the place of what has it.
    """

    aside: tuple[tuple[str, str], ...]
    gone: tuple[str, ...]
    new: tuple[tuple[str, str], ...]

    def write(self, beside: Beside) -> None:
        told = {"aside": self.aside, "gone": self.gone, "new": self.new}
        unfinished = beside.log.with_name(f"{beside.restores}{uuid4().hex}")
        write_durably(unfinished, beside.plan, json.dumps(told).encode())

    @classmethod
    def read(cls, plan: Path) -> _Plan:
        told = json.loads(plan.read_text("utf-8"))
        pairs = {name: tuple((str(a), str(b)) for a, b in told[name]) for name in ("aside", "new")}
        return cls(pairs["aside"], tuple(str(one) for one in told["gone"]), pairs["new"])


def restore(
    path: Path,
    copy: Path,
    at: datetime,
    *,
    even_damaged: bool = False,
    is_taking_back: bool = False,
    can_be_undone: bool = True,
    held: WriterLock | None = None,
) -> Restored:
    """Put `copy` in the place of the log at `path`, byte for byte; both must be closed.

    What was there is set aside beside it, with its journal. A checked copy of it is made before if
    it can be. `even_damaged` is for going back to a log that was set aside because it was damaged,
    `is_taking_back` for undoing the last going back; `can_be_undone` is whether *Undo* offers that,
    which it never does for a log that can't be opened. `held` is the log's lock, where the caller
    has it.

    Raises what `recognise` raises about the copy, `DamagedLog` when it does not verify, `NewerLog`,
    `NotALog` (why=other_log) when it is of another log and this one has readings, `LogInUse`, and
    the disk's errors. Then the log is what it was.
    """
    path, copy = real_path(path), copy.resolve()
    state, is_good = _look_before(path, copy, even_damaged=even_damaged)
    lock = held or WriterLock(path)
    if held is None:
        lock.take()
    try:
        finish_restore(path)
        log_id = id_of_log(path)
        # A log without readings is that of a new computer: it gives way to any other.
        is_other = state is not None and log_id is not None and state.log_id != log_id
        if is_other and not is_taking_back and not _is_without_readings(path):
            raise NotALog(copy, why="other_log")
        can_be_undone = can_be_undone and _can_be_opened(path)
        with translating(path):
            if log_id is not None:
                _copy_before(path, log_id, at)
            set_aside = _replace(path, copy, at)
            if is_good and state is not None:
                write_journal(path, state.log_id)
            changes = 0 if state is None else state.last_sequence
            forget_going_back(path)
            if set_aside and can_be_undone:
                note_going_back(path, GoneBack(set_aside, at, is_taking_back), changes)
    finally:
        if held is None:
            lock.release()
    return Restored(set_aside, changes)


def _look_before(path: Path, copy: Path, *, even_damaged: bool) -> tuple[LogState | None, bool]:
    """What the copy says of itself and whether it is good; raises where nothing can be done."""
    if copy == path:
        raise CannotRead(copy, why="same_file")
    with translating(copy):
        version = recognise(copy)
    refuse_newer(copy, version)
    state, is_good = look_at(copy)
    if not (is_good or even_damaged):
        raise DamagedLog(copy, why="digest")
    if not path.parent.is_dir():
        raise NoSuchLog(path.parent)
    if not os.access(path.parent, os.W_OK):
        raise LogReadOnly(path, why="folder")
    return state, is_good


def _can_be_opened(path: Path) -> bool:
    with suppress(LogbookError, OSError, ValueError):
        state_of(path)
        return True
    return False


def _is_without_readings(path: Path) -> bool:
    """Whether the log at `path` can be read and has none."""
    with suppress(LogbookError, OSError, ValueError):
        engine = make_engine(path, Access.READ)
        try:
            with reading(engine) as connection:
                return connection.scalar(select(tables.readings.c.id).limit(1)) is None
        finally:
            engine.dispose()
    return False


def _copy_before(path: Path, log_id: UUID, at: datetime) -> None:
    """A checked copy of what is there, when it is sound; a damaged log is only set aside."""
    with suppress(DamagedLog, NoSuchLog, NotALog):
        recognise(path)
        make_copy(path, at, Occasion.RESTORE)
        thin_copies(Beside(path).copies, log_id, at)


def _replace(path: Path, copy: Path, at: datetime) -> str:
    beside = Beside(path)
    remove_unfinished_restore(path)
    new = [(f"{beside.restores}{uuid4().hex}", path.name)]
    _copy_file(copy, path.with_name(new[0][0]))
    gone = []
    for belonging in (beside.rollback, beside.journal):
        its_own = copy.with_name(belonging.name.replace(path.name, copy.name, 1))
        if its_own.exists():
            new.append((f"{beside.restores}{uuid4().hex}", belonging.name))
            _copy_file(its_own, path.with_name(new[-1][0]))
        elif belonging.exists():
            gone.append(belonging.name)
    sync_folder(path.parent)
    aside = _names_aside(path, at)
    # What belongs to the old log gives way before the new one has its name: SQLite would roll a
    # strange journal back into it.
    order = sorted(new, key=lambda pair: pair[1] == path.name)
    _Plan(tuple(aside), tuple(gone), tuple(order)).write(beside)
    finish_restore(path)
    return str(path.with_name(aside[0][1])) if aside and aside[0][0] == path.name else ""


def set_log_aside(path: Path, at: datetime) -> None:
    """Keep what lies at `path`, with what belongs to it, under a plain name; nothing is left there.

    Raises `LogInUse`, `LogReadOnly` and the disk's errors; then it is what it was.
    """
    path = real_path(path)
    lock = WriterLock(path)
    lock.take()
    try:
        finish_restore(path)
        with translating(path):
            aside = _names_aside(path, at)
            _Plan(tuple(aside), tuple(name for name, _kept in aside), ()).write(Beside(path))
        finish_restore(path)
    finally:
        lock.release()


def _names_aside(path: Path, at: datetime) -> list[tuple[str, str]]:
    """What there is of the log now, and the plain names under which it is kept."""
    beside = Beside(path)
    number = 1
    while True:
        again = f"-{number}" if number > 1 else ""
        stem = f"{path.stem}-set-aside-{at.astimezone(UTC).strftime(_TIME)}{again}"
        kept = Beside(path.with_name(stem + path.suffix))
        if not any(one.exists() for one in (kept.log, kept.rollback, kept.journal)):
            break
        number += 1
    pairs = (
        (beside.log, kept.log),
        (beside.rollback, kept.rollback),
        (beside.journal, kept.journal),
    )
    return [(old.name, new.name) for old, new in pairs if os.path.lexists(old)]


def finish_restore(path: Path) -> bool:
    """Finish what a kill left of a restore; whether there was something. The lock is held.

    Each step may have been done before, or half of them.
    """
    beside = Beside(path)
    with translating(path):
        if not beside.plan.exists():
            return False
        try:
            plan = _Plan.read(beside.plan)
        except (ValueError, KeyError, TypeError):
            raise DamagedLog(path, why="plan") from None
        here = path.parent
        if not all((here / new).exists() for new, _ in plan.new[-1:]):
            # The log has its new name already; then everything before was done too.
            _forget(beside)
            return True
        for old, kept in plan.aside:
            _keep_under(here / old, here / kept)
        sync_folder(here)
        for name in plan.gone:
            (here / name).unlink(missing_ok=True)
        sync_folder(here)
        for new, name in plan.new:
            with suppress(FileNotFoundError):  # it was done before the kill
                (here / new).replace(here / name)
            sync_folder(here)
        _forget(beside)
    return True


def finish_interrupted_restore(path: Path) -> None:
    """The same for whoever opens the log, to read or to write.

    Who may not write here, or comes while another does it, goes on with what there is.
    """
    if Beside(path).plan.exists():
        lock = WriterLock(path)
        with suppress(LogInUse, LogReadOnly):
            lock.take()
            try:
                finish_restore(path)
            finally:
                lock.release()


def _keep_under(old: Path, kept: Path) -> None:
    """Give a file a second name, or a whole copy where the file system has no second names.

    What is no file (a folder, a pipe) is moved.
    """
    if os.path.lexists(kept) or not os.path.lexists(old):
        return
    if not stat.S_ISREG(old.lstat().st_mode):
        old.rename(kept)
        return
    try:
        os.link(old, kept)
    except OSError:
        unfinished = old.with_name(f"{Beside(old).restores}{uuid4().hex}")
        _copy_file(old, unfinished)
        unfinished.replace(kept)


def _forget(beside: Beside) -> None:
    beside.plan.unlink(missing_ok=True)
    sync_folder(beside.plan.parent)
    remove_unfinished_restore(beside.log)


def remove_unfinished_restore(path: Path) -> None:
    """Remove what a restore left that never came to its plan. The caller holds the log's lock."""
    beside = Beside(path)
    begins = tuple(Beside(one).restores for one in (path, beside.rollback, beside.journal))
    if not beside.plan.exists():
        for one in path.parent.iterdir():
            if one.name.startswith(begins):
                one.unlink(missing_ok=True)


def _copy_file(source: Path, to: Path) -> None:
    descriptor = os.open(to, os.O_CREAT | os.O_EXCL | os.O_WRONLY, FILE_MODE)
    with open(descriptor, "wb") as file, source.open("rb") as content:  # noqa: PTH123 (its mode)
        shutil.copyfileobj(content, file, 1 << 20)
    sync_file(to)


# --- which copy -----------------------------------------------------------------------------------


def id_of_log(path: Path) -> UUID | None:
    """Whose log lies at `path`, told by the log itself, else by its journal's first line."""
    with suppress(LogbookError, OSError, ValueError):
        recognise(path)
        engine = make_engine(path, Access.READ_AND_ROLL_BACK)
        try:
            with reading(engine) as connection:
                return read_state(connection).log_id
        finally:
            engine.dispose()
    with suppress(OSError, ValueError), Beside(path).journal.open("rb") as file:
        told = _FIRST_LINE.fullmatch(file.readline(200))
        if told is not None:
            return UUID(told[1].decode("ascii"))
    return None


def find_way_back(path: Path, now: datetime) -> WayBack:
    """What can be gone back to when the log at `path` is damaged or gone. Alters nothing.

    Must not be called while this process has the log open.
    """
    path = real_path(path)
    copy = newest_good_copy(Beside(path).copies, id_of_log(path), now)
    beyond = 0 if copy is None else copy.changes
    newer = set()
    with suppress(OSError):
        for line in read_lines(Beside(path).journal):
            sequence = line.sequence
            if line.is_whole and sequence is not None and sequence > beyond:
                newer.add(sequence)
    return WayBack(copy, len(newer))
