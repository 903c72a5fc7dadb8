"""Short versions of the endurance commands; docs/reliability.md has the long ones' figures."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.endurance import births, blocks, damage, failing_calls, full_disk, kills, power_cuts
from tests.endurance.disk_model import Disk
from tests.endurance.runs import Plan, Trial, run_trials

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork, to kill a process")


ROOT = Path(__file__).parents[2]
IS_ROOT = hasattr(os, "geteuid") and os.geteuid() == 0

needs_compiler = pytest.mark.skipif(
    not failing_calls.can_be_had(), reason="needs a C compiler, to let calls to the system fail"
)
needs_strace = pytest.mark.skipif(
    shutil.which("strace") is None, reason="needs strace, to see calls to the system"
)


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


def test_each_damage_to_the_file_is_found_or_does_no_harm() -> None:
    assert faults(blocks.damage_and_read, 26) == []


def test_control_damage_without_digests_is_caught() -> None:
    assert any("altered" in fault for fault in faults(blocks.damage_and_read, 30, control=True))


@needs_strace
def test_power_cuts_lose_nothing_that_was_said_to_be_safe() -> None:
    assert faults(power_cuts.cut_power, 48) == []


@needs_strace
def test_control_a_database_that_does_not_sync_is_caught() -> None:
    assert faults(power_cuts.cut_power, 6, control=True)


@needs_strace
def test_the_modelled_disk_ends_as_the_real_one(tmp_path: Path) -> None:
    done = power_cuts.traced(tmp_path, "copy", "")
    disk = Disk(done.before, done.traced_as)
    for call in done.calls:
        disk.feed(call)

    def content(folder: Path) -> dict[str, bytes]:
        files = (one for one in folder.rglob("*") if one.is_file())
        return {str(one.relative_to(folder)): one.read_bytes() for one in files}

    assert disk.content() == content(done.traced_as)
    assert len(done.cuts) > 100


def succeeds(command: str, count: int, *, control: bool = False) -> None:
    """Run a command in a process of its own: it forks, or needs a library, before Qt is there."""
    arguments = ["--seed", "7", "--count", str(count), *(["--control"] if control else [])]
    done = subprocess.run(
        [sys.executable, "-m", f"tests.endurance.{command}", *arguments],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@needs_compiler
@pytest.mark.parametrize("control", [False, True], ids=["as it is", "control"])
def test_calls_that_fail_lose_nothing_that_was_said_to_be_saved(control: bool) -> None:
    succeeds("failing_io", 12, control=control)


@pytest.mark.parametrize("control", [False, True], ids=["as it is", "control"])
def test_kills_of_the_window_lose_nothing_that_it_said_was_written(control: bool) -> None:
    succeeds("window_kills", 4, control=control)


@pytest.mark.skipif(not IS_ROOT, reason="only root can take another account and mount")
@pytest.mark.parametrize("control", [False, True], ids=["as it is", "control"])
def test_a_log_that_may_not_be_written_is_read_and_left_as_it_is(control: bool) -> None:
    succeeds("read_only", 8, control=control)  # more than those that need a mount


def test_no_room_is_said_and_harms_nothing() -> None:
    assert faults(full_disk.fill_and_try, 4) == []


def test_control_saying_done_without_room_is_caught() -> None:
    # The limit on sizes can be had everywhere.
    limited = full_disk.CELLS.index(("save", "limit on sizes"))
    outcomes = run_trials(Plan(7, limited, 1, 1, True, None), full_disk.fill_and_try)
    assert outcomes[limited].faults


def test_a_run_goes_on_where_it_was_stopped(tmp_path: Path) -> None:
    results = tmp_path / "results.jsonl"
    run_trials(Plan(7, 0, 3, 1, False, results), damage.flip_and_read)
    outcomes = run_trials(Plan(7, 0, 5, 1, False, results), damage.flip_and_read)
    assert sorted(outcomes) == [0, 1, 2, 3, 4]
    lines = [json.loads(line) for line in results.read_text("utf-8").splitlines()]
    assert [line["trial"] for line in lines] == [0, 1, 2, 3, 4]
