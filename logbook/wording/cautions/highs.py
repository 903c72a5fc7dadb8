"""A high number is doubted first, and nothing invites extra medicine."""

from __future__ import annotations

from logbook.wording import _


def surprising_high(value: str) -> str:
    """A high that is doubted first; `value` is the number with its unit."""
    return _(
        "{value} is high. Wash and dry your hands, then test again. Food on a finger can do this."
    ).format(value=value)


def again_if_surprised() -> str:
    """For a high number that may be an ordinary one for this person."""
    return _("Does this number surprise you? Wash and dry your hands, then test again.")


def no_extra_medicine() -> str:
    """Beside a second high."""
    return _("Do not take extra medicine unless your written plan says so.")


def drink_water() -> str:
    """Beside a second high."""
    return _("Drink water, unless you were told to drink less.")


def meter_shows_hi() -> str:
    """When the meter shows HI for the first time."""
    return _("Wash and dry your hands, then test again with a new strip.")


def meter_shows_hi_again(emergency: str) -> str:
    """When a second strip shows HI too."""
    return _(
        "Call your provider now, day or night. "
        "Call {emergency} if drowsy, confused, vomiting, breathing fast, "
        "or unable to keep drinks down."
    ).format(emergency=emergency)
