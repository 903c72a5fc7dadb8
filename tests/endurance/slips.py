"""Slips of the finger, many times over: is a wrong number refused, asked about, or does it pass?

    python -m tests.endurance.slips --seed 1 --count 100000

Invented people of several kinds write down invented numbers. Beside each of their numbers slips
are made, on the keys that the window has, and each is judged by the guards that the window uses;
what passes is what a person would have to notice without help. The table is printed in Markdown.
Numbers without a slip are judged too: a doubt about one of them is needless. The control runs with
the guards switched off, refusals of what is impossible excepted, and must miss the bounds.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.lows import to_microseconds
from logbook.domain.moments import Moment
from logbook.domain.plausibility import (
    RARE_UP_TO,
    find_oddities,
    first_to_tell,
    number_before,
    usual_of,
)
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot
from logbook.ui.draft import Draft
from tests.endurance.people import Person, invent
from tests.endurance.runs import Outcome, Plan, read_plan, run_trials
from tests.endurance.slip_kinds import SLIPS, typed_keys

REFUSED, ASKED, LINE, PASSED, SAME = "refused", "asked", "quiet line", "passed", "same number"
VERDICTS = (REFUSED, ASKED, LINE, PASSED)
# The true numbers of one person in one trial, and the slips made beside each of them.
NUMBERS, SLIPS_EACH = 20, 5
SLIPS_A_TRIAL = NUMBERS * SLIPS_EACH

TENFOLD_KINDS = ("ten times or a tenth", "a hundred times or a hundredth", "point lost")
UNIT_KIND = "other unit"
BEGIN = datetime(2026, 1, 1, 8, tzinfo=UTC)


def series_of_steps(written: Sequence[tuple[datetime, int]], unit: Unit) -> Series:
    """The columns of planned checks, each written down at once."""
    count = len(written)
    instants = tuple(to_microseconds(at) for at, _ in written)
    minutes = tuple(instant // 60_000_000 for instant in instants)
    return Series(
        ids=tuple(map(str, range(count))),
        instants=instants,
        wall_minutes=minutes,
        written_minutes=minutes,
        steps=tuple(steps for _, steps in written),
        units=(unit,) * count,
        slots=(Slot.OTHER,) * count,
        purposes=(Purpose.PLANNED,) * count,
        marks=(0,) * count,
        minutes_after=(None,) * count,
        rechecks_of=(None,) * count,
    )


def glucose_typed(keys: Sequence[str], unit: Unit, now: datetime) -> Glucose | None:
    """What the display holds after these keys; None when it would be refused."""
    draft = Draft()
    for key in keys:
        if key == "back":
            draft.take_back()
        elif key == "clear":
            draft.clear()
        else:
            draft.type(key, unit, now)
    try:
        return draft.glucose(unit)
    except LogbookError:
        return None


def judge(glucose: Glucose | None, series: Series, now: datetime, *, control: bool = False) -> str:
    """What the window does with it."""
    if glucose is None:
        return REFUSED
    if control:
        return PASSED
    oddities = find_oddities(
        glucose,
        Moment.at(now, "UTC"),
        now,
        usual=usual_of(series, glucose.unit, now),
        before=number_before(series, glucose.unit),
    )
    told = first_to_tell(oddities)
    if told is None:
        return PASSED
    return ASKED if told.asks_first else LINE


def write_and_slip(number: int, seed: int, folder: Path, control: bool) -> Outcome:
    """One person writes down numbers, and slips beside each of them."""
    chance = random.Random(f"{seed}/{number}")
    person = invent(chance)
    counts: Counter[str] = Counter()
    faults: list[str] = []
    verdict_before = PASSED
    for true, series, now in _days_of(person, chance):
        for kind in chance.choices(SLIPS, k=SLIPS_EACH):
            glucose = glucose_typed(typed_keys(kind, true, chance), person.unit, now)
            verdict = judge(glucose, series, now, control=control)
            counts[f"{kind}: {SAME if glucose == true else verdict}"] += 1
        verdict = judge(true, series, now, control=control)
        is_rare = true.order_steps <= RARE_UP_TO[true.unit]
        group = "at or under 40 mg/dL" if is_rare else person.kind
        counts[f"without a slip, {group}: {verdict}"] += 1
        if verdict == verdict_before == ASKED:
            faults.append(f"two questions in a row, the second at {true.text} {true.unit.value}")
        verdict_before = verdict
    return Outcome(faults, dict(counts))


def _days_of(person: Person, chance: random.Random) -> Iterator[tuple[Glucose, Series, datetime]]:
    """Each number with the log before it and the moment at which it is written."""
    steps = [person.next_steps(chance) for _ in range(person.earlier + NUMBERS)]
    between = timedelta(days=90) / max(person.earlier, 90)
    written = [(BEGIN + between * index, one) for index, one in enumerate(steps)]
    for index in range(person.earlier, len(written)):
        now, one = written[index]
        yield (
            Glucose.number(one, person.unit),
            series_of_steps(written[:index], person.unit),
            now,
        )


# --- the table ------------------------------------------------------------------------------------


def rates(counts: Mapping[str, int], kinds: Sequence[str]) -> tuple[int, float]:
    """How many slips of these kinds changed the number, and the share that did not pass."""
    total = sum(counts.get(f"{kind}: {verdict}", 0) for kind in kinds for verdict in VERDICTS)
    passed = sum(counts.get(f"{kind}: {PASSED}", 0) for kind in kinds)
    return total, 1 - passed / total if total else 0.0


def needless(counts: Mapping[str, int], group: str = "") -> tuple[int, float]:
    """How many numbers without a slip there were, and the share that was doubted.

    Those at or under 40 mg/dL are told apart, by naming that group.
    """
    total = doubted = 0
    for name, count in counts.items():
        whose, _, verdict = name.removeprefix("without a slip, ").rpartition(": ")
        is_wanted = whose == group if group else whose != "at or under 40 mg/dL"
        if name.startswith("without a slip, ") and is_wanted:
            total += count
            doubted += count * (verdict != PASSED)
    return total, doubted / total if total else 0.0


def missed_bounds(counts: Mapping[str, int]) -> list[str]:
    """Which bounds the counts do not keep."""
    tenfold, unit = rates(counts, TENFOLD_KINDS), rates(counts, [UNIT_KIND])
    doubted = needless(counts)
    bounds = [
        ("of ten-fold and hundred-fold slips are stopped or asked about", tenfold, 0.95, 1.0),
        ("of unit slips are stopped or asked about", unit, 0.99, 1.0),
        ("of numbers without a slip are doubted", doubted, 0.0, 0.01),
    ]
    return [
        f"{share:.2%} {what}, of {total}"
        for what, (total, share), least, most in bounds
        if not total or not least <= share <= most
    ]


def table(counts: Mapping[str, int]) -> str:
    """The counts as Markdown."""
    lines = [
        "| slip | n | refused | asked | quiet line | passed | not passed |",
        "| --- | --- | --- | --- | --- | --- | --- |",
    ]
    for kind in SLIPS:
        each = " | ".join(f"{counts.get(f'{kind}: {verdict}', 0):,}" for verdict in VERDICTS)
        total, share = rates(counts, [kind])
        lines.append(f"| {kind} | {total:,} | {each} | {share:.1%} |")
    lines += ["", "| numbers without a slip | n | doubted |", "| --- | --- | --- |"]
    groups = sorted(
        {
            name.removeprefix("without a slip, ").rpartition(": ")[0]
            for name in counts
            if name.startswith("without a slip, ")
        }
    )
    for group in groups:
        total, share = needless(counts, group)
        lines.append(f"| {group} | {total:,} | {share:.2%} |")
    total, share = needless(counts)
    lines.append(f"| all above 40 mg/dL | {total:,} | {share:.2%} |")
    return "\n".join(lines)


def totals_of(plan: Plan) -> tuple[Counter[str], list[str]]:
    """The counts of all trials, and their faults."""
    totals: Counter[str] = Counter()
    faults: list[str] = []
    for outcome in run_trials(plan, write_and_slip).values():
        totals.update(outcome.counts)
        faults += outcome.faults
    return totals, faults


def main(arguments: Sequence[str]) -> int:
    """The command; `--count` counts slips. 0 when the bounds are kept, or a control misses them."""
    given = read_plan(arguments, __doc__ or "", 100_000)
    trials = -(-given.count // SLIPS_A_TRIAL)
    plan = Plan(given.seed, given.first, trials, given.workers, given.control, given.results)
    totals, faults = totals_of(plan)
    missed = [*missed_bounds(totals), *faults]
    print(f"Seed {plan.seed}, {trials * SLIPS_A_TRIAL:,} slips.\n")
    print(table(totals))
    print(f"\nQuestions twice in a row: {len(faults)}")
    for fault in missed[:5]:
        print(f"  missed: {fault}", file=sys.stderr)
    if plan.control:
        print("The control was", "caught" if missed else "NOT caught: this run proves nothing")
        return 0 if missed else 1
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
