"""The limits that hold for everybody, in both units exactly as they are printed.

A value is always compared in its own unit, with the limit printed for that unit; one limit is never
derived from its twin. Targets, which are a person's own, are in `targets`.
"""

from __future__ import annotations

from logbook.domain.glucose import Unit

# In steps of the unit (whole mg/dL, tenths of mmol/L).

# Level 1 hypoglycaemia is below 70 (3.9), level 2 below 54 (3.0): ADA Standards of Care 2024,
# section 6, read at the journal. (The 2017 text said 70 or below.)
LOW_BELOW = {Unit.MG_DL: 70, Unit.MMOL_L: 39}
VERY_LOW_BELOW = {Unit.MG_DL: 54, Unit.MMOL_L: 30}

# Upper edges of the fixed bands: 180 (10.0) and 250 (13.9), pairs as guidelines print them.
HIGH_ABOVE = {Unit.MG_DL: 180, Unit.MMOL_L: 100}
HIGHER_ABOVE = {Unit.MG_DL: 250, Unit.MMOL_L: 139}

# From here on a value is called very high unless the person's plan says another number. Common
# practice (long-term-care call lists use it); 300 = 16.7 is from memory, not checked.
VERY_HIGH_ABOVE = {Unit.MG_DL: 300, Unit.MMOL_L: 167}

# Most meters show LO and HI outside these (20 and 600 mg/dL); the meter's own card decides.
# Common practice, no source.
METER_LIMITS = {Unit.MG_DL: (20, 600), Unit.MMOL_L: (11, 333)}
