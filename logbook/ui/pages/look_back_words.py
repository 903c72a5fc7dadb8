"""The picture's content, its changes and one reading in words: what is seen is also said."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from logbook.domain.day_grid import is_written_later
from logbook.domain.moments import Moment, Period
from logbook.domain.picture import STATES_IN_ORDER, days_with_marks, left_out_of, spells_in
from logbook.domain.readings import Earlier, Reading, Source
from logbook.domain.states import State
from logbook.domain.targets import Target, Verdict
from logbook.domain.turning_points import TurningPoint
from logbook.domain.visits import Medicine
from logbook.ui.pages.look_back_looking import Looked
from logbook.wording import _, ngettext
from logbook.wording.dates import (
    clock_text,
    moment_text,
    month_day_text,
    period_text,
    short_day_text,
    weekday_day_text,
)
from logbook.wording.numbers import (
    count_of_text,
    days_text,
    glucose_text,
    number_text,
    range_text,
    readings_text,
)
from logbook.wording.targets import limits_text, target_text
from logbook.wording.terms import (
    doubt_text,
    purpose_text,
    slot_phrase,
    slot_text,
    source_text,
    spell_text,
    state_text,
    target_kind_text,
    verdict_text,
)

# --- the picture ---------------------------------------------------------------------------------


def counts_sentence(looked: Looked) -> str:
    """Which days, how many readings, on how many days, lowest to highest."""
    starts_at = looked.settings.day_starts_at
    days = _("{some} of {days}").format(
        some=number_text(days_with_marks(looked.marks, starts_at)),
        days=days_text(looked.period.days),
    )
    period, readings = period_text(looked.period), readings_text(len(looked.marks))
    if not looked.marks.steps:
        return _("{period}: {readings}.").format(period=period, readings=readings)
    unit = looked.settings.unit
    return _("{period}: {readings} on {days}, {range}.").format(
        period=period,
        readings=readings,
        days=days,
        range=range_text(min(looked.marks.steps), max(looked.marks.steps), unit),
    )


def state_counts(looked: Looked) -> list[tuple[State, str]]:
    """Each state that occurs, with how often: "In target 84"."""
    counts = looked.marks.counts()
    return [
        (state, _("{state} {count}").format(state=_short(state), count=number_text(counts[state])))
        for state in STATES_IN_ORDER
        if counts[state]
    ]


def _short(state: State) -> str:
    # Beside "Low" it needs no "not low".
    is_below = state is State.BELOW_TARGET
    return verdict_text(Verdict.BELOW) if is_below else state_text(state)


def band_sentence(looked: Looked) -> str:
    """What the band means, or why there is none."""
    if looked.band:
        if looked.kind is None and len(looked.kinds) > 1:
            return _("Inside the band a reading is in target at any time of day.")
        return _("The band is your target of each day.")
    if not looked.targets.all:
        return _("No target is agreed yet. Only low and very high are told.")
    if looked.kind is None and len(looked.kinds) > 1:
        return _("Your targets differ by time of day. Choose a time of day to see its target.")
    return _("No target was agreed for these days.")


def left_out_sentence(looked: Looked) -> str:
    """How many readings the picture does not have; empty for none."""
    count = left_out_of(looked.series, looked.period, looked.settings.day_starts_at)
    if not count or looked.kind is not None:
        return ""
    return ngettext(
        "{n} reading is left out; see Each reading.",
        "{n} readings are left out; see Each reading.",
        count,
    ).format(n=number_text(count))


def shared_sentence(most_in_one: int) -> str:
    """Said when marks that share a place are drawn as one."""
    if most_in_one < 2:
        return ""
    return _("There are many readings: each mark stands for up to {n}.").format(
        n=number_text(most_in_one)
    )


def picture_words(looked: Looked) -> str:
    """All of the picture for a screen reader."""
    sentences = [counts_sentence(looked)]
    sentences += [_("{state}.").format(state=text) for _state, text in state_counts(looked)]
    sentences.append(band_sentence(looked))
    sentences += change_sentences(looked)
    return " ".join(filter(None, sentences))


# --- what changed --------------------------------------------------------------------------------


def change_label(points: Iterable[TurningPoint]) -> str:
    """One or two words for what changed on a day: over its line in the picture."""
    has_target = has_new = has_end = False
    for point in points:
        if isinstance(point.about, Medicine):
            has_end, has_new = has_end or point.is_end, has_new or not point.is_end
        else:
            has_target = True
    if has_target and (has_new or has_end):
        return _("New target, medicine")
    if has_target:
        return _("New target")
    return _("New medicine") if has_new else _("Medicine ended")


def changes_by_day(looked: Looked) -> dict[date, list[TurningPoint]]:
    """The changes of each day, in order of day."""
    days: dict[date, list[TurningPoint]] = {}
    for point in looked.changes:
        days.setdefault(point.day, []).append(point)
    return days


def change_sentences(looked: Looked, days: Period | None = None) -> list[str]:
    """Everything that began or ended (in `days`), oldest first, in full."""
    within = days or looked.period
    told = [(p.day, _change_sentence(p, looked)) for p in looked.changes if p.day in within]
    for spell, part in spells_in(looked.spells, looked.period):
        if part.last < within.first or within.last < part.first:
            continue
        text = _("{period}: {spell}.").format(
            period=period_text(part), spell=spell_text(spell.kind)
        )
        told.append((part.first, text))
    return [text for _day, text in sorted(told, key=lambda pair: pair[0])]


def _change_sentence(point: TurningPoint, looked: Looked) -> str:
    day = month_day_text(point.day)
    if isinstance(point.about, Target):
        return _("{day}: new target. {kind}: {limits}.").format(
            day=day,
            kind=target_kind_text(point.about.kind),
            limits=target_text(point.about, looked.settings.unit),
        )
    assert isinstance(point.about, Medicine)
    if point.is_end:
        return _("{day}: no longer {medicine}.").format(day=day, medicine=point.about.text)
    return _("{day}: new medicine, {medicine}.").format(day=day, medicine=point.about.text)


def target_words(looked: Looked) -> list[str]:
    """The targets of the last day, for each kind of check there is: "Bedtime: 90 to 150 mg/dL"."""
    kinds = looked.kinds if looked.kind is None else (looked.kind,)
    unit = looked.settings.unit
    found = []
    for kind in kinds:
        target = looked.targets.of_kind(kind, looked.period.last)
        limits = target.limits_in(unit) if target is not None else None
        if limits is not None:
            found.append(
                _("{kind}: {limits}").format(
                    kind=target_kind_text(kind), limits=limits_text(limits)
                )
            )
    return found


# --- one reading ---------------------------------------------------------------------------------


def value_text(reading: Reading) -> str:
    """The number with its unit; a damaged record is never shown as a number."""
    return _("Damaged") if reading.is_damaged else glucose_text(reading.glucose)


def when_text(reading: Reading, now: Moment) -> str:
    """Day, clock time and what it was for."""
    return _("{when}. {slot}").format(when=day_and_time(reading, now), slot=slot_text(reading.slot))


def day_and_time(reading: Reading, now: Moment) -> str:
    """Weekday, day and clock time; the year when it is another one."""
    day = reading.at.wall.date()
    return _("{day}, {time}").format(
        day=weekday_day_text(day, with_year=day.year != now.wall.year),
        time=clock_text(reading.at),
    )


def reading_name(reading: Reading) -> str:
    """One reading inside a sentence: "182 mg/dL on Mar 3 at 8:12 AM"."""
    return _("{value} on {day} at {time}").format(
        value=value_text(reading),
        day=short_day_text(reading.at.wall.date()),
        time=clock_text(reading.at),
    )


def story_of(reading: Reading, now: Moment) -> list[str]:
    """What became of it, in sentences: corrected, crossed out, not believed."""
    if reading.is_damaged:
        return [_("This record is no longer what was written. It is outside every figure.")]
    told = [_earlier_text(reading, index, now) for index in range(len(reading.earlier))]
    if reading.crossed_out is not None:
        when = _moment_of(reading.crossed_out.at, reading, now)
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


def _earlier_text(reading: Reading, index: int, now: Moment) -> str:
    was = reading.earlier[index]
    then: Earlier | Reading = (
        reading.earlier[index + 1] if index + 1 < len(reading.earlier) else reading
    )
    things = []
    if was.glucose != then.glucose:
        things.append(glucose_text(was.glucose))
    if was.at != then.at:
        things.append(moment_text(was.at, now))
    if was.slot is not then.slot:
        things.append(slot_phrase(was.slot))
    when = _moment_of(was.corrected_at, reading, now)
    what = ", ".join(things) or glucose_text(was.glucose)
    if was.reason:
        return _("Was {what}, corrected {when}: {reason}.").format(
            what=what, when=when, reason=was.reason.rstrip(".")
        )
    return _("Was {what}, corrected {when}.").format(what=what, when=when)


def _moment_of(instant: datetime, reading: Reading, now: Moment) -> str:
    return moment_text(Moment.at(instant, reading.at.zone), now)


def in_target_text(in_target: int, judged: int) -> str:
    """ "7 of 12", or that there is no target."""
    return count_of_text(in_target, judged) if judged else _("no target")
