"""A day of illness: how often to check, and when to ask whether the person is still ill.

What is said on such a day is for `wording`; the person's own sick-day text stands above it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import time, timedelta

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.lows import from_microseconds
from logbook.domain.moments import Moment, wall_on
from logbook.domain.night_work import own_clock
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell, SpellKind

# Where no plan says it. Judgement without a source.
ILL_EVERY_HOURS = 4
# Nobody is asked to wake for it, and the question comes with the morning and with the evening.
# Judgement without a source.
AWAKE_FROM = time(7, 0)
AWAKE_UNTIL = time(22, 0)
EVENING_FROM = time(18, 0)


@dataclass(frozen=True, slots=True)
class SickDay:
    """An illness that goes on.

    `day_number` is 1 on its first day. `every_hours` is how often to check while awake; `is_agreed`
    whether that is the plan's. `next_check_at` is when the next check is due, the past included.
    """

    spell: Spell
    day_number: int
    asks_still_ill: bool
    every_hours: int
    is_agreed: bool
    next_check_at: Moment


def sick_day(
    spells: Iterable[Spell],
    answers: Iterable[Answer],
    series: Series,
    now: Moment,
    *,
    settings: LogSettings,
    plans: Iterable[CheckPlan] = (),
) -> SickDay | None:
    """The illness of this day, or None. `series` needs the last day only.

    "Still ill?" is asked from the second half-day on: once in the morning, once in the evening.
    """
    today = now.day(settings.day_starts_at)
    answers = tuple(answers)
    ill = [
        one
        for one in spells
        if one.kind is SpellKind.ILL and one.covers(today) and not _is_well(one, answers)
    ]
    if not ill:
        return None
    spell = max(ill, key=lambda one: (one.first, str(one.id)))
    in_force = [plan for plan in plans if plan.holds_from <= today]
    plan = max(in_force, key=lambda one: (one.holds_from, one.written_at), default=None)
    agreed = None if plan is None else plan.ill_every_hours
    every_hours = ILL_EVERY_HOURS if agreed is None else agreed
    return SickDay(
        spell=spell,
        day_number=(today - spell.first).days + 1,
        asks_still_ill=_asks(spell, answers, now, settings),
        every_hours=every_hours,
        is_agreed=agreed is not None,
        next_check_at=_next_check(series, now, every_hours, settings.day_starts_at),
    )


def _is_well(spell: Spell, answers: Iterable[Answer]) -> bool:
    """Whether the last answer about it was that it is over."""
    about = [one for one in answers if one.asked is Asked.STILL_ILL and one.about == spell.id]
    return bool(about) and max(about, key=lambda one: one.at).said is Said.NO


def _asks(spell: Spell, answers: Iterable[Answer], now: Moment, settings: LogSettings) -> bool:
    today = now.day(settings.day_starts_at)
    evening = own_clock(EVENING_FROM, settings.day_starts_at)
    morning = own_clock(AWAKE_FROM, settings.day_starts_at)
    is_evening = now.wall >= wall_on(today, evening, settings.day_starts_at)
    if now.wall < wall_on(today, morning, settings.day_starts_at) or (
        spell.first == today and not is_evening
    ):
        return False
    since = wall_on(
        today, evening if is_evening else settings.day_starts_at, settings.day_starts_at
    )
    asked_since = Moment.from_wall(since, now.zone).instant
    return not any(
        answer.asked is Asked.STILL_ILL
        and answer.about == spell.id
        and asked_since <= answer.at <= now.instant
        for answer in answers
    )


def _next_check(series: Series, now: Moment, every_hours: int, day_starts_at: time) -> Moment:
    """So many hours after the last check that counts; in the night, the next morning."""
    made = [
        from_microseconds(series.instants[index])
        for index in series.counted()
        if from_microseconds(series.instants[index]) <= now.instant
    ]
    after = max(made) + timedelta(hours=every_hours) if made else now.instant
    due = Moment.at(after, now.zone)
    day, wakes = due.day(day_starts_at), own_clock(AWAKE_FROM, day_starts_at)
    if due.wall < wall_on(day, wakes, day_starts_at):
        return Moment.from_wall(wall_on(day, wakes, day_starts_at), now.zone)
    if due.wall > wall_on(day, own_clock(AWAKE_UNTIL, day_starts_at), day_starts_at):
        morning = wall_on(day + timedelta(days=1), wakes, day_starts_at)
        return Moment.from_wall(morning, now.zone)
    return due
