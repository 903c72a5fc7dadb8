"""What the rules find in the open diaries: how often each, and some drawn by lot with evidence.

    LOGBOOK_OPEN_DATA=FOLDER python -m tests.endurance.findings_on_diaries --seed 1 --count 20

Each diary is cut into spans of 28 days and each span looked at as the window would, with the
targets of many adults (80 to 130 before meals, below 180 after them) and medicines that can cause
lows. Whether a careful reader would agree is for a reader to say.
"""

from __future__ import annotations

import argparse
import random
from collections import Counter
from collections.abc import Iterator
from datetime import date, time

from logbook.domain.findings import Finding, FindingKind, find_findings
from logbook.domain.moments import Period
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.ticks import TickBook
from logbook.wording.findings import provider_line
from tests.domain.open_diaries import DIARIES, diary_lines
from tests.domain.series_of import range_target, reading, series_of

SLOTS = {
    48: Slot.OTHER,
    57: Slot.OTHER,
    58: Slot.FASTING,
    59: Slot.AFTER_BREAKFAST,
    60: Slot.BEFORE_LUNCH,
    61: Slot.AFTER_LUNCH,
    62: Slot.BEFORE_DINNER,
    63: Slot.AFTER_DINNER,
    64: Slot.BEFORE_SNACK,
}
SETTINGS = LogSettings(day_starts_at=time(0), can_have_lows=True)
BEFORE_ALL_DIARIES = date(1980, 1, 1)
TARGETS = TargetBook(
    [
        range_target(TargetKind.FASTING, 80, 130, BEFORE_ALL_DIARIES),
        range_target(TargetKind.BEFORE_MEALS, 80, 130, BEFORE_ALL_DIARIES),
        range_target(TargetKind.AFTER_MEALS, None, 179, BEFORE_ALL_DIARIES),
    ]
)
SPAN_DAYS = 28


def spans(days: list[date]) -> Iterator[Period]:
    """The spans of 28 days of a diary, counted back from its last day; a short rest is left out."""
    last = max(days)
    while Period.ending(last, SPAN_DAYS).first >= min(days):
        yield Period.ending(last, SPAN_DAYS)
        last = Period.ending(last, SPAN_DAYS + 1).first


def findings_of(diary: str) -> Iterator[tuple[Period, Finding, list[str]]]:
    """Every finding of a diary, with the lines that are its evidence."""
    lines = [line for line in diary_lines(diary) if line[1] in SLOTS]
    readings = [reading(wall.isoformat(" "), shown, SLOTS[code]) for wall, code, shown in lines]
    texts = {
        str(one.id): f"{one.at.wall:%m-%d %H:%M} {one.slot.value} {one.glucose.text}"
        for one in readings
    }
    series = series_of(readings)
    for period in spans([wall.date() for wall, _, _ in lines]):
        found = find_findings(
            series, period, SETTINGS, TARGETS, (), (), TickBook(()), as_report=True
        )
        for one in found:
            yield period, one, [texts[record] for record in one.reading_ids]


def spans_in(diary: str) -> int:
    """How many spans a diary has."""
    return len(list(spans([wall.date() for wall, code, _ in diary_lines(diary) if code in SLOTS])))


def main() -> None:
    """Print how often each kind was found, and the findings drawn."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=20)
    given = parser.parse_args()
    drawn = [(diary, *found) for diary in DIARIES for found in findings_of(diary)]
    whole = sum(spans_in(diary) for diary in DIARIES)
    in_spans = {(diary, period, one.kind) for diary, period, one, _ in drawn}
    kinds = Counter(kind for _, _, kind in in_spans)
    print(f"{whole} spans of {SPAN_DAYS} days in {len(DIARIES)} diaries, {len(drawn)} findings")
    for kind in FindingKind:
        share = kinds[kind] / whole
        findings = sum(one.kind is kind for _, _, one, _ in drawn)
        print(f"| {kind.value} | {findings} | {kinds[kind]} of {whole} ({share:.0%}) |")
    for diary, period, one, evidence in random.Random(given.seed).sample(drawn, given.count):
        print(f"\n{diary} {period.first} to {period.last}: {one.kind.value}: {provider_line(one)}")
        print("   " + "; ".join(evidence[:14]) + (" ..." if len(evidence) > 14 else ""))


if __name__ == "__main__":
    main()
