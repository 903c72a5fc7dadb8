"""How long whole commands take, process start included: import of 10,000 lines, and summary.

Measured against an empty Python and against reading the same lines with the csv module alone, in
one run on one machine; run with `-m benchmark -s` to see what was reached.
"""

import subprocess
import sys
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from time import perf_counter

import pytest

from tests.commands.command_runs import DIARY, ROOT, run

pytestmark = pytest.mark.benchmark

LINES = 10_000
IMPORT_GOAL_SECONDS = 3.0
SUMMARY_GOAL_SECONDS = 1.0

_BARE_CSV = (
    "import csv, sys\n"
    "rows = list(csv.reader(open(sys.argv[1], newline=''), delimiter='\\t'))\n"
    "print(sum(int(row[3]) for row in rows))\n"
)


@pytest.fixture(scope="module")
def diary(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("long") / "diary.txt"
    slots = (("7:20", 58), ("12:05", 60), ("17:50", 62), ("22:25", 48))
    with path.open("w", encoding="utf-8") as file:
        for number in range(LINES):
            day = date(2015, 1, 1) + timedelta(days=number // len(slots))
            clock, code = slots[number % len(slots)]
            file.write(f"{day:%m-%d-%Y}\t{clock}\t{code}\t{90 + number * 37 % 150}\n")
    return path


def _best_of_three(work: Callable[[int], None]) -> float:
    times = []
    for attempt in range(3):
        started = perf_counter()
        work(attempt)
        times.append(perf_counter() - started)
    return min(times)


def _python(*arguments: object) -> None:
    subprocess.run(
        [sys.executable, *map(str, arguments)], cwd=ROOT, check=True, capture_output=True
    )


def test_import_of_ten_thousand_lines_and_summary(diary: Path, tmp_path: Path) -> None:
    def take_in(attempt: int) -> None:
        log = tmp_path / f"{attempt}.logbook"
        assert run("import", diary, *DIARY, "--log", log).status == 0

    def take_in_again(_attempt: int) -> None:
        assert run("import", diary, *DIARY, "--log", tmp_path / "0.logbook").status == 0

    def sum_up(_attempt: int) -> None:
        assert run("summary", "--log", tmp_path / "0.logbook").status == 0

    nothing = _best_of_three(lambda _attempt: _python("-c", "pass"))
    bare = _best_of_three(lambda _attempt: _python("-c", _BARE_CSV, diary))
    first = _best_of_three(take_in)
    again = _best_of_three(take_in_again)
    summary = _best_of_three(sum_up)
    print(f"\nPython that does nothing         {nothing:6.2f} s")
    print(f"csv module alone, {LINES:,} lines  {bare:6.2f} s")
    for name, seconds in (
        (f"import {LINES:,} lines, new log ", first),
        ("import again, all there         ", again),
        ("summary of 90 days              ", summary),
    ):
        print(f"{name} {seconds:6.2f} s, {seconds / bare:5.1f} times the csv module alone")
    assert first < IMPORT_GOAL_SECONDS
    assert again < IMPORT_GOAL_SECONDS
    assert summary < SUMMARY_GOAL_SECONDS
