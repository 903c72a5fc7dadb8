"""A call to the system fails, once or from then on, while readings are saved.

The calls on the log's own files are made to fail by strace, one after the other: EIO or ENOSPC for
writes, cuts and syncs, EIO for opening, EACCES for taking names away. Each save is said to be saved
or refused in words. Afterwards, on a disk that works again, what was said to be saved is there and
equal, what was refused is there whole or not at all, and the check finds nothing.

The control says "saved" whatever the database says, and must be caught.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError
from tests.endurance.failing_io_work import FIRST, SAVES
from tests.endurance.power_cut_work import AT, NAME
from tests.endurance.runs import Outcome, main
from tests.store.records import Clock, make_log, make_reading

ROOT = Path(__file__).parents[2]
_FAILURES = (
    ("pwrite64", "EIO"),
    ("pwrite64", "ENOSPC"),
    ("fdatasync", "EIO"),
    ("ftruncate", "EIO"),
    ("openat", "EIO"),
    ("unlink", "EACCES"),
    ("fsync", "EIO"),
    ("write", "ENOSPC"),
)
_SPREAD = {"pwrite64": 170, "fdatasync": 40, "openat": 60, "unlink": 9}


@cache
def _made(folder: Path) -> Path:
    return make_log(folder / "made" / NAME, *(make_reading(n) for n in range(1, 20))).parent


def fail_once(number: int, _seed: int, folder: Path, control: bool) -> Outcome:
    """One failure, and what is left."""
    call, error = _FAILURES[number % len(_FAILURES)]
    for_ever = number // len(_FAILURES) % 2 == 1
    round_ = number // len(_FAILURES) // 2
    when = 1 + round_ * 7 % _SPREAD.get(call, 8)
    real = folder / "log"
    shutil.copytree(_made(folder.parent), real)
    path = real / NAME
    about = [path, f"{path}-journal", f"{path}-changes.txt", real]
    said = _run(real, about, f"{call}:error={error}:when={when}{'+' if for_ever else ''}")
    outcome = Outcome(
        counts={
            "failures": 1,
            "saved": sum(line.startswith("saved") for line in said),
            "refused": sum(line.startswith("refused") for line in said),
        }
    )
    if control:
        said = [line.replace("refused", "saved") for line in said]
    _look(path, said, outcome)
    where = f"{call} {error} at {when}{' and for ever' if for_ever else ''}"
    outcome.faults = [f"{where}: {fault}" for fault in outcome.faults]
    shutil.rmtree(folder)
    return outcome


def _run(real: Path, about: list[object], injected: str) -> list[str]:
    paths = [part for path in about for part in ("-P", str(path))]
    strace = ["strace", "-f", "-o", "/dev/null", *paths, "-e", f"inject={injected}"]
    done = subprocess.run(
        [*strace, sys.executable, "-m", "tests.endurance.failing_io_work", str(real)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    told = done.stdout.splitlines()
    if "Traceback" in done.stderr:
        told.append(f"fault {done.stderr.splitlines()[-1]}")
    return told


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
    for line in said:
        kind, _, rest = line.partition(" ")
        first = rest.split(" ")[0]
        if kind != "saved" or not first.isdigit():
            continue
        for number in range(int(first), int(first) + (30 if first == "2000" else 1)):
            wanted = make_reading(number)
            if there.get(wanted.id) != wanted:
                outcome.faults.append(f"reading {number} was said to be saved and is not there")
                break
    wanted_ids = {make_reading(n).id for n in range(1, 20)}
    if not wanted_ids <= set(there):
        outcome.faults.append("readings of before are missing")
    imported = sum(make_reading(n).id in there for n in range(2_000, 2_030))
    if imported not in (0, 30):
        outcome.faults.append("an import is half there")
    if len(there) > 19 + SAVES + 30 or FIRST < 0:
        outcome.faults.append("there is more than was ever saved")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 1_600, fail_once))
