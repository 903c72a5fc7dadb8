"""Invented people whose glucose is drawn, for runs that need many of them.

Values lie around a middle value of the person's own on a logarithmic scale, so high ones lie
further out than low ones, as in real diaries; one high makes the next likelier. None of this is
anyone's.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field

from logbook.domain.glucose import Unit, converted_steps
from logbook.domain.levels import METER_LIMITS

TIGHT, ORDINARY, WIDE, FEW = "tight", "ordinary", "wide", "few numbers"
_KINDS = (TIGHT, ORDINARY, WIDE, FEW)
# Middle values in mg/dL from and to, and the spread on the logarithmic scale from and to.
_MIDDLE = {TIGHT: (105, 150), ORDINARY: (125, 190), WIDE: (140, 220), FEW: (110, 200)}
_SPREAD = {TIGHT: (0.12, 0.2), ORDINARY: (0.22, 0.34), WIDE: (0.36, 0.46), FEW: (0.15, 0.4)}
_FOLLOWS = 0.3


@dataclass
class Person:
    """One invented person: a kind, and how many numbers stand in the log already."""

    kind: str
    unit: Unit
    middle: float
    spread: float
    earlier: int
    _last: float = field(default=0.0)

    def next_steps(self, chance: random.Random) -> int:
        """The next number the meter shows, in steps of the unit; never LO or HI."""
        fresh = chance.gauss(0, self.spread)
        self._last = _FOLLOWS * self._last + math.sqrt(1 - _FOLLOWS**2) * fresh
        steps = converted_steps(round(self.middle * math.exp(self._last)), Unit.MG_DL, self.unit)
        lowest, highest = METER_LIMITS[self.unit]
        return min(max(steps, lowest), highest)


def invent(chance: random.Random) -> Person:
    """One of any kind, in either unit."""
    kind = chance.choice(_KINDS)
    return Person(
        kind,
        chance.choice(list(Unit)),
        chance.uniform(*_MIDDLE[kind]),
        chance.uniform(*_SPREAD[kind]),
        chance.randint(0, 12) if kind == FEW else chance.randint(40, 360),
    )
