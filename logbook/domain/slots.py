"""The times of day a check belongs to, in the order of the day, and why it was made."""

from __future__ import annotations

from enum import StrEnum


class Slot(StrEnum):
    """A time of day that follows meals, not the clock. The order is that of tables."""

    FASTING = "fasting"
    AFTER_BREAKFAST = "after_breakfast"
    BEFORE_LUNCH = "before_lunch"
    AFTER_LUNCH = "after_lunch"
    BEFORE_DINNER = "before_dinner"
    AFTER_DINNER = "after_dinner"
    BEFORE_SNACK = "before_snack"
    AFTER_SNACK = "after_snack"
    BETWEEN_MEALS = "between_meals"
    BEDTIME = "bedtime"
    NIGHT = "night"
    OTHER = "other"

    @property
    def is_before_meal(self) -> bool:
        """Before a meal; fasting is before breakfast."""
        return self in BEFORE_MEAL

    @property
    def is_after_meal(self) -> bool:
        """After a meal."""
        return self in AFTER_MEAL


BEFORE_MEAL = frozenset({Slot.FASTING, Slot.BEFORE_LUNCH, Slot.BEFORE_DINNER, Slot.BEFORE_SNACK})
AFTER_MEAL = frozenset(
    {Slot.AFTER_BREAKFAST, Slot.AFTER_LUNCH, Slot.AFTER_DINNER, Slot.AFTER_SNACK}
)

# A check this many minutes after the first bite is judged as an after-meal check. Targets after
# meals are printed for 1 to 2 hours after the beginning of the meal (ADA, read at the journal);
# 150 leaves room for a late one. Common practice, no source.
AFTER_MEAL_MINUTES = (60, 150)


def judged_slot(slot: Slot, minutes_after: int | None) -> Slot:
    """The slot whose target a check is held against.

    An after-meal check made under 60 or over 150 minutes after the first bite is judged as one
    between meals. Without minutes it is taken for the usual two hours.
    """
    if slot.is_after_meal and minutes_after is not None:
        least, most = AFTER_MEAL_MINUTES
        if not least <= minutes_after <= most:
            return Slot.BETWEEN_MEALS
    return slot


class Purpose(StrEnum):
    """Why the check was made."""

    PLANNED = "planned"
    RECHECK = "recheck"
    REPEAT = "repeat"
    FELT_SOMETHING = "felt_something"
    BEFORE_DRIVING = "before_driving"
    EXTRA = "extra"
