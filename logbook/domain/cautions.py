"""Codes of the cautions that can be due; their sentences and sources are in `wording.cautions`."""

from __future__ import annotations

from enum import StrEnum


class CautionCode(StrEnum):
    """One caution each, by what it is about."""

    # What the program is not.
    NO_ADVICE = "no_advice"
    CANNOT_CALL = "cannot_call"
    SHARES_ARE_OF_READINGS = "shares_are_of_readings"
    YOUR_PLAN_FIRST = "your_plan_first"
    TARGET_NOT_AGREED = "target_not_agreed"
    ROW_WITHOUT_LOWS = "row_without_lows"
    # Hands, drop and finger.
    HANDS = "hands"
    COULD_NOT_WASH = "could_not_wash"
    BLUNT_LANCET = "blunt_lancet"
    SORE_FINGER = "sore_finger"
    BLOOD_THINNER = "blood_thinner"
    OTHER_SITE = "other_site"
    # A low.
    LOW_FIRST = "low_first"
    FAST_SUGAR = "fast_sugar"
    GLUCOSE_ONLY = "glucose_only"
    RECHECK = "recheck"
    SUGAR_ONCE = "sugar_once"
    WIPE_FIRST = "wipe_first"
    FINGERTIP_ONLY = "fingertip_only"
    VERY_LOW = "very_low"
    FOR_A_HELPER = "for_a_helper"
    STILL_LOW = "still_low"
    STILL_LOW_AFTER_THREE = "still_low_after_three"
    CANNOT_RING = "cannot_ring"
    UNANSWERED = "unanswered"
    LOW_WITHOUT_SIGNS = "low_without_signs"
    IF_IN_DOUBT = "if_in_doubt"
    BETA_BLOCKER = "beta_blocker"
    BREAK_FAST = "break_fast"
    RECOVERED = "recovered"
    WATCH = "watch"
    # A high.
    SURPRISING_HIGH = "surprising_high"
    TEST_AGAIN_IF_SURPRISED = "test_again_if_surprised"
    NO_EXTRA_MEDICINE = "no_extra_medicine"
    DRINK_WATER = "drink_water"
    HI_FIRST = "hi_first"
    HI_AGAIN = "hi_again"
    # Unwell and ill.
    UNWELL_NOT_LOW = "unwell_not_low"
    CALL_EMERGENCY_IF = "call_emergency_if"
    NUMBER_NOT_TRUSTED = "number_not_trusted"
    SICK_DAY_SIPS = "sick_day_sips"
    SICK_DAY_CALL = "sick_day_call"
    SICK_DAY_DRY = "sick_day_dry"
    KETOACIDOSIS = "ketoacidosis"
    # What can fool the meter.
    ICODEXTRIN = "icodextrin"
