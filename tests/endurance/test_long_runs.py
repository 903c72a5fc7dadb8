"""The endurance commands at full length: `pytest -m endurance`, some twenty-five minutes."""

from __future__ import annotations

import pytest

from tests.endurance import births, blocks, damage, full_disk, kills, power_cuts, restores
from tests.endurance.runs import Plan, Trial, run_trials

pytestmark = [pytest.mark.endurance, pytest.mark.slow]


@pytest.mark.parametrize(
    ("trial", "count"),
    [
        (kills.kill_once, 300),
        (births.kill_at_birth, 60),
        (damage.flip_and_read, 1_000),
        (blocks.damage_and_read, 1_300),
        (restores.kill_in_restore, 4 * restores.STEPS),
        (power_cuts.cut_power, 2_000),
        (full_disk.fill_and_try, len(full_disk.CELLS)),
    ],
    ids=["kills", "births", "damage", "blocks", "restores", "power cuts", "full disk"],
)
def test_nothing_is_lost_and_nothing_altered_is_shown(trial: Trial, count: int) -> None:
    outcomes = run_trials(Plan(2026, 0, count, 1, False, None), trial)
    assert {n: one.faults for n, one in outcomes.items() if one.faults} == {}
