"""What is said of checks that belong together: before and after a meal, at bedtime and fasting."""

from __future__ import annotations

from logbook.domain.glucose import Unit
from logbook.domain.pairs import Changes
from logbook.domain.slots import Slot
from logbook.wording import _, mark, ngettext
from logbook.wording.figures import change_in_steps_text
from logbook.wording.numbers import NOTHING, number_text

_MEAL = {
    Slot.AFTER_BREAKFAST: mark("Breakfast"),
    Slot.AFTER_LUNCH: mark("Lunch"),
    Slot.AFTER_DINNER: mark("Dinner"),
    Slot.AFTER_SNACK: mark("Snack"),
}


def meal_text(slot: Slot) -> str:
    """The meal that a check after it belongs to."""
    return _(_MEAL[slot])


def night_text() -> str:
    """The night between a bedtime and a fasting check."""
    return _("Night")


def pairs_text(count: int) -> str:
    """A count of pairs: "1 pair", "12 pairs"."""
    return ngettext("{n} pair", "{n} pairs", count).format(n=number_text(count))


def change_text(steps: float | None, unit: Unit) -> str:
    """A change with its sign and without its unit; a dash for None."""
    return NOTHING if steps is None else change_in_steps_text(steps, unit, with_unit=False)


def least_to_most_text(changes: Changes, unit: Unit) -> str:
    """The least and the greatest change, without the unit."""
    if changes.count == 1:
        return change_text(changes.least, unit)
    return _("{lowest} to {highest}").format(
        lowest=change_text(changes.least, unit), highest=change_text(changes.greatest, unit)
    )


def changes_sentence(name: str, changes: Changes, unit: Unit) -> str:
    """One meal or the nights in a sentence: how many pairs, the middle change, least to most."""
    if changes.median is None:
        return ""
    middle = change_in_steps_text(changes.median, unit)
    if changes.count == 1:
        return _("{name}: {pairs}, a change of {middle}.").format(
            name=name, pairs=pairs_text(1), middle=middle
        )
    assert changes.greatest is not None
    return _("{name}: {pairs}, middle change {middle}, from {least} to {greatest}.").format(
        name=name,
        pairs=pairs_text(changes.count),
        middle=middle,
        least=change_text(changes.least, unit),
        greatest=change_in_steps_text(changes.greatest, unit),
    )


def low_between_text(nights: int) -> str:
    """Said of nights with a low in them; empty for none."""
    if not nights:
        return ""
    return ngettext(
        "A low lay between in {n} night.", "A low lay between in {n} nights.", nights
    ).format(n=number_text(nights))


def how_pairs_are_made() -> list[str]:
    """What has to be written down for a pair."""
    return [
        _("A meal pair needs a check up to 30 minutes before the first bite, and one after it."),
        _("The minutes since the first bite must be noted with the check after the meal."),
        _("A night needs a check at bedtime and the next one fasting (before breakfast)."),
    ]
