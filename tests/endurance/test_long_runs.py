"""The endurance commands at full length: `pytest -m endurance`, some five minutes."""

from __future__ import annotations

import pytest

from tests.endurance import births, damage, kills
from tests.endurance.runs import Plan, Trial, run_trials

pytestmark = [pytest.mark.endurance, pytest.mark.slow]


@pytest.mark.parametrize(
    ("trial", "count"),
    [(kills.kill_once, 300), (births.kill_at_birth, 60), (damage.flip_and_read, 1000)],
    ids=["kills", "births", "damage"],
)
def test_nothing_is_lost_and_nothing_altered_is_shown(trial: Trial, count: int) -> None:
    outcomes = run_trials(Plan(2026, 0, count, 1, False, None), trial)
    assert {n: one.faults for n, one in outcomes.items() if one.faults} == {}
