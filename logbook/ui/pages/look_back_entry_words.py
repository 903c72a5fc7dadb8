"""One reading, or one thing that was written down without a number, in words."""

from __future__ import annotations

from datetime import datetime, time

from logbook.domain.day_grid import is_written_later
from logbook.domain.happenings import Happening
from logbook.domain.moments import Moment
from logbook.domain.readings import Earlier, Reading, Source
from logbook.ui.pages.look_back_looking import Looked, WithoutNumber
from logbook.wording import _
from logbook.wording.dates import (
    clock_on_day_text,
    moment_text,
    short_day_text,
    weekday_day_text,
)
from logbook.wording.medicine_notes import not_as_planned_text
from logbook.wording.numbers import glucose_text
from logbook.wording.terms import (
    doubt_text,
    purpose_text,
    slot_phrase,
    slot_text,
    source_text,
    strip_failure_text,
    what_text,
)

# --- one reading ---------------------------------------------------------------------------------


def value_text(reading: Reading) -> str:
    """The number with its unit; a damaged record is never shown as a number."""
    return _("Damaged") if reading.is_damaged else glucose_text(reading.glucose)


def when_text(reading: Reading, now: Moment, day_starts_at: time) -> str:
    """Day, clock time and what it was for."""
    return _("{when}. {slot}").format(
        when=day_and_time(reading.at, now, day_starts_at), slot=slot_text(reading.slot)
    )


def day_and_time(at: Moment, now: Moment, day_starts_at: time) -> str:
    """Weekday, the person's day and clock time; the year when it is another one."""
    day = at.day(day_starts_at)
    return _("{day}, {time}").format(
        day=weekday_day_text(day, with_year=day.year != now.wall.year),
        time=clock_on_day_text(at, day_starts_at),
    )


def reading_name(reading: Reading, day_starts_at: time) -> str:
    """One reading inside a sentence: "182 mg/dL on Mar 3 at 8:12 AM"."""
    return _("{value} on {day} at {time}").format(
        value=value_text(reading),
        day=short_day_text(reading.at.day(day_starts_at)),
        time=clock_on_day_text(reading.at, day_starts_at),
    )


def story_of(reading: Reading, now: Moment, day_starts_at: time) -> list[str]:
    """What became of it, in sentences: corrected, crossed out, not believed."""
    if reading.is_damaged:
        return [_("This record is no longer what was written. It is outside every figure.")]
    told = [
        _earlier_text(reading, index, now, day_starts_at) for index in range(len(reading.earlier))
    ]
    if reading.crossed_out is not None:
        when = _moment_of(reading.crossed_out.at, reading, now, day_starts_at)
        told.append(
            _("Crossed out {when}: {reason}.").format(
                when=when, reason=reading.crossed_out.reason.rstrip(".")
            )
            if reading.crossed_out.reason
            else _("Crossed out {when}.").format(when=when)
        )
    if reading.doubt is not None:
        told.append(_("{words}.").format(words=doubt_text(reading.doubt)))
    return told


def circumstances(reading: Reading) -> list[str]:
    """Short words on how it was made."""
    words = []
    if reading.is_foreign:
        words.append(_("Another meter"))
    if reading.purpose.value not in ("planned", "extra"):
        words.append(purpose_text(reading.purpose))
    if reading.source is not Source.TYPED:
        words.append(source_text(reading.source))
    if reading.could_not_wash:
        words.append(_("Could not wash hands"))
    if reading.note:
        words.append(_("Note: {note}").format(note=" ".join(reading.note.split())))
    return words


def is_late(looked: Looked, index: int) -> bool:
    """Whether it was written down on a later day."""
    return is_written_later(looked.series, index, looked.settings.day_starts_at)


def _earlier_text(reading: Reading, index: int, now: Moment, day_starts_at: time) -> str:
    was = reading.earlier[index]
    then: Earlier | Reading = (
        reading.earlier[index + 1] if index + 1 < len(reading.earlier) else reading
    )
    things = []
    if was.glucose != then.glucose:
        things.append(glucose_text(was.glucose))
    if was.at != then.at:
        things.append(moment_text(was.at, now, day_starts_at))
    if was.slot is not then.slot:
        things.append(slot_phrase(was.slot))
    when = _moment_of(was.corrected_at, reading, now, day_starts_at)
    what = ", ".join(things) or glucose_text(was.glucose)
    if was.reason:
        return _("Was {what}, corrected {when}: {reason}.").format(
            what=what, when=when, reason=was.reason.rstrip(".")
        )
    return _("Was {what}, corrected {when}.").format(what=what, when=when)


def _moment_of(instant: datetime, reading: Reading, now: Moment, day_starts_at: time) -> str:
    return moment_text(Moment.at(instant, reading.at.zone), now, day_starts_at)


# --- what was written down without a number ------------------------------------------------------


def told_head(told: WithoutNumber) -> str:
    """What happened, or what was not as planned with a medicine."""
    return what_text(told.what) if isinstance(told, Happening) else not_as_planned_text(told.kind)


def told_note(told: WithoutNumber) -> str:
    """The person's own words about it, in one line; empty for none."""
    return " ".join((told.note if isinstance(told, Happening) else told.text).split())


def told_name(told: WithoutNumber, day_starts_at: time) -> str:
    """It inside a sentence: "Felt low, treated, on Mar 3 at 8:12 AM"."""
    return _("{what}, on {day} at {time}").format(
        what=told_head(told),
        day=short_day_text(told.at.day(day_starts_at)),
        time=clock_on_day_text(told.at, day_starts_at),
    )


def told_words(told: WithoutNumber, now: Moment, day_starts_at: time) -> list[str]:
    """What more is known of it, and that it was crossed out."""
    words = []
    if isinstance(told, Happening):
        words += [_("Without a number.")] if told.what.is_low else []
        if told.strip_failure is not None:
            words.append(_("{words}.").format(words=strip_failure_text(told.strip_failure)))
    if told_note(told):
        words.append(_("Note: {note}.").format(note=told_note(told).rstrip(".")))
    if told.crossed_out_at is not None:
        when = moment_text(Moment.at(told.crossed_out_at, told.at.zone), now, day_starts_at)
        words.append(_("Crossed out {when}.").format(when=when))
    return words
