"""Lows one by one and what followed each of them."""

from __future__ import annotations

from datetime import date

from logbook.domain.happenings import Happening, What
from logbook.domain.low_episodes import LowEpisodes, low_episodes
from logbook.domain.lows import Level, find_lows
from logbook.domain.moments import Period
from logbook.domain.readings import Feeling, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose
from tests.domain.series_of import happening, reading, series_of

_MARCH = Period(date(2026, 3, 1), date(2026, 3, 31))


def _episodes(
    *readings: Reading,
    happenings: tuple[Happening, ...] = (),
    feelings: dict[str, tuple[Feeling, ...]] | None = None,
) -> LowEpisodes:
    lows = find_lows(series_of(readings), LogSettings(), happenings, (), _MARCH)
    return low_episodes(lows, feelings)


def test_what_followed_each_low() -> None:
    first = reading("2026-03-01 12:00", "62")
    still = reading("2026-03-01 12:15", "58", purpose=Purpose.RECHECK, recheck_of=first)
    alone = reading("2026-03-20 13:00", "50")
    told = _episodes(
        first,
        still,
        reading("2026-03-01 12:32", "88", purpose=Purpose.RECHECK, recheck_of=first),
        reading("2026-03-10 12:00", "65"),
        reading("2026-03-10 12:20", "90", purpose=Purpose.RECHECK),
        alone,
        happenings=(happening("2026-03-25 18:00", What.NEEDED_HELP),),
        feelings={
            str(first.id): (Feeling.SWEATY, Feeling.SHAKY),
            str(still.id): (Feeling.SHAKY, Feeling.CONFUSED),
        },
    )
    days = [episode.low.day.day for episode in told.episodes]
    levels = [episode.low.level for episode in told.episodes]
    assert days == [1, 10, 20, 25]
    assert levels == [Level.LOW, Level.LOW, Level.VERY_LOW, Level.HELPED]
    # Minutes: 15 and 20 to the first recheck, 32 and 20 until 70 or above was seen.
    assert (told.rechecked, told.without_recheck) == (2, 2)
    assert told.median_minutes_to_recheck == 17.5
    assert (told.seen_back, told.median_minutes_until_back) == (2, 26)
    assert told.longest is told.episodes[0]
    assert told.episodes[0].feelings == (Feeling.SHAKY, Feeling.SWEATY, Feeling.CONFUSED)
    assert told.episodes[2].feelings == ()


def test_lows_that_nobody_followed_have_no_minutes() -> None:
    told = _episodes(reading("2026-03-01 12:00", "62"), reading("2026-03-05 12:00", "LO"))
    assert (told.rechecked, told.without_recheck, told.seen_back) == (0, 2, 0)
    assert told.median_minutes_to_recheck is None
    assert told.median_minutes_until_back is None
    assert told.longest is None


def test_of_two_as_long_the_latest_is_named() -> None:
    told = _episodes(
        reading("2026-03-01 12:00", "62"),
        reading("2026-03-01 12:20", "90"),
        reading("2026-03-05 12:00", "62"),
        reading("2026-03-05 12:20", "90"),
    )
    assert told.longest is told.episodes[1]


def test_no_lows_are_no_episodes() -> None:
    told = _episodes(reading("2026-03-01 12:00", "120"))
    assert (told.episodes, told.rechecked, told.without_recheck, told.longest) == ((), 0, 0, None)
