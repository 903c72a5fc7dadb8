"""A glucose value as a meter shows it: number and unit as written, or the letters LO or HI.

Values are kept as written and never converted in place. Conversion is for display only.
Where a value stands (low, in target, ...) is told by `states`; printed limits are in `levels`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, NotANumber

# mg/dL in one mmol/L: molar mass 180.156 g/mol, LOINC's glucose group (read at the source). Every
# pair of limits that guidelines print comes out as printed; 18.0182 would turn 100 mg/dL into 5.5.
MG_DL_PER_MMOL_L = Decimal("18.0156")


class Unit(StrEnum):
    """The two units a meter can show. The value is the UCUM code."""

    MG_DL = "mg/dL"
    MMOL_L = "mmol/L"

    @property
    def decimals(self) -> int:
        """Decimals a meter shows: none in mg/dL, one in mmol/L."""
        return 0 if self is Unit.MG_DL else 1

    @property
    def steps_per_one(self) -> int:
        """How many of the smallest steps make one whole: 1 in mg/dL, 10 in mmol/L."""
        return 1 if self is Unit.MG_DL else 10

    @property
    def other(self) -> Unit:
        """The unit that this one is not."""
        return Unit.MMOL_L if self is Unit.MG_DL else Unit.MG_DL


class Kind(StrEnum):
    """What the meter showed."""

    NUMBER = "number"
    READS_LOW = "reads_low"
    READS_HIGH = "reads_high"


# Outside these no living person's reading lies; a typing slip does. Inclusive, in steps of the
# unit. Judgement without a source.
POSSIBLE_STEPS = {Unit.MG_DL: (10, 1000), Unit.MMOL_L: (6, 550)}

# LO and HI take their places at the ends of any order of values.
LO_STEPS = -1
HI_STEPS = 1_000_000

_NUMBER = re.compile(r"[0-9]{1,5}(?:[.,][0-9]{1,3})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Glucose:
    """One value as the meter showed it.

    `steps` counts the smallest steps of `unit` (whole mg/dL, tenths of mmol/L) and is None for LO
    and HI. `written` is the text as it was typed or stood in a file; two values are equal when
    unit, kind and steps are.

    Raises `ImpossibleGlucose` for a number outside 10 to 1,000 mg/dL or 0.6 to 55.0 mmol/L.
    """

    unit: Unit
    kind: Kind
    steps: int | None
    written: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        if (self.kind is Kind.NUMBER) != (self.steps is not None):
            raise NotANumber(self.written, unit=self.unit)
        if self.steps is not None:
            least, most = POSSIBLE_STEPS[self.unit]
            if not least <= self.steps <= most:
                raise ImpossibleGlucose(self.written or self.text, unit=self.unit)

    @classmethod
    def number(cls, steps: int, unit: Unit, written: str = "") -> Glucose:
        """A value from steps: `Glucose.number(128, MG_DL)`, `Glucose.number(71, MMOL_L)`."""
        return cls(unit, Kind.NUMBER, steps, written)

    @classmethod
    def reads_low(cls, unit: Unit, written: str = "LO") -> Glucose:
        """The meter showed LO: below what it can measure."""
        return cls(unit, Kind.READS_LOW, None, written)

    @classmethod
    def reads_high(cls, unit: Unit, written: str = "HI") -> Glucose:
        """The meter showed HI: above what it can measure."""
        return cls(unit, Kind.READS_HIGH, None, written)

    @classmethod
    def of_order(cls, order_steps: int, unit: Unit) -> Glucose:
        """The value that has these `order_steps`, the letters LO and HI included."""
        if order_steps == LO_STEPS:
            return cls.reads_low(unit)
        return cls.reads_high(unit) if order_steps == HI_STEPS else cls.number(order_steps, unit)

    @classmethod
    def parse(cls, text: str, unit: Unit) -> Glucose:
        """A number from typed text. Comma or point; no sign, exponent, underscore or other digits.

        Raises `NotANumber`, `DecimalsNotShown` (decimals in mg/dL, or more than one in mmol/L) or
        `ImpossibleGlucose`.
        """
        stripped = text.strip()
        if not _NUMBER.fullmatch(stripped):
            raise NotANumber(text, unit=unit)
        value = Decimal(stripped.replace(",", "."))
        steps = value * unit.steps_per_one
        if steps != steps.to_integral_value():
            raise DecimalsNotShown(text, unit=unit)
        if unit is Unit.MG_DL and not stripped.isdigit():
            raise DecimalsNotShown(text, unit=unit)
        return cls(unit, Kind.NUMBER, int(steps), stripped)

    @property
    def value(self) -> Decimal | None:
        """The number in its own unit, exact; None for LO and HI."""
        return None if self.steps is None else steps_to_value(self.steps, self.unit)

    @property
    def order_steps(self) -> int:
        """Steps for ordering: LO below every number, HI above every number."""
        if self.steps is not None:
            return self.steps
        return LO_STEPS if self.kind is Kind.READS_LOW else HI_STEPS

    @property
    def text(self) -> str:
        """The value as a meter shows it, with a point: `128`, `7.1`, `LO`, `HI`."""
        if self.steps is None:
            return "LO" if self.kind is Kind.READS_LOW else "HI"
        return str(steps_to_value(self.steps, self.unit))

    def shown_in(self, unit: Unit) -> Glucose:
        """The same value for display in `unit`: mg/dL whole, mmol/L one decimal, half up.

        For display only; nothing stored or compared is ever converted.
        """
        if unit is self.unit or self.steps is None:
            return Glucose(unit, self.kind, self.steps, self.written)
        return Glucose(unit, Kind.NUMBER, converted_steps(self.steps, self.unit, unit), "")


def steps_to_value(steps: int, unit: Unit) -> Decimal:
    """Steps as an exact decimal in `unit`: 71 tenths become Decimal('7.1')."""
    return Decimal(steps).scaleb(-unit.decimals)


def converted_steps(steps: int, unit: Unit, into: Unit) -> int:
    """Steps of `unit` as steps of `into`, rounded half up with factor 18.0156."""
    if unit is into:
        return steps
    value = steps_to_value(steps, unit)
    exact = value * MG_DL_PER_MMOL_L if into is Unit.MG_DL else value / MG_DL_PER_MMOL_L
    return int((exact * into.steps_per_one).to_integral_value(ROUND_HALF_UP))
