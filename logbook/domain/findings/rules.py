"""Findings by plain rules about lows, near-lows and the night: counted, not tested.

Lows need no statistics and no least number. Highs, meals and profiles are in `high_rules`, what
chance could bring in `statistical`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from statistics import median

from logbook.domain.findings.finding import Finding, FindingKind, Rank, Side
from logbook.domain.findings.limits import overnight_fall_from
from logbook.domain.findings.material import Material, windows_of
from logbook.domain.lows import Level, Low, WarningSigns
from logbook.domain.near_lows import near_lows
from logbook.domain.nights import Nights, can_be_at_night
from logbook.domain.pairs import overnight_pairs
from logbook.domain.slots import Slot
from logbook.domain.ticks import TickBook


def low_findings(material: Material, ticks: TickBook) -> list[Finding]:
    """All findings of the first rank that need no test."""
    return [
        *_grave_lows(material),
        *_repeated_lows(material),
        *_lows_at_night(material),
        *_unfelt_lows(material),
        *_near_lows(material, ticks),
        *_overnight_falls(material),
    ]


def _of_lows(
    material: Material, kind: FindingKind, lows: Sequence[Low], of: int, slot: Slot | None = None
) -> Finding:
    last = max(low.day for low in lows)
    return Finding(
        kind=kind,
        slot=slot,
        group=None,
        count=len(lows),
        of=of,
        first=min(low.day for low in lows),
        last=last,
        reading_ids=tuple(record for low in lows for record in low.reading_ids),
        happening_ids=tuple(record for low in lows for record in low.happening_ids),
        is_recent=material.is_recent(last),
        rank=Rank.LOWS,
        unit=material.unit,
        helped=sum(low.level is Level.HELPED for low in lows),
    )


def _grave_lows(material: Material) -> Iterable[Finding]:
    """Someone had to help, or the number was below 54 (3.0) or LO: one is enough."""
    grave = [low for low in material.lows if low.level >= Level.VERY_LOW]
    if grave:
        yield _of_lows(material, FindingKind.LOW_HELPED, grave, len(material.lows))


def _repeated_lows(material: Material) -> Iterable[Finding]:
    """Separate lows close together; the time of day is named only where enough share it.

    Lows that no time of day accounts for are looked at once more together. "Other" names none.
    """
    lows = material.lows
    named: set[int] = set()
    for slot in Slot:
        if slot is Slot.OTHER:
            continue
        places = [place for place, low in enumerate(lows) if low.slot is slot]
        chosen = [places[place] for place in _close(material, [lows[place] for place in places])]
        if chosen:
            named.update(chosen)
            yield _of_lows(
                material,
                FindingKind.LOW_REPEATED,
                [lows[place] for place in chosen],
                len(lows),
                slot,
            )
    rest = [lows[place] for place in range(len(lows)) if place not in named]
    of_rest = [rest[place] for place in _close(material, rest)]
    if of_rest:
        yield _of_lows(material, FindingKind.LOW_REPEATED, of_rest, len(lows))


def _close(material: Material, lows: Sequence[Low]) -> list[int]:
    settings = material.settings
    return windows_of(
        [low.day for low in lows], settings.low_repeat_count, settings.low_repeat_days
    )


def _lows_at_night(material: Material) -> Iterable[Finding]:
    """Any low between bedtime and waking."""
    at_night = [low for low in material.lows if low.is_at_night]
    if at_night:
        yield _of_lows(material, FindingKind.LOW_AT_NIGHT, at_night, len(material.lows))


def _unfelt_lows(material: Material) -> Iterable[Finding]:
    """Lows that the person said they had not felt coming."""
    told = [low for low in material.lows if low.warning_signs is not WarningSigns.UNKNOWN]
    unfelt = [low for low in told if low.warning_signs is WarningSigns.NO]
    if unfelt:
        yield _of_lows(material, FindingKind.LOW_UNAWARE, unfelt, len(told))


def _near_lows(material: Material, ticks: TickBook) -> Iterable[Finding]:
    """Near-lows close together, where medicines can cause lows; see `domain.near_lows`."""
    settings, series = material.settings, material.series
    near = [
        one
        for one in near_lows(series, settings, ticks, material.targets)
        if one.day in material.period
    ]
    close = windows_of([one.day for one in near], settings.near_low_count, settings.near_low_days)
    if not close:
        return
    chosen = [near[place] for place in close]
    slots = {one.slot for one in chosen}
    values = [material.value(one.index) for one in chosen]
    yield Finding(
        kind=FindingKind.NEAR_LOW,
        slot=next(iter(slots)) if len(slots) == 1 else None,
        group=None,
        count=len(chosen),
        of=_checks_where_near_lows_count(material),
        first=chosen[0].day,
        last=chosen[-1].day,
        reading_ids=tuple(one.id for one in chosen),
        happening_ids=(),
        is_recent=material.is_recent(chosen[-1].day),
        rank=Rank.LOWS,
        unit=material.unit,
        middle=median(values),
    )


def _checks_where_near_lows_count(material: Material) -> int:
    """How many checks of the period were made fasting, at bedtime or at night."""
    series = material.series
    nights = Nights(series, material.settings.day_starts_at)
    by_slot = material.occasions(material.period)
    always = (Slot.FASTING, Slot.BEDTIME, Slot.NIGHT)
    return sum(len(by_slot.get(slot, ())) for slot in always) + sum(
        nights.cover(series.instants[index], series.wall_minutes[index], slot)
        for slot, indices in by_slot.items()
        if slot not in always and can_be_at_night(slot)
        for index in indices
    )


def _overnight_falls(material: Material) -> Iterable[Finding]:
    """Bedtime to the next fasting check, at least half of the pairs falling far.

    A pair with a low between counts when it fell all the same; else sugar may have lifted the
    morning, and it is left out.
    """
    settings, unit = material.settings, material.unit
    fall_from = overnight_fall_from(settings)
    pairs = [
        pair
        for pair in overnight_pairs(
            material.series, material.last_days, settings, material.happenings
        )
        if pair.change <= -fall_from or not pair.has_low_between
    ]
    falls = [pair for pair in pairs if pair.change <= -fall_from]
    if len(pairs) < settings.pairs_needed or 2 * len(falls) < len(pairs):
        return
    change = median(pair.change for pair in pairs)
    yield Finding(
        kind=FindingKind.OVERNIGHT_FALL,
        slot=Slot.FASTING,
        group=None,
        count=len(falls),
        of=len(pairs),
        first=falls[0].day,
        last=falls[-1].day,
        reading_ids=material.ids(index for pair in falls for index in (pair.bedtime, pair.fasting)),
        happening_ids=(),
        is_recent=True,
        rank=Rank.LOWS,
        unit=unit,
        change=change / unit.steps_per_one,
        limit_steps=fall_from,
        side=Side.LOWER,
    )
