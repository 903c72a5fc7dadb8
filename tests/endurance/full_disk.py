"""No room on the disk: each place in each of three ways, a cell of its own.

Each time the person is told so in words, nothing of before is lost or harmed, nothing is left
behind, and the same is done well once there is room. A cell whose way cannot be had here says "not
run here", and never passes. The control says "done" whatever happened, and must be caught.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

from logbook.book import Book
from logbook.domain.errors import LogbookError
from tests.endurance.full_disk_work import AT, BEFORE, PLACES, log_of, prepare
from tests.endurance.no_room import WAYS, NotHere, started_for
from tests.endurance.runs import Outcome, main
from tests.store.records import Clock, make_reading

ROOT = Path(__file__).parents[2]
CELLS = [
    (place, way) for place, told in PLACES.items() for way in WAYS if way not in told.ways_left_out
]
_LONGEST_SENTENCE = 20
_ENVIRONMENT = {"QT_QPA_PLATFORM": "offscreen", "LANGUAGE": "en_US"}


def fill_and_try(number: int, _seed: int, folder: Path, control: bool) -> Outcome:
    """One cell."""
    place, way = CELLS[number % len(CELLS)]
    outcome = Outcome(counts={"cells": 1})
    try:
        before, environment = started_for(way, folder)
    except NotHere as reason:
        outcome.counts = {f"not run here: {reason}": 1}
        return outcome
    prepare(folder)
    command = ["-m", "tests.endurance.full_disk_work", place, way, str(folder)]
    done = subprocess.run(
        [*before, sys.executable, *command, *(["control"] if control else [])],
        cwd=ROOT,
        env=os.environ | environment | _ENVIRONMENT | {"HOME": str(folder)},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    said = done.stdout.splitlines()
    if said and said[0].startswith("not here"):
        outcome.counts = {f"not run here: {said[0]}": 1}
        return outcome
    faults = [line for line in said if line.startswith("fault")]
    told = [line.removeprefix("told ") for line in said if line.startswith("told ")]
    if len(said) < 2:
        faults.append(f"it ended early: {done.stderr[-600:]}")
    words = PLACES[place].words
    if words is not None and told:
        outcome.counts["told so"] = 1
        faults += list(_faults_of_words(told[0], words))
    if "Traceback" in done.stderr:
        faults.append(done.stderr[-600:])
    faults += list(_faults_of_log(folder))
    outcome.faults = [f"{place}, {way}: {fault}" for fault in faults]
    return outcome


def _faults_of_words(told: str, words: str) -> list[str]:
    faults = [] if words in told else [f"“{words}” is not in: {told}"]
    if re.search(r"Traceback|Errno|error|invalid|!", told):
        faults.append(f"not plain: {told}")
    sentences = re.split(r"(?<=[.;])\s+", told)
    faults += [f"too long: {one}" for one in sentences if len(one.split()) > _LONGEST_SENTENCE]
    return faults


def _faults_of_log(folder: Path) -> list[str]:
    """Whether every reading of before is there, and the log sound, when the mounts are gone too."""
    try:
        with Book.open(log_of(folder), Clock(AT)) as book:
            there = {one.id for one in book.readings()}
            # The last one is what the undo takes back.
            lost = [n for n in range(1, BEFORE) if make_reading(n).id not in there]
            faults = [f"readings of before are gone: {lost}"] if lost else []
            return faults + [f"not sound: {one}" for one in book.check().findings]
    except LogbookError as error:
        return [f"not usable afterwards: {error!r}"]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:], __doc__ or "", len(CELLS), fill_and_try))
