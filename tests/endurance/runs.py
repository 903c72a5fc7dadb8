"""What the endurance commands share: arguments, numbered trials, forked workers, a results file."""

from __future__ import annotations

import argparse
import json
import multiprocessing
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path


@dataclass
class Outcome:
    """What one trial showed: what was lost or wrong (nothing, if all is well), and counts."""

    faults: list[str] = field(default_factory=list)
    counts: dict[str, int] = field(default_factory=dict)


# A trial gets its number, the seed, a folder of its own and whether the control is asked for.
Trial = Callable[[int, int, Path, bool], Outcome]


@dataclass(frozen=True)
class Plan:
    """Which trials to run."""

    seed: int
    first: int
    count: int
    workers: int
    control: bool
    results: Path | None


def read_plan(arguments: Sequence[str], about: str, count: int) -> Plan:
    """The plan of a command line."""
    parser = argparse.ArgumentParser(description=about)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--from", dest="first", type=int, default=0, help="the first trial")
    parser.add_argument("--count", type=int, default=count)
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument(
        "--control", action="store_true", help="run the build made wrong on purpose"
    )
    parser.add_argument("--results", type=Path, help="a file of results, to go on from")
    given = parser.parse_args(arguments)
    return Plan(given.seed, given.first, given.count, given.workers, given.control, given.results)


def run_trials(plan: Plan, trial: Trial) -> dict[int, Outcome]:
    """Run the trials that have no result yet."""
    outcomes = _read_results(plan)
    wanted = range(plan.first, plan.first + plan.count)
    missing = [number for number in wanted if number not in outcomes]
    fork = multiprocessing.get_context("fork")
    with tempfile.TemporaryDirectory(prefix="logbook-endurance-") as folder:
        jobs = [(trial, number, plan, Path(folder)) for number in missing]
        if plan.workers == 1:
            for number, outcome in map(_run_one, jobs):
                _keep(plan, outcomes, number, outcome)
        else:
            with fork.Pool(plan.workers, maxtasksperchild=20) as pool:
                for number, outcome in pool.imap_unordered(_run_one, jobs):
                    _keep(plan, outcomes, number, outcome)
    return {number: outcomes[number] for number in wanted}


def _run_one(job: tuple[Trial, int, Plan, Path]) -> tuple[int, Outcome]:
    trial, number, plan, folder = job
    own = folder / str(number)
    own.mkdir()
    return number, trial(number, plan.seed, own, plan.control)


def _keep(plan: Plan, outcomes: dict[int, Outcome], number: int, outcome: Outcome) -> None:
    outcomes[number] = outcome
    if plan.results is not None:
        with plan.results.open("a", encoding="utf-8") as file:
            found = {
                "seed": plan.seed,
                "control": plan.control,
                "trial": number,
                "faults": outcome.faults,
                "counts": outcome.counts,
            }
            file.write(json.dumps(found) + "\n")


def _read_results(plan: Plan) -> dict[int, Outcome]:
    outcomes: dict[int, Outcome] = {}
    if plan.results is not None and plan.results.exists():
        for line in plan.results.read_text("utf-8").splitlines():
            found = json.loads(line)
            if (found["seed"], found["control"]) == (plan.seed, plan.control):
                outcomes[found["trial"]] = Outcome(found["faults"], found["counts"])
    return outcomes


def main(arguments: Sequence[str], about: str, count: int, trial: Trial) -> int:
    """A whole command: 0 when all is well, or when a control was caught."""
    plan = read_plan(arguments, about, count)
    begun = time.monotonic()
    outcomes = run_trials(plan, trial)
    totals: Counter[str] = Counter()
    for outcome in outcomes.values():
        totals.update(outcome.counts)
    bad = {number: outcome.faults for number, outcome in outcomes.items() if outcome.faults}
    print(f"seed {plan.seed}, trials {plan.first} to {plan.first + plan.count - 1}", end="")
    print(f", {'control, ' if plan.control else ''}{time.monotonic() - begun:.0f} s")
    for name, total in sorted(totals.items()):
        print(f"  {name}: {total}")
    print(f"  trials with faults: {len(bad)}")
    for number, faults in list(bad.items())[:5]:
        print(f"    {number}: {faults[0]}", file=sys.stderr)
    if plan.control:
        print("  the control was", "caught" if bad else "NOT caught: this run proves nothing")
        return 0 if bad else 1
    return 1 if bad else 0
