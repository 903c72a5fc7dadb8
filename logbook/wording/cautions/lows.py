"""A low: what to do first, when to check again, when to call, and what comes after it."""

from __future__ import annotations

from datetime import datetime, time

from logbook.wording import _
from logbook.wording.dates import clock_text


def low_first() -> str:
    """The first words of a low."""
    return _("This is low. Sit down. Do not drive.")


def fast_sugar(*, only_glucose: bool = False) -> str:
    """What to take. `only_glucose`: acarbose or miglitol slow down other sugar."""
    if only_glucose:
        return "{} {}".format(
            _("Take 15 grams of fast sugar now: glucose tablets or glucose gel."),
            _("Juice and table sugar work too slowly with your tablets."),
        )
    return "{} {}".format(
        _("Take 15 grams of fast sugar now: glucose tablets, or half a cup of juice."),
        _("Not diet drinks, not chocolate."),
    )


def low_first_steps(recheck_at: datetime | time, *, only_glucose: bool = False) -> list[str]:
    """The steps of a low, in order."""
    return [low_first(), fast_sugar(only_glucose=only_glucose), recheck(recheck_at)]


def recheck(recheck_at: datetime | time) -> str:
    """When to check again, and with what hands."""
    return _(
        "Check again at {time}. Wash or wipe your fingers first: "
        "sugar on them gives a false high number."
    ).format(time=clock_text(recheck_at))


def wipe_first() -> str:
    """When the check after a low is due."""
    return _("Wash or wipe your fingers first: sugar on them gives a false high number.")


def sugar_once() -> str:
    """While the sugar works."""
    return _("Sit and wait. The sugar you took needs 15 minutes. Do not drive.")


def fingertip_only() -> str:
    """Where to test during a low."""
    return _("Use a fingertip for this check, no other place.")


def very_low(contact: str = "") -> str:
    """Below 54 mg/dL (3.0 mmol/L), or LO. `contact` is the person to phone."""
    if contact:
        return _(
            "This is very low. Take the sugar first. Then phone {name} and stay on the line."
        ).format(name=contact)
    return _("This is very low. Take the sugar first. Then phone someone and stay on the line.")


def for_a_helper(emergency: str) -> str:
    """The box for someone who helps."""
    return _(
        "If they cannot swallow or do not wake, give nothing by mouth. "
        "Use glucagon if you have it. Call {emergency}."
    ).format(emergency=emergency)


def still_low(times: int, recheck_at: datetime | time) -> str:
    """After a recheck that is still below 70 mg/dL; `times` treatments were taken so far."""
    which = {1: _("second"), 2: _("third")}.get(times, str(times + 1))
    return _("Still low. Take the same sugar a {which} time. Check again at {time}.").format(
        which=which, time=clock_text(recheck_at)
    )


def still_low_after_three(emergency: str) -> str:
    """After three treatments without recovery."""
    return _("Still low after 3 treatments. Call {emergency} now.").format(emergency=emergency)


def cannot_ring() -> str:
    """Beside a low where no sound was heard."""
    return _("This computer cannot ring. Set your kitchen timer for 15 minutes.")


def unanswered(contact: str = "") -> str:
    """When a recheck has waited for ten minutes. `contact` is the person to phone."""
    if contact:
        return _("The check is late. Check now. If you feel worse, phone {name}.").format(
            name=contact
        )
    return _("The check is late. Check now. If you feel worse, phone someone.")


def low_without_signs() -> str:
    """For a low number that surprises."""
    return _("Even if you feel well: take the sugar first, then test again.")


def if_in_doubt() -> str:
    """For someone who feels low and can't test."""
    return _("If you cannot test: if in doubt, treat it as a low.")


def beta_blocker() -> str:
    """For people who take a beta blocker."""
    return _("With a beta blocker, sweating may be the only sign of a low.")


def break_fast() -> str:
    """In a fasting month, at a number that asks for it."""
    return _("Break your fast now. Numbers that your provider gave you for it come first.")


def recovered() -> str:
    """After a low that is over."""
    return _(
        "Eat a meal or snack if your next meal is over 1 hour away. "
        "Wait before you drive; local rules often say 45 minutes."
    )


def watch() -> str:
    """After a low, where medicines can make it come back."""
    return _("Check once more after 1 hour, and before you sleep.")
