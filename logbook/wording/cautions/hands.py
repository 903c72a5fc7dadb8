"""Hands, drop, lancet and finger."""

from __future__ import annotations

from logbook.wording import _


def hands() -> str:
    """The one standing line about hands before every check."""
    return _(
        "Wash your hands with warm water and soap, and dry them well. "
        "Let the hand hang down, and do not squeeze hard."
    )


def could_not_wash() -> str:
    """What to do when hands can't be washed."""
    return _("Wipe the first drop away, and test the second.")


def blunt_lancet() -> str:
    """From the fourth use of a lancet on."""
    return _("Blunt lancets hurt more.")


def sore_finger() -> str:
    """Beside a finger marked sore."""
    return _("Show a red, hot, swollen or oozing finger to your provider.")


def blood_thinner() -> str:
    """For people who take a blood thinner."""
    return _("Press the spot for 2 minutes. Call if it still bleeds after 10 minutes.")


def other_site() -> str:
    """Beside forearm and thigh."""
    return _("Use a fingertip after you eat or move a lot, and when you feel low or ill.")
