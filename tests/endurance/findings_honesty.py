"""How often findings are made by chance, and how often what is there is found.

    python -m tests.endurance.findings_honesty --seed 1 --from 0 --count 2000 --results FILE

Each trial draws one log without any pattern and looks at it as the window does, once a finished
week over 91 days; and several logs with a pattern planted. What was found so far is printed at the
end and kept line by line in the file of results. With --control each reading is taken for itself
and each look at 5 %, which must bring far more than 5 % of logs to show something.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path

import numpy as np
from scipy import stats

from logbook.domain.findings.finding import Finding, FindingKind
from logbook.domain.findings.review import find_findings, find_over_weeks
from logbook.domain.moments import Period, day_of_wall_minute
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.ticks import TickBook
from tests.domain.series_of import range_target
from tests.endurance.invented_logs import (
    SCHEDULES,
    SD,
    WITH_MEALS,
    InventedLog,
    Pattern,
    invent,
)
from tests.endurance.runs import Outcome, read_plan, run_trials

LOOKS = 13
DIALYSIS = (("dialysis", "024"),)
DAY_GROUPS = ((), DIALYSIS, (*DIALYSIS, ("church", "6")))
CHECKS = (SCHEDULES[2], SCHEDULES[4], WITH_MEALS, SCHEDULES[7])
DAYS_BEFORE = (0, 91, 0, 364)
SIZES = (0.8, 1.0, 1.2, 1.5, 2.0)
WITHIN_DAYS = (28, 56, 91)
LONG_DRIFTS = (26, 52)


@dataclass(frozen=True)
class Planted:
    """A kind of pattern that is planted, and how it is looked for."""

    name: str
    checks: int
    weekdays: tuple[int, ...] = ()
    slots: tuple[Slot, ...] = ()
    days_before: int = 0

    @property
    def is_drift(self) -> bool:
        return not self.weekdays

    @property
    def looked_at(self) -> str:
        return f"{self.name}, {self.checks} checks a day"


ALL_PLANTED = (
    *(Planted("weekend, all day", checks, (5, 6)) for checks in SCHEDULES),
    *(Planted("Mon Wed Fri named, all day", checks, (0, 2, 4)) for checks in SCHEDULES),
    Planted("weekend, fasting only", 4, (5, 6), (Slot.FASTING,)),
    Planted("weekend, all day, begins after 13 weeks", 4, (5, 6), days_before=91),
    *(Planted("drift, all day, over 13 weeks", checks) for checks in SCHEDULES),
)


def look(log: InventedLog, today_after: int, settings: LogSettings) -> tuple[Finding, ...]:
    """What the window would have found by tests, so many days after the log's first."""
    period = Period.ending(log.first + timedelta(days=today_after), 28)
    return find_over_weeks(
        log.series, period, settings, differences=log.differences, as_report=False
    )


def one_trial(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One log without a pattern; in every fourth trial one of each that is planted, too."""
    chance = np.random.default_rng([seed, number])
    counts: Counter[str] = Counter()
    days_before = DAYS_BEFORE[(number + number // 4) % len(DAYS_BEFORE)]
    settings = LogSettings(day_groups=DAY_GROUPS[number % len(DAY_GROUPS)])
    log = invent(
        chance,
        days_before + LOOKS * 7,
        CHECKS[number // 16 % len(CHECKS)],
        done=chance.uniform(0.6, 0.95),
        sd=chance.uniform(25, 70),
        with_ticks=True,
    )
    counts.update(count_shown(log, days_before, settings, "chance", control=control))
    if not control and number % 4 == 0:
        closer = invent(
            chance,
            days_before + LOOKS * 7,
            CHECKS[number // 16 % len(CHECKS)],
            of_a_day=0.5,
            day_to_day=0.6,
        )
        counts.update(count_shown(closer, days_before, settings, "closer", control=False))
        for place, planted in enumerate(ALL_PLANTED):
            size = SIZES[(number // 4 + place) % len(SIZES)]
            counts.update(plant_and_look(chance, planted, size))
        size = SIZES[number // 4 % len(SIZES)]
        counts.update(plant_a_high(chance, size))
        for weeks in LONG_DRIFTS:
            own = np.random.default_rng([seed, number, weeks])
            counts.update(plant_a_long_drift(own, weeks, size))
    return Outcome(counts={name: int(count) for name, count in counts.items()})


def count_shown(
    log: InventedLog, days_before: int, settings: LogSettings, name: str, *, control: bool
) -> Iterator[str]:
    """Look at a log week after week for a quarter and tell what was ever shown."""
    shown: set[FindingKind] = set()
    for after in range(days_before + 7, days_before + LOOKS * 7 + 1, 7):
        if control:
            shown |= naive_look(log, after)
        else:
            shown |= {found.kind for found in look(log, after, settings)}
    before = f"{days_before // 7} weeks before"
    yield f"{name}/of/{before}"
    if shown:
        yield f"{name}/all/{before}"
    yield from (f"{name}/{kind.value}/{before}" for kind in shown)


def plant_and_look(chance: np.random.Generator, planted: Planted, size: float) -> Iterator[str]:
    """Plant one pattern and tell within how many days it was found, and what else was."""
    pattern = Pattern(
        size=0 if planted.is_drift else size,
        weekdays=planted.weekdays,
        drift=size if planted.is_drift else 0,
        from_day=planted.days_before,
        slots=planted.slots,
    )
    settings = LogSettings(day_groups=DIALYSIS if planted.weekdays == (0, 2, 4) else ())
    days = planted.days_before + LOOKS * 7
    log = invent(chance, days, SCHEDULES[planted.checks], pattern=pattern)
    key = f"planted/{planted.looked_at}/{size}"
    yield f"{key}/of"
    group = "dialysis" if planted.weekdays == (0, 2, 4) else "weekend"
    for after in range(21, LOOKS * 7 + 1, 7):
        for found in look(log, planted.days_before + after, settings):
            is_it = (
                found.kind is FindingKind.DRIFT
                if planted.is_drift
                else found.kind is FindingKind.DAY_GROUP and found.group == group
            )
            if is_it and found.change is not None and found.change > 0:
                yield from (f"{key}/{days}" for days in WITHIN_DAYS if after <= days)
                return


def plant_a_high(chance: np.random.Generator, size: float) -> Iterator[str]:
    """Fasting values with their middle so many SD over the limit: found by the plain rule?"""
    slots = (Slot.FASTING,)
    log = invent(chance, 28, slots, level=130 + size * SD)
    targets = TargetBook([range_target(TargetKind.FASTING, 80, 130)])
    key = f"planted/fasting above the limit (rule), 1 check a day/{size}"
    yield f"{key}/of"
    for after in range(7, 29, 7):
        period = Period.ending(log.first + timedelta(days=after - 1), min(after, 28))
        found = find_findings(
            log.series, period, LogSettings(), targets, (), (), TickBook(()), as_report=False
        )
        if any(one.kind is FindingKind.HIGH for one in found):
            yield from (f"{key}/{days}" for days in WITHIN_DAYS)
            return


def plant_a_long_drift(chance: np.random.Generator, weeks: int, size: float) -> Iterator[str]:
    """So many SD more at the end of so many weeks: told in the week after?"""
    log = invent(chance, weeks * 7, SCHEDULES[4], pattern=Pattern(drift=size))
    key = f"planted/drift, all day, over {weeks} weeks, 4 checks a day/{size}"
    yield f"{key}/of"
    if any(one.kind is FindingKind.DRIFT for one in look(log, weeks * 7, LogSettings())):
        yield f"{key}/{weeks * 7}"


def naive_look(log: InventedLog, today_after: int) -> set[FindingKind]:
    """What a careless reader would find: every reading by itself, every comparison at 5 %."""
    until = log.first + timedelta(days=today_after)
    starts_at = LogSettings().day_starts_at
    days = [day_of_wall_minute(wall, starts_at) for wall in log.series.wall_minutes]
    found: set[FindingKind] = set()
    for slot in set(log.series.slots):
        rows = [
            (day.toordinal(), day.weekday() >= 5, steps)
            for day, of_slot, steps in zip(days, log.series.slots, log.series.steps, strict=True)
            if of_slot is slot and until - timedelta(days=91) <= day < until
        ]
        weekend = [steps for _, is_weekend, steps in rows if is_weekend]
        others = [steps for _, is_weekend, steps in rows if not is_weekend]
        if len(weekend) >= 2 and len(others) >= 2:
            test = stats.mannwhitneyu(weekend, others, method="asymptotic")
            if test.pvalue < 0.05:
                found.add(FindingKind.DAY_GROUP)
        if len(rows) >= 8:
            drift = stats.kendalltau(
                [day for day, _, _ in rows], [steps for _, _, steps in rows], method="asymptotic"
            )
            if drift.pvalue < 0.05:
                found.add(FindingKind.DRIFT)
    return found


def tables(totals: Counter[str]) -> Iterator[str]:
    """The lines of the tables of docs/method.md."""
    kinds = [kind.value for kind in FindingKind if kind.is_statistical]
    histories = [f"{days // 7} weeks before" for days in sorted(set(DAYS_BEFORE))]
    yield f"| logs without a pattern | logs | any | {' | '.join(kinds)} |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: |"
    for name, label in (("chance", "0.3 and 0.3"), ("closer", "0.5 and 0.6")):
        for row, chosen in (*((one, [one]) for one in histories), ("all", histories)):
            of = sum(totals[f"{name}/of/{one}"] for one in chosen)
            if of:
                shown = [
                    f"{sum(totals[f'{name}/{what}/{one}'] for one in chosen) / of:.1%}"
                    for what in ("all", *kinds)
                ]
                yield f"| correlations {label}, {row} | {of} | {' | '.join(shown)} |"
    keys = dict.fromkeys(key.split("/")[1] for key in sorted(totals) if key.startswith("planted/"))
    if not keys:
        return
    yield ""
    yield "| planted | days | " + " | ".join(f"{size} SD" for size in SIZES) + " |"
    yield "| --- | ---: | " + " | ".join("---:" for _ in SIZES) + " |"
    for key in keys:
        weeks = next((weeks for weeks in LONG_DRIFTS if f"over {weeks} weeks" in key), None)
        for days in WITHIN_DAYS if weeks is None else (weeks * 7,):
            shares: list[str] = []
            for size in SIZES:
                of = totals[f"planted/{key}/{size}/of"]
                found = totals[f"planted/{key}/{size}/{days}"]
                shares.append(f"{found / of:.0%} of {of}" if of else "")
            yield f"| {key} | {days} | " + " | ".join(shares) + " |"


def totals_of(outcomes: dict[int, Outcome]) -> Counter[str]:
    """All counts together."""
    totals: Counter[str] = Counter()
    for outcome in outcomes.values():
        totals.update(outcome.counts)
    return totals


def share_by_chance(totals: Counter[str]) -> float:
    """Which share of the logs without a pattern ever showed something."""
    shown = sum(count for key, count in totals.items() if key.startswith("chance/all/"))
    return shown / sum(count for key, count in totals.items() if key.startswith("chance/of/"))


def main(arguments: list[str]) -> int:
    """Run, print the tables, and say whether the bound of 5 % was kept."""
    plan = read_plan(arguments, __doc__ or "", 2000)
    outcomes = run_trials(plan, one_trial)
    totals = totals_of(outcomes)
    print("\n".join(tables(totals)))
    share = share_by_chance(totals)
    print(f"\nlogs without a pattern that showed something: {share:.2%} of {len(outcomes)}")
    if plan.control:
        print("the control was", "caught" if share > 0.25 else "NOT caught")
        return 0 if share > 0.25 else 1
    return 0 if share <= 0.05 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
