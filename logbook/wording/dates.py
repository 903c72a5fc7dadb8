"""Days, clock times, spans of time and periods as text, in the manner that is set.

No clock is read: "today" is told by whoever asks.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from functools import lru_cache

from babel.dates import format_date, format_time

from logbook.domain.moments import DAY_STARTS_AT, Moment, Period, person_day
from logbook.domain.night_work import sleeps_by_day
from logbook.wording import _, ngettext
from logbook.wording.manner import Manner, find_locale, manner, plain_spaces
from logbook.wording.numbers import days_text

# Up to here a day is told by its distance, further off by its date.
NEAR_DAYS = 30


def day_text(day: date) -> str:
    """A day in full: "March 31, 2026", "31 March 2026"."""
    return _formatted(day, "long")


def weekday_day_text(day: date, *, with_year: bool = False) -> str:
    """Weekday and full month: "Tuesday, March 31"."""
    return _formatted(day, "full" if with_year else _skeleton(manner().locale, "MMMMEEEEd"))


def short_day_text(day: date, *, with_year: bool = False) -> str:
    """For tables and axes: "Mar 31", "31 Mar", "Mar 31, 2026"."""
    return _formatted(day, _skeleton(manner().locale, "yMMMd" if with_year else "MMMd"))


def month_day_text(day: date) -> str:
    """A day without its year: "March 31"."""
    return _formatted(day, _skeleton(manner().locale, "MMMMd"))


def month_text(day: date) -> str:
    """The month a day lies in: "March 2026"."""
    return _formatted(day, _skeleton(manner().locale, "yMMMM"))


def weekday_text(day: date) -> str:
    """The weekday: "Tuesday"."""
    return _formatted(day, "EEEE")


def short_weekday_text(day: date) -> str:
    """The weekday for grids: "Tue"."""
    return _formatted(day, "EEE")


def clock_text(at: time | datetime | Moment) -> str:
    """A clock time: "8:05 AM" or "08:05". Of a moment it is the wall time."""
    if isinstance(at, Moment):
        at = at.wall
    return _clock(at.hour, at.minute, manner())


def clock_on_day_text(at: datetime | Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """Clock time beside the name of the person's day: "8:05 AM", "1:20 AM after midnight".

    The day that is named is the person's. Where the calendar has gone on to the next one the words
    say so, since nobody could tell otherwise which of two nights is meant.
    """
    wall = at.wall if isinstance(at, Moment) else at
    if wall.date() == person_day(wall.replace(tzinfo=None), day_starts_at):
        return clock_text(at)
    return _("{time} after midnight").format(time=clock_text(at))


def moment_text(at: Moment, now: Moment, day_starts_at: time = DAY_STARTS_AT) -> str:
    """Day and clock time: "today at 8:05 AM", "yesterday at 7:30 PM", "March 3 at 8:05 AM".

    Days are the person's: at eight in the morning, twenty past one in the night is "last night at
    1:20 AM". `time.min` counts by the calendar, as copies do.
    """
    day, today = at.day(day_starts_at), now.day(day_starts_at)
    if day == today:
        return _("today at {time}").format(time=clock_text(at))
    clock = clock_on_day_text(at, day_starts_at)
    if day == today - timedelta(days=1):
        if at.wall.date() != day and not sleeps_by_day(day_starts_at):
            return _("last night at {time}").format(time=clock_text(at))
        return _("yesterday at {time}").format(time=clock)
    if day == today + timedelta(days=1):
        return _("tomorrow at {time}").format(time=clock)
    named = month_day_text(day) if day.year == today.year else day_text(day)
    return _("{day} at {time}").format(day=named, time=clock)


def relative_day_text(day: date, today: date) -> str:
    """A day by its distance: "today", "yesterday", "3 days ago", "in 5 days"; far off its date."""
    distance = (day - today).days
    if distance == 0:
        return _("today")
    if distance == -1:
        return _("yesterday")
    if distance == 1:
        return _("tomorrow")
    if abs(distance) > NEAR_DAYS:
        return month_day_text(day) if day.year == today.year else day_text(day)
    if distance < 0:
        return ngettext("{n} day ago", "{n} days ago", -distance).format(n=-distance)
    return ngettext("in {n} day", "in {n} days", distance).format(n=distance)


def duration_text(span: timedelta | int) -> str:
    """A span of time, or whole minutes: "1 hour 15 minutes", "2 days 3 hours".

    Under a minute, "less than 1 minute"; from a day on, minutes are left out. Spans have no sign.
    """
    minutes = abs(span if isinstance(span, int) else int(span / timedelta(minutes=1)))
    days, rest = divmod(minutes, 24 * 60)
    hours, rest = divmod(rest, 60)
    parts = []
    if days:
        parts.append(days_text(days))
    if hours:
        parts.append(ngettext("{n} hour", "{n} hours", hours).format(n=hours))
    if rest and not days:
        parts.append(ngettext("{n} minute", "{n} minutes", rest).format(n=rest))
    return " ".join(parts) or _("less than 1 minute")


def period_text(period: Period, *, with_days: bool = False) -> str:
    """First to last day: "January 1 to March 31, 2026", with "(90 days)" if wanted."""
    if period.first == period.last:
        text = day_text(period.first)
    else:
        same_year = period.first.year == period.last.year
        text = _("{first} to {last}").format(
            first=month_day_text(period.first) if same_year else day_text(period.first),
            last=day_text(period.last),
        )
    if with_days:
        text = _("{period} ({days})").format(period=text, days=days_text(period.days))
    return text


def week_text(week: Period) -> str:
    """A week, or the part of one that is looked at: "Nov 16 to Nov 22"; one day by itself."""
    first, last = short_day_text(week.first), short_day_text(week.last)
    return first if first == last else _("{first} to {last}").format(first=first, last=last)


def minutes_after_text(minutes: int) -> str:
    """How long after the first bite: "2 hours after", "45 minutes after"."""
    return _("{duration} after").format(duration=duration_text(minutes))


def _formatted(day: date, pattern: str) -> str:
    # A datetime is a date too, and Babel would move it to another zone.
    plain = date(day.year, day.month, day.day)
    return plain_spaces(format_date(plain, pattern, locale=find_locale(manner().locale)))


@lru_cache(maxsize=64)
def _skeleton(locale: str, fields: str) -> str:
    found = find_locale(locale).datetime_skeletons
    if fields in found:
        return str(found[fields].pattern)
    # CLDR lets a name be written longer than in the nearest pattern that a locale lists.
    shorter = fields.replace("MMMM", "MMM").replace("EEEE", "E")
    nearest = [listed for listed in (fields.replace("EEEE", "E"), shorter) if listed in found]
    return _in_full(str(found[nearest[0]].pattern)) if nearest else "long"


def _in_full(pattern: str) -> str:
    """The pattern with weekday and month in full where it has them as shortened names."""
    return re.sub(
        r"'[^']*'|E+|c+|MMM+|LLL+",
        lambda run: run[0] if run[0].startswith("'") else run[0][0] * 4,
        pattern,
    )


@lru_cache(maxsize=4096)
def _clock(hour: int, minute: int, written: Manner) -> str:
    locale = find_locale(written.locale)
    pattern = "short"
    if written.has_24_hours != Manner(written.locale).has_24_hours:
        pattern = str(locale.datetime_skeletons["Hm" if written.has_24_hours else "hm"].pattern)
    return plain_spaces(format_time(time(hour, minute), pattern, locale=locale))
