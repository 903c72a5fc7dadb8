"""Units stay in one piece where words wrap: Qt would break a line behind the slash of "mg/dL"."""

from __future__ import annotations

from logbook.domain.glucose import Unit

# Takes no room, shows nothing, and forbids a new line where it stands (Unicode, WORD JOINER).
_JOINER = "\u2060"
_UNITS = {unit.value: unit.value.replace("/", f"/{_JOINER}") for unit in Unit if "/" in unit.value}


def unbroken(text: str) -> str:
    """The text as it is drawn and measured."""
    for unit, joined in _UNITS.items():
        text = text.replace(unit, joined)
    return text


def plain(text: str) -> str:
    """The text as it was given to `unbroken`."""
    return text.replace(_JOINER, "")
