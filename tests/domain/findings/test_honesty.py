"""Short runs of the simulation in tests/endurance/findings_honesty.py, always the same draws."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.endurance.findings_honesty import one_trial, share_by_chance, tables, totals_of
from tests.endurance.runs import Plan, run_trials


@pytest.fixture(scope="module")
def totals() -> object:
    return totals_of(run_trials(Plan(7, 0, 40, 1, False, None), one_trial))


def test_chance_shows_little_and_what_is_large_is_found(totals: object) -> None:
    # Forty logs can't measure 5 %; four is what a share of 5 % exceeds once in twenty runs.
    assert share_by_chance(totals) <= 4 / 40  # type: ignore[arg-type]
    key = "planted/Mon Wed Fri named, all day, 7 checks a day/2.0"
    assert totals[f"{key}/28"] >= 0.75 * totals[f"{key}/of"] > 0  # type: ignore[index]
    assert len(list(tables(totals))) > 10  # type: ignore[arg-type]


def test_the_careless_reader_is_caught() -> None:
    control = totals_of(run_trials(Plan(7, 0, 12, 1, True, None), one_trial))
    assert share_by_chance(control) > 0.25


def test_a_run_goes_on_from_its_results(tmp_path: Path) -> None:
    results = tmp_path / "results"
    first = run_trials(Plan(7, 0, 2, 1, True, results), one_trial)
    both = run_trials(Plan(7, 0, 3, 1, True, results), one_trial)
    assert {number: both[number].counts for number in (0, 1)} == {
        number: first[number].counts for number in (0, 1)
    }
    assert len(results.read_text("utf-8").splitlines()) == 3
