"""SIGKILL of the whole window while a person saves, corrects, crosses out, takes back and types.

The window is the real program on a log of 300 readings. Whatever it said was written must be there
at the next start, equal; what was being written is there whole or not at all; the check finds
nothing. The next start shows one window with the form, asks for nothing, saves at once, and has
what was typed and not saved: a number that had stood there for a second must be there whole.

There are two controls: the window says "written" before anything is (odd trials), and it keeps no
draft (even trials). Both must be caught.
"""

from __future__ import annotations

import os
import random
import shutil
import sys
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError
from tests.endurance.runs import Outcome, main
from tests.endurance.victims import open_files_left, run_and_kill, run_whole
from tests.endurance.whole_window import (
    ERRORS_NAME,
    NAME,
    READINGS_BEFORE,
    look_at_start,
    make_log,
    preload,
    work_on,
)
from tests.store.records import Clock

# A draft is promised to be on the disk a second after the last key.
_DRAFT_WITHIN_SECONDS = 1.0

State = dict[str, tuple[int, bool]]
"""Readings by id: the number, and whether it is crossed out."""


@cache
def _made(folder: Path) -> tuple[Path, State]:
    preload()
    made = folder / f"made-{os.getpid()}"
    made.mkdir()
    make_log(made / NAME)
    return made, _state(made / NAME)


def kill_window(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One kill of the window, and what the next start shows."""
    made, before = _made(folder.parent)
    shutil.copytree(made, folder, dirs_exist_ok=True)
    chance = random.Random(f"{seed}/{number}")
    only_types = number % 4 == 0 if not control else number % 2 == 0
    wrong = ("forgets the draft" if only_types else "says too early") if control else ""
    seed_text = f"{seed}/{number}/work"
    # Of those that write, one in three falls anywhere, the others within what a press sets going.
    wait = chance.uniform(0, 0.5 if number % 3 == 0 else 0.03)
    lines, counting = chance.randint(1, 6), "try"
    if only_types:
        lines, counting = _lines_until_typed(seed_text), ""
        wait = _DRAFT_WITHIN_SECONDS if control else chance.choice([0.1, 0.4, 1.0, 1.0])
    outcome = Outcome(counts={"kills": 1})
    try:
        said = run_and_kill(
            lambda say: work_on(folder, seed_text, only_types=only_types, control=wrong, say=say),
            lines,
            wait,
            counting=counting,
        )
    except AssertionError as error:
        outcome.faults.append(f"{error}: {_errors(folder)}")
        return outcome
    rollback = folder / f"{NAME}-journal"
    outcome.counts["with a hot journal"] = int(rollback.exists() and rollback.stat().st_size > 0)
    told = Told.of(said, before)
    outcome.counts |= {
        "written before": len(told.history) - 1,
        "within an action": int(told.tried != ""),
        "with a number typed": int(told.typed != ""),
        "with a number a second old": int(only_types and wait >= _DRAFT_WITHIN_SECONDS),
    }
    # Looked at in a place of its own, so that the program finds what the kill left.
    beside = folder.with_name(f"{folder.name}-as-left")
    shutil.copytree(folder, beside)
    there = _compare(beside / NAME, told, outcome)
    shutil.rmtree(beside)
    must_be_kept = only_types and wait >= _DRAFT_WITHIN_SECONDS
    _start_again(folder, told, outcome, must_be_kept=must_be_kept, there=there)
    if errors := _errors(folder):
        outcome.faults.append(errors)
    if control:
        outcome.counts[f"where it {wrong}: caught"] = int(bool(outcome.faults))
    shutil.rmtree(folder)
    return outcome


def _lines_until_typed(seed_text: str) -> int:
    # What `work_on` says before the number stands there: opened, then five lines for each save.
    return 1 + 5 * random.Random(seed_text).randint(0, 2) + 3


@dataclass
class Told:
    """What the window said: every state it went through, and what was begun and not confirmed."""

    history: list[State]
    tried: str = ""
    typed: str = ""

    @classmethod
    def of(cls, said: list[str], before: State) -> Told:
        """What these lines say."""
        told = cls([before])
        for line in said:
            kind, _, rest = line.partition(" ")
            if kind == "typed":
                told.typed = rest
            elif kind == "try":
                told.tried = rest
            elif kind == "done":
                told.tried = ""
                if rest.startswith("save"):
                    told.typed = ""
                told.history = _after(told.history, rest)
        return told

    def fits(self, there: State) -> bool:
        """Whether this may lie on the disk: what was confirmed, or with what was begun."""
        if there == self.history[-1]:
            return True
        if self.tried.startswith("save"):
            more = [one for key, one in there.items() if key not in self.history[-1]]
            without = {key: one for key, one in there.items() if key in self.history[-1]}
            number = int(self.tried.split()[1])
            return without == self.history[-1] and more == [(number, False)]
        return bool(self.tried) and there == _after(self.history, self.tried)[-1]


def _after(history: list[State], line: str) -> list[State]:
    verb, *rest = line.split()
    if verb == "undo":
        return history[:-1]
    state = dict(history[-1])
    if verb == "cross":
        state[rest[0]] = (state[rest[0]][0], True)
    else:
        state[rest[0]] = (int(rest[1]), False)
    return [*history, state]


def _state(path: Path) -> State:
    with Book.open(path, Clock(), read_only=True) as book:
        return {
            str(one.id): (one.glucose.steps or 0, one.crossed_out is not None)
            for one in book.readings()
        }


def _compare(path: Path, told: Told, outcome: Outcome) -> State | None:
    try:
        there = _state(path)
    except LogbookError as error:
        outcome.faults.append(f"not opened: {error!r}")
        return None
    if not told.fits(there):
        lost = set(told.history[-1].items()) - set(there.items())
        outcome.faults.append(f"not what was said: {len(lost)} differ, begun: {told.tried!r}")
    if len(there) < READINGS_BEFORE:
        outcome.faults.append("readings of before are missing")
    return there


def _start_again(
    folder: Path, told: Told, outcome: Outcome, *, must_be_kept: bool, there: State | None
) -> None:
    found = dict(line.rsplit(" ", 1) for line in run_whole(lambda say: look_at_start(folder, say)))
    wanted = {"windows": "1", "modal": "False", "only read": "False", "saves": "True"}
    for name, value in wanted.items():
        if found.get(name) != value:
            outcome.faults.append(f"at the next start: {name} is {found.get(name)}")
    if found.get("step") != "EntryForm":
        outcome.faults.append(f"the next start asks for something: {found.get('step')}")
    draft = found.get("draft", "")
    is_saved = there is not None and len(there) > len(told.history[-1])
    if not told.typed.startswith(draft) and not is_saved:
        outcome.faults.append(f"a number stands there that was not typed: {draft}")
    if must_be_kept and draft != told.typed:
        outcome.faults.append(f"what was typed is gone: {told.typed}, there is “{draft}”")
    outcome.counts["with what was typed there again"] = int(draft != "")
    with Book.open(folder / NAME, Clock(), read_only=True) as book:
        outcome.faults += [f"not sound: {finding}" for finding in book.check().findings]
    if left := open_files_left(folder):
        outcome.faults.append(f"left behind: {left}")


def _errors(folder: Path) -> str:
    path = folder / ERRORS_NAME
    text = path.read_text("utf-8") if path.exists() else ""
    return text if "Traceback" in text else ""


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", 300, kill_window))
