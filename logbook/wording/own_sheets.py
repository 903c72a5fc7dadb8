"""Words of the person's own sheets: plan sheet, wallet card, fridge sheet, sheets to fill in.

What to do in a low is said by `wording.cautions`; here it is said to whoever reads the sheet.
"""

from __future__ import annotations

from enum import StrEnum

from logbook.wording import _, cautions, mark


class OwnSheet(StrEnum):
    """The sheets there are."""

    PLAN = "plan"
    WALLET = "wallet"
    FRIDGE = "fridge"
    WEEK = "week"
    MONTH = "month"
    PROFILE = "profile"
    HANDS = "hands"


_NAME = {
    OwnSheet.PLAN: mark("Plan sheet"),
    OwnSheet.WALLET: mark("Wallet card"),
    OwnSheet.FRIDGE: mark("Fridge sheet"),
    OwnSheet.WEEK: mark("Blank sheet for a week"),
    OwnSheet.MONTH: mark("Blank sheet for a month"),
    OwnSheet.PROFILE: mark("Blank sheet for 3 days"),
    OwnSheet.HANDS: mark("Finger sheet"),
}

_ABOUT = {
    OwnSheet.PLAN: mark("When to check, targets, your own plans, who to phone. Large print."),
    OwnSheet.WALLET: mark("For your pocket: what others must know, and who to phone."),
    OwnSheet.FRIDGE: mark("For those who live with you: what to do in a low."),
    OwnSheet.WEEK: mark("Seven days to write on by hand."),
    OwnSheet.MONTH: mark("A month on one page."),
    OwnSheet.PROFILE: mark("Seven checks a day, with meals, before a visit."),
    OwnSheet.HANDS: mark("A month of your fingers, to tick which one you used."),
}


def sheet_name(sheet: OwnSheet) -> str:
    """What a sheet is called."""
    return _(_NAME[sheet])


def sheet_about(sheet: OwnSheet) -> str:
    """What a sheet is for."""
    return _(_ABOUT[sheet])


def usual_low_steps(emergency: str, *, only_glucose: bool) -> list[str]:
    """The usual cautions for a low, for someone without a written plan of their own."""
    return [
        cautions.low_first(),
        cautions.fast_sugar(only_glucose=only_glucose),
        _("Check again after 15 minutes, with washed fingers. Still low? Take the same again."),
        cautions.still_low_after_three(emergency),
    ]


def helper_steps(emergency: str, *, only_glucose: bool) -> list[str]:
    """What someone else does when this person may be low."""
    sugar = (
        _("If I am awake and can swallow: give me glucose tablets or gel, 15 grams.")
        if only_glucose
        else _("If I am awake and can swallow: give me glucose tablets, or half a cup of juice.")
    )
    return [
        sugar,
        _("Give the same again after 15 minutes if I am not better."),
        _("Stay with me. Do not let me drive."),
        _("If I cannot swallow or do not wake: give nothing by mouth."),
        _("Use glucagon if you have it. Call {emergency}.").format(emergency=emergency),
    ]
