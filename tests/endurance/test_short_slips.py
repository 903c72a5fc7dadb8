"""A short version of the slips; docs/method.md has the long one's table."""

from __future__ import annotations

import json
import random
from datetime import datetime, timedelta
from pathlib import Path
from unittest.mock import patch

import pytest

from logbook.domain import plausibility
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.levels import METER_LIMITS
from logbook.domain.plausibility import Before
from tests.endurance import slips
from tests.endurance.runs import Plan
from tests.endurance.slip_kinds import SLIPS

TRIALS = 20  # 2,000 slips beside 400 numbers


def test_two_thousand_slips_keep_the_bounds() -> None:
    totals, faults = slips.totals_of(Plan(7, 0, TRIALS, 1, False, None))
    assert sum(count for name, count in totals.items() if "without a slip" not in name) == 2000
    assert slips.missed_bounds(totals) == []
    assert faults == []


def test_control_with_the_guards_off_misses_the_bounds_of_both() -> None:
    totals, _ = slips.totals_of(Plan(7, 0, TRIALS, 1, True, None))
    missed = "; ".join(slips.missed_bounds(totals))
    assert "ten-fold" in missed
    assert "unit slips" in missed


def test_control_that_doubts_too_soon_misses_the_bound_of_needless_doubts() -> None:
    nothing = dict.fromkeys(Unit, 0)
    with (
        patch.object(plausibility, "FAR_QUARTILES", 0),
        patch.object(plausibility, "FAR_AT_LEAST", nothing),
    ):
        totals, _ = slips.totals_of(Plan(7, 0, TRIALS, 1, False, None))
    assert any("without a slip" in missed for missed in slips.missed_bounds(totals))


def test_control_that_forgets_the_number_before_asks_twice_in_a_row() -> None:
    nothing = dict.fromkeys(Unit, 0)
    with (
        patch.object(plausibility, "FAR_QUARTILES", 0),
        patch.object(plausibility, "FAR_AT_LEAST", nothing),
        patch.object(slips, "number_before", lambda *_: Before()),
    ):
        _, faults = slips.totals_of(Plan(7, 0, TRIALS, 1, False, None))
    assert faults


@pytest.mark.parametrize("unit", list(Unit))
def test_however_wild_the_highs_no_question_follows_a_question(unit: Unit) -> None:
    """A third of the numbers are anything the meter can show above the rest; days go by between."""
    most, asked = METER_LIMITS[unit][1], 0
    for seed in range(60):
        chance = random.Random(seed)
        middle = most * chance.uniform(0.17, 0.4)
        written: list[tuple[datetime, int]] = []
        now, verdict_before = slips.BEGIN, slips.PASSED
        for _ in range(80):
            now += timedelta(hours=chance.uniform(0.1, 72))
            steps = round(chance.gauss(middle, middle / 8))
            if chance.random() < 1 / 3:
                steps = chance.randint(round(middle), most)
            verdict = slips.judge(
                Glucose.number(steps, unit), slips.series_of_steps(written, unit), now
            )
            assert not verdict == verdict_before == slips.ASKED, (seed, written[-3:], steps)
            asked += verdict == slips.ASKED
            verdict_before = verdict
            written.append((now, steps))
    assert asked > 100


def test_the_command_prints_a_table_and_goes_on_where_it_was_stopped(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    results = tmp_path / "results.jsonl"
    arguments = ["--seed", "7", "--results", str(results), "--count"]
    slips.main([*arguments, "200"])
    assert slips.main([*arguments, "1000"]) == 0
    lines = [json.loads(line) for line in results.read_text("utf-8").splitlines()]
    assert [line["trial"] for line in lines] == list(range(10))
    printed = capsys.readouterr().out
    for kind in SLIPS:
        assert f"| {kind} | " in printed
    assert "Seed 7, 1,000 slips." in printed


def test_the_command_tells_whether_the_control_was_caught(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert slips.main(["--count", "1000", "--control"]) == 0
    assert "The control was caught" in capsys.readouterr().out
