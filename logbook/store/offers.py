"""What a person can go back to: copies beside the log and elsewhere, and logs that were set aside.

They are listed by what each says of itself, which is quick, and proved one by one by reading them
in full. Nothing here alters anything. Whoever goes back has the copy proved once more.
"""

from __future__ import annotations

import re
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from sqlalchemy import func, select

from logbook.domain.copies import CopyPlace, OfferedCopy, ProvedCopy, TriedRebuild
from logbook.domain.errors import LogbookError
from logbook.domain.moments import Moment
from logbook.store import tables
from logbook.store.changes import LogState
from logbook.store.copies import look_at, named_as_copies, state_of
from logbook.store.engine import reading, translating
from logbook.store.files import Beside
from logbook.store.opening import open_to_read
from logbook.store.pages import Query
from logbook.store.readings import read_readings
from logbook.store.rebuild import rebuild
from logbook.store.restore import id_of_log

_SET_ASIDE = re.compile(r"-set-aside-(\d{4}-\d\d-\d\dT\d{6}Z)(?:-\d+)?$", re.ASCII)
_TIME = "%Y-%m-%dT%H%M%SZ"
# A damaged reading may hide the newest one; no more than so many are looked at.
_NEWEST_OF = 20


def offered_copies(
    path: Path,
    log_id: UUID | None,
    elsewhere: Iterable[Path],
    now: LogState | None = None,
    *,
    with_own: bool = True,
) -> list[OfferedCopy]:
    """What there is of the log `log_id` (of any log for None), the newest first.

    Of those that hold exactly the same, only the newest. `now` is how the log is at present;
    `with_own` is for those beside the log.
    """
    there = [*_beside(path)] if with_own else []
    there += [one for folder in elsewhere for one in _in_folder(folder)]
    found: dict[tuple[UUID, int, bytes], OfferedCopy] = {}
    for file, made_at, place in sorted(there, key=lambda one: one[1], reverse=True):
        with suppress(LogbookError, OSError, ValueError):
            state = state_of(file)
            held = _held(state)
            if held not in found and log_id in (None, state.log_id):
                is_as_now = now is not None and held == _held(now)
                found[held] = OfferedCopy(str(file), place, made_at, state.last_sequence, is_as_now)
    return sorted(found.values(), key=lambda one: (one.made_at, one.changes), reverse=True)


def _held(state: LogState) -> tuple[UUID, int, bytes]:
    """What tells whether two logs hold exactly the same."""
    return state.log_id, state.last_sequence, state.digest


def find_offers(path: Path, elsewhere: Iterable[Path]) -> list[OfferedCopy]:
    """The same for a log that can't be opened. Not for one that this process has open."""
    return offered_copies(path, id_of_log(path), elsewhere)


def prove_copy(copy: OfferedCopy) -> ProvedCopy | None:
    """Read a copy in full; None when it is not good, or no longer there."""
    file = Path(copy.file)
    if not look_at(file)[1]:
        return None
    with suppress(LogbookError, OSError, ValueError):
        return ProvedCopy(copy, *_readings_in(file))
    return None


def try_rebuild(path: Path) -> TriedRebuild:
    """Make a log from the journal of the log at `path`, in a private folder of its own.

    Raises what `rebuild` raises. `forget_rebuild` removes it.
    """
    with translating(path):
        folder = Path(tempfile.mkdtemp(prefix="logbook-"))  # only this person may enter it
    try:
        file = folder / path.name
        rebuilt = rebuild(Beside(path).journal, file)
        return TriedRebuild(str(file), rebuilt, *_readings_in(file))
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise


def forget_rebuild(tried: TriedRebuild) -> None:
    """Remove what `try_rebuild` made, with its folder."""
    shutil.rmtree(Path(tried.file).parent, ignore_errors=True)


def has_traces(path: Path) -> bool:
    """Whether there was a log at `path`: something of it lies beside."""
    beside = Beside(path)
    return beside.journal.exists() or any(_beside(path))


def _beside(path: Path) -> Iterator[tuple[Path, datetime, CopyPlace]]:
    for one, made_at, _occasion in named_as_copies(Beside(path).copies):
        yield one, made_at, CopyPlace.BESIDE
    with suppress(OSError):
        for one in path.parent.iterdir():
            told = _SET_ASIDE.search(one.stem)
            is_of_it = one.name.startswith(path.stem) and one.suffix == path.suffix
            if told is not None and is_of_it and one.is_file():
                with suppress(ValueError):  # no such day
                    set_at = datetime.strptime(told[1], _TIME).replace(tzinfo=UTC)
                    yield one, set_at, CopyPlace.SET_ASIDE


def _in_folder(folder: Path) -> Iterator[tuple[Path, datetime, CopyPlace]]:
    with suppress(OSError):
        for one, made_at, _occasion in named_as_copies(folder):
            yield one, made_at, CopyPlace.ELSEWHERE


def _readings_in(file: Path) -> tuple[int, Moment | None]:
    engine = open_to_read(file)
    try:
        with reading(engine) as connection:
            count = connection.scalar(select(func.count()).select_from(tables.readings)) or 0
        newest = read_readings(engine, Query(newest_first=True, limit=_NEWEST_OF))
        return count, next((one.at for one in newest if not one.is_damaged), None)
    finally:
        engine.dispose()
