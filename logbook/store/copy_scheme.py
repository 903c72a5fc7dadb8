"""Which copies are kept and which may go, as a function of what is known about them.

Kept are all of today and yesterday, then one for each of the 12 newest days before, the 10 newest
weeks before those and the 9 newest months before those that have a copy at all. A copy made before
something risky, or because it was asked for, also stays 30 days, and the newest three of each sort
stay whatever their age. These numbers are common practice, no source.

Only good copies count, and none is let go unless a newer one of the same line stands for it. A
*line* is a row of copies of which none has fewer changes than the one before; a copy with fewer
(after going back to an earlier copy, or of an emptied log) begins a line of its own and so never
pushes out a fuller one. A copy from the future (the clock was wrong) is left out of it all.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

DAYS = 12
WEEKS = 10
MONTHS = 9
SPECIAL_DAYS = timedelta(days=30)
SPECIAL_NEWEST = 3
# Days and weeks and months that are kept, and some more.
_LOOKS_AHEAD = 500


class Occasion(StrEnum):
    """What a copy was made for."""

    CLOSE = "close"
    USE = "use"
    IMPORT = "import"
    MIGRATION = "migration"
    RESTORE = "restore"
    ASKED = "asked"


ORDINARY = frozenset({Occasion.CLOSE.value, Occasion.USE.value})


@dataclass(frozen=True, slots=True)
class KnownCopy:
    """A copy as the scheme sees it; `changes` is the sequence of its last change."""

    name: str
    made_at: datetime
    occasion: str
    changes: int
    is_good: bool = True


@dataclass(frozen=True, slots=True)
class Leaving:
    """A copy that may go once `stands_in` has been read and is good."""

    copy: KnownCopy
    stands_in: KnownCopy


DayOf = Callable[[datetime], date]


def leaving(copies: Iterable[KnownCopy], now: datetime, day_of: DayOf) -> list[Leaving]:
    """The copies that may go, the oldest first.

    `day_of` tells the calendar's day of an instant, where the person is.
    """
    counting = sorted(
        (copy for copy in copies if copy.is_good and copy.made_at <= now),
        key=lambda copy: (copy.made_at, copy.changes, copy.name),
    )
    special = _special(counting, now)
    found = []
    for line in lines_of(counting):
        kept = _kept(line, day_of(now), day_of) | {copy.name for copy in special}
        stands_in = None
        for copy in reversed(line):
            if copy.name in kept:
                stands_in = copy
            elif stands_in is not None:
                found.append(Leaving(copy, stands_in))
    return sorted(found, key=lambda one: (one.copy.made_at, one.copy.name))


def last_leaving(copies: Iterable[KnownCopy], now: datetime, day_of: DayOf) -> date | None:
    """The day on which the last of these copies goes, if one is made every day from now on.

    None when one of them stays for good, as the newest of a special sort do.
    """
    left = {copy.name: copy for copy in copies if copy.is_good and copy.made_at <= now}
    new: dict[str, KnownCopy] = {}
    changes = max((copy.changes for copy in left.values()), default=0)
    for day in range(1, _LOOKS_AHEAD + 1):
        if not left:
            return day_of(now + timedelta(days=day - 1))
        at = now + timedelta(days=day)
        made = KnownCopy(f"new {day}", at, Occasion.CLOSE.value, changes + day)
        new[made.name] = made
        for one in leaving([*left.values(), *new.values()], at, day_of):
            left.pop(one.copy.name, None)
            new.pop(one.copy.name, None)
    return None


def lines_of(copies: Sequence[KnownCopy]) -> list[list[KnownCopy]]:
    """The lines of copies that are in order of time.

    Each goes on with the fullest line that it has no fewer changes than.
    """
    lines: list[list[KnownCopy]] = []
    for copy in copies:
        fitting = [line for line in lines if line[-1].changes <= copy.changes]
        if fitting:
            max(fitting, key=lambda line: line[-1].changes).append(copy)
        else:
            lines.append([copy])
    return lines


def newest_first(copies: Iterable[KnownCopy], now: datetime) -> list[KnownCopy]:
    """In the order in which one would go back to them: those from the future come last."""
    return sorted(
        copies,
        key=lambda copy: (copy.made_at <= now, copy.made_at, copy.changes, copy.name),
        reverse=True,
    )


def _kept(line: Sequence[KnownCopy], today: date, day_of: DayOf) -> set[str]:
    """The names that the days, weeks and months keep."""
    stages: list[tuple[int, Callable[[date], Hashable], set[Hashable]]] = [
        (DAYS, lambda day: day, set()),
        (WEEKS, lambda day: day.isocalendar()[:2], set()),
        (MONTHS, lambda day: (day.year, day.month), set()),
    ]
    kept = set()
    for copy in reversed(line):
        day = day_of(copy.made_at)
        if (today - day).days <= 1:
            kept.add(copy.name)
            continue
        for most, period_of, seen in stages:
            period = period_of(day)
            if period in seen:
                break
            if len(seen) < most:
                seen.add(period)
                kept.add(copy.name)
                break
    return kept


def _special(copies: Sequence[KnownCopy], now: datetime) -> set[KnownCopy]:
    found = set()
    for occasion in Occasion:
        if occasion.value not in ORDINARY:
            these = [copy for copy in copies if copy.occasion == occasion.value]
            found |= {copy for copy in these if now - copy.made_at <= SPECIAL_DAYS}
            found |= set(these[-SPECIAL_NEWEST:])
    return found
