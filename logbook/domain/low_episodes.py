"""Lows one by one and what followed each: rechecks, how long until it was over, help, feelings.

What a low is, and its minutes, is told by `lows`; counts by level and time of day are in
`low_facts`. Here they are gathered for the provider's list.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import median

from logbook.domain.lows import Low
from logbook.domain.readings import Feeling


@dataclass(frozen=True, slots=True)
class LowEpisode:
    """One low and what was felt in it, each feeling once, in the order of `Feeling`."""

    low: Low
    feelings: tuple[Feeling, ...]


@dataclass(frozen=True, slots=True)
class LowEpisodes:
    """Lows, oldest first, and what followed them.

    `rechecked` had a check after the first sign, `without_recheck` are the others, those that no
    meter showed among them. `seen_back` were seen at 70 (3.9) or more again, and the middle values
    of the minutes are of these alone. `longest` took the most minutes until then; None when none
    was seen back. A low not seen back may have lasted longer.
    """

    episodes: tuple[LowEpisode, ...]
    rechecked: int
    without_recheck: int
    median_minutes_to_recheck: float | None
    seen_back: int
    median_minutes_until_back: float | None
    longest: LowEpisode | None


def low_episodes(
    lows: Iterable[Low], feelings: Mapping[str, tuple[Feeling, ...]] | None = None
) -> LowEpisodes:
    """`lows` with the feelings noted with their readings, by the readings' ids as text."""
    noted = feelings or {}
    episodes = tuple(
        LowEpisode(low, _felt_in(low, noted)) for low in sorted(lows, key=lambda low: low.at)
    )
    to_recheck = [
        low.rechecked_after_minutes
        for low in (episode.low for episode in episodes)
        if low.rechecked_after_minutes is not None
    ]
    until_back = [
        (minutes, episode)
        for episode in episodes
        if (minutes := episode.low.back_above_69_after_minutes) is not None
    ]
    # Of two that took as long the latest is named: it is the one still remembered.
    longest = max(until_back, key=lambda one: (one[0], one[1].low.at), default=None)
    return LowEpisodes(
        episodes=episodes,
        rechecked=len(to_recheck),
        without_recheck=len(episodes) - len(to_recheck),
        median_minutes_to_recheck=median(to_recheck) if to_recheck else None,
        seen_back=len(until_back),
        median_minutes_until_back=median(minutes for minutes, _ in until_back)
        if until_back
        else None,
        longest=None if longest is None else longest[1],
    )


def _felt_in(low: Low, noted: Mapping[str, tuple[Feeling, ...]]) -> tuple[Feeling, ...]:
    felt = {feeling for reading_id in low.reading_ids for feeling in noted.get(reading_id, ())}
    return tuple(feeling for feeling in Feeling if feeling in felt)
