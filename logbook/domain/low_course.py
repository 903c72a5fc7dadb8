"""One low, whole: how it stands now, told anew from readings, happenings, answers and clock.

Nothing of it is stored, so a crash, a restart or a correction tells it again. What is said at each
stage is for `wording`; lows as they are counted are in `lows`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from enum import StrEnum

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.happenings import Happening
from logbook.domain.low_trail import (
    FORGOTTEN_AFTER,
    SETTLES,
    LowSign,
    LowTrail,
    times_low,
)
from logbook.domain.lows import from_microseconds
from logbook.domain.moments import Moment
from logbook.domain.recheck import RecheckDue, recheck_due_at
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.ticks import TickBook, can_have_lows

# How long the sugar stands before the waiting. Judgement without a source.
SUGAR_FOR = timedelta(minutes=5)
# A due recheck that nobody answers calls out after so long. Judgement without a source.
UNANSWERED_AFTER = timedelta(minutes=10)
# Call for help when it is still low after so many treatments: hypoglycaemia study group on
# treatment, in a secondary copy.
MOST_TREATMENTS = 3
# Before driving, wait so long after recovery: doi 10.1186/s40842-015-0007-3, table 1, read at the
# journal.
RECOVERED_FOR = timedelta(minutes=45)
# Insulin and some tablets make long lows (in a secondary copy); the hours are judgement without a
# source.
WATCH_AFTER = timedelta(hours=1)
WATCH_LAPSES_AFTER = timedelta(hours=3)
# A check so shortly before it was due is that check. Judgement without a source.
EARLY = timedelta(minutes=15)
# Where nothing tells the person's bedtime. Judgement without a source.
BEDTIME = time(21, 0)


class Stage(StrEnum):
    """How a low stands.

    `LOW` and, when a recheck was low again, `STILL_LOW` are the first five minutes: the sugar.
    `WAITING` lasts until the recheck is due, `RECHECK` until it is made or answered. `RECOVERED`
    are the 45 minutes after a value of 70 (3.9) or more; in `WATCHED` a later check is to come or
    due; `OVER` is everything after that, up to 12 hours after the low.
    """

    LOW = "low"
    WAITING = "waiting"
    RECHECK = "recheck"
    STILL_LOW = "still_low"
    RECOVERED = "recovered"
    WATCHED = "watched"
    OVER = "over"

    @property
    def is_open(self) -> bool:
        """Whether a check after the low is due or to come: the page of the low stays."""
        return self in (Stage.LOW, Stage.WAITING, Stage.RECHECK, Stage.STILL_LOW)


@dataclass(frozen=True, slots=True)
class LowCourse:
    """One low as it stands now. Instants are aware, in UTC.

    `about` is the id of its latest sign (a reading or a happening): answers are given about it.
    `low_at` is that sign's instant, `due_at` the instant of the recheck while one is due or to
    come. `times_low` counts the low checks in a row; over 3 treatments have not helped when it is
    4. `is_very_low` is said of the latest sign. `is_unanswered` says that the recheck has waited
    over ten minutes, `is_unanswered_noted` that this was written down. `watch_due_at` is the next
    later check. `signs` are the ids of all signs in this row, oldest first.
    """

    stage: Stage
    about: str
    low_at: datetime
    due_at: datetime | None
    times_low: int
    is_very_low: bool
    is_unanswered: bool
    is_unanswered_noted: bool
    recovered_at: datetime | None
    watch_due_at: datetime | None
    asks_felt_coming: bool
    helped: bool
    signs: tuple[str, ...]

    @property
    def needs_emergency(self) -> bool:
        """Still low after three treatments."""
        return self.stage.is_open and self.times_low > MOST_TREATMENTS

    @property
    def recheck(self) -> RecheckDue | None:
        """The check that is due or to come after the latest sign; None once the low is over."""
        if self.due_at is None or not self.stage.is_open:
            return None
        return RecheckDue(self.about, self.low_at, self.due_at, self.times_low)

    def is_overdue(self, now: datetime) -> bool:
        """Whether the recheck's moment has come."""
        return self.due_at is not None and now >= self.due_at

    def is_watch_due(self, now: datetime) -> bool:
        """Whether the later check's moment has come."""
        return self.watch_due_at is not None and now >= self.watch_due_at


def low_course(
    series: Series,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    now: Moment,
    *,
    settings: LogSettings,
    ticks: TickBook,
    bedtime: time = BEDTIME,
) -> LowCourse | None:
    """The latest low as it stands now; None when there was none lately.

    An open low goes before one that is over. `series` and `happenings` need the last 36 hours and
    the next 12 (a clock that went back must not hide a low); `bedtime` is the person's, on the wall
    clock.
    """
    answers = tuple(answers)
    trail = LowTrail(series, happenings, answers, now.instant)
    sign = trail.open_sign()
    if sign is not None:
        return _open(trail, sign, answers, now.instant)
    sign = trail.latest_sign()
    if sign is None:
        return None
    watch = _Watch(trail, answers, now, settings, ticks, bedtime)
    return _closed(trail, sign, answers, now.instant, watch)


def _open(trail: LowTrail, sign: LowSign, answers: tuple[Answer, ...], now: datetime) -> LowCourse:
    run = trail.run_of(sign)
    times, due_at = times_low(run), recheck_due_at(trail, sign, now)
    if now >= due_at:
        stage = Stage.RECHECK
    elif now - sign.at >= SUGAR_FOR:
        stage = Stage.WAITING
    else:
        stage = Stage.LOW if times == 1 else Stage.STILL_LOW
    about_it = [
        answer
        for answer in answers
        if answer.asked is Asked.RECHECK_DUE and str(answer.about) == sign.id
    ]
    put_off = [answer.at for answer in about_it if answer.said is Said.LATER and answer.at <= now]
    return LowCourse(
        stage=stage,
        about=sign.id,
        low_at=sign.at,
        due_at=due_at,
        times_low=times,
        is_very_low=_is_very_low(sign),
        is_unanswered=now - max([due_at, *put_off]) >= UNANSWERED_AFTER,
        is_unanswered_noted=any(answer.said is Said.NOT_ANSWERED for answer in about_it),
        recovered_at=None,
        watch_due_at=None,
        asks_felt_coming=False,
        helped=trail.is_helped(run),
        signs=tuple(one.id for one in run),
    )


def _closed(
    trail: LowTrail, sign: LowSign, answers: tuple[Answer, ...], now: datetime, watch: _Watch
) -> LowCourse | None:
    run = trail.run_of(sign)
    ids = {one.id for one in run}
    back = next((check for check in trail.checks_after(sign) if not check.is_low), None)
    recovered_at = None if back is None else from_microseconds(back.instant)
    settling = trail.settling_answer(sign)
    settled_at = settling.at if recovered_at is None and settling is not None else recovered_at
    watch_due_at = None if settled_at is None else watch.due_at(settled_at, ids)
    if recovered_at is not None and now - recovered_at < RECOVERED_FOR:
        stage = Stage.RECOVERED
    elif watch_due_at is not None:
        stage = Stage.WATCHED
    elif settled_at is None or now - sign.at > FORGOTTEN_AFTER:
        return None
    else:
        stage = Stage.OVER
    felt_told = any(
        answer.asked is Asked.FELT_LOW_COMING and str(answer.about) in ids for answer in answers
    )
    return LowCourse(
        stage=stage,
        about=sign.id,
        low_at=sign.at,
        due_at=None,
        times_low=times_low(run),
        is_very_low=_is_very_low(sign),
        is_unanswered=False,
        is_unanswered_noted=False,
        recovered_at=recovered_at,
        watch_due_at=watch_due_at,
        asks_felt_coming=recovered_at is not None and not felt_told,
        helped=trail.is_helped(run),
        signs=tuple(one.id for one in run),
    )


def _is_very_low(sign: LowSign) -> bool:
    return sign.check is not None and sign.check.is_very_low


@dataclass(frozen=True, slots=True)
class _Watch:
    """The later checks after a low: one after an hour, one before sleep."""

    trail: LowTrail
    answers: tuple[Answer, ...]
    now: Moment
    settings: LogSettings
    ticks: TickBook
    bedtime: time

    def due_at(self, settled_at: datetime, ids: set[str]) -> datetime | None:
        """The first of them that was neither made nor answered and has not lapsed."""
        day = Moment.at(settled_at, self.now.zone).day(self.settings.day_starts_at)
        if can_have_lows(self.ticks, self.settings, day) is False:
            return None
        checked_at = [
            (from_microseconds(check.instant), check.slot)
            for check in self.trail.checks
            if from_microseconds(check.instant) > settled_at
            and not self.trail.is_ahead(check.instant)
        ]
        answered_at = [
            answer.at
            for answer in self.answers
            if answer.asked is Asked.WATCH_CHECK
            and answer.said in SETTLES
            and str(answer.about) in ids
        ]
        for due, lapses, is_before_sleep in self._planned(settled_at):
            is_made = any(
                at >= due - EARLY or (is_before_sleep and slot in (Slot.BEDTIME, Slot.NIGHT))
                for at, slot in checked_at
            )
            is_answered = any(at >= due - EARLY for at in answered_at)
            if not is_made and not is_answered and self.now.instant < lapses:
                return due
        return None

    def _planned(self, settled_at: datetime) -> Iterator[tuple[datetime, datetime, bool]]:
        """When each is due, when it lapses, and whether it is the one before sleep."""
        in_an_hour = settled_at + WATCH_AFTER
        yield in_an_hour, in_an_hour + WATCH_LAPSES_AFTER, False
        starts_at = self.settings.day_starts_at
        day = Moment.at(settled_at, self.now.zone).day(starts_at)
        tomorrow = day + timedelta(days=1)
        bedtime_day = day if self.bedtime >= starts_at else tomorrow
        bedtime = self._instant(datetime.combine(bedtime_day, self.bedtime))
        # Later than that the check after an hour is the one before sleep.
        if bedtime > in_an_hour:
            yield bedtime, self._instant(datetime.combine(tomorrow, starts_at)), True

    def _instant(self, wall: datetime) -> datetime:
        return Moment.from_wall(wall, self.now.zone).instant
