"""A call to the system fails, once or from then on, while a log is used: every call there is.

The work is done once to count its calls about the log's files: opening, writing, cutting, syncing,
renaming, linking, taking names away, making folders. Then it is done again for each of these calls,
with EIO and ENOSPC (EACCES for names), failing once and from then on. Each save is said to be saved
or refused in words. Afterwards, on a disk that works again, what was said to be saved is there and
equal, what was refused is there whole or not at all, and the check finds nothing.

The control says "saved" whatever the database says, and must be caught.
"""

from __future__ import annotations

import os
import shutil
import sys
from functools import cache
from pathlib import Path
from uuid import UUID

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.readings import Reading
from tests.endurance import failing_calls
from tests.endurance.failing_io_work import FIRST, IMPORT, SAVES, work
from tests.endurance.power_cut_work import AT, NAME
from tests.endurance.runs import Outcome, main
from tests.endurance.victims import Say, run_whole
from tests.store.records import Clock, make_log, make_reading

_MODULE = "tests.endurance.failing_io"
BEFORE = 20
_ERRORS = {
    "open": ("EIO", "EACCES"),
    "rename": ("EIO", "EACCES"),
    "link": ("EIO", "EPERM"),
    "unlink": ("EIO", "EACCES"),
}
_USUAL_ERRORS = ("EIO", "ENOSPC")

Failure = tuple[str, str, int, bool]
"""Call, error, which of the calls, and whether all from then on."""


@cache
def _made(folder: Path) -> Path:
    path = folder / f"made-{os.getpid()}" / NAME
    return make_log(path, *(make_reading(n) for n in range(1, BEFORE))).parent


@cache
def failures(folder: Path) -> list[Failure]:
    """Every failure there can be, in an order in which a part of them is of all sorts."""
    real = folder / f"counted-{os.getpid()}"
    shutil.copytree(_made(folder), real)

    def counted(say: Say) -> None:
        failing_calls.fail(real, "open", 0, "EIO", for_ever=False)
        work(real / NAME, lambda _line: None)
        for call, count in failing_calls.counts().items():
            say(f"{call} {count}")

    found = [line.split() for line in run_whole(counted)]
    shutil.rmtree(real)
    every = [
        (call, error, when, for_ever)
        for call, count in found
        for when in range(1, int(count) + 1)
        for error in _ERRORS.get(call, _USUAL_ERRORS)
        for for_ever in (False, True)
    ]
    # A step that shares no factor with their number leads to each of them once.
    step = next(one for one in range(len(every) * 3 // 8, len(every)) if _shares_none(one, every))
    return [every[number * step % len(every)] for number in range(len(every))]


def _shares_none(step: int, every: list[Failure]) -> bool:
    one, other = step, len(every)
    while other:
        one, other = other, one % other
    return one == 1


def fail_once(number: int, _seed: int, folder: Path, control: bool) -> Outcome:
    """One failure, and what is left."""
    every = failures(folder.parent)
    call, error, when, for_ever = every[number % len(every)]
    real = folder / "log"
    shutil.copytree(_made(folder.parent), real)
    path = real / NAME

    def failing(say: Say) -> None:
        failing_calls.fail(real, call, when, error, for_ever=for_ever)
        try:
            work(path, say)
        except Exception as fault:  # noqa: BLE001 (whatever it is, it is a fault)
            say(f"fault {fault!r}")
        say(f"failed {failing_calls.has_failed()}")

    said = run_whole(failing)
    outcome = Outcome(
        counts={
            "failures": 1,
            "kinds of failure there are": len(every) if number == 0 else 0,
            "calls that failed": int("failed True" in said),
            "saved": sum(line.startswith("saved") for line in said),
            "refused": sum(line.startswith("refused") for line in said),
        }
    )
    if control:
        said = [_lied(line) for line in said]
    _look(path, said, outcome)
    where = f"{call} {error} at {when}{' and for ever' if for_ever else ''}"
    outcome.faults = [f"{where}: {fault}" for fault in outcome.faults]
    shutil.rmtree(folder)
    return outcome


def _lied(line: str) -> str:
    kind, *what = line.split()
    return f"saved {' '.join(what[:-1])}" if kind == "refused" else line


def _look(path: Path, said: list[str], outcome: Outcome) -> None:
    outcome.faults += [line for line in said if line.startswith("fault")]
    if not said:
        outcome.faults.append("nothing was said at all")
    try:
        with Book.open(path, Clock(AT)) as book:
            there = {reading.id: reading for reading in book.readings()}
            outcome.faults += [f"not sound: {finding}" for finding in book.check().findings]
            book.add(make_reading(9_999))
    except LogbookError as error:
        outcome.faults.append(f"not usable: {error!r} {error.facts}")
        return
    outcome.faults += [
        f"{what} was said to be saved and is not there"
        for kind, _, what in (line.partition(" ") for line in said)
        if kind == "saved" and not _is_there(what, there)
    ]
    if not {make_reading(n).id for n in range(1, BEFORE)} <= set(there):
        outcome.faults.append("readings of before are missing")
    if sum(make_reading(n).id in there for n in IMPORT) not in (0, len(IMPORT)):
        outcome.faults.append("an import is half there")
    known = {make_reading(n).id for n in (*range(1, BEFORE), *IMPORT)}
    known |= {make_reading(n).id for n in range(FIRST, FIRST + SAVES + 1)}
    if not set(there) <= known:
        outcome.faults.append("there is what was never saved")


def _is_there(what: str, there: dict[UUID, Reading]) -> bool:
    if what == "correction":
        return bool(there[make_reading(3).id].earlier)
    if what == "crossing out":
        return there[make_reading(4).id].crossed_out is not None
    if what.isdigit():
        numbers = IMPORT if int(what) == IMPORT[0] else [int(what)]
        return all(there.get(make_reading(n).id) == make_reading(n) for n in numbers)
    return True


if __name__ == "__main__":
    failing_calls.with_library(_MODULE)
    sys.exit(main(sys.argv[1:], __doc__ or "", 3_300, fail_once))
