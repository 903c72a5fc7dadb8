"""The standing cautions, worded once for window and paper.

When a caution is due is the domain's; the person's own written plan and provider come before every
one of them. The facts are those of the advice that `catalogue` names beside each; none of these
sentences names a dose of a medicine, and none may.
"""

from __future__ import annotations

from logbook.wording.cautions.catalogue import Caution, CautionFacts, all_cautions, caution_text
from logbook.wording.cautions.general import (
    cannot_call,
    no_advice,
    row_without_lows,
    shares_are_of_readings,
    target_not_agreed,
    your_plan_first,
)
from logbook.wording.cautions.hands import (
    blood_thinner,
    blunt_lancet,
    could_not_wash,
    hands,
    other_site,
    sore_finger,
)
from logbook.wording.cautions.highs import (
    again_if_surprised,
    drink_water,
    meter_shows_hi,
    meter_shows_hi_again,
    no_extra_medicine,
    surprising_high,
)
from logbook.wording.cautions.illness import (
    call_emergency_if,
    icodextrin,
    ketoacidosis,
    number_not_trusted,
    sick_day_call,
    sick_day_dry,
    sick_day_sips,
    unwell_not_low,
)
from logbook.wording.cautions.lows import (
    beta_blocker,
    break_fast,
    cannot_ring,
    fast_sugar,
    fingertip_only,
    for_a_helper,
    if_in_doubt,
    low_first,
    low_first_steps,
    low_without_signs,
    recheck,
    recovered,
    still_low,
    still_low_after_three,
    sugar_once,
    unanswered,
    very_low,
    watch,
    wipe_first,
)

__all__ = [
    "Caution",
    "CautionFacts",
    "again_if_surprised",
    "all_cautions",
    "beta_blocker",
    "blood_thinner",
    "blunt_lancet",
    "break_fast",
    "call_emergency_if",
    "cannot_call",
    "cannot_ring",
    "caution_text",
    "could_not_wash",
    "drink_water",
    "fast_sugar",
    "fingertip_only",
    "for_a_helper",
    "hands",
    "icodextrin",
    "if_in_doubt",
    "ketoacidosis",
    "low_first",
    "low_first_steps",
    "low_without_signs",
    "meter_shows_hi",
    "meter_shows_hi_again",
    "no_advice",
    "no_extra_medicine",
    "number_not_trusted",
    "other_site",
    "recheck",
    "recovered",
    "row_without_lows",
    "shares_are_of_readings",
    "sick_day_call",
    "sick_day_dry",
    "sick_day_sips",
    "sore_finger",
    "still_low",
    "still_low_after_three",
    "sugar_once",
    "surprising_high",
    "target_not_agreed",
    "unanswered",
    "unwell_not_low",
    "very_low",
    "watch",
    "wipe_first",
    "your_plan_first",
]
