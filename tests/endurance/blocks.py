"""Damage to the whole file of a log: flipped bits, bad blocks, a lost end, swapped pages.

Also rollback journals of another log or of another time beside it. Everything is read as the
program reads it. A reading that is handed out is the one that was written, or is marked as damaged;
or the log is refused as damaged; or nothing that counts was hit. What the damage did is never
silent: whenever anything differs from the truth, the check finds the log not sound. And the newest
good copy is found as the way back.

The control is a build that does not look at digests; it must let something through.
"""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, closing
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from unittest.mock import patch
from uuid import UUID

from logbook.book import Book, check_log, find_way_back
from logbook.domain.errors import DamagedLog, LogbookError, LogReadOnly, NotALog
from logbook.domain.readings import Reading
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings
from logbook.store import audit, columns, readings, verify
from tests.endurance.damage import cells_of
from tests.endurance.runs import Outcome, main
from tests.store.records import Clock, make_reading

ROWS = 300
_PAGE = 4_096
_SECTOR = 512
_KINDS = (
    "bit",
    "bit",
    "bit",
    "bit",
    "zeroed sector",
    "garbage sector",
    "zeroed page",
    "garbage page",
    "cut",
    "swapped pages",
    "older page",
    "journal of another log",
    "journal of another time",
)
_SLOW_SECONDS = 5.0


@dataclass(frozen=True)
class Made:
    """A sound log, the same a change earlier, a rollback journal of each, and the truth."""

    content: bytes
    earlier: bytes
    own_journal: bytes
    other_journal: bytes
    copies: Path
    cells: list[range]
    truth: dict[UUID, Reading]


@cache
def made_log(folder: Path) -> Made:
    """Make it once."""
    folder = folder / f"made-{os.getpid()}"
    path = folder / "sound" / "a.logbook"
    made = [
        make_reading(n, note="walked" if n % 3 else "", initials="A") for n in range(1, ROWS + 1)
    ]
    with Book.create(path, LogSettings(), Clock()) as book:
        book.take_in(made[:-1], "endurance")
    earlier = path.read_bytes()
    with Book.open(path, Clock()) as book:
        book.add(made[-1])
    other = folder / "other" / "a.logbook"
    with Book.create(other, LogSettings(person_name="Other"), Clock()) as book:
        book.take_in(made[:50], "other")
    with closing(sqlite3.connect(path)) as connection:
        (root,) = connection.execute(
            "SELECT rootpage FROM sqlite_schema WHERE name = 'readings'"
        ).fetchone()
    content = path.read_bytes()
    return Made(
        content,
        earlier,
        _rollback_journal(path, folder / "one"),
        _rollback_journal(other, folder / "two"),
        path.with_name("a.logbook-copies"),
        list(cells_of(content, root)),
        {reading.id: reading for reading in made},
    )


def _rollback_journal(path: Path, folder: Path) -> bytes:
    """What lies beside a log while a change is written: the journal of that change."""
    folder.mkdir()
    copy = folder / path.name
    shutil.copy(path, copy)
    connection = sqlite3.connect(copy, isolation_level=None)
    connection.execute("PRAGMA cache_size = 1")
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("UPDATE readings SET steps = steps + 1")
    found = copy.with_name(path.name + "-journal").read_bytes()
    connection.rollback()
    connection.close()
    assert len(found) > _PAGE
    return found


def damage_and_read(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """Damage it once and read everything."""
    made = made_log(folder.parent)
    chance = random.Random(f"{seed}/{number}")
    # The control flips bits of readings: SQLite's own checks still find bad blocks by themselves.
    kind = "bit of a reading" if control else _KINDS[number % len(_KINDS)]
    path = folder / "a.logbook"
    path.write_bytes(damaged(made, kind, chance))
    if kind.startswith("journal"):
        another = made.other_journal if "log" in kind else made.own_journal
        path.with_name("a.logbook-journal").write_bytes(another)
    outcome = Outcome(counts={"damages": 1, kind: 1})
    begun = time.monotonic()
    with ExitStack() as stack:
        if control:
            for module in (columns, readings, verify, audit):
                stack.enter_context(patch.object(module, "is_sound", lambda *_: True))
            stack.enter_context(patch.object(columns, "are_sound", lambda *_: True))
        differs = _read(path, made, outcome)
        _check(path, made, differs=differs, control=control, outcome=outcome)
        if not control:
            _write_on(path, made, outcome)
    if time.monotonic() - begun > 4 * _SLOW_SECONDS:
        outcome.faults.append("it took very long")
    outcome.faults = [f"{kind}: {fault}" for fault in outcome.faults]
    shutil.rmtree(folder)
    return outcome


def damaged(made: Made, kind: str, chance: random.Random) -> bytes:
    """The log with one damage of a kind."""
    content = bytearray(made.content)
    pages = len(content) // _PAGE
    size = _SECTOR if "sector" in kind else _PAGE
    place = chance.randrange(len(content) // size) * size
    match kind:
        case "bit":
            content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
        case "bit of a reading":
            content[chance.choice(chance.choice(made.cells))] ^= 1 << chance.randrange(8)
        case "zeroed sector" | "zeroed page":
            content[place : place + size] = bytes(size)
        case "garbage sector" | "garbage page":
            content[place : place + size] = chance.randbytes(size)
        case "cut":
            # At each page in turn, and sometimes within one.
            end = chance.randrange(pages) * _PAGE + chance.choice([0, 0, chance.randrange(_PAGE)])
            del content[end:]
        case "swapped pages":
            one, other = (number * _PAGE for number in chance.sample(range(1, pages), 2))
            first = content[one : one + _PAGE]
            content[one : one + _PAGE] = content[other : other + _PAGE]
            content[other : other + _PAGE] = first
        case "older page":
            place = chance.randrange(min(pages, len(made.earlier) // _PAGE)) * _PAGE
            content[place : place + _PAGE] = made.earlier[place : place + _PAGE]
    return bytes(content)


def _read(path: Path, made: Made, outcome: Outcome) -> bool:
    """Read everything; whether anything was not as it was written, without being marked."""
    try:
        with Book.open(path, Clock(), read_only=True) as book:
            whole, series = book.readings(), book.series()
    except (DamagedLog, NotALog, LogReadOnly):
        outcome.counts["refused"] = 1
        return True
    except Exception as error:  # noqa: BLE001 (whatever it is, it is a fault)
        outcome.faults.append(f"{error!r}")
        return True
    if any(reading.is_damaged for reading in whole):
        outcome.counts["shown as damaged"] = 1
    outcome.faults += [*_faults_of_readings(whole, made), *_faults_of_columns(series, made)]
    is_whole = {reading.id for reading in whole} == set(made.truth)
    return not is_whole or any(reading.is_damaged for reading in whole)


def _faults_of_readings(whole: list[Reading], made: Made) -> Iterator[str]:
    for reading in whole:
        if reading.is_damaged:
            if reading.glucose.value is not None:
                yield "a damaged reading was shown as a number"
        elif reading != made.truth.get(reading.id):
            yield "an altered reading was handed out"


def _faults_of_columns(series: Series, made: Made) -> Iterator[str]:
    for index, marks in enumerate(series.marks):
        if not marks & Mark.DAMAGED:
            sound = made.truth.get(UUID(series.ids[index]))
            if sound is None or series.steps[index] != sound.glucose.order_steps:
                yield "an altered value is in the columns"


def _check(path: Path, made: Made, *, differs: bool, control: bool, outcome: Outcome) -> None:
    # The log lies alone here, without its plain-text journal: that is found every time. Its copies
    # come beside it afterwards, since the check would read them all each time.
    try:
        found = sum("journal" not in finding.kind.value for finding in check_log(path).findings)
    except LogbookError:
        found = 1
    except Exception as error:  # noqa: BLE001
        outcome.faults.append(f"the check: {error!r}")
        return
    path.with_name("a.logbook-copies").symlink_to(made.copies)
    if differs and not found:
        outcome.faults.append("what differs was not found by the check")
    outcome.counts["found by the check"] = int(bool(found))
    if not control:
        way = find_way_back(path, Clock()())
        if differs and (way.copy is None or not way.copy.is_good):
            outcome.faults.append("no way back was found")


def _write_on(path: Path, made: Made, outcome: Outcome) -> None:
    """Open it to write, take back, write, and read again: whatever works must be true."""
    try:
        book = Book.open(path, Clock())
    except LogbookError:
        return
    except Exception as error:  # noqa: BLE001
        outcome.faults.append(f"opening to write: {error!r}")
        return
    try:
        for do in (lambda: book.undoable, lambda: book.add(make_reading(9_999)), book.undo):
            try:
                do()
            except LogbookError:
                outcome.counts["refused to write"] = 1
        for reading in book.readings():
            if not reading.is_damaged and reading not in (
                made.truth.get(reading.id),
                make_reading(9_999),
            ):
                outcome.faults.append("an altered reading after writing")
    except LogbookError:
        pass
    except Exception as error:  # noqa: BLE001
        outcome.faults.append(f"writing: {error!r}")
    finally:
        book._store.close()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 13_000, damage_and_read))
