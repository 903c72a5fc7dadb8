"""A fasting month: the numbers at which the fast is broken, unless a provider told others.

Below 70 mg/dL (4.0 mmol/L) or above 300 mg/dL (16.7 mmol/L), as table 3 of PMC7480213 prints them
(read at the journal). Feeling ill breaks the fast at any number.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.spells import Spell, SpellKind

BREAKS_FAST_BELOW = {Unit.MG_DL: 70, Unit.MMOL_L: 40}
BREAKS_FAST_ABOVE = {Unit.MG_DL: 300, Unit.MMOL_L: 167}


def is_fasting_month(spells: Iterable[Spell], day: date) -> bool:
    """Whether a fasting month goes on, on the person's `day`."""
    return any(one.kind is SpellKind.FASTING_MONTH and one.covers(day) for one in spells)


def breaks_fast(glucose: Glucose) -> bool:
    """Whether this number, LO or HI asks to break the fast."""
    steps, unit = glucose.order_steps, glucose.unit
    return steps < BREAKS_FAST_BELOW[unit] or steps > BREAKS_FAST_ABOVE[unit]
