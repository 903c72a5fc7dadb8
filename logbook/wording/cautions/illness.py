"""Unwell with a good number, a day of illness, and what makes a number false."""

from __future__ import annotations

from logbook.wording import _


def unwell_not_low() -> str:
    """Shaky, sweaty, dizzy, confused or weak at 70 mg/dL (3.9 mmol/L) or more."""
    return _(
        "This number is not low. Something else can make you feel unwell. "
        "Test again on another finger."
    )


def call_emergency_if(emergency: str) -> str:
    """The signs that no blood glucose explains."""
    return _(
        "Chest pain, a drooping face, a weak arm or slurred speech: call {emergency} now."
    ).format(emergency=emergency)


def number_not_trusted(emergency: str) -> str:
    """For someone very unwell: a fingertip can read far off."""
    return _(
        "Very unwell, or collapsed? Do not trust the number, it can be far off. Call {emergency}."
    ).format(emergency=emergency)


def sick_day_sips() -> str:
    """The standing line of a day of illness."""
    return _("Keep drinking small sips. Ask before you stop any medicine.")


def sick_day_call() -> str:
    """When to call on a day of illness."""
    return _(
        "Call your provider now if you vomit or cannot eat. "
        "Call now if you have had diarrhoea for 6 hours."
    )


def sick_day_dry() -> str:
    """Signs of dryness and of a mind that is not clear."""
    return _("Very thirsty, a dry mouth, drowsy or muddled? Call now, whatever the number says.")


def ketoacidosis() -> str:
    """For people who take an SGLT2 inhibitor and are ill."""
    return _(
        "With your SGLT2 tablets, acid can build up in the blood at a good number too. "
        "If you are ill, vomit or breathe fast, call your provider now."
    )


def icodextrin() -> str:
    """For people on peritoneal dialysis with icodextrin."""
    return _(
        "Icodextrin can make some meters read far too high and hide a low. "
        "Ask your dialysis team whether your meter and strips are safe."
    )
