"""The simulation of findings at full length: `pytest -m endurance`, some ten minutes."""

from __future__ import annotations

import pytest

from tests.endurance.findings_honesty import one_trial, share_by_chance, totals_of
from tests.endurance.runs import Plan, run_trials

pytestmark = [pytest.mark.endurance, pytest.mark.slow]


def test_chance_shows_something_in_at_most_one_log_of_twenty() -> None:
    totals = totals_of(run_trials(Plan(2026, 0, 2000, 1, False, None), one_trial))
    assert share_by_chance(totals) <= 0.05
    # What was planted at 2 SD, seen on three days a week: found within 28 days.
    for checks in (2, 4, 7):
        key = f"planted/Mon Wed Fri named, all day, {checks} checks a day/2.0"
        assert totals[f"{key}/28"] >= 0.9 * totals[f"{key}/of"] > 0


def test_the_careless_reader_is_caught() -> None:
    totals = totals_of(run_trials(Plan(2026, 0, 200, 1, True, None), one_trial))
    assert share_by_chance(totals) > 0.25
