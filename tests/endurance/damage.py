"""One flipped bit in the rows of a log: is it found, and is nothing altered shown as a number?

The flips hit the cells of the readings' own pages (keys, lengths, types and contents alike). The
control reads with a build that does not look at digests; it must let some altered value through.
"""

from __future__ import annotations

import random
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import ExitStack, closing
from functools import cache
from pathlib import Path
from unittest.mock import patch
from uuid import UUID

from logbook.book import Book
from logbook.domain.errors import DamagedLog
from logbook.domain.readings import Reading
from logbook.domain.series import Mark, Series
from logbook.domain.settings import LogSettings
from logbook.store import columns, readings
from tests.endurance.runs import Outcome, main
from tests.store.records import Clock, make_reading

ROWS = 300
_INTERIOR, _LEAF = 0x05, 0x0D


def varint(page: bytes, at: int) -> tuple[int, int]:
    """A variable-length integer of SQLite's file format, and where it ends."""
    value = 0
    for index in range(8):
        byte = page[at + index]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + index + 1
    return value << 8 | page[at + 8], at + 9


def cells_of(content: bytes, root: int) -> Iterator[range]:
    """Where the cells of a table lie in a file: SQLite's file format, section 1.6 (from memory)."""
    size = int.from_bytes(content[16:18], "big")
    start = (root - 1) * size
    page = content[start : start + size]
    header = 100 if root == 1 else 0
    count = int.from_bytes(page[header + 3 : header + 5], "big")
    pointers = header + (12 if page[header] == _INTERIOR else 8)
    for index in range(count):
        place = pointers + 2 * index
        at = int.from_bytes(page[place : place + 2], "big")
        if page[header] == _INTERIOR:
            yield from cells_of(content, int.from_bytes(page[at : at + 4], "big"))
        else:
            assert page[header] == _LEAF
            payload, after_length = varint(page, at)
            _, after_key = varint(page, after_length)
            assert payload < size // 2, "rows here are made to fit into their page"
            yield range(start + at, start + after_key + payload)
    if page[header] == _INTERIOR:
        yield from cells_of(content, int.from_bytes(page[header + 8 : header + 12], "big"))


@cache
def made_log(folder: Path) -> tuple[bytes, dict[UUID, Reading], list[range]]:
    """The bytes of a sound log, its readings, and where their cells lie."""
    path = folder / "sound.logbook"
    made = [
        make_reading(n, note="walked" if n % 3 else "", initials="A") for n in range(1, ROWS + 1)
    ]
    with Book.create(path, LogSettings(), Clock()) as book:
        book.take_in(made, "endurance")
    with closing(sqlite3.connect(path)) as connection:
        (root,) = connection.execute(
            "SELECT rootpage FROM sqlite_schema WHERE name = 'readings'"
        ).fetchone()
    content = path.read_bytes()
    cells = list(cells_of(content, root))
    assert len(cells) == ROWS
    return content, {reading.id: reading for reading in made}, cells


def flip_and_read(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """Flip one bit and read everything in both ways."""
    content, truth, cells = made_log(folder.parent)
    chance = random.Random(f"{seed}/{number}")
    altered = bytearray(content)
    place = chance.choice(chance.choice(cells))
    altered[place] ^= 1 << chance.randrange(8)
    path = folder / "a.logbook"
    path.write_bytes(altered)
    outcome = Outcome(counts={"flips": 1})
    with ExitStack() as stack:
        if control:
            for module in (columns, readings):
                stack.enter_context(patch.object(module, "is_sound", lambda *_: True))
            stack.enter_context(patch.object(columns, "are_sound", lambda *_: True))
        _read(path, truth, outcome, where=f"byte {place}")
    path.unlink()
    return outcome


def _read(path: Path, truth: dict[UUID, Reading], outcome: Outcome, where: str) -> None:
    try:
        with Book.open(path, Clock(), read_only=True) as book:
            whole, series = book.readings(), book.series()
    except DamagedLog:
        outcome.counts["refused as damaged"] = 1
        return
    except Exception as error:  # noqa: BLE001 (whatever it is, it is a fault)
        outcome.faults.append(f"{where}: {type(error).__name__} {error}")
        return
    damaged = [reading for reading in whole if reading.is_damaged]
    faults = [
        *_faults_of_readings(whole, truth),
        *_faults_of_columns(series, truth),
        *(["the damage was not found"] if not damaged else []),
    ]
    if not len(whole) == len(series) == len(truth):
        faults.append("readings are missing from a list")
    if len(damaged) != series.with_mark(Mark.DAMAGED):
        faults.append("list and columns do not agree")
    outcome.faults += [f"{where}: {fault}" for fault in faults]
    outcome.counts["shown as damaged"] = 1
    outcome.counts["rows marked"] = len(damaged)


def _faults_of_readings(whole: list[Reading], truth: dict[UUID, Reading]) -> Iterator[str]:
    for reading in whole:
        if not reading.is_damaged and reading != truth.get(reading.id):
            yield "an altered reading was handed out"
        if reading.is_damaged and reading.glucose.value is not None:
            yield "a damaged reading was shown as a number"


def _faults_of_columns(series: Series, truth: dict[UUID, Reading]) -> Iterator[str]:
    for index, marks in enumerate(series.marks):
        sound = truth.get(UUID(series.ids[index]))
        if marks & Mark.DAMAGED:
            if series.steps[index] != 0:
                yield "a damaged reading has steps"
        elif sound is None or series.steps[index] != sound.glucose.order_steps:
            yield "an altered value is in the columns"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 1000, flip_and_read))
