"""Saving while calls to the system fail: `python -m tests.endurance.failing_io_work FOLDER`.

Says for each save whether it was said to be saved, or refused in words; anything else is a fault.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError
from tests.endurance.power_cut_work import AT, NAME
from tests.store.records import Clock, make_reading

FIRST = 1_000
SAVES = 6


def say(*words: object) -> None:
    """Say at once, by one call to the system."""
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def work(path: Path) -> None:
    """Open, save, take in, take back, save, close with a copy."""
    try:
        book = Book.open(path, Clock(AT))
    except LogbookError as error:
        say("refused", "open", type(error).__name__)
        return
    for number in range(FIRST, FIRST + SAVES):
        try:
            book.add(make_reading(number))
        except LogbookError as error:
            say("refused", number, type(error).__name__)
        else:
            say("saved", number)
    try:
        book.take_in([make_reading(n) for n in range(2_000, 2_030)], "file.csv")
    except LogbookError as error:
        say("refused", 2_000, type(error).__name__)
    else:
        say("saved", 2_000)
    try:
        book.close()
    except LogbookError as error:
        say("refused", "close", type(error).__name__)
    say("done")


if __name__ == "__main__":
    try:
        work(Path(sys.argv[1]) / NAME)
    except Exception as error:  # noqa: BLE001 (whatever it is, it is a fault)
        say("fault", repr(error))
