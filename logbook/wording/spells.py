"""What a stretch of days that is not ordinary changes here, in words; never a treatment."""

from __future__ import annotations

from logbook.domain.spells import SpellKind
from logbook.wording import _, mark
from logbook.wording.plan import fasting_month_cautions
from logbook.wording.travel import travel_details

_LEFT_OUT = mark("What repeats leaves these days out. The report has figures without them too.")
_TWO_COLUMNS = mark("The report has figures before it and from it on.")
_CALLS = mark("250 mg/dL (13.9 mmol/L) or more twice in a day asks you to call your provider.")
_CHANGES = {
    SpellKind.ILL: (
        mark("Extra checks come while you are awake: as your plan says, else every 4 hours."),
        mark("Morning and evening you are asked whether you are still ill."),
        _CALLS,
        _LEFT_OUT,
    ),
    SpellKind.STEROID: (
        mark("Ask your provider how often to check meanwhile."),
        _CALLS,
        _LEFT_OUT,
    ),
    SpellKind.HOSPITAL: (
        mark("Numbers of the hospital's meter stay outside your figures."),
        _LEFT_OUT,
    ),
    SpellKind.TRAVEL: (),
    SpellKind.FASTING_MONTH: (
        mark("A published plan for it is under When to check. Agree it with your provider."),
    ),
    SpellKind.NEW_MEDICINE: (_CALLS, _TWO_COLUMNS),
    SpellKind.DIALYSIS: (
        mark("Some dialysis fools the meter. Answer that under What the program must know."),
        _TWO_COLUMNS,
    ),
    SpellKind.OTHER: (_TWO_COLUMNS,),
}


def spell_changes(kind: SpellKind) -> list[str]:
    """What it changes, a sentence or two each."""
    first: list[str] = []
    if kind is SpellKind.FASTING_MONTH:
        first = fasting_month_cautions()
    elif kind is SpellKind.TRAVEL:
        first = list(travel_details())
    return [*first, *(_(text) for text in _CHANGES[kind])]
