"""The picture's content and its changes in words: what is seen is also said."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from logbook.domain.figures import Figures
from logbook.domain.moments import Period
from logbook.domain.picture import STATES_IN_ORDER, days_with_marks, left_out_of, spells_in
from logbook.domain.slots import Slot
from logbook.domain.states import State
from logbook.domain.targets import Target, Verdict
from logbook.domain.turning_points import TurningPoint
from logbook.domain.visits import Medicine
from logbook.ui.pages.look_back_looking import Looked
from logbook.wording import _, ngettext
from logbook.wording.dates import (
    month_day_text,
    period_text,
)
from logbook.wording.figures import middle_text, span_text
from logbook.wording.numbers import (
    days_text,
    number_text,
    range_text,
    readings_text,
)
from logbook.wording.targets import target_text
from logbook.wording.terms import (
    slot_text,
    spell_text,
    state_text,
    target_kind_text,
    verdict_text,
)

# --- the picture ---------------------------------------------------------------------------------


def counts_sentence(looked: Looked) -> str:
    """Which days, how many readings, on how many days, lowest to highest."""
    if looked.kind is None:
        summary = looked.summary  # quicker than the marks of a long log
        count, days = summary.readings.count, summary.days_with_readings
        span = span_text(summary.figures, with_unit=True)
    else:
        steps, unit = looked.marks.steps, looked.settings.unit
        count = len(looked.marks)
        days = days_with_marks(looked.marks, looked.settings.day_starts_at)
        span = range_text(min(steps), max(steps), unit) if steps else ""
    period, readings = period_text(looked.period), readings_text(count)
    if not count:
        return _("{period}: {readings}.").format(period=period, readings=readings)
    of_days = _("{some} of {days}").format(
        some=number_text(days), days=days_text(looked.period.days)
    )
    return _("{period}: {readings} on {days}, {range}.").format(
        period=period, readings=readings, days=of_days, range=span
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


# --- narrow cells of a table ----------------------------------------------------------------------


def slot_in_two_lines(slot: Slot) -> str:
    """The time of day, what stands in brackets on a line of its own."""
    return slot_text(slot).replace(" (", "\n(")


def middle_in_two_lines(figures: Figures) -> str:
    """The middle value, or in two lines that there are too few for one."""
    first, between, last = middle_text(figures).rpartition(" ")
    before, _space, second = first.rpartition(" ")
    return f"{before}\n{second} {last}" if between else last
