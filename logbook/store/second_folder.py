"""Copies in a second folder, as a rule on a stick: the same check, the same scheme, and its date.

Which folder it is, and when the last copy there was read back, is noted among the copies beside the
log, so that it is known while the stick is elsewhere. A folder that is not there is never made: it
would be a folder on the same disk.
"""

from __future__ import annotations

import json
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from uuid import UUID, uuid4

from logbook.domain.copies import SecondFolder
from logbook.domain.errors import CannotWrite
from logbook.store.copies import (
    UNFINISHED,
    Occasion,
    make_copy,
    remove_unfinished_copies,
    thin_copies,
)
from logbook.store.engine import translating
from logbook.store.files import Beside, make_folder, write_durably

_NOTE = "second-folder.json"


def choose_second_folder(path: Path, folder: Path | None) -> None:
    """Note the folder that gets copies of the log at `path` from now on, or None for no more.

    Raises `CannotWrite` (why=missing when it is not there, why=exists for the log's own folders).
    """
    if folder is None:
        (Beside(path).copies / _NOTE).unlink(missing_ok=True)
        return
    if not folder.is_dir():
        raise CannotWrite(folder, why="missing")
    folder = folder.resolve()
    if folder in (path.resolve().parent, Beside(path).copies.resolve()):
        raise CannotWrite(folder, why="exists")
    if (known := second_folder(path)) is None or known.folder != str(folder):
        _write(path, folder, None)


def second_folder(path: Path) -> SecondFolder | None:
    """The second folder of the log at `path`; None when none was chosen. Never raises."""
    try:
        told = json.loads((Beside(path).copies / _NOTE).read_text("utf-8"))
        folder = Path(told["folder"])
        last = told["last_copy_there"]
        last_copy_there = None if last is None else datetime.fromisoformat(last)
        is_known = last_copy_there is None or last_copy_there.tzinfo is not None
    except (OSError, ValueError, KeyError, TypeError):
        return None
    return SecondFolder(str(folder), folder.is_dir(), last_copy_there) if is_known else None


def copy_there(path: Path, log_id: UUID, at: datetime, folder: Path, occasion: Occasion) -> Path:
    """Make a checked copy in `folder`, thin the copies of this log there, and note the date.

    The caller holds the log's lock. Raises what `make_copy` raises, about the folder.
    """
    with suppress(OSError):
        remove_unfinished_copies(folder, log_id)
    made = make_copy(path, at, occasion, folder)
    thin_copies(folder, log_id, at)
    known = second_folder(path)
    if known is not None and Path(known.folder) == folder.resolve():
        _write(path, folder.resolve(), at)
    return made


def copy_there_when_due(path: Path, log_id: UUID, at: datetime) -> Path | None:
    """Make a copy in the second folder if it is there and has none of this day yet."""
    known = second_folder(path)
    if known is None or not known.is_there:
        return None
    last = known.last_copy_there
    if last is not None and last.astimezone().date() == at.astimezone().date():
        return None
    return copy_there(path, log_id, at, Path(known.folder), Occasion.CLOSE)


def _write(path: Path, folder: Path, last: datetime | None) -> None:
    copies = Beside(path).copies
    told = {"folder": str(folder), "last_copy_there": None if last is None else last.isoformat()}
    with translating(path):
        make_folder(copies)
        unfinished = copies / f"{UNFINISHED}{uuid4().hex}"
        write_durably(unfinished, copies / _NOTE, json.dumps(told).encode())
