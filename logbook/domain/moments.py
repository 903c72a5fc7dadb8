"""When: the instant, what the clock on the wall said, the person's own day, and periods of days.

The repeated hour of an autumn clock change makes two instants of one wall time, so instants decide
order and distance; wall time decides the day, the slot and what is shown. No clock is read here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from logbook.domain.errors import BadMoment

EPOCH = datetime(1970, 1, 1)  # noqa: DTZ001  (wall minutes count from here, without a zone)
MINUTES_A_DAY = 24 * 60

# The person's day starts at 04:00 unless they choose another time, so that a check at half past one
# belongs to the evening before. Judgement without a source.
DAY_STARTS_AT = time(4, 0)

_ISO_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment of the person's life.

    `instant` is aware and in UTC; `wall` is what the clock showed, without a zone; `offset` is
    wall minus UTC; `zone` is the IANA name; `zone_assumed` says that the zone was not known and the
    log's home zone was taken (imported files).
    """

    instant: datetime
    wall: datetime
    offset: timedelta
    zone: str
    zone_assumed: bool = False

    def __post_init__(self) -> None:
        if self.instant.tzinfo is None or self.wall.tzinfo is not None:
            raise BadMoment(self.wall, why="zone_missing")
        if self.wall - self.offset != self.instant.astimezone(UTC).replace(tzinfo=None):
            raise BadMoment(self.wall, why="offset_wrong")

    @classmethod
    def at(cls, instant: datetime, zone: str) -> Moment:
        """The moment of an aware instant, as the wall clock in `zone` showed it."""
        utc = instant.astimezone(UTC)
        wall = utc.astimezone(find_zone(zone)).replace(tzinfo=None, fold=0)
        return cls(utc, wall, wall - utc.replace(tzinfo=None), zone)

    @classmethod
    def from_wall(
        cls, wall: datetime, zone: str, *, second_time: bool = False, zone_assumed: bool = False
    ) -> Moment:
        """The moment at which the wall clock in `zone` showed `wall`.

        In the hour that is repeated when clocks go back, `second_time` chooses the later one. A
        time in the hour that is skipped in spring is kept as written, with the offset before the
        change: a diary may hold it, and a diary is never repaired.
        """
        aware = wall.replace(tzinfo=find_zone(zone), fold=1 if second_time else 0)
        offset = aware.utcoffset() or timedelta(0)
        instant = (wall.replace(fold=0) - offset).replace(tzinfo=UTC)
        return cls(instant, wall.replace(fold=0), offset, zone, zone_assumed)

    @property
    def wall_minute(self) -> int:
        """Whole wall-clock minutes since 1970-01-01 00:00, the figure that pictures use."""
        return int((self.wall - EPOCH) // timedelta(minutes=1))

    def day(self, starts_at: time = DAY_STARTS_AT) -> date:
        """The person's day this moment belongs to."""
        return person_day(self.wall, starts_at)

    def minutes_until(self, later: Moment) -> int:
        """Whole elapsed minutes from here to `later` (real time, not wall time)."""
        return int((later.instant - self.instant) // timedelta(minutes=1))


@dataclass(frozen=True, slots=True)
class Period:
    """Whole days of the person, first and last included."""

    first: date
    last: date

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise BadMoment(f"{self.first} - {self.last}", why="period_backwards")

    @classmethod
    def ending(cls, last: date, days: int) -> Period:
        """The `days` days that end with `last`."""
        return cls(last - timedelta(days=days - 1), last)

    @property
    def days(self) -> int:
        """How many days, at least 1."""
        return (self.last - self.first).days + 1

    @property
    def before(self) -> Period:
        """The period of the same length that ends the day before this one begins."""
        return Period.ending(self.first - timedelta(days=1), self.days)

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last

    def __iter__(self) -> Iterator[date]:
        return (self.first + timedelta(days=n) for n in range(self.days))

    def wall_minutes(self, starts_at: time = DAY_STARTS_AT) -> tuple[int, int]:
        """First wall minute of the period and the first one after it (half open)."""
        start = int((datetime.combine(self.first, starts_at) - EPOCH) // timedelta(minutes=1))
        return start, start + self.days * MINUTES_A_DAY


def person_day(wall: datetime, starts_at: time = DAY_STARTS_AT) -> date:
    """The person's day of a wall time: before `starts_at` it is still the day before."""
    return wall.date() if wall.time() >= starts_at else wall.date() - timedelta(days=1)


def wall_on(day: date, at: time, day_starts_at: time) -> datetime:
    """Wall time of a clock time on the person's day."""
    return datetime.combine(day if at >= day_starts_at else day + timedelta(days=1), at)


def wall_told(day: date, at: time, day_starts_at: time, now: datetime) -> datetime:
    """The wall time that is meant by a day and a clock time told at the wall time `now`.

    The day is the person's. "Today at 2:00" told at eight in the morning is the night that is just
    over: the night after today has not come yet.
    """
    meant, by_calendar = wall_on(day, at, day_starts_at), datetime.combine(day, at)
    return by_calendar if by_calendar <= now < meant else meant


def day_of_wall_minute(wall_minute: int, starts_at: time = DAY_STARTS_AT) -> date:
    """The person's day of a wall minute, as `person_day` would tell it."""
    start = starts_at.hour * 60 + starts_at.minute
    return EPOCH.date() + timedelta(days=(wall_minute - start) // MINUTES_A_DAY)


def find_zone(name: str) -> ZoneInfo:
    """The zone of an IANA name. Raises `BadMoment` (why=zone_unknown)."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as error:
        raise BadMoment(name, why="zone_unknown") from error


def parse_day(text: str) -> date:
    """A day written as 2026-03-31. Raises `BadMoment` (date_malformed or date_impossible)."""
    if not _ISO_DAY.fullmatch(text.strip()):
        raise BadMoment(text, why="date_malformed")
    try:
        return date.fromisoformat(text.strip())
    except ValueError as error:
        raise BadMoment(text, why="date_impossible") from error
