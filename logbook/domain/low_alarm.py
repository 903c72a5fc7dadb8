"""When a low calls out: its sound, how loud it is, and when its page must come forward again.

How a low stands is told by `low_course`; this adds the one thing the log can't tell, whether
somebody is at it just now. Everything here is judgement without a source.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from enum import StrEnum

from logbook.domain.low_course import LowCourse

RINGS_EVERY = timedelta(seconds=20)
# Whoever touched the page of the low, or types the number, fetches the meter or tests just now.
ATTENDED_FOR = timedelta(minutes=5)
# The later check of a low that is over may wait: a few soft rings, and no more.
WATCH_RINGS_EVERY = timedelta(minutes=5)
WATCH_RINGS = 3


class Sound(StrEnum):
    """How it rings."""

    USUAL = "usual"
    LOUD = "loud"


def is_attended(now: datetime, attended_at: datetime | None) -> bool:
    """Whether somebody is at the low: it was touched within five minutes before `now`."""
    # A clock that went back must not make it silent for long.
    return attended_at is not None and timedelta(0) <= now - attended_at < ATTENDED_FOR


def sound_due(
    course: LowCourse, now: datetime, *, rang_at: Sequence[datetime], attended_at: datetime | None
) -> Sound | None:
    """The sound to make now, or None.

    `rang_at` are the instants at which it rang for this same check, oldest first. A due recheck
    rings every 20 seconds until it is answered, day or night, loud once nobody answered for ten
    minutes; a due later check rings three times.
    """
    if course.stage.is_open:
        is_silent = not course.is_overdue(now) or is_attended(now, attended_at)
        if is_silent or not _is_time(rang_at, now, RINGS_EVERY):
            return None
        return Sound.LOUD if course.is_unanswered else Sound.USUAL
    if not course.is_watch_due(now) or len(rang_at) >= WATCH_RINGS:
        return None
    return Sound.USUAL if _is_time(rang_at, now, WATCH_RINGS_EVERY) else None


def comes_forward(
    course: LowCourse, now: datetime, *, came_at: datetime | None, attended_at: datetime | None
) -> bool:
    """Whether the page of an open low must come forward now.

    `came_at` is when it last did for this same check. It does once when the recheck is due, again
    when nobody answered for ten minutes, and from then on every five minutes nobody is at it.
    """
    if not course.stage.is_open or not course.is_overdue(now) or is_attended(now, attended_at):
        return False
    if came_at is None or now < came_at:
        return True
    if not course.is_unanswered:
        return False
    return not course.is_unanswered_noted or now - came_at >= ATTENDED_FOR


def _is_time(rang_at: Sequence[datetime], now: datetime, every: timedelta) -> bool:
    # A clock that went back must not make it silent.
    return not rang_at or not timedelta(0) <= now - rang_at[-1] < every
