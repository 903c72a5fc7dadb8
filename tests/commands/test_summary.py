"""The command `summary`: its keys, its page, its days."""

import json
import re
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.domain.settings import LogSettings
from tests.commands.command_runs import (
    DATA,
    ROOT,
    clock,
    run,
)

COMPARED = "slot count_before count median_before median in_target_before in_target low_before low"
KEYS = {
    "": "unit from to readings days figures bands slots findings lows control_tests"
    " calls low_episodes planned_checks meter_average a1c"
    " days_before change pairs",
    "readings": "count numbers reads_low reads_high rechecks not_believed crossed_out",
    "days": "in_period with_readings",
    "figures": "mean sd cv_percent min q1 median q3 max",
    "bands": "below_54 54_to_69 70_to_180 181_to_250 above_250",
    "slots": "slot count mean sd median low below_target_not_low in_target above_target"
    " in_target_percent in_target_interval",
    "lows": "at value measured level help warning_signs rechecked_after_minutes"
    " back_above_69_after_minutes",
    "findings": "kind slot group count of from to",
    "control_tests": "count passed",
    "calls": "reason urgency at count said",
    "low_episodes": "rechecked without_recheck median_minutes_to_recheck median_minutes_until_back",
    "planned_checks": "done planned",
    "meter_average": "at days unit meter_count meter_mean log_count log_mean verdict",
    "a1c": "drawn_on value unit log_count log_mean verdict",
    "days_before": COMPARED,
    "change": f"day {COMPARED}",
    "pairs": "slot count median_change min_change max_change",
}


def test_the_json_has_the_keys_of_the_handbook_in_their_order(full_log: Path) -> None:
    found = json.loads(run("summary", "--json", "--log", full_log).out)
    handbook = (ROOT / "docs" / "handbook" / "commands.md").read_text(encoding="utf-8")
    told = re.findall(r'"([a-z_0-9]+)"', handbook.partition("--json` prints")[2].split("\n\n")[1])
    flat = []
    for key, value in found.items():
        flat.append(key)
        inner = value[0] if isinstance(value, list) and value else value
        if isinstance(inner, dict):
            assert list(inner) == KEYS[key].split()
        # What this log has none of is named in the handbook all the same.
        flat += KEYS[key].split() if key in KEYS else []
    assert list(found) == KEYS[""].split()
    assert [key for key in told if key != "mg/dL"] == flat


def test_the_summary_is_a_page_of_text(full_log: Path) -> None:
    done = run("summary", "--log", full_log)
    assert (done.status, done.err) == (0, "")
    # A LO and a HI are among the six, so there is no mean.
    assert "2 readings are outside the meter’s range" in done.out
    assert not re.search("^Mean", done.out, re.MULTILINE)
    assert re.search(r"^Readings +6$", done.out, re.MULTILINE)
    assert re.search(r"^Middle value +134.5|^Middle value +135 mg/dL$", done.out, re.MULTILINE)
    assert "gives no dose" in done.out
    assert max(map(len, done.out.splitlines())) <= 160


def test_the_summary_of_a_log_in_mmol_l_has_its_own_limits(log: Path) -> None:
    assert run("import", DATA / "readings-mmol-l.csv", "--log", log).status == 0
    out = run("summary", "--log", log).out
    for band in ("Below 3.0 mmol/L", "3.0 to 3.8 mmol/L", "3.9 to 10.0 mmol/L", "10.1 to 13.9"):
        assert band in out


@pytest.mark.parametrize(
    ("days", "period", "count"),
    [
        ([], ("2025-12-04", "2026-03-03"), 6),
        (["--from", "2026-03-02"], ("2026-03-02", "2026-03-03"), 1),
        (["--to", "2026-03-01"], ("2025-12-02", "2026-03-01"), 5),
        (["--from", "2026-03-01", "--to", "2026-03-01"], ("2026-03-01", "2026-03-01"), 5),
        (["--from", "2027-01-01"], ("2027-01-01", "2027-01-01"), 0),
    ],
)
def test_the_days_are_those_asked_for_else_ninety_with_the_last_reading(
    days: list[str], period: tuple[str, str], count: int, full_log: Path
) -> None:
    found = json.loads(run("summary", "--json", *days, "--log", full_log).out)
    assert (found["from"], found["to"]) == period
    assert found["readings"]["count"] == count


def test_a_log_without_readings_has_a_summary_and_a_report(log: Path, tmp_path: Path) -> None:
    Book.create(log, LogSettings(), clock).close()
    done = run("summary", "--log", log)
    assert (done.status, done.err) == (0, "")
    assert "no readings" in done.out
    found = json.loads(run("summary", "--json", "--log", log).out)
    assert found["readings"]["count"] == 0
    assert found["figures"]["mean"] is None
    assert run("report", "--out", tmp_path / "r.pdf", "--log", log).status == 0
