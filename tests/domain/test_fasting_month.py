"""The fast is broken at the numbers of the published table.

The limits are typed from table 3 of PMC7480213 (below 70 mg/dL or 4.0 mmol/L, above 300 mg/dL or
16.7 mmol/L), not taken from the module.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logbook.domain.cautions import CautionCode
from logbook.domain.fasting_month import breaks_fast, is_fasting_month
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.next_steps import next_step_of
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.states import State
from logbook.domain.ticks import TickBook
from tests.domain.series_of import glucose, moment, new_id

DAY = date(2026, 3, 10)


@pytest.mark.parametrize(
    ("text", "unit", "is_broken"),
    [
        ("69", Unit.MG_DL, True),
        ("70", Unit.MG_DL, False),
        ("300", Unit.MG_DL, False),
        ("301", Unit.MG_DL, True),
        ("3.9", Unit.MMOL_L, True),
        ("4.0", Unit.MMOL_L, False),
        ("16.7", Unit.MMOL_L, False),
        ("16.8", Unit.MMOL_L, True),
    ],
)
def test_the_limits_as_printed(text: str, unit: Unit, is_broken: bool) -> None:
    assert breaks_fast(glucose(text, unit)) is is_broken


def test_lo_and_hi_break_it() -> None:
    assert breaks_fast(Glucose.reads_low(Unit.MG_DL, "LO"))
    assert breaks_fast(Glucose.reads_high(Unit.MG_DL, "HI"))


def test_only_a_fasting_month_that_goes_on_counts() -> None:
    month = Spell(new_id(), SpellKind.FASTING_MONTH, date(2026, 3, 1), date(2026, 3, 29))
    assert is_fasting_month([month], DAY)
    assert not is_fasting_month([month], date(2026, 3, 30))
    assert not is_fasting_month([Spell(new_id(), SpellKind.ILL, DAY)], DAY)


def step(text: str, state: State, *, is_second_high: bool = False, **told: Any) -> Any:
    at: Moment = moment("2026-03-10 15:00")
    reading = Reading(new_id(), glucose(text), at, at.instant, Slot.BETWEEN_MEALS)
    return next_step_of(
        reading,
        state,
        None,
        is_second_high=is_second_high,
        previous=None,
        settings=LogSettings(),
        ticks=TickBook(),
        day=DAY,
        **told,
    )


def test_a_low_says_it_before_anything_else() -> None:
    assert step("62", State.LOW, fasts=True).cautions[0] is CautionCode.BREAK_FAST
    assert CautionCode.BREAK_FAST not in step("62", State.LOW).cautions
    assert CautionCode.BREAK_FAST not in step("120", State.NOT_JUDGED, fasts=True).cautions


def test_a_high_that_surprises_is_tested_again_first() -> None:
    assert CautionCode.BREAK_FAST not in step("320", State.VERY_HIGH, fasts=True).cautions
    again = step("320", State.VERY_HIGH, is_second_high=True, fasts=True)
    assert again.cautions[0] is CautionCode.BREAK_FAST
