"""Short versions of the endurance commands; docs/reliability.md has the long ones' figures."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tests.endurance import births, damage, kills
from tests.endurance.runs import Plan, Trial, run_trials

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork, to kill a process")


def faults(trial: Trial, count: int, *, control: bool = False) -> list[str]:
    outcomes = run_trials(Plan(7, 0, count, 1, control, None), trial)
    assert len(outcomes) == count
    return [fault for outcome in outcomes.values() for fault in outcome.faults]


def test_eight_kills_lose_nothing_that_was_confirmed() -> None:
    assert faults(kills.kill_once, 8) == []


def test_control_saying_saved_before_commit_is_caught() -> None:
    assert faults(kills.kill_once, 12, control=True)


def test_eight_kills_at_birth_leave_nothing_to_do_by_hand() -> None:
    assert faults(births.kill_at_birth, 8) == []


def test_control_saying_made_before_writing_is_caught() -> None:
    assert faults(births.kill_at_birth, 8, control=True)


def test_a_hundred_flipped_bits_are_found_and_none_is_shown() -> None:
    assert faults(damage.flip_and_read, 100) == []


def test_control_reading_without_digests_is_caught() -> None:
    assert any("altered" in fault for fault in faults(damage.flip_and_read, 60, control=True))


def test_a_run_goes_on_where_it_was_stopped(tmp_path: Path) -> None:
    results = tmp_path / "results.jsonl"
    run_trials(Plan(7, 0, 3, 1, False, results), damage.flip_and_read)
    outcomes = run_trials(Plan(7, 0, 5, 1, False, results), damage.flip_and_read)
    assert sorted(outcomes) == [0, 1, 2, 3, 4]
    lines = [json.loads(line) for line in results.read_text("utf-8").splitlines()]
    assert [line["trial"] for line in lines] == [0, 1, 2, 3, 4]
