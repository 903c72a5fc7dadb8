"""Lines that are no readings but belong beside one: insulin, a meal, exercise, an event.

Each becomes part of the note of the reading nearest to it, in the file's own words; nothing is
reckoned with. One that stands alone has no reading to be noted at.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from logbook.domain.readings import Reading

# Insulin and meals are noted around the check they belong to. Judgement without a source.
NEAR = timedelta(minutes=30)
LONGEST_NOTE = 500


@dataclass(frozen=True, slots=True)
class NoteLine:
    """Such a line: when, the word its layout has for it, and what it says."""

    wall: datetime
    word: str
    says: str


def with_notes(
    readings: Sequence[Reading], lines: Sequence[NoteLine]
) -> tuple[list[Reading], Counter[str]]:
    """The readings with their notes, and how many lines of each word had no reading near."""
    if not lines:
        return list(readings), Counter()
    order = sorted(range(len(readings)), key=lambda index: readings[index].at.wall)
    walls = [readings[index].at.wall for index in order]
    notes: dict[int, list[str]] = {}
    alone: Counter[str] = Counter()
    for line in lines:
        place = _nearest(walls, line.wall)
        if place is None:
            alone[line.word] += 1
            continue
        notes.setdefault(order[place], []).append(_text(line, walls[place]))
    found = list(readings)
    for index, texts in notes.items():
        note = "; ".join(filter(None, (found[index].note, *texts)))
        found[index] = replace(found[index], note=note[:LONGEST_NOTE])
    return found, alone


def _nearest(walls: Sequence[datetime], wall: datetime) -> int | None:
    after = bisect_left(walls, wall)
    near = [
        place
        for place in (after - 1, after)
        if 0 <= place < len(walls) and abs(walls[place] - wall) <= NEAR
    ]
    return min(near, key=lambda place: abs(walls[place] - wall), default=None)


def _text(line: NoteLine, reading_wall: datetime) -> str:
    text = f"{line.word} {line.says}".strip()
    if line.wall.replace(second=0) == reading_wall.replace(second=0):
        return text
    return f"{text} ({line.wall:%H:%M})"
