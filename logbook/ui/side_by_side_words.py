"""What two versions of a record are called, and what they differ in, for the window."""

from __future__ import annotations

from logbook.domain.answers import Answer
from logbook.domain.bringing_in import SideBySide
from logbook.domain.happenings import Happening
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.targets import Target
from logbook.domain.visits import Contact, Medicine
from logbook.ui.kit_record_words import kit_record_text, timed_record
from logbook.ui.plan_record_words import changed_settings_text, plan_record_text
from logbook.wording import _
from logbook.wording.dates import clock_text, short_day_text
from logbook.wording.problems import quotable
from logbook.wording.side_by_side import Differing, differing
from logbook.wording.terms import target_kind_text, what_text


def name_of(pair: SideBySide) -> str:
    """What both are about: "Reading of Mar 3, 8:12 AM"."""
    kept = pair.kept
    match kept:
        case Reading():
            words = _at(_("reading"), kept.at)
        case Happening():
            words = _at(what_text(kept.what), kept.at)
        case LancetChange():
            words = _at(_("new lancet"), kept.at)
        case Answer():
            words = _("answer")
        case LogSettings():
            words = changed_settings_text(kept, pair.other)
        case Contact() if kept.name.strip():
            words = _("person to phone: {name}").format(name=quotable(kept.name))
        case Medicine():
            words = _("medicine: {text}").format(text=quotable(kept.text))
        case Target():
            words = _("{kind}: targets from {day}").format(
                kind=target_kind_text(kept.kind),
                day=short_day_text(kept.holds_from, with_year=True),
            )
        case _:
            timed = timed_record(kept)
            words = _at(*timed) if timed else plan_record_text(kept) or kit_record_text(kept) or ""
    return words[:1].upper() + words[1:]


def things_of(pair: SideBySide, now: Moment) -> list[Differing]:
    """What they differ in; versions that say the same by now say so."""
    found = differing(pair.kept, pair.other, now, pair.setting)
    if pair.setting:
        return [Differing(name_of(pair), one.kept, one.other) for one in found]
    return found or [Differing(_("Says"), _("the same"), _("the same"))]


def _at(what: str, at: Moment) -> str:
    return _("{what} of {day}, {time}").format(
        what=what, day=short_day_text(at.wall.date(), with_year=True), time=clock_text(at)
    )
