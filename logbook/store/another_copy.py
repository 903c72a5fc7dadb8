"""Reading another copy of the log, which stays as it is, byte for byte."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import UUID

from sqlalchemy import Engine

from logbook.domain.errors import CannotRead, DamagedLog, NewerLog, NotALog
from logbook.store.audit import audit_log
from logbook.store.changes import read_state
from logbook.store.engine import reading, translating
from logbook.store.files import recognise
from logbook.store.opening import open_untouched, refuse_newer


@contextmanager
def another_copy(other: Path, own: Path, log_id: UUID) -> Iterator[Engine]:
    """An engine for the copy at `other` of the log at `own`, in the newest form, and found sound.

    Raises `NoSuchLog`, `CannotRead` (why=same_file), `NotALog` (why=other_log and others),
    `NewerLog` (why=another_copy), `DamagedLog` (why=another_copy) and the disk's errors.
    """
    with translating(other):
        # Looking at the own log's header would drop the locks that SQLite holds on it (POSIX).
        if other.exists() and own.exists() and other.samefile(own):
            raise CannotRead(other, why="same_file")
    try:
        with translating(other):
            version = recognise(other)
        refuse_newer(other, version)
        engine = open_untouched(other)
    except NewerLog as error:
        raise NewerLog(other, why="another_copy") from error
    except DamagedLog as error:
        raise DamagedLog(other, why="another_copy") from error
    try:
        with reading(engine) as connection:
            its_id = read_state(connection).log_id
            is_sound = not audit_log(connection).findings
    except DamagedLog as error:
        engine.dispose()
        raise DamagedLog(other, why="another_copy") from error
    try:
        if its_id != log_id:
            raise NotALog(other, why="other_log")
        if not is_sound:
            raise DamagedLog(other, why="another_copy")
        yield engine
    finally:
        engine.dispose()
