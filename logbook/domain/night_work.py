"""The clock of a person who works at night and sleeps by day.

Rules that go by the clock alone (when it is night, when a sick person is awake, the usual hours of
checks) are made for a day that starts at 04:00. Meals have no clock: a check before breakfast is
the first one after sleep, whenever that is.
"""

from __future__ import annotations

from datetime import time

from logbook.domain.moments import DAY_STARTS_AT, MINUTES_A_DAY

# Whose day starts at this hour or later sleeps by day. Before it a late riser, not night work, is
# meant, and the usual hours hold. Judgement without a source.
SLEEPS_BY_DAY_FROM = time(9, 0)


def sleeps_by_day(day_starts_at: time) -> bool:
    """Whether a day that starts then is that of a person who works at night."""
    return day_starts_at >= SLEEPS_BY_DAY_FROM


def own_clock(usual: time, day_starts_at: time) -> time:
    """What `usual`, a clock time of a day that starts at 04:00, is on this person's clock.

    The same for all but night work: 07:00 is three hours after the day's start, and 17:00 where the
    day starts at 14:00.
    """
    if not sleeps_by_day(day_starts_at):
        return usual
    later = _minutes(day_starts_at) - _minutes(DAY_STARTS_AT)
    hour, minute = divmod((_minutes(usual) + later) % MINUTES_A_DAY, 60)
    return time(hour, minute)


def _minutes(at: time) -> int:
    return at.hour * 60 + at.minute
