"""What is said of lows one by one and of what followed them, and when none was seen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time

from logbook.domain.low_episodes import LowEpisode, LowEpisodes
from logbook.domain.low_facts import Looked
from logbook.domain.lows import Level, Low, WarningSigns
from logbook.domain.moments import Period
from logbook.wording import _, ngettext
from logbook.wording.dates import (
    clock_on_day_text,
    duration_text,
    short_day_text,
    short_weekday_text,
)
from logbook.wording.numbers import days_text, glucose_text, lows_text, number_text
from logbook.wording.terms import feeling_text


def no_lows_text(period: Period, looked: Looked) -> str:
    """No lows are good news only if someone looked: so it is said how often."""
    return _(
        "No lows seen in {days}. Checks at bedtime: {bedtime}. Between bedtime and waking: {night}."
    ).format(
        days=days_text(period.days),
        bedtime=number_text(looked.checks_at_bedtime),
        night=number_text(looked.checks_at_night),
    )


def followed_sentences(lows: LowEpisodes) -> list[str]:
    """How many there were, how many were checked again, and how long it took."""
    of = lows.rechecked + lows.without_recheck
    if not of:
        return []
    told = [
        _("{lows}. Checked again within 2 hours: {n}.").format(
            lows=lows_text(of), n=number_text(lows.rechecked)
        )
    ]
    if lows.median_minutes_to_recheck is not None:
        told.append(
            _("Middle time until the next check: {time}.").format(
                time=duration_text(round(lows.median_minutes_to_recheck))
            )
        )
    if lows.median_minutes_until_back is not None:
        told.append(
            ngettext(
                "Seen to be over: {n} low, after {time}.",
                "Seen to be over: {n} lows, in the middle after {time}.",
                lows.seen_back,
            ).format(
                n=number_text(lows.seen_back),
                time=duration_text(round(lows.median_minutes_until_back)),
            )
        )
    if lows.longest is not None and lows.seen_back > 1:
        low = lows.longest.low
        told.append(
            _("The longest took {time}, on {day}.").format(
                time=duration_text(low.back_above_69_after_minutes or 0),
                day=short_day_text(low.day),
            )
        )
    return told


def when_text(low: Low, day_starts_at: time, *, with_year: bool = False) -> str:
    """The person's day and clock time of the first sign."""
    day = low.day
    return _("{weekday}, {day}, {time}").format(
        weekday=short_weekday_text(day),
        day=short_day_text(day, with_year=with_year),
        time=clock_on_day_text(low.at, day_starts_at),
    )


def lowest_text(low: Low) -> str:
    """The lowest value with its unit, or that it was felt."""
    return _("felt") if low.value is None else glucose_text(low.value)


def minutes_until_text(minutes: int | None) -> str:
    """Minutes until a check, or that none was seen."""
    return _("not seen") if minutes is None else _("{n} min").format(n=number_text(minutes))


def noted_text(episode: LowEpisode) -> str:
    """Level, warning signs and feelings of one low; empty for nothing."""
    return ", ".join(_noted(episode))


def _noted(episode: LowEpisode) -> Iterator[str]:
    low = episode.low
    if low.help is not None:
        yield _("helped")
    elif low.level is not Level.LOW:
        yield _("very low")
    if low.warning_signs is WarningSigns.NO:
        yield _("no warning")
    yield from (feeling_text(feeling).lower() for feeling in episode.feelings)
