"""What Undo would take back and Put back would put back, for their buttons and for the message."""

from __future__ import annotations

from datetime import time

from logbook.book import Action, Done
from logbook.domain.answers import Answer, Said
from logbook.domain.disagreements import Disagreement
from logbook.domain.happenings import Happening
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.domain.readings import Reading
from logbook.ui.kit_record_words import kit_record_text, step_text, timed_record
from logbook.ui.plan_record_words import changed_settings_text, plan_record_text
from logbook.wording import _, ngettext
from logbook.wording.dates import clock_text, short_day_text
from logbook.wording.numbers import glucose_text, readings_text
from logbook.wording.terms import said_text, what_text


def undo_text(done: Done | None, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """For the Undo button; empty for nothing."""
    if done is None or _is_made_here(done):
        return ""
    return _("Undo: {what}").format(what=_what(done, now, day_starts_at))


def put_back_text(done: Done | None, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """For the Put back button; empty for nothing."""
    return (
        "" if done is None else _("Put back: {what}").format(what=_what(done, now, day_starts_at))
    )


def undone_text(done: Done, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The message after Undo."""
    return _("Taken back: {what}.").format(what=_what(done, now, day_starts_at))


def returned_text(done: Done, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """The message after Put back."""
    return _("Put back: {what}.").format(what=_what(done, now, day_starts_at))


def _is_made_here(done: Done) -> bool:
    """Whether the program noted it, and no person: that nobody answered."""
    return isinstance(done.record, Answer) and done.record.said is Said.NOT_ANSWERED


def _what(done: Done, now: Moment, day_starts_at: time) -> str:
    record = done.record
    match done.action:
        case Action.IMPORT | Action.MERGE | Action.GO_BACK:
            return _of_many(done)
        case Action.SETTINGS:
            return _("change of {what}").format(
                what=changed_settings_text(done.earlier, done.record)
            )
        case Action.CROSS_OUT:
            return _("crossing out {what}").format(what=_record(record, now, day_starts_at))
        case Action.BRING_BACK:
            return _("bringing back {what}").format(what=_record(record, now, day_starts_at))
        case Action.DOUBT:
            return _("doubt about {what}").format(what=_record(record, now, day_starts_at))
        case Action.REPLACE if _is_crossed_out(record) and not _is_crossed_out(done.earlier):
            return _("crossing out {what}").format(what=_record(record, now, day_starts_at))
        case Action.REPLACE if _is_crossed_out(done.earlier) and not _is_crossed_out(record):
            return _("bringing back {what}").format(what=_record(record, now, day_starts_at))
        case Action.REPLACE if named := step_text(done.earlier, record):
            return named
        case Action.CORRECT | Action.REPLACE if not isinstance(record, Disagreement):
            return _("change of {what}").format(what=_record(record, now, day_starts_at))
        case _:
            is_many = isinstance(record, Reading) and done.count > 1
            return readings_text(done.count) if is_many else _record(record, now, day_starts_at)


def _of_many(done: Done) -> str:
    if done.action is Action.GO_BACK:
        return _("going back to a copy")
    if done.action is Action.MERGE:
        text = ngettext("{n} entry from another copy", "{n} entries from another copy", done.count)
    else:
        text = ngettext("{n} entry taken in", "{n} entries taken in", done.count)
    return text.format(n=done.count)


def _record(record: object, now: Moment, day_starts_at: time) -> str:
    match record:
        case Reading():
            return _at(glucose_text(record.glucose), record.at, now, day_starts_at)
        case Happening():
            return _at(what_text(record.what), record.at, now, day_starts_at)
        case Answer():
            return _("answer: {answer}").format(answer=said_text(record.said))
        case Disagreement():
            return _("choice between two entries")
        case LancetChange():
            return _at(_("new lancet"), record.at, now, day_starts_at)
        case _:
            if timed := timed_record(record):
                words, at = timed
                return _at(words, at, now, day_starts_at)
            return plan_record_text(record) or kit_record_text(record) or _("the last entry")


def _is_crossed_out(record: object) -> bool:
    """Of records other than readings, which have actions of their own for it."""
    return getattr(record, "crossed_out_at", None) is not None


def _at(what: str, at: Moment, now: Moment, day_starts_at: time) -> str:
    day = at.day(day_starts_at)
    if day == now.day(day_starts_at):
        return _("{what} at {time}").format(what=what, time=clock_text(at))
    return _("{what} on {day}").format(what=what, day=short_day_text(day))
