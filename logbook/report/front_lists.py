"""The lists of page 1 in words: medicines, what changed, targets. Each entry is a line or two."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from logbook.domain.glucose import Unit
from logbook.domain.levels import LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.moments import Period
from logbook.domain.targets import SetBy, Target, TargetKind
from logbook.domain.ticks import (
    ABOUT_MEDICINES,
    FOOLS_THE_A1C,
    FOOLS_THE_METER,
    About,
    Told,
    can_have_lows,
)
from logbook.domain.visits import Medicine
from logbook.report.contents import Contents
from logbook.report.document import kept_together
from logbook.report.grid_words import day_in, joined_words
from logbook.wording import _, mark
from logbook.wording.dates import short_day_text
from logbook.wording.numbers import steps_text, unit_text
from logbook.wording.targets import not_agreed_text, target_text, who_set_text
from logbook.wording.terms import spell_text
from logbook.wording.ticks import tick_note

_KIND_PHRASE = {
    TargetKind.FASTING: mark("fasting (before breakfast)"),
    TargetKind.BEFORE_MEALS: mark("before meals"),
    TargetKind.AFTER_MEALS: mark("after meals"),
    TargetKind.BEDTIME: mark("bedtime"),
    TargetKind.NIGHT: mark("night"),
}

# What these mean is told in one line for both.
_TOLD_AS_LOWS = (About.INSULIN, About.LOW_CAUSING_TABLETS)

# The first day, for the order; the days as text; what changed.
_Turn = tuple[date, str, str]


def question_lines(contents: Contents) -> list[str]:
    """The person's questions in their own order, numbered."""
    return [f"{number}. {text}" for number, text in enumerate(contents.questions, 1)]


def medicine_lines(contents: Contents) -> list[str]:
    """Medicines exactly as the person wrote them; what they mean for lows, if they said so."""
    lines = [medicine.text for medicine in contents.medicines]
    data, day = contents.data, contents.period.last
    if can_have_lows(data.ticks, data.settings, day):
        lines.append(_("Can have lows from a medicine: yes"))
    return lines


def tick_lines(contents: Contents) -> list[str]:
    """What the person ticked that changes how a number must be read: medicines, then the rest."""
    groups = (
        [about for about in ABOUT_MEDICINES if about not in _TOLD_AS_LOWS],
        (*FOOLS_THE_METER, *FOOLS_THE_A1C),
    )
    ticks, day = contents.data.ticks, contents.period.last
    return [
        tick_note(about, told)
        for group in groups
        for about in group
        if (told := ticks.told(about, day)) in (Told.YES, Told.NOT_SURE)
    ]


# --- what changed ---------------------------------------------------------------------------------


def change_lines(contents: Contents) -> list[str]:
    """What changed inside the period, latest first, all of the same days in one entry.

    A spell and a medicine that was taken for a while stand with both their ends.
    """
    entries: dict[tuple[date, str], list[str]] = {}
    told = (*_spells(contents), *_medicine_turns(contents), *_target_turns(contents))
    for first, days, text in told:
        entries.setdefault((first, days), []).append(text)
    ordered = sorted(entries.items(), key=lambda entry: entry[0][0], reverse=True)
    return [
        _("{day}: {what}").format(day=days, what="; ".join(texts))
        for (_first, days), texts in ordered
    ]


def _spells(contents: Contents) -> Iterator[_Turn]:
    period = contents.period
    for spell in contents.data.spells:
        if spell.first <= period.last and (spell.last is None or spell.last >= period.first):
            text = joined_words(spell_text(spell.kind), spell.note)
            yield spell.first, _days(period, spell.first, spell.last), text


def _medicine_turns(contents: Contents) -> Iterator[_Turn]:
    period = contents.period
    turns: dict[Medicine, list[bool]] = {}
    for point in contents.points:
        if isinstance(point.about, Medicine):
            turns.setdefault(point.about, []).append(point.is_end)
    for medicine, ends in turns.items():
        first, last = medicine.holds_from, medicine.holds_until
        if last is None or True not in ends:
            text = _("new: {medicine}").format(medicine=medicine.text)
            yield first, day_in(period, first), text
        elif False in ends:
            text = _("medicine: {medicine}").format(medicine=medicine.text)
            yield first, _days(period, first, last), text
        else:
            day = last + timedelta(days=1)
            text = _("stopped: {medicine}").format(medicine=medicine.text)
            yield day, day_in(period, day), text


def _target_turns(contents: Contents) -> Iterator[_Turn]:
    targets: dict[tuple[date, str], list[Target]] = {}
    for point in contents.points:
        if isinstance(point.about, Target):
            targets.setdefault((point.day, _who_set(point.about)), []).append(point.about)
    for (day, who), of_day in targets.items():
        for text in _target_changes(contents, day, who, of_day):
            yield day, day_in(contents.period, day), text


def _days(period: Period, first: date, last: date | None) -> str:
    if last is None:
        return _("since {first}").format(first=day_in(period, first))
    if last == first:
        return day_in(period, first)
    return _("{first} to {last}").format(first=day_in(period, first), last=day_in(period, last))


def _target_changes(contents: Contents, day: date, who: str, targets: list[Target]) -> list[str]:
    """What the limits were until then. What they are now stands in the list of targets."""
    before = {
        target.kind: contents.data.targets.of_kind(target.kind, day - timedelta(days=1))
        for target in targets
    }
    earlier = [old for old in before.values() if old is not None]
    texts = []
    if earlier:
        has_new = any(target.printed for target in targets if before[target.kind])
        text = (
            _("new targets ({who}), before: {limits}")
            if has_new
            else _("targets ended ({who}), before: {limits}")
        )
        texts.append(text.format(who=who, limits=limits_by_kind(earlier, contents.unit)))
    first = [target.kind for target in targets if target.printed and before[target.kind] is None]
    if first:
        kinds = _joined_kinds(first)
        texts.append(_("first targets ({who}): {kinds}").format(who=who, kinds=kinds))
    return texts


# --- targets --------------------------------------------------------------------------------------


def targets_title(contents: Contents) -> str:
    """The unit said once, for all limits behind it."""
    if not contents.targets or not _are_all_in(contents.targets, contents.unit):
        return _("Targets")
    return _("Targets in {unit}").format(unit=unit_text(contents.unit))


def target_lines(contents: Contents, *, with_unit: bool = True) -> list[str]:
    """Targets that hold at the period's end, those set together in one line.

    Without `with_unit` they stand behind `targets_title`, which says it.
    """
    together: dict[tuple[str, date, bool], list[Target]] = {}
    for target in contents.targets:
        key = (_who_set(target), target.holds_from, target.is_agreed)
        together.setdefault(key, []).append(target)
    lines = []
    has_unit = with_unit or not _are_all_in(contents.targets, contents.unit)
    told = ""
    # The latest first, like what changed; whose numbers they are is said once.
    for (who, day, is_agreed), targets in sorted(
        together.items(), key=lambda one: one[0][1], reverse=True
    ):
        limits = limits_by_kind(targets, contents.unit, with_unit=has_unit)
        is_this_year = day.year == contents.period.last.year
        since = kept_together(short_day_text(day, with_year=not is_this_year))
        set_by = since if who == told else _("{who}, {day}").format(who=who, day=since)
        told = who
        line = _("{limits} ({set_by})").format(limits=limits, set_by=set_by)
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


def limits_by_kind(targets: Iterable[Target], unit: Unit, *, with_unit: bool = True) -> str:
    """Limits with the checks they are for, equal ones together and the unit once, in a fixed order.

    "fasting and before meals 90 to 150, bedtime 100 to 180 mg/dL".
    """
    order = list(TargetKind)
    targets = sorted(targets, key=lambda target: order.index(target.kind))
    is_once = _are_all_in(targets, unit)
    same: dict[str, list[TargetKind]] = {}
    for target in targets:
        limits = target_text(target, unit, with_unit=with_unit and not is_once)
        same.setdefault(limits, []).append(target.kind)
    text = ", ".join(f"{_joined_kinds(kinds)} {limits}" for limits, kinds in same.items())
    return f"{text} {unit_text(unit)}" if with_unit and is_once else text


def _joined_kinds(kinds: list[TargetKind]) -> str:
    pair = [TargetKind.FASTING, TargetKind.BEFORE_MEALS]
    if all(kind in kinds for kind in pair):
        rest = [_(_KIND_PHRASE[kind]) for kind in kinds if kind not in pair]
        return ", ".join((_("fasting and before meals"), *rest))
    return ", ".join(_(_KIND_PHRASE[kind]) for kind in kinds)


def _are_all_in(targets: Iterable[Target], unit: Unit) -> bool:
    return all(target.limits_in(unit) is not None for target in targets)


def _who_set(target: Target) -> str:
    """Whose numbers, as short as can be; of published ones always which."""
    if target.set_by is SetBy.PROVIDER and target.set_by_name:
        return target.set_by_name
    return who_set_text(target)
