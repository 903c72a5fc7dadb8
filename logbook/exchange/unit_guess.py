"""In which unit a column of glucose values is: told from words and from the numbers, or asked.

A number can rule a unit out: no meter shows decimals in mg/dL, and no living person has 128 mmol/L.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.exchange import known_words
from logbook.exchange.first_look import FirstLook

# One slip of a finger among many numbers rules nothing out. Judgement without a source.
_ENOUGH = 0.95


class UnitDoubt(StrEnum):
    """Why the unit is asked."""

    NOT_SAID = "not_said"  # nothing says it and the numbers fit both
    CONTRADICTED = "contradicted"  # the file says one, the numbers can only be the other
    MIXED = "mixed"  # some numbers can only be one, some only the other


@dataclass(frozen=True, slots=True)
class UnitEvidence:
    """`said` is what a heading says, `only` the one unit the numbers can be in.

    `fits` counts for each unit how many of `count` numbers are possible in it. `is_by_line` tells
    that every line names its unit.
    """

    said: Unit | None
    fits: dict[Unit, int]
    count: int
    is_by_line: bool = False

    @property
    def only(self) -> Unit | None:
        """The unit in which nearly all numbers are possible while many are not in the other."""
        fitting = [unit for unit in Unit if self.count and self.fits[unit] >= _ENOUGH * self.count]
        return fitting[0] if len(fitting) == 1 else None

    @property
    def certain(self) -> Unit | None:
        """The unit where there is no doubt."""
        if self.doubt is not None:
            return None
        return self.said or self.only or (Unit.MG_DL if self.is_by_line else None)

    @property
    def doubt(self) -> UnitDoubt | None:
        """Why to ask; None for certain."""
        if self.is_by_line:
            return None
        fits_neither = self.count > 0 and all(
            self.fits[unit] < _ENOUGH * self.count for unit in Unit
        )
        if fits_neither:
            return UnitDoubt.MIXED
        if self.said is not None:
            is_against = self.only is not None and self.only is not self.said
            return UnitDoubt.CONTRADICTED if is_against else None
        return None if self.only is not None else UnitDoubt.NOT_SAID


def unit_evidence(
    look: FirstLook,
    value_place: int | None,
    unit_place: int | None,
    is_beside: Callable[[Sequence[str]], bool],
) -> UnitEvidence:
    """What a file tells of the unit of its values; rows that are no readings tell nothing."""
    fits = dict.fromkeys(Unit, 0)
    if value_place is None:
        return UnitEvidence(None, fits, 0)
    count = 0
    named: list[Unit | None] = []
    for row in look.rows:
        if row.reason is not None or value_place >= len(row.fields) or is_beside(row.fields):
            continue
        text, unit_text = known_words.parted_from_unit(row.fields[value_place].strip())
        possible = [unit for unit in Unit if _is_possible(text, unit)]
        if not possible:
            continue
        count += 1
        for unit in possible:
            fits[unit] += 1
        if unit_text:
            named.append(known_words.unit_named(unit_text))
        elif unit_place is not None and unit_place < len(row.fields):
            named.append(known_words.unit_named(row.fields[unit_place]))
    is_by_line = bool(named) and len(named) == count and None not in named
    said = known_words.unit_named(look.headings[value_place]) if look.has_header else None
    if is_by_line and len(set(named)) == 1:
        # One unit all the way down is as good as a heading, and may be as wrong.
        return UnitEvidence(named[0], fits, count)
    return UnitEvidence(said, fits, count, is_by_line)


def _is_possible(text: str, unit: Unit) -> bool:
    try:
        Glucose.parse(text, unit)
    except LogbookError:
        return False
    return True
