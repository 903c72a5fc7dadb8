"""SIGKILL while a log is born.

Afterwards it is there whole, or not there at all and can be made; nothing has to be cleared away by
hand. The control says "made" before the log is written, and must be caught.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.settings import LogSettings
from logbook.store import birth
from logbook.store.changes import Step
from tests.endurance.runs import Outcome, main
from tests.endurance.victims import Say, open_files_left, run_and_kill
from tests.store.records import Clock, make_reading


def kill_at_birth(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One kill, and what is left."""
    path = folder / "a.logbook"
    chance = random.Random(f"{seed}/{number}")

    def work(say: Say) -> None:
        if control:
            fill = birth._fill

            def say_first(
                unfinished: Path, path: Path, steps: Sequence[Step], at: datetime
            ) -> None:
                say("made")
                fill(unfinished, path, steps, at)

            birth._fill = say_first
        say("begun")
        Book.create(path, LogSettings(person_name="born"), Clock())
        if not control:
            say("made")

    said = (
        run_and_kill(work, 2, chance.uniform(0, 0.02))
        if control
        else run_and_kill(work, 1, chance.uniform(0, 0.05))
    )
    was_there = path.exists()
    outcome = Outcome(
        counts={
            "kills": 1,
            "confirmed": int("made" in said),
            "there": int(was_there),
            "with an unfinished log": int(bool(open_files_left(folder))),
        }
    )
    if "made" in said and not was_there:
        outcome.faults.append("it was said to be made and is not there")
    try:
        made = (
            Book.open(path, Clock())
            if was_there
            else Book.create(path, LogSettings(person_name="born"), Clock())
        )
        with made as book:
            book.add(make_reading(1))
            if book.settings.person_name != "born":
                outcome.faults.append("its settings are not those it was born with")
            outcome.faults += [f"not sound: {finding}" for finding in book.check().findings]
    except LogbookError as error:
        outcome.faults.append(f"not usable: {type(error).__name__} {error.facts}")
    if left := open_files_left(folder):
        outcome.faults.append(f"left behind: {left}")
    return outcome


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 60, kill_at_birth))
