"""Findings by plain rules about highs, meals and the profile of three days.

They are looked for in the last `finding_days` of the period, each value against the target of its
own day. A high never stands above a low, and a low in the hours before it is told beside it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise
from math import inf
from statistics import median

from logbook.domain.figures import figures_of_readings, unrounded
from logbook.domain.findings.finding import (
    Finding,
    FindingKind,
    Rank,
    Side,
    rank_of_slot,
)
from logbook.domain.findings.limits import high_margin, meal_rise_above
from logbook.domain.findings.material import Material
from logbook.domain.glucose import HI_STEPS, LO_STEPS
from logbook.domain.lows import to_microseconds
from logbook.domain.moments import Period
from logbook.domain.pairs import MealPair, meal_pairs
from logbook.domain.plan.calendar_days import DAYS_OF_A_PROFILE, PROFILE_SLOTS
from logbook.domain.plan.plans import MealStart
from logbook.domain.slots import Slot
from logbook.domain.targets import Verdict, judge_steps

# A high soon after a low may be its own answer, or the sugar for it. Judgement without a source.
LOW_BEFORE_HIGH_HOURS = 12

# That one of the seven checks may be missing is judgement without a source.
PROFILE_CHECKS_NEEDED = 6


def high_findings(
    material: Material, meal_starts: Iterable[MealStart], profiles: Iterable[Period]
) -> list[Finding]:
    """All findings about highs, meals and profiles."""
    by_slot = material.occasions(material.last_days)
    highs = _Highs(material)
    found = [
        finding
        for slot, indices in by_slot.items()
        if (finding := highs.of_slot(slot, indices)) is not None
    ]
    found += _meal_rises(material, meal_starts)
    found += _profile(material, by_slot, profiles)
    return found


@dataclass(frozen=True, slots=True)
class _Judged:
    """A reading held against its upper limit; `excess` in steps of the log's unit."""

    index: int
    is_above: bool
    excess: float


class _Highs:
    """Finds the times of day at which the middle value lies far over the limit."""

    def __init__(self, material: Material) -> None:
        self._material = material
        self._low_instants = sorted(
            (to_microseconds(low.at), low.reading_ids + tuple(map(str, low.happening_ids)))
            for low in material.lows
        )

    def of_slot(self, slot: Slot, indices: Sequence[int]) -> Finding | None:
        material, settings = self._material, self._material.settings
        judged = [one for index in indices if (one := self._judge(index)) is not None]
        above = [one.index for one in judged if one.is_above]
        if (
            len(judged) < settings.high_least_readings
            or 2 * len(above) < len(judged)
            or _middle_excess([one.excess for one in judged]) < high_margin(settings)
        ):
            return None
        figures = figures_of_readings(material.series, [one.index for one in judged], material.unit)
        latest = material.targets.for_slot(slot, material.day(judged[-1].index))
        printed = None if latest is None else latest.limits_in(material.unit)
        upper = None if printed is None else printed.upper
        return Finding(
            kind=FindingKind.HIGH,
            slot=slot,
            group=None,
            count=len(above),
            of=len(judged),
            first=material.day(above[0]),
            last=material.day(above[-1]),
            reading_ids=material.ids(above),
            happening_ids=(),
            is_recent=True,
            rank=rank_of_slot(slot),
            unit=material.unit,
            middle=figures.median,
            limit_steps=None if upper is None else upper.steps,
            side=Side.HIGHER,
            low_before_ids=self._lows_before(above),
        )

    def _judge(self, index: int) -> _Judged | None:
        material, series = self._material, self._material.series
        limits = material.limits(index)
        if limits is None or limits.upper is None:
            return None
        steps, unit = series.steps[index], series.units[index]
        is_above = judge_steps(steps, limits) is Verdict.ABOVE
        if steps in (LO_STEPS, HI_STEPS):
            return _Judged(index, is_above, inf if steps == HI_STEPS else -inf)
        excess: float = steps - limits.upper.steps
        if unit is not material.unit:
            into = material.unit.steps_per_one
            excess = into * (
                unrounded(steps, unit, material.unit)
                - unrounded(limits.upper.steps, unit, material.unit)
            )
        return _Judged(index, is_above, excess)

    def _lows_before(self, highs: Sequence[int]) -> tuple[str, ...]:
        """The records of lows that began in the hours before one of `highs`, oldest first."""
        hours = LOW_BEFORE_HIGH_HOURS * 60 * 60 * 1_000_000
        at = [self._material.series.instants[index] for index in highs]
        found: list[str] = []
        for instant, records in self._low_instants:
            place = bisect_left(at, instant)
            if place < len(at) and at[place] - instant <= hours:
                found.extend(records)
        return tuple(found)


def _middle_excess(excesses: Sequence[float]) -> float:
    """The middle value; of two that are a LO and a HI, the lower."""
    ordered = sorted(excesses)
    lower, upper = ordered[(len(ordered) - 1) // 2], ordered[len(ordered) // 2]
    return lower if lower == -inf else (lower + upper) / 2


def _meal_rises(material: Material, meal_starts: Iterable[MealStart]) -> Iterator[Finding]:
    settings, unit = material.settings, material.unit
    rise_above = meal_rise_above(settings)
    by_slot: dict[Slot, list[MealPair]] = {}
    for pair in meal_pairs(
        material.series, material.last_days, settings, meal_starts, material.happenings
    ):
        by_slot.setdefault(pair.slot, []).append(pair)
    for slot, pairs in by_slot.items():
        rises = [
            pair for pair in pairs if pair.rise > rise_above and _is_above(material, pair.after)
        ]
        if len(pairs) < settings.pairs_needed or 2 * len(rises) < len(pairs):
            continue
        yield Finding(
            kind=FindingKind.MEAL_RISE,
            slot=slot,
            group=None,
            count=len(rises),
            of=len(pairs),
            first=rises[0].day,
            last=rises[-1].day,
            reading_ids=material.ids(
                index for pair in rises for index in (pair.before, pair.after)
            ),
            happening_ids=(),
            is_recent=True,
            rank=Rank.AFTER_MEALS,
            unit=unit,
            change=median(pair.rise for pair in pairs) / unit.steps_per_one,
            limit_steps=rise_above,
            side=Side.HIGHER,
        )


def _verdict(material: Material, index: int) -> Verdict | None:
    limits = material.limits(index)
    if limits is None or (limits.lower is None and limits.upper is None):
        return None
    return judge_steps(material.series.steps[index], limits)


def _is_above(material: Material, index: int) -> bool:
    return _verdict(material, index) is Verdict.ABOVE


def _profile(
    material: Material, by_slot: dict[Slot, list[int]], profiles: Iterable[Period]
) -> Iterator[Finding]:
    """Two of three on the same side in a slot, in the latest profile.

    A time of day with enough readings for the rule about highs is left to that rule.
    """
    days = _profile_days(material, by_slot, profiles)
    if days is None:
        return
    for slot in PROFILE_SLOTS:
        indices = by_slot.get(slot, [])
        if len(indices) >= material.settings.high_least_readings:
            continue
        verdicts = {
            index: verdict
            for index in indices
            if material.day(index) in days and (verdict := _verdict(material, index)) is not None
        }
        for wanted, side in ((Verdict.ABOVE, Side.HIGHER), (Verdict.BELOW, Side.LOWER)):
            there = [index for index, verdict in verdicts.items() if verdict is wanted]
            if len(there) < DAYS_OF_A_PROFILE - 1:
                continue
            yield Finding(
                kind=FindingKind.PROFILE,
                slot=slot,
                group=None,
                count=len(there),
                of=len(verdicts),
                first=material.day(there[0]),
                last=material.day(there[-1]),
                reading_ids=material.ids(there),
                happening_ids=(),
                is_recent=True,
                rank=rank_of_slot(slot),
                unit=material.unit,
                middle=figures_of_readings(material.series, list(verdicts), material.unit).median,
                side=side,
            )


def _profile_days(
    material: Material, by_slot: dict[Slot, list[int]], profiles: Iterable[Period]
) -> Period | None:
    """The days of the latest profile, agreed or recognised by its checks; None without one."""
    span = material.last_days
    checks = dict.fromkeys(span, 0)
    for slot in PROFILE_SLOTS:
        for index in by_slot.get(slot, ()):
            checks[material.day(index)] += 1
    # Agreed days that were hardly checked say nothing, and must not hide a profile that was made.
    agreed = [
        one
        for one in profiles
        if one.first in span
        and one.last in span
        and sum(checks[day] > 0 for day in one) >= DAYS_OF_A_PROFILE - 1
    ]
    full = [day for day, count in checks.items() if count >= PROFILE_CHECKS_NEEDED]
    in_a_row = 1
    for earlier, day in pairwise(full):
        in_a_row = in_a_row + 1 if day - earlier == timedelta(days=1) else 1
        if in_a_row >= DAYS_OF_A_PROFILE:
            agreed.append(Period.ending(day, DAYS_OF_A_PROFILE))
    return max(agreed, key=lambda one: one.last, default=None)
