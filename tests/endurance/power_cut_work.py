"""The work that is traced for the model of power cuts: `python -m ... WORK FOLDER [CONTROL]`.

It says on standard output what is safe from then on: the log's last sequence and digest, or the
name of a file that must be there. A control weakens the promise of the database, and must be
caught.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from logbook.book import Book, restore_log
from logbook.domain.settings import LogSettings
from logbook.store import engine
from logbook.store.changes import read_state
from logbook.store.engine import reading
from tests.store.records import Clock, make_reading

AT = datetime(2026, 5, 1, 8, 30, tzinfo=UTC)
NAME = "a.logbook"


def say(*words: object) -> None:
    """Say at once, by one call to the system."""
    os.write(1, (" ".join(map(str, words)) + "\n").encode())


def say_state(book: Book) -> None:
    """Say which state of the log is safe."""
    with reading(book._store.engine) as connection:
        state = read_state(connection)
    say("safe", state.last_sequence, state.digest.hex())


def use(path: Path) -> None:
    """Save, correct, cross out, bring back, change circumstances and settings, undo, put back."""
    with Book.open(path, Clock(AT)) as book:
        say_state(book)
        one = book.reading(make_reading(1).id)
        does: list[Callable[[], object]] = [
            *(lambda n=n: book.add(make_reading(n)) for n in range(100, 104)),
            lambda: book.correct(one.id, make_reading(7).glucose, one.at, one.slot, "misread"),
            lambda: book.cross_out(one.id, "not mine"),
            lambda: book.bring_back(one.id),
            lambda: book.replace(replace(book.reading(one.id), note="walked " * 40)),
            lambda: book.save_settings(replace(book.settings, person_name="Anna")),
            book.undo,
            book.undo,
            book.put_back,
        ]
        for do in does:
            do()
            say_state(book)


def take_in(path: Path) -> None:
    """An import with the copy before it, and its undoing."""
    with Book.open(path, Clock(AT)) as book:
        say_state(book)
        # Long enough for a mark in the journal.
        book.take_in([make_reading(n) for n in range(200, 400)], "file.csv")
        say_state(book)
        book.undo()
        say_state(book)


def copy(path: Path) -> None:
    """A copy that was asked for, one at closing, and old ones that go."""
    for days in (0, 1, 4):
        with Book.open(path, Clock(AT.replace(day=1 + days))) as book:
            say_state(book)
            book.add(make_reading(400 + days))
            say_state(book)
            say("file", book.make_copy().relative_to(path.parent))


def birth(path: Path) -> None:
    """A log is made in a folder that is not there yet."""
    with Book.create(path.parent / "new" / NAME, LogSettings(), Clock(AT)) as book:
        say("file", f"new/{NAME}")
        book.add(make_reading(1))


def migrate(path: Path) -> None:
    """A log of version 1 is opened, and so brought to the newest version."""
    with Book.open(path, Clock(AT)) as book:
        say_state(book)
        book.add(make_reading(500))
        say_state(book)


def restore(path: Path) -> None:
    """Going back to a copy, and back again."""
    with Book.open(path, Clock(AT), read_only=True) as book:
        say_state(book)
    copied = min((path.parent / f"{NAME}-copies").glob("*.logbook"))
    done = restore_log(path, copied, AT)
    say("file", Path(done.set_aside).name)
    with Book.open(path, Clock(AT), read_only=True) as book:
        say_state(book)
    restore_log(path, Path(done.set_aside), AT)
    with Book.open(path, Clock(AT), read_only=True) as book:
        say_state(book)


WORKS = {work.__name__: work for work in (use, take_in, copy, birth, migrate, restore)}


def weaken(control: str) -> None:
    """Take away what the promise stands on."""
    set_pragmas = engine._set_pragmas

    def weakly(connection: object, access: engine.Access) -> None:
        set_pragmas(connection, access)  # type: ignore[arg-type]
        connection.execute(f"PRAGMA synchronous = {control}")  # type: ignore[attr-defined]

    engine._set_pragmas = weakly


if __name__ == "__main__":
    if len(sys.argv) > 3:
        weaken(sys.argv[3])
    WORKS[sys.argv[1]](Path(sys.argv[2]) / NAME)
