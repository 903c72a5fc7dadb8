"""What records other than readings are called on the buttons Undo and Put back, in a few words."""

from __future__ import annotations

from logbook.domain.meters import Meter
from logbook.domain.spells import Spell
from logbook.domain.targets import Target
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.wording import _
from logbook.wording.dates import short_day_text
from logbook.wording.terms import spell_text

_LONGEST_NAME = 20


def plan_record_text(record: object) -> str | None:
    """A few words for a record of the pages *Visit* and *My plan*; None for any other."""
    match record:
        case Question():
            return _("question")
        case Appointment():
            return _("appointment on {day}").format(day=short_day_text(record.day))
        case Target():
            return _("targets from {day}").format(day=short_day_text(record.holds_from))
        case Medicine():
            return _("medicine")
        case Spell():
            return _("{kind} from {day}").format(
                kind=spell_text(record.kind), day=short_day_text(record.first)
            )
        case Contact():
            return _("people to phone")
        case Meter():
            return _("meter {name}").format(name=record.name[:_LONGEST_NAME])
        case _:
            return None
