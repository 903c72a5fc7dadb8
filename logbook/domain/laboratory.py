"""Laboratory A1C: the value as printed, in its own unit, and the average that goes with it.

How it compares with the log is in `a1c_comparison`; what is said about it is for `wording`. An A1C
is never reckoned from the log: fingersticks are too few and at chosen times.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from uuid import UUID

from logbook.domain.errors import BadA1C
from logbook.domain.glucose import Unit

_NUMBER = re.compile(r"[0-9]{1,4}(?:[.,][0-9]{1,3})?", re.ASCII)


class A1CUnit(StrEnum):
    """The two units a laboratory prints: NGSP percent and IFCC mmol/mol."""

    PERCENT = "%"
    MMOL_MOL = "mmol/mol"

    @property
    def steps_per_one(self) -> int:
        """Percent is printed to a tenth, mmol/mol whole."""
        return 10 if self is A1CUnit.PERCENT else 1

    @property
    def other(self) -> A1CUnit:
        """The unit that this one is not."""
        return A1CUnit.MMOL_MOL if self is A1CUnit.PERCENT else A1CUnit.PERCENT


# Outside these no printed A1C lies; a typing slip or the other unit does. Inclusive, in steps of
# the unit: 3.0 to 20.0 %, 9 to 195 mmol/mol, the same ends by the master equation. Judgement
# without a source.
A1C_LIMITS = {A1CUnit.PERCENT: (30, 200), A1CUnit.MMOL_MOL: (9, 195)}


@dataclass(frozen=True, slots=True)
class LabA1C:
    """One laboratory A1C: `steps` counts tenths of a percent, or whole mmol/mol."""

    id: UUID
    drawn_on: date
    steps: int
    unit: A1CUnit
    written_at: datetime
    note: str = ""
    crossed_out_at: datetime | None = None

    @property
    def counts(self) -> bool:
        """Not crossed out."""
        return self.crossed_out_at is None

    @property
    def percent(self) -> Decimal:
        """The value in NGSP percent, unrounded, for reckoning."""
        if self.unit is A1CUnit.PERCENT:
            return Decimal(self.steps) / 10
        return to_percent(Decimal(self.steps))

    def steps_in(self, unit: A1CUnit) -> int:
        """The value in steps of `unit`, half up, for display: as printed in its own unit."""
        if unit is self.unit:
            return self.steps
        if unit is A1CUnit.PERCENT:
            return _half_up(to_percent(Decimal(self.steps)) * 10)
        return _half_up(to_mmol_mol(Decimal(self.steps) / 10))


def parse_a1c(text: str, unit: A1CUnit) -> int:
    """Steps of `unit` from typed text. Comma or point, without a sign, unit or other characters.

    Raises `BadA1C`, whose `why` is not_a_number, decimals (more than the unit is printed with),
    other_unit (it can only be in the other unit) or impossible.
    """
    stripped = text.strip()
    if not _NUMBER.fullmatch(stripped):
        raise BadA1C(text, why="not_a_number", unit=unit)
    value = Decimal(stripped.replace(",", "."))
    if not _can_be(value, unit):
        why = "other_unit" if _can_be(value, unit.other) else "impossible"
        raise BadA1C(text, why=why, unit=unit)
    steps = value * unit.steps_per_one
    if steps != steps.to_integral_value():
        raise BadA1C(text, why="decimals", unit=unit)
    return int(steps)


def to_percent(mmol_mol: Decimal) -> Decimal:
    """NGSP percent of an IFCC value, unrounded.

    NGSP = 0.09148 x IFCC + 2.152: the NGSP's own site, read there.
    """
    return Decimal("0.09148") * mmol_mol + Decimal("2.152")


def to_mmol_mol(percent: Decimal) -> Decimal:
    """The IFCC value of an NGSP percentage, unrounded.

    IFCC = 10.93 x NGSP - 23.5: the IFCC network's own site, read there (Hoelzel et al., Clin Chem
    2004;50:166).
    """
    return Decimal("10.93") * percent - Decimal("23.5")


def adag_average(percent: Decimal) -> Decimal:
    """The average glucose, in mg/dL and unrounded, that was found with an A1C of `percent`.

    28.7 x A1C - 46.7: Nathan et al., Diabetes Care 2008;31:1473 (abstract read at the journal), 507
    people, R2 0.84. Decimal on purpose: with binary numbers 6 % would come out as 125, not 126.
    """
    return Decimal("28.7") * percent - Decimal("46.7")


def adag_steps(percent: Decimal, unit: Unit) -> int:
    """The same for display, in steps of `unit`, half up.

    In mmol/L it is the unrounded mg/dL divided by 18: only so do all rows of the published table
    come out as printed; neither the paper's own equation in mmol/L nor another factor does it.
    """
    average = adag_average(percent)
    return _half_up(average if unit is Unit.MG_DL else average / 18 * 10)


def _can_be(value: Decimal, unit: A1CUnit) -> bool:
    least, most = A1C_LIMITS[unit]
    return least <= value * unit.steps_per_one <= most


def _half_up(value: Decimal) -> int:
    return int(value.to_integral_value(ROUND_HALF_UP))
