"""Saving, taking in, taking back, copying and closing while calls to the system fail."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError
from tests.endurance.power_cut_work import AT
from tests.endurance.victims import Say
from tests.store.records import Clock, make_reading

FIRST = 1_000
SAVES = 6
IMPORT = range(2_000, 2_030)


def work(path: Path, say: Say) -> None:
    """Open, save, take in, save settings, go back, close with a copy.

    Says for each whether it was said to be done, or refused in words; anything else is a fault.
    """
    try:
        book = Book.open(path, Clock(AT))
    except LogbookError as error:
        say(f"refused open {type(error).__name__}")
        return

    def tried(what: str, do: Callable[[], object]) -> None:
        try:
            do()
        except LogbookError as error:
            say(f"refused {what} {type(error).__name__}")
        else:
            say(f"saved {what}")

    for number in range(FIRST, FIRST + SAVES):
        tried(str(number), lambda n=number: book.add(make_reading(n)))  # type: ignore[misc]
    one = make_reading(3)
    tried("correction", lambda: book.correct(one.id, make_reading(8).glucose, one.at, one.slot))
    tried("crossing out", lambda: book.cross_out(make_reading(4).id))
    tried(f"{IMPORT[0]}", lambda: book.take_in([make_reading(n) for n in IMPORT], "file.csv"))
    tried(f"{FIRST + SAVES}", lambda: book.add(make_reading(FIRST + SAVES)))
    tried("close", book.close)
    say("done")
