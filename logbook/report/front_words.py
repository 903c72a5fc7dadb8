"""The sentences of page 1: who, the lows, how the log was kept. Its lists are in `front_lists`."""

from __future__ import annotations

from datetime import time

from logbook.domain.answers import Said
from logbook.domain.call_reasons import CallReason, Urgency
from logbook.domain.levels import LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.lows import Low, WarningSigns
from logbook.domain.moments import Period, person_day
from logbook.domain.series import Mark
from logbook.domain.slots import Slot
from logbook.report.contents import Contents
from logbook.report.document import joined_parts, kept_together, unbroken
from logbook.report.grid_words import day_in, joined_words
from logbook.report.text import Rich, Span
from logbook.wording import _, ngettext
from logbook.wording.calls import call_name, called_about_text
from logbook.wording.completeness import completeness_phrase
from logbook.wording.dates import clock_on_day_text, short_day_text
from logbook.wording.findings import provider_line
from logbook.wording.lows import no_lows_text
from logbook.wording.numbers import (
    count_of_text,
    days_text,
    glucose_text,
    number_text,
    readings_text,
    steps_text,
)
from logbook.wording.terms import slot_phrase

_URGENCIES = tuple(Urgency)


def person_line(contents: Contents) -> str:
    """Name and birth as the person gave them."""
    settings = contents.data.settings
    if settings.born:
        name = person_name(contents)
        return _("{name}, born {born}").format(name=name, born=settings.born)
    return person_name(contents)


def person_name(contents: Contents) -> str:
    """The name as the person gave it."""
    return contents.data.settings.person_name or _("Name not given")


def short_period_text(period: Period) -> str:
    """First to last day in short: "Jan 1 to Mar 31, 2026"."""
    return _("{first} to {last}").format(
        first=short_day_text(period.first, with_year=period.first.year != period.last.year),
        last=short_day_text(period.last, with_year=True),
    )


def header_rest(contents: Contents, *, with_birth: bool = False) -> str:
    """Period, visit, meters and who wrote; birth when it has no room beside the name."""
    data = contents.data
    # How many days these are is said with the readings.
    parts = [short_period_text(contents.period)]
    if with_birth and data.settings.born:
        parts.insert(0, _("born {born}").format(born=data.settings.born))
    visit = data.next_appointment
    if visit is not None:
        day = short_day_text(visit.day)
        parts.append(joined_words(_("next visit {day}").format(day=day), visit.with_whom))
    names = [meter.name for meter in data.meters if meter.is_own]
    if names:
        parts.append(
            ngettext("meter: {names}", "meters: {names}", len(names)).format(names=", ".join(names))
        )
    writers = sorted({reading.initials for reading in data.helped})
    if writers:
        parts.append(_("helped to write: {initials}").format(initials=", ".join(writers)))
    return joined_parts(parts)


def decided_text(contents: Contents) -> Rich:
    """What was decided at the last visit, in the person's own words; empty where nothing was."""
    visit = contents.data.last_appointment
    if visit is None or not visit.decided.strip():
        return ""
    day = short_day_text(visit.day, with_year=visit.day.year != contents.period.last.year)
    return (
        Span(_("Decided on {day}:").format(day=kept_together(day)), bold=True),
        Span(f" {' '.join(visit.decided.split())}"),
    )


# --- the strip about lows -------------------------------------------------------------------------


def safety_rows(contents: Contents) -> list[Rich]:
    """How many lows, when, the latest; or that none were seen and whether anyone looked."""
    summary, counts = contents.summary, contents.low_counts
    if not counts.total and not summary.readings.count:
        return [_("No readings in these {days}.").format(days=days_text(contents.period.days))]
    if not counts.total:
        return [
            no_lows_text(contents.period, contents.looked),
            *_reads_high_row(contents),
            *_call_row(contents),
        ]
    return [_counts_row(contents), _when_low(contents), *_call_row(contents)]


def _counts_row(contents: Contents) -> Rich:
    counts, unit = contents.low_counts, contents.unit
    below_54 = steps_text(VERY_LOW_BELOW[unit], unit, with_unit=False)
    below_70 = steps_text(LOW_BELOW[unit], unit)
    total = ngettext("{n} low", "{n} lows", counts.total).format(n=number_text(counts.total))
    spans = [
        Span(total, bold=True),
        Span(" "),
        Span(_("(below {limit} or felt)").format(limit=below_70)),
    ]
    parts = [
        (_("helped:"), counts.helped),
        (_("below {limit}:").format(limit=below_54), counts.very_low),
    ]
    # Where nobody was asked, zero would be good news that nobody told.
    if any(low.warning_signs is not WarningSigns.UNKNOWN for low in contents.summary.lows):
        parts.append((_("without warning signs:"), counts.without_warning_signs))
    if contents.summary.readings.reads_high:
        parts.append((_("HI:"), contents.summary.readings.reads_high))
    for name, count in parts:
        # Zero is plain: what stands out is what happened.
        spans.append(Span(f" · {name}\N{NO-BREAK SPACE}"))
        spans.append(Span(number_text(count), bold=count > 0))
    return tuple(spans)


def _reads_high_row(contents: Contents) -> list[Rich]:
    count = contents.summary.readings.reads_high
    return [(Span(_("The meter showed HI: {n}").format(n=count), bold=True),)] if count else []


def _call_row(contents: Contents) -> list[Rich]:
    """All reasons to call, each with its latest day, under what the person said to them."""
    unit, starts_at = contents.unit, contents.data.settings.day_starts_at
    latest: dict[tuple[Said | None, CallReason], str] = {}
    for listed in contents.review.calls:
        day = person_day(listed.call.at.replace(tzinfo=None), starts_at)
        name = call_name(listed.call.reason, unit)
        latest[listed.said, listed.call.reason] = unbroken(
            _("{what} {day}").format(what=name, day=kept_together(day_in(contents.period, day)))
        )
    if not latest:
        return []
    latest_first = reversed(latest)
    ordered = sorted(latest_first, key=lambda one: _URGENCIES.index(one[1].urgency))
    spans: list[Span] = []
    for said in (None, Said.LATER, Said.YES):
        named = [latest[one] for one in ordered if one[0] is said]
        if named:
            if spans:
                spans.append(Span(" · "))
            spans.append(Span(called_about_text(said), bold=True))
            spans.append(Span(f" {', '.join(named)}"))
    return [tuple(spans)]


def finding_lines(contents: Contents) -> list[str]:
    """What repeats, in words for a provider, in the order of review."""
    return [provider_line(finding) for finding in contents.review.findings]


def _when_low(contents: Contents) -> str:
    counts = contents.low_counts
    times = [
        kept_together(f"{_slot_name(slot)} {number_text(number)}")
        for slot, number in counts.by_slot.items()
    ]
    # Said again only when it is more than the line has already told.
    if counts.at_night != counts.by_slot.get(Slot.NIGHT, 0):
        times.append(_("between bedtime and waking {n}").format(n=number_text(counts.at_night)))
    latest = low_text(
        contents.summary.lows[-1], contents.period, contents.data.settings.day_starts_at
    )
    times.append(_("latest {low}").format(low=latest))
    return joined_parts(times)


def _slot_name(slot: Slot | None) -> str:
    return _("felt") if slot is None else slot_phrase(slot)


def low_text(low: Low, period: Period, day_starts_at: time) -> str:
    """One low by the person's day, clock time and value: "Mar 28, 10:15 AM, 62 mg/dL"."""
    parts = [day_in(period, low.day), clock_on_day_text(low.at, day_starts_at)]
    parts.append(glucose_text(low.value) if low.value is not None else _("felt"))
    parts = [kept_together(part) for part in parts]
    if low.help is not None:
        parts.append(_("someone helped"))
    return ", ".join(parts)


# --- how the log was kept -------------------------------------------------------------------------


def trust_text(contents: Contents) -> str:
    """How far the log can be trusted, in counts alone."""
    data, readings, typed = contents.data, contents.summary.readings, contents.written_same_day
    parts = [
        _("{readings} on {share} days").format(
            readings=readings_text(len(data.series)),
            share=count_of_text(contents.summary.days_with_readings, contents.period.days),
        )
    ]
    if contents.review.plan is not None:
        done = contents.review.plan.total
        parts.append(_("planned checks done {n}").format(n=count_of_text(done.part, done.of)))
    if typed.of:
        parts.append(
            _("written the same day {share}").format(share=count_of_text(typed.part, typed.of))
        )
    for mark_of, text in (
        (Mark.COPIED_FROM_METER, _("copied from the meter {n}")),
        (Mark.IMPORTED, _("taken in from a file {n}")),
    ):
        count = data.series.with_mark(mark_of)
        if count:
            parts.append(text.format(n=number_text(count)))
    parts += _trust_in_meter(contents)
    left_out = (
        (readings.crossed_out, _("crossed out {n}")),
        (readings.not_believed, _("not believed {n}")),
        (readings.foreign, _("other meter {n}")),
        (readings.damaged, _("damaged {n}")),
    )
    parts.extend(text.format(n=number_text(count)) for count, text in left_out if count)
    return joined_parts(map(unbroken, parts))


def _trust_in_meter(contents: Contents) -> list[str]:
    """The meter's own average, the control tests, and what they and old strips put in question."""
    review, parts = contents.review, []
    if review.meter is not None:
        verdict = completeness_phrase(review.meter.verdict)
        parts.append(_("meter’s average: {verdict}").format(verdict=verdict))
    if review.kit.tests:
        passed = count_of_text(review.kit.passed, len(review.kit.tests))
        parts.append(_("control tests passed {n}").format(n=passed))
    elif contents.data.kit.vials:
        parts.append(_("no control test on record"))
    if contents.in_question:
        parts.append(_("in question {n}").format(n=number_text(len(contents.in_question))))
    return parts


def paper_caution() -> str:
    """What these figures are and are not, and who decides."""
    return _(
        "Shares of fingersticks, not time in range. "
        "No dose, no change of treatment: your provider decides."
    )
