"""The next check after a low: when it is due, and whether it was made or answered."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.happenings import Happening
from logbook.domain.levels import LOW_BELOW
from logbook.domain.lows import (
    SEPARATE_AFTER_MICROSECONDS,
    from_microseconds,
    to_microseconds,
)
from logbook.domain.series import OUTSIDE_FIGURES, Series

# Treat a low, check again after 15 minutes. ADA 2024, summary of the treatment of lows, read at the
# source.
RECHECK_AFTER = timedelta(minutes=15)

# After so long a low is no longer this low: the ordinary next check is due. Judgement without a
# source.
FORGOTTEN_AFTER = timedelta(hours=12)

# "Later" and "nobody answered" leave it due.
_SETTLED = frozenset({Said.YES, Said.NO})


@dataclass(frozen=True, slots=True)
class RecheckDue:
    """A check that is due after a low.

    `about` is the id of the low reading or of the happening, `low_at` its instant, `due_at` the
    instant from which the check is due, both in UTC. `times_low` counts the low checks of this low
    so far, without a value of 70 (3.9) or more between them; 1 after the first.
    """

    about: str
    low_at: datetime
    due_at: datetime
    times_low: int

    def is_overdue(self, now: datetime) -> bool:
        """Whether the moment has come."""
        return now >= self.due_at


def recheck_due(
    series: Series,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    now: datetime,
) -> RecheckDue | None:
    """The check due after the latest low, or None.

    None once a later reading is there (made as its recheck or not), once the person answered that
    it is done or will not be done, or 12 hours after the low. `series` needs the last 12 hours
    only; `now` is aware.
    """
    now_microseconds = to_microseconds(now)
    since = to_microseconds(now - FORGOTTEN_AFTER)
    checks = _checks(series, since, now_microseconds)
    lows = [(instant, about) for instant, about, is_low in checks if is_low]
    low_ids = {about for _, about in lows}
    for happening in happenings:
        instant = to_microseconds(happening.at.instant)
        is_own_low = happening.counts and happening.what.is_low
        if (
            is_own_low
            and str(happening.about) not in low_ids
            and since <= instant <= now_microseconds
        ):
            lows.append((instant, str(happening.id)))
    if not lows:
        return None
    lows.sort()
    low_at, about = lows[-1]
    was_made = _was_told(series, about) or any(instant > low_at for instant, _, _ in checks)
    if was_made or _is_settled(about, answers):
        return None
    at = from_microseconds(low_at)
    recovered = [instant for instant, _, is_low in checks if not is_low]
    return RecheckDue(about, at, at + RECHECK_AFTER, _times_low(lows, recovered))


def _checks(series: Series, since: int, until: int) -> list[tuple[int, str, bool]]:
    """Instant, id and whether it is low, of the readings that count in a stretch of time."""
    stretch = range(bisect_left(series.instants, since), bisect_right(series.instants, until))
    outside = int(OUTSIDE_FIGURES)
    return [
        (
            series.instants[index],
            series.ids[index],
            series.steps[index] < LOW_BELOW[series.units[index]],
        )
        for index in stretch
        if not series.marks[index] & outside
    ]


def _was_told(series: Series, about: str) -> bool:
    """Whether a reading that counts was made as the recheck of `about`."""
    outside = int(OUTSIDE_FIGURES)
    return any(
        of == about and not marks & outside
        for of, marks in zip(series.rechecks_of, series.marks, strict=True)
    )


def _is_settled(about: str, answers: Iterable[Answer]) -> bool:
    given = [
        answer
        for answer in answers
        if answer.asked is Asked.RECHECK_DUE and str(answer.about) == about
    ]
    return bool(given) and max(given, key=lambda answer: answer.at).said in _SETTLED


def _times_low(lows: list[tuple[int, str]], recovered: list[int]) -> int:
    """How many lows in a row end with the last: no recovery and no two hours between them."""
    last_recovery = max((instant for instant in recovered if instant < lows[-1][0]), default=None)
    times = 0
    later: int | None = None
    for instant, _ in reversed(lows):
        if last_recovery is not None and instant <= last_recovery:
            break
        if later is not None and later - instant > SEPARATE_AFTER_MICROSECONDS:
            break
        times += 1
        later = instant
    return times
