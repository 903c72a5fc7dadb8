"""The standing cautions, worded once for window and paper.

When a caution is due is the domain's; the person's own written plan always stands above these.
The facts are those of the published advice named in `docs/method.md`; none of these sentences names
a dose of a medicine, and none may.
"""

from __future__ import annotations

from datetime import datetime, time

from logbook.wording import _
from logbook.wording.dates import clock_text

# --- what the program is not ----------------------------------------------------------------------


def no_advice() -> str:
    """What the program never gives, and who decides instead."""
    return _(
        "This program gives no dose, no diagnosis and no change of treatment. "
        "Follow the plan you agreed with your provider, and your local rules."
    )


def cannot_call() -> str:
    """That nobody is called by the program."""
    return _("This program cannot call anyone. Agree with someone whom you will phone after a low.")


def shares_are_of_readings() -> str:
    """Why a share of fingerstick readings is no share of the day."""
    return _("Shares are of readings taken, not of hours of the day.")


def your_plan_first() -> str:
    """What stands above a person's own text."""
    return _("Your own written plan comes first.")


# --- hands and drop -------------------------------------------------------------------------------


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
    return _("Use a fingertip after meals, after activity, when you feel low, and when ill.")


# --- a low ----------------------------------------------------------------------------------------


def low_first_steps(recheck_at: datetime | time, *, only_glucose: bool = False) -> list[str]:
    """The steps of a low, in order. `only_glucose`: acarbose or miglitol slow down other sugar."""
    sugar = (
        _("Take 15 grams of fast sugar now: glucose tablets or glucose gel.")
        if only_glucose
        else _("Take 15 grams of fast sugar now: glucose tablets, or half a cup of juice.")
    )
    not_these = (
        _("Juice and table sugar work too slowly with your tablets.")
        if only_glucose
        else _("Not diet drinks, not chocolate.")
    )
    return [
        _("This is low. Sit down. Do not drive."),
        f"{sugar} {not_these}",
        recheck(recheck_at),
    ]


def recheck(recheck_at: datetime | time) -> str:
    """When to check again, and with what hands."""
    return _(
        "Check again at {time}. Wash or wipe your fingers first: "
        "sugar on them gives a false high number."
    ).format(time=clock_text(recheck_at))


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
    return _("Still below 70 after 3 treatments. Call {emergency} now.").format(emergency=emergency)


def recovered() -> str:
    """After a low that is over."""
    return _(
        "Eat a meal or snack if your next meal is over 1 hour away. "
        "Wait before you drive; local rules often say 45 minutes."
    )


# --- a high ---------------------------------------------------------------------------------------


def surprising_high(value: str) -> str:
    """A high that is doubted first; `value` is the number with its unit."""
    return _(
        "{value} is high. Wash and dry your hands, then test again. Food on a finger can do this."
    ).format(value=value)


def no_extra_medicine() -> str:
    """Beside a second high."""
    return _("Do not take extra medicine unless your written plan says so.")


def drink_water() -> str:
    """Beside a second high."""
    return _("Drink water, unless your provider limits your fluids.")


def meter_shows_hi_again(emergency: str) -> str:
    """When a second strip shows HI too."""
    return _(
        "Call your provider now, day or night. "
        "Call {emergency} if drowsy, confused, vomiting, breathing fast, "
        "or unable to keep drinks down."
    ).format(emergency=emergency)
