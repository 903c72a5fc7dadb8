"""What the program is not, and whose word comes first."""

from __future__ import annotations

from logbook.wording import _


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


def target_not_agreed() -> str:
    """Beside a step that a published starting point told."""
    return _("You have not yet agreed this target with your provider.")


def row_without_lows() -> str:
    """Beside a starting point printed for people whose medicines cause no lows."""
    return _("This row is meant for people whose medicines do not cause lows. Ask your provider.")
