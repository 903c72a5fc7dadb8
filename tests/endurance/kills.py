"""SIGKILL while a log is saved to, imported into, copied, closed and opened again.

The log has 300 readings before. Whatever was said to be saved must be there, equal; an import must
be there whole or not at all; the check must find nothing; and opening must need no step by hand,
and be quick. The control says "saved" before COMMIT, and must be caught.
"""

from __future__ import annotations

import os
import random
import shutil
import sys
import time
from functools import cache
from pathlib import Path

from sqlalchemy import event

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.settings import LogSettings
from tests.endurance.runs import Outcome, main
from tests.endurance.victims import Say, open_files_left, run_and_kill
from tests.store.records import Clock, make_reading

READINGS_BEFORE = 300
_IMPORT = 40
_READY_WITHIN_SECONDS = 2.0
_NAME = "a.logbook"


@cache
def made_log(folder: Path) -> Path:
    """The folder of a log with readings, written as a person writes them, made once a process."""
    path = folder / f"made-{os.getpid()}" / _NAME
    with Book.create(path, LogSettings(), Clock()) as book:
        for first in range(1, READINGS_BEFORE, 10):
            book.add(*(make_reading(number) for number in range(first, first + 10)))
    return path.parent


def work_on(path: Path, seed: str, *, says_too_early: bool, say: Say) -> None:
    """Save for ever: numbered readings one by one, and now and then forty as an import."""
    chance = random.Random(seed)
    number = READINGS_BEFORE + 1
    while True:
        with Book.open(path, Clock()) as book:
            said_early: list[str] = []
            if says_too_early:

                @event.listens_for(book._store.engine, "commit")
                def say_now(_connection: object, words: list[str] = said_early) -> None:
                    if words:
                        say(words.pop())

            say("opened")
            for _ in range(chance.randint(5, 20)):
                is_import = chance.random() < 0.1
                count = _IMPORT if is_import else 1
                some = [make_reading(n) for n in range(number, number + count)]
                line = f"{'import' if is_import else 'save'} {number}"
                if says_too_early:
                    said_early.append(line)
                if is_import:
                    book.take_in(some, "kills")
                else:
                    book.add(*some)
                if not says_too_early:
                    say(line)
                number += count


def kill_once(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One kill, and what is left."""
    path = folder / _NAME
    shutil.copytree(made_log(folder.parent), folder, dirs_exist_ok=True)
    chance = random.Random(f"{seed}/{number}")

    def work(say: Say) -> None:
        work_on(path, f"{seed}/{number}/work", says_too_early=control, say=say)

    # One kill in three falls anywhere, closing and opening included; two fall within the next save.
    anywhere = number % 3 == 0
    said = run_and_kill(work, chance.randint(1, 24), chance.uniform(0, 0.25 if anywhere else 0.005))
    rollback = path.with_name(f"{_NAME}-journal")
    outcome = Outcome(
        counts={
            "kills": 1,
            "confirmed": sum(line != "opened" for line in said),
            "with a hot journal": int(rollback.exists() and rollback.stat().st_size > 0),
            "with an unfinished copy": int(bool(open_files_left(folder))),
        }
    )
    begun = time.monotonic()
    try:
        with Book.open(path, Clock()) as book:
            book.readings(newest_first=True, limit=20)
            if time.monotonic() - begun > _READY_WITHIN_SECONDS:
                outcome.faults.append(f"ready after {time.monotonic() - begun:.1f} s only")
            _compare(book, said, outcome)
            book.add(make_reading(100_000))
    except LogbookError as error:
        outcome.faults.append(f"not opened: {type(error).__name__} {error.facts}")
    if left := open_files_left(folder):
        outcome.faults.append(f"left behind: {left}")
    shutil.rmtree(folder)
    return outcome


def _compare(book: Book, said: list[str], outcome: Outcome) -> None:
    there = {reading.id: reading for reading in book.readings()}
    confirmed = 0
    for line in [f"before {READINGS_BEFORE}", *said]:
        kind, _, first = line.partition(" ")
        count = {"before": READINGS_BEFORE, "save": 1, "import": _IMPORT}.get(kind, 0)
        begin = 1 if kind == "before" else int(first or 0)
        for number in range(begin, begin + count):
            wanted = make_reading(number)
            confirmed += 1
            if there.get(wanted.id) != wanted:
                outcome.faults.append(f"{line}: reading {number} was confirmed and is not there")
    # Beyond what was confirmed there may be the one change whose confirmation was cut off.
    if len(there) - confirmed not in (0, 1, _IMPORT):
        outcome.faults.append(f"{len(there) - confirmed} readings of an unfinished change")
    for finding in book.check().findings:
        outcome.faults.append(f"not sound: {finding}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 5_000, kill_once))
