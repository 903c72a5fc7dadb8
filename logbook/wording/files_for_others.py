"""Files of the log for other programs: what each is called, what is in it, who can read it."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from logbook.wording import _, mark
from logbook.wording.dates import day_text


class FileForOthers(StrEnum):
    """The kinds of file that the window offers."""

    READINGS = "readings"
    EVERYTHING = "everything"
    CLINIC = "clinic"


_LABEL = {
    FileForOthers.READINGS: mark("Readings for a spreadsheet"),
    FileForOthers.EVERYTHING: mark("Everything for a spreadsheet"),
    FileForOthers.CLINIC: mark("For the computer of a clinic"),
}
_KIND = {
    FileForOthers.READINGS: mark("one table (CSV)"),
    FileForOthers.EVERYTHING: mark("many tables in one file (ZIP)"),
    FileForOthers.CLINIC: mark("a FHIR file (JSON)"),
}
_NAME = {
    FileForOthers.READINGS: mark("Readings {day}"),
    FileForOthers.EVERYTHING: mark("Whole log {day}"),
    FileForOthers.CLINIC: mark("Readings for a clinic {day}"),
}
_HOLDS = {
    FileForOthers.READINGS: (
        mark("It holds every reading with its time, finger and note."),
        mark("Crossed-out readings are in it and marked. Earlier values and the kit are not."),
    ),
    FileForOthers.EVERYTHING: (
        mark("It holds all you wrote down: readings, earlier values, kit, plan, people to phone."),
        mark("Each kind is a table of its own. A spreadsheet opens them one by one."),
    ),
    FileForOthers.CLINIC: (
        mark("It holds your name, readings, control tests, laboratory values, lows and falls."),
        mark("Ask the clinic first whether it can take a FHIR file."),
    ),
}


def file_label(kind: FileForOthers) -> str:
    """What the kind is called on its button."""
    return _(_LABEL[kind])


def file_kind_text(kind: FileForOthers) -> str:
    """What sort of file it is."""
    return _(_KIND[kind])


def file_name(kind: FileForOthers, day: date) -> str:
    """What a file made on `day` is called."""
    return _(_NAME[kind]).format(day=day_text(day))


def what_it_holds(kind: FileForOthers) -> list[str]:
    """What is in the file, and that it is not encrypted."""
    return [*(_(words) for words in _HOLDS[kind]), not_encrypted()]


def not_encrypted() -> str:
    """Who can read it."""
    return _("It is not encrypted: whoever has the file can read it.")
