"""What the best test there could be would find: a bound beside `findings_honesty`.

    python -m tests.endurance.findings_power

For gaps drawn as in `invented_logs`, and the level that one comparison of the first look at a log
has, two tests are reckoned, none of them run: Student's two-sample test on the means of days that
are free of one another (SciPy's noncentral t), and the most powerful test of all, which knows how
the days hang together and needs not measure it (generalised least squares, the normal curve). No
test that has to find out for itself can do better than the second.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy import stats

from logbook.domain.findings.statistical import LEVEL_OF_AN_EARLY_WEEK
from tests.endurance.invented_logs import DAY_TO_DAY, OF_A_DAY, Numbers, drawn_checks

DAYS = 28
DONE = 0.9
DESIGNS = 500  # sure to a point
SIZES = (0.8, 1.0, 1.2, 1.5, 2.0)


@dataclass(frozen=True)
class Asked:
    """Days that differ, and how many comparisons the first look at such a log makes."""

    name: str
    weekdays: tuple[int, ...]
    comparisons: int


ALL_ASKED = (Asked("weekend", (5, 6), 1), Asked("Mon Wed Fri named", (0, 2, 4), 2))


def covariance(numbers: Numbers, counts: Numbers) -> Numbers:
    """Of the means of days, in units of the variance of one reading."""
    apart = np.abs(np.subtract.outer(numbers, numbers))
    together: Numbers = OF_A_DAY * DAY_TO_DAY**apart
    return together + np.diag((1 - OF_A_DAY) / counts)


def powers(numbers: Numbers, counts: Numbers, is_in: Numbers, size: float, level: float) -> Numbers:
    """Of Student's test on free days, and of the test that knows all, in one design."""
    n1, n2 = is_in.sum(), (1 - is_in).sum()
    spread = np.sqrt(OF_A_DAY + (1 - OF_A_DAY) * np.mean(1 / counts))
    shift = size / spread * np.sqrt(n1 * n2 / (n1 + n2))
    free = n1 + n2 - 2
    by_t = stats.nct.sf(stats.t.isf(level / 2, free), free, shift)
    inverse = np.linalg.inv(covariance(numbers, counts))
    design = np.column_stack([np.ones(len(is_in)), is_in])
    variance = np.linalg.inv(design.T @ inverse @ design)[1, 1]
    known = stats.norm.sf(stats.norm.isf(level / 2) - size / np.sqrt(variance))
    return np.array([by_t, known])


def bounds(asked: Asked, checks: int, size: float, level: float) -> Numbers:
    """The mean of both over many designs; one with too few days to compare finds nothing."""
    chance = np.random.default_rng([3, checks, len(asked.weekdays)])
    found = np.zeros(2)
    for _ in range(DESIGNS):
        counts = drawn_checks(chance, DAYS, checks, DONE)
        days = np.flatnonzero(counts)
        is_in = np.isin(days % 7, asked.weekdays).astype(float)
        if is_in.sum() >= 2 and (1 - is_in).sum() >= 2:
            found += powers(days.astype(float), counts[days], is_in, size, level)
    return found / DESIGNS


def lines() -> Iterator[str]:
    """The lines of the table of docs/method.md."""
    yield "| planted | level | " + " | ".join(f"{size} SD" for size in SIZES) + " |"
    yield "| --- | ---: | " + " | ".join("---:" for _ in SIZES) + " |"
    for asked in ALL_ASKED:
        for checks in (2, 4, 7):
            for level in (LEVEL_OF_AN_EARLY_WEEK / asked.comparisons, 0.05):
                shares = [bounds(asked, checks, size, level) for size in SIZES]
                told = " | ".join(f"{by_t:.0%}, {known:.0%}" for by_t, known in shares)
                yield f"| {asked.name}, {checks} checks a day | {level:.0%} | {told} |"


if __name__ == "__main__":
    print("\n".join(lines()))
    sys.exit(0)
