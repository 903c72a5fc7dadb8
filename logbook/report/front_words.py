"""The sentences of page 1: who, the lows, targets, what changed, how the log was kept."""

from __future__ import annotations

from datetime import date

from logbook.domain.levels import LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.lows import Low
from logbook.domain.moments import Period
from logbook.domain.series import Mark
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell
from logbook.domain.targets import SetBy, Target
from logbook.report.contents import Contents
from logbook.report.document import joined_parts, unbroken
from logbook.report.grid_words import change_text, day_in, joined_words
from logbook.report.text import Rich, Span
from logbook.wording import _, ngettext
from logbook.wording.dates import clock_text, short_day_text
from logbook.wording.numbers import (
    count_of_text,
    days_text,
    glucose_text,
    number_text,
    readings_text,
    steps_text,
)
from logbook.wording.targets import not_agreed_text, target_text, who_set_text
from logbook.wording.terms import slot_phrase, spell_text, target_kind_text


def person_line(contents: Contents) -> str:
    """Name and birth as the person gave them."""
    settings = contents.data.settings
    name = settings.person_name or _("Name not given")
    if settings.born:
        return _("{name}, born {born}").format(name=name, born=settings.born)
    return name


def short_period_text(period: Period) -> str:
    """First to last day in short: "Jan 1 to Mar 31, 2026"."""
    return _("{first} to {last}").format(
        first=short_day_text(period.first, with_year=period.first.year != period.last.year),
        last=short_day_text(period.last, with_year=True),
    )


def header_rest(contents: Contents) -> str:
    """Period, visit, meters and who wrote."""
    data = contents.data
    parts = [
        _("{period} ({days})").format(
            period=short_period_text(contents.period), days=days_text(contents.period.days)
        )
    ]
    visit = data.next_appointment
    if visit is not None:
        day = short_day_text(visit.day)
        parts.append(
            _("visit {day} {with_whom}").format(day=day, with_whom=visit.with_whom).strip()
        )
    names = [meter.name for meter in data.meters if meter.is_own]
    if names:
        parts.append(
            ngettext("meter: {names}", "meters: {names}", len(names)).format(names=", ".join(names))
        )
    writers = sorted({reading.initials for reading in data.noted if reading.initials})
    if writers:
        parts.append(_("helped to write: {initials}").format(initials=", ".join(writers)))
    return joined_parts(parts)


# --- the strip about lows -------------------------------------------------------------------------


def safety_rows(contents: Contents) -> list[Rich]:
    """How many lows, when, the latest; or that none were seen and whether anyone looked."""
    summary, counts = contents.summary, contents.low_counts
    if not counts.total and not summary.readings.count:
        return [_("No readings in these {days}.").format(days=days_text(contents.period.days))]
    if not counts.total:
        return [_no_lows(contents), *_reads_high_row(contents)]
    return [_counts_row(contents), _when_low(contents)]


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
        (_("someone helped:"), counts.helped),
        (_("below {limit}:").format(limit=below_54), counts.very_low),
        (_("no warning:"), counts.without_warning_signs),
    ]
    if contents.summary.readings.reads_high:
        parts.append((_("HI:"), contents.summary.readings.reads_high))
    for name, count in parts:
        # Zero is plain: what stands out is what happened.
        spans.append(Span(f" · {name}\N{NO-BREAK SPACE}"))
        spans.append(Span(number_text(count), bold=count > 0))
    return tuple(spans)


def _no_lows(contents: Contents) -> str:
    looked = contents.looked
    return _("No lows seen in {days}. Checks between bedtime and waking: {n}.").format(
        days=days_text(contents.period.days), n=number_text(looked.checks_at_night)
    )


def _reads_high_row(contents: Contents) -> list[Rich]:
    count = contents.summary.readings.reads_high
    return [(Span(_("The meter showed HI: {n}").format(n=count), bold=True),)] if count else []


def _when_low(contents: Contents) -> str:
    counts = contents.low_counts
    times = [f"{_slot_name(slot)} {number_text(number)}" for slot, number in counts.by_slot.items()]
    latest = contents.summary.lows[-1]
    if counts.at_night:
        times.append(_("between bedtime and waking {n}").format(n=number_text(counts.at_night)))
    return _("When: {times}. Latest: {low}.").format(
        times=", ".join(times), low=low_text(latest, contents.period)
    )


def _slot_name(slot: Slot | None) -> str:
    return _("no meter reading") if slot is None else slot_phrase(slot)


def low_text(low: Low, period: Period) -> str:
    """One low by day, clock time and value: "Mar 28, 10:15 AM, 62 mg/dL"."""
    parts = [day_in(period, low.day), clock_text(low.at)]
    parts.append(glucose_text(low.value) if low.value is not None else _("no meter reading"))
    if low.help is not None:
        parts.append(_("someone helped"))
    return ", ".join(parts)


# --- medicines, changes, targets ------------------------------------------------------------------


def medicine_lines(contents: Contents) -> list[str]:
    """Medicines exactly as the person wrote them; what they mean for lows, if they said so."""
    lines = [medicine.text for medicine in contents.medicines]
    if contents.data.settings.can_have_lows:
        lines.append(_("Can have lows from a medicine: yes"))
    return lines


def change_lines(contents: Contents) -> list[str]:
    """What changed inside the period, latest first: a spell with both its ends, the rest by day."""
    lines: list[tuple[date, str]] = []
    targets: dict[tuple[date, str, str], list[Target]] = {}
    for point in contents.points:
        about = point.about
        if isinstance(about, Target):
            limits = target_text(about, contents.unit)
            targets.setdefault((point.day, limits, who_set_text(about)), []).append(about)
        elif not isinstance(about, Spell):
            lines.append((point.day, change_text(point, contents.unit)))
    for (day, limits, who), of_day in targets.items():
        kinds = ", ".join(target_kind_text(target.kind) for target in of_day)
        text = _("target {kinds} {limits}. {who}").format(kinds=kinds, limits=limits, who=who)
        lines.append((day, text))
    told = [(day, f"{day_in(contents.period, day)}: {text}") for day, text in lines]
    told.extend(
        (spell.first, _spell_line(spell, contents.period))
        for spell in contents.data.spells
        if spell.first <= contents.period.last
        and (spell.last is None or spell.last >= contents.period.first)
    )
    return [text for _day, text in sorted(told, key=lambda line: line[0], reverse=True)]


def _spell_line(spell: Spell, period: Period) -> str:
    if spell.last is None:
        days = _("since {first}").format(first=day_in(period, spell.first))
    else:
        days = _("{first} to {last}").format(
            first=day_in(period, spell.first), last=day_in(period, spell.last)
        )
    return f"{days}: {joined_words(spell_text(spell.kind), spell.note)}"


def target_lines(contents: Contents) -> list[str]:
    """Targets that hold at the period's end, those set together in one line."""
    together: dict[tuple[str, object, bool], list[Target]] = {}
    for target in contents.targets:
        key = (_who_set(target), target.holds_from, target.is_agreed)
        together.setdefault(key, []).append(target)
    lines = []
    for (who, _day, is_agreed), targets in together.items():
        same: dict[str, list[str]] = {}
        for target in targets:
            limits = target_text(target, contents.unit)
            same.setdefault(limits, []).append(target_kind_text(target.kind))
        limits = "; ".join(f"{', '.join(kinds)} {limits}" for limits, kinds in same.items())
        since = short_day_text(targets[0].holds_from, with_year=True)
        line = _("{limits} ({who}, {day})").format(limits=limits, who=who, day=since)
        lines.append(line if is_agreed else f"{line}, {not_agreed_text()}")
    if not lines:
        unit = contents.unit
        lines.append(
            _("None agreed. Only below {low} and below {very_low} are marked.").format(
                low=steps_text(LOW_BELOW[unit], unit),
                very_low=steps_text(VERY_LOW_BELOW[unit], unit),
            )
        )
    return lines


def _who_set(target: Target) -> str:
    """Whose numbers, as short as can be; of published ones always which."""
    if target.set_by is SetBy.PROVIDER and target.set_by_name:
        return target.set_by_name
    return who_set_text(target)


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
    left_out = (
        (readings.crossed_out, _("crossed out {n}")),
        (readings.not_believed, _("not believed {n}")),
        (readings.foreign, _("other meter {n}")),
        (readings.damaged, _("damaged {n}")),
    )
    parts.extend(text.format(n=number_text(count)) for count, text in left_out if count)
    if readings.rechecks:
        parts.append(_("rechecks after a low {n}").format(n=number_text(readings.rechecks)))
    return joined_parts(map(unbroken, parts))


def paper_caution() -> str:
    """What these figures are and are not, and who decides."""
    return _(
        "Shares are of fingerstick readings from a home meter, not time in range. "
        "This log gives no dose and no change of treatment: your provider decides."
    )
