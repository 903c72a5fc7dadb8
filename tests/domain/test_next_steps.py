"""The one next step: every row of data/next_steps.csv, whose sources are named in it."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from logbook.domain.cautions import CautionCode
from logbook.domain.glucose import Unit
from logbook.domain.next_steps import ROWS, OwnPlan, Row, Step, StepCode, next_step_of
from logbook.domain.readings import Feeling, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.states import State, state_of
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.ticks import About, Tick, TickBook, Told
from tests.domain.series_of import new_id, reading

_TABLE = Path(__file__).parent / "data" / "next_steps.csv"
_DAY = date(2026, 3, 1)


def _rows() -> list[dict[str, str]]:
    lines = [line for line in _TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def _target(text: str, unit: Unit) -> Target | None:
    if not text:
        return None
    lower, upper = (int(Decimal(one) * unit.steps_per_one) for one in text.rstrip("?").split("-"))
    limits = Limits(unit, Limit(Operator.AT_LEAST, lower), Limit(Operator.AT_MOST, upper))
    return Target(
        new_id(),
        TargetKind.FASTING,
        (limits,),
        date(2020, 1, 1),
        SetBy.PUBLISHED if text.endswith("?") else SetBy.PROVIDER,
        is_agreed=not text.endswith("?"),
    )


def _ticks(text: str) -> TickBook:
    pairs = [one.split("=") for one in text.split()]
    at = datetime(2020, 1, 1, tzinfo=UTC)
    return TickBook(
        Tick(new_id(), About(about), Told(told), date(2020, 1, 1), at) for about, told in pairs
    )


def _reading(row: dict[str, str]) -> Reading:
    later = timedelta(days=1) if row["late"] else timedelta(minutes=1)
    made = reading(
        "2026-03-01 12:00",
        row["value"],
        Slot(row["slot"]),
        unit=Unit(row["unit"]),
        written_later=later,
    )
    return replace(made, feelings=tuple(Feeling(one) for one in row["feelings"].split()))


def _step(row: dict[str, str]) -> tuple[State, Step]:
    made, unit = _reading(row), Unit(row["unit"])
    target = _target(row["target"], unit)
    state = state_of(made.glucose, None if target is None else target.limits_in(unit))
    before = reading("2026-03-01 11:45", row["before"], unit=unit) if row["before"] else None
    return state, next_step_of(
        made,
        state,
        target,
        is_second_high=bool(row["again"]),
        previous=before,
        settings=LogSettings(
            low_plan="Mine." if "low" in row["plans"] else "",
            high_plan="Mine." if "high" in row["plans"] else "",
        ),
        ticks=_ticks(row["ticks"]),
        day=_DAY,
        slot_next=Slot.BEDTIME,
        is_low_over=bool(row["late"]),
    )


@pytest.mark.parametrize(
    "row", _rows(), ids=lambda row: f"{row['value']} {row['unit']} {row['code']} {row['why']}"
)
def test_every_row_of_the_table_says_so(row: dict[str, str]) -> None:
    state, step = _step(row)
    assert state == row["state"]
    assert step.code == row["code"]
    assert step.own_plan == (OwnPlan(row["own_plan"]) if row["own_plan"] else None)
    wanted = {CautionCode(one) for one in row["cautions"].split() if one[0] != "!"}
    banned = {CautionCode(one[1:]) for one in row["cautions"].split() if one[0] == "!"}
    assert wanted <= set(step.cautions)
    assert not banned & set(step.cautions)
    assert step.next_slot is Slot.BEDTIME


def _uses(found: Row, row: dict[str, str]) -> bool:
    return found.state == row["state"] and found.code == row["code"]


def test_every_row_of_the_program_is_in_the_table() -> None:
    rows = _rows()
    unused = [found for found in ROWS if not any(_uses(found, row) for row in rows)]
    assert unused == []


def test_the_table_holds_every_state_in_both_units_and_every_step() -> None:
    rows = _rows()
    assert {row["state"] for row in rows} == {str(state) for state in State}
    assert {row["code"] for row in rows} == {str(code) for code in StepCode}
    in_mmol = {row["state"] for row in rows if row["unit"] == "mmol/L"}
    assert in_mmol >= {str(state) for state in State} - {"not_judged"}


def test_every_state_ends_with_a_row_that_always_holds() -> None:
    last = {row.state: row for row in ROWS}
    assert set(last) == set(State)
    assert all(not row.when for row in last.values())


def test_only_what_is_to_be_tested_again_offers_it() -> None:
    offers = {step.code for _state, step in map(_step, _rows()) if step.tests_again}
    assert offers == {
        StepCode.TEST_AGAIN,
        StepCode.TEST_AGAIN_NEW_STRIP,
        StepCode.TEST_AGAIN_IF_SURPRISED,
        StepCode.UNWELL_NOT_LOW,
    }


def test_a_first_high_never_brings_up_medicine() -> None:
    for row in _rows():
        if not row["again"] and row["before"] != "HI":
            _state, step = _step(row)
            assert CautionCode.NO_EXTRA_MEDICINE not in step.cautions
            assert step.own_plan is not OwnPlan.HIGH


def _wrong(rows: list[dict[str, str]]) -> list[str]:
    return [row["value"] for row in rows if _step(row)[1].code != row["code"]]


def test_a_step_that_is_wrong_is_caught() -> None:
    """The control: with one row of the program's table missing, the comparison must fail."""
    rows = _rows()
    assert _wrong(rows) == []
    with pytest.MonkeyPatch.context() as patch:
        fewer = tuple(row for row in ROWS if row.code is not StepCode.FOLLOW_BEDTIME_PLAN)
        patch.setattr("logbook.domain.next_steps.ROWS", fewer)
        assert _wrong(rows) == ["118", "6.5"]


# FHIR's interpretation codes, from the HL7 value set v3-ObservationInterpretation: LL and HH are
# the critical ones outside L and H, N is between. The order of states must be theirs.
_FHIR = {
    "LL": {State.VERY_LOW},
    "L": {State.LOW, State.BELOW_TARGET},
    "N": {State.IN_TARGET},
    "H": {State.ABOVE_TARGET},
    "HH": {State.VERY_HIGH},
}


@pytest.mark.parametrize("unit", list(Unit))
def test_the_states_follow_each_other_as_the_codes_of_fhir_do(unit: Unit) -> None:
    target = _target("80-130" if unit is Unit.MG_DL else "4.4-7.2", unit)
    assert target is not None
    steps = range(20, 601) if unit is Unit.MG_DL else range(11, 334)
    shown = [
        state_of(
            reading("2026-03-01 12:00", _shown(one, unit), unit=unit).glucose,
            target.limits_in(unit),
        )
        for one in steps
    ]
    codes = [next(code for code, states in _FHIR.items() if state in states) for state in shown]
    assert list(dict.fromkeys(codes)) == ["LL", "L", "N", "H", "HH"]
    assert codes == sorted(codes, key=list(_FHIR).index)


def _shown(steps: int, unit: Unit) -> str:
    return str(steps) if unit is Unit.MG_DL else str(Decimal(steps) / 10)


# Level boundaries with their operators: ADA Standards of Care 2024, section 6, read at the journal.
# (Of 2017 and the study group's paper of that year: 70 and below was level 1.)
@pytest.mark.parametrize(
    ("shown", "unit", "state"),
    [
        ("70", Unit.MG_DL, State.NOT_JUDGED),
        ("69", Unit.MG_DL, State.LOW),
        ("54", Unit.MG_DL, State.LOW),
        ("53", Unit.MG_DL, State.VERY_LOW),
        ("3.9", Unit.MMOL_L, State.NOT_JUDGED),
        ("3.8", Unit.MMOL_L, State.LOW),
        ("3.0", Unit.MMOL_L, State.LOW),
        ("2.9", Unit.MMOL_L, State.VERY_LOW),
    ],
)
def test_level_boundaries(shown: str, unit: Unit, state: State) -> None:
    assert state_of(reading("2026-03-01 12:00", shown, unit=unit).glucose) is state
