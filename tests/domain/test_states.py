"""Where a value stands: every row of data/states.csv, whose sources are named in it."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.slots import Slot
from logbook.domain.states import State, state_of, state_of_reading
from logbook.domain.targets import Limit, Limits, Operator, TargetBook, TargetKind
from tests.domain.series_of import glucose, range_target, reading

_TABLE = Path(__file__).parent / "data" / "states.csv"


def _rows() -> list[dict[str, str]]:
    lines = [line for line in _TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def _steps(text: str, unit: Unit) -> int:
    return int(Decimal(text) * unit.steps_per_one)


def _limit(operator: str, text: str, unit: Unit) -> Limit | None:
    return Limit(Operator(operator), _steps(text, unit)) if operator else None


@pytest.mark.parametrize("row", _rows(), ids=lambda row: f"{row['value']} {row['why']}")
def test_every_row_of_the_table_is_judged_so(row: dict[str, str]) -> None:
    unit = Unit(row["unit"])
    limits = Limits(
        unit,
        _limit(row["lower_operator"], row["lower"], unit),
        _limit(row["upper_operator"], row["upper"], unit),
    )
    very_high_above = row["very_high_above"]
    state = state_of(
        glucose(row["value"], unit),
        limits,
        _steps(very_high_above, unit) if very_high_above else None,
    )
    assert state is State(row["state"])


def test_the_table_holds_every_state_in_both_units() -> None:
    held = {(row["unit"], row["state"]) for row in _rows()}
    wanted = {(unit.value, state.value) for unit in Unit for state in State}
    assert held == wanted


def test_only_low_and_very_low_open_the_low_page() -> None:
    assert {state for state in State if state.is_low} == {State.LOW, State.VERY_LOW}


def test_a_reading_is_judged_by_the_target_of_its_own_day() -> None:
    targets = TargetBook(
        [
            range_target(TargetKind.FASTING, 80, 130, date(2026, 1, 1)),
            range_target(TargetKind.FASTING, 100, 180, date(2026, 3, 1)),
        ]
    )
    before = reading("2026-02-28 07:30", "150", Slot.FASTING)
    after = reading("2026-03-01 07:30", "150", Slot.FASTING)
    assert state_of_reading(before, date(2026, 2, 28), targets) is State.ABOVE_TARGET
    assert state_of_reading(after, date(2026, 3, 1), targets) is State.IN_TARGET


def test_without_a_target_in_its_own_unit_a_reading_is_not_judged() -> None:
    targets = TargetBook([range_target(TargetKind.FASTING, 80, 130)])
    in_mmol = reading("2026-03-01 07:30", "9.0", Slot.FASTING, unit=Unit.MMOL_L)
    assert state_of_reading(in_mmol, date(2026, 3, 1), targets) is State.NOT_JUDGED


@pytest.mark.parametrize(
    ("minutes", "state"),
    [
        (59, State.NOT_JUDGED),
        (60, State.ABOVE_TARGET),
        (150, State.ABOVE_TARGET),
        (151, State.NOT_JUDGED),
        (None, State.ABOVE_TARGET),
    ],
)
def test_an_after_meal_target_holds_60_to_150_minutes_after_the_first_bite(
    minutes: int | None, state: State
) -> None:
    targets = TargetBook([range_target(TargetKind.AFTER_MEALS, None, 180)])
    late = reading("2026-03-01 14:00", "200", Slot.AFTER_LUNCH, minutes_after=minutes)
    assert state_of_reading(late, date(2026, 3, 1), targets) is state
