"""Zones, both clock changes, travel and a clock set wrong: nothing lost, doubled or reordered.

The changes of 2026 were read from the zone data of `tzdata` itself, so the days are not written
down here; what is held against them is plain arithmetic on UTC.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from logbook.book import Book
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from tests.store.records import Clock, make_reading

ZONES = (
    "America/New_York",
    "America/St_Johns",
    "America/Santiago",
    "Europe/London",
    "Europe/Berlin",
    "Africa/Cairo",
    "Asia/Beirut",
    "Australia/Lord_Howe",
    "Australia/Sydney",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Atlantic/Azores",
)
HALF_HOUR = timedelta(minutes=30)


def changes_of(zone: str) -> list[datetime]:
    """The hours of 2026 in which the clocks of a zone change, in UTC."""
    place = ZoneInfo(zone)
    hours = [datetime(2026, 1, 1, tzinfo=UTC) + timedelta(hours=n) for n in range(365 * 24)]
    return [
        one
        for one in hours
        if one.astimezone(place).utcoffset()
        != (one + timedelta(hours=1)).astimezone(place).utcoffset()
    ]


@pytest.mark.parametrize("zone", ZONES)
def test_every_half_hour_around_both_clock_changes_is_kept_in_order(
    tmp_path: Path, zone: str
) -> None:
    changes = changes_of(zone)
    assert len(changes) == 2
    made: list[Reading] = []
    for change in changes:
        for step in range(-6, 10):
            at = Moment.at(change + step * HALF_HOUR, zone)
            made.append(replace(make_reading(len(made) + 1), at=at, written_at=at.instant))
    with Book.create(tmp_path / "a.logbook", LogSettings(home_zone=zone), Clock()) as book:
        # Written down late and out of order, as happens.
        for reading in [*made[1::2], *made[::2]]:
            book.add(reading)
    with Book.open(tmp_path / "a.logbook", Clock(), read_only=True) as book:
        there = book.readings()
        instants = [reading.at.instant for reading in there]
    assert there == made
    assert all(one + HALF_HOUR <= other for one, other in pairwise(instants))
    walls = [reading.at.wall for reading in there]
    # The autumn change shows some wall times twice; each reading still has its own instant.
    assert len(set(instants)) == len(made)
    assert len(set(walls)) < len(made) or zone == "Australia/Lord_Howe"


@pytest.mark.parametrize("jump", [timedelta(days=-365), timedelta(days=5 * 365)])
def test_a_clock_set_wrong_loses_and_reorders_nothing(tmp_path: Path, jump: timedelta) -> None:
    path = tmp_path / "a.logbook"
    begin = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
    clock = Clock(begin)
    with Book.create(path, LogSettings(), clock) as book:
        book.add(make_reading(1))
        clock.at = begin + jump
        book.add(make_reading(2))
        book.cross_out(make_reading(2).id)
        clock.at = begin + timedelta(hours=1)
        book.add(make_reading(3))
    with Book.open(path, clock) as book:
        assert book.check().is_sound
        assert [reading.id for reading in book.readings()] == [
            make_reading(n).id for n in (1, 2, 3)
        ]
        book.undo()
        book.undo()
        assert book.readings() == [make_reading(1), make_reading(2)]
        assert book.check().is_sound


@pytest.mark.parametrize("year", [1970, 2000, 2028, 2038, 2100])
def test_leap_days_and_far_years_are_kept(tmp_path: Path, year: int) -> None:
    # 2028-02-29 and 2000-02-29 are leap days, 2100 has none; 2038 is where 32 bits end.
    first = datetime(year, 2, 27, 23, 30, tzinfo=UTC)
    made = [
        replace(make_reading(n + 1), at=Moment.at(first + n * timedelta(hours=12), "Europe/Berlin"))
        for n in range(8)
    ]
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        for reading in made:
            book.add(reading)
        assert book.readings() == made


def test_travelling_east_and_west_keeps_instants_and_wall_times(tmp_path: Path) -> None:
    zones = ("Europe/London", "Asia/Tokyo", "Pacific/Auckland", "Pacific/Honolulu", "Europe/London")
    begin = datetime(2026, 6, 1, 8, 0, tzinfo=UTC)
    made = [
        replace(make_reading(n + 1), at=Moment.at(begin + n * timedelta(hours=9), zone))
        for n, zone in enumerate(zones)
    ]
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        book.add(*reversed(made))
        there = book.readings()
    assert sorted(there, key=lambda one: one.at.instant) == made
    assert [one.at.wall for one in sorted(there, key=lambda one: one.at.instant)] == [
        (begin + n * timedelta(hours=9)).astimezone(ZoneInfo(zone)).replace(tzinfo=None)
        for n, zone in enumerate(zones)
    ]
