"""The power goes while a log is saved to, imported into, copied, born, migrated, gone back.

The calls to the system are traced once for each work (needs strace). Each trial lets the power go
after one of the calls, lays out what may be on the disk then (see `disk_model`), and opens the log
as the program does: it must be in the state that was last said to be safe or in the next one, and
sound; files that were said to be there must be there; every copy with a name must be good.

The control runs with synchronous=OFF or FULL instead of EXTRA, and must be caught.
"""

from __future__ import annotations

import random
import shutil
import subprocess
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from unittest.mock import patch

from logbook.book import Book
from logbook.store import health
from logbook.store.changes import read_state
from logbook.store.copies import look_at
from logbook.store.engine import reading
from logbook.store.restore import finish_interrupted_restore
from tests.endurance.disk_model import TRACED, Call, Disk, read_calls
from tests.endurance.power_cut_work import AT, NAME, WORKS
from tests.endurance.runs import Outcome, main
from tests.store.records import Clock, make_log, make_reading

ROOT = Path(__file__).parents[2]
_CONTROLS = ("OFF", "FULL")
State = tuple[int, str]


@dataclass(frozen=True)
class Traced:
    """A work that was traced: the disk before it, its calls, and after how many what was said."""

    before: Path
    traced_as: Path
    calls: tuple[Call, ...]
    cuts: tuple[int, ...]
    said: tuple[tuple[int, tuple[str, ...]], ...]


@cache
def traced(folder: Path, work: str, control: str) -> Traced:
    """Do the work once under strace."""
    before, real = folder / f"before-{work}-{control}", folder / f"{work}-{control}"
    before.mkdir()
    if work == "migrate":
        for name in ("", "-changes.txt"):
            shutil.copy(ROOT / "tests/data" / f"revision-1.logbook{name}", before / f"{NAME}{name}")
    elif work != "birth":
        make_log(before / NAME, *(make_reading(n) for n in range(1, 40)))
        with Book.open(before / NAME, Clock(AT.replace(day=1, month=4))) as book:
            book.add(make_reading(40))
    shutil.copytree(before, real)
    trace = folder / f"{work}-{control}.trace"
    command = ["strace", "-o", str(trace), "-xx", "-s", "100000000", "-e", f"trace={TRACED}"]
    python = [sys.executable, "-m", "tests.endurance.power_cut_work", work, str(real)]
    more = [control] if control else []
    subprocess.run([*command, *python, *more], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    calls: list[Call] = []
    cuts: list[int] = []
    said: list[tuple[int, tuple[str, ...]]] = []
    disk = Disk(before, real)
    for call in read_calls(trace):
        if call.name == "write" and call.numbers[0] == 1:
            said.append((len(calls), tuple(call.texts[0].decode().split())))
            continue
        calls.append(call)
        if disk.feed(call):
            cuts.append(len(calls))
    return Traced(before, real, tuple(calls), tuple(cuts), tuple(said))


def cut_power(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One power cut."""
    work = list(WORKS)[number % len(WORKS)]
    round_ = number // len(WORKS)
    weakness = _CONTROLS[round_ % len(_CONTROLS)] if control else ""
    done = traced(folder.parent, work, weakness)
    chance = random.Random(f"{seed}/{number}")
    cut = done.cuts[round_ * 37 % len(done.cuts)] if round_ % 2 else chance.choice(done.cuts)
    disk = Disk(done.before, done.traced_as)
    for call in done.calls[:cut]:
        disk.feed(call)
    left = folder / "left"
    disk.after_cut(left, chance)
    said = [words for after, words in done.said if after <= cut]
    still = [words for after, words in done.said if after > cut]
    outcome = Outcome(counts={"states": 1, f"states of {work}": 1})
    _look(left, done.before, work, said, still, outcome)
    where = f"{work} {weakness} after call {cut} of {len(done.calls)}"
    outcome.faults = [f"{where}: {fault}" for fault in outcome.faults]
    if control and outcome.faults:
        outcome.counts[f"caught with {weakness}"] = 1
    shutil.rmtree(folder)
    return outcome


def _look(
    left: Path,
    before: Path,
    work: str,
    said: list[tuple[str, ...]],
    still: list[tuple[str, ...]],
    outcome: Outcome,
) -> None:
    path = left / ("new" if work == "birth" else "") / NAME
    if work == "birth" and not path.exists():
        if said:
            outcome.faults.append("it was said to be made and is not there")
        return
    if (left / f"{NAME}-journal").exists():
        outcome.counts["with a rollback journal"] = 1
    finish_interrupted_restore(path)
    _look_at_files(left, before, said, outcome)
    allowed = [_state(words) for words in said if words[0] == "safe"][-1:]
    allowed += [_state(words) for words in still if words[0] == "safe"][:1]
    try:
        book = Book.open(path, Clock(AT))
        try:
            with patch.object(health, "list_copies", lambda *_: []):  # they are looked at above
                found = book.check().findings
            outcome.faults += [f"not sound: {finding}" for finding in found]
            state = _state_of(book)
            if work != "birth" and state not in allowed:
                outcome.faults.append(f"change {state[0]} was not said to be safe, nor the next")
            book.add(make_reading(9_999))
        finally:
            book._store.close()
    except Exception as error:  # noqa: BLE001 (whatever it is, it is a fault)
        outcome.faults.append(f"not usable: {error!r} {getattr(error, 'facts', '')}")


def _look_at_files(left: Path, before: Path, said: list[tuple[str, ...]], outcome: Outcome) -> None:
    """What was said to be there is there, and what has a copy's name is good."""
    for words in said:
        if words[0] == "file" and not (left / words[1]).exists():
            outcome.faults.append(f"{words[1]} was said to be there and is not")
    for kept in [*left.glob("*-copies/*.logbook"), *left.glob("*set-aside*.logbook")]:
        was_there = (before / kept.relative_to(left)).exists()
        if not (was_there or kept.name.startswith(".") or look_at(kept)[1]):
            outcome.faults.append(f"{kept.name} has its name and is not good")


def _state(words: tuple[str, ...]) -> State:
    return int(words[1]), words[2]


def _state_of(book: Book) -> State:
    with reading(book._store.engine) as connection:
        state = read_state(connection)
    return state.last_sequence, state.digest.hex()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 20_000, cut_power))
