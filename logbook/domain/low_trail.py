"""The signs of low in a stretch of time, the checks around them, and which sign is still open.

A sign is a low reading that counts, or a low that was only felt. What is due after one is in
`recheck`, how the whole low stands in `low_course`; lows as they are counted are in `lows`.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.happenings import Happening
from logbook.domain.levels import LOW_BELOW, VERY_LOW_BELOW
from logbook.domain.lows import (
    SEPARATE_AFTER_MICROSECONDS,
    from_microseconds,
    to_microseconds,
)
from logbook.domain.series import OUTSIDE_FIGURES, Series
from logbook.domain.slots import Purpose, Slot

# Treat a low, check again after 15 minutes. ADA 2024, summary of the treatment of lows, read at the
# source.
RECHECK_AFTER = timedelta(minutes=15)

# After so long a low is no longer this low: the ordinary next check is due. Judgement without a
# source.
FORGOTTEN_AFTER = timedelta(hours=12)

# A second low number so soon tells nothing about the sugar taken, unless it was made as a recheck.
# Judgement without a source.
SAME_TREATMENT_WITHIN = timedelta(minutes=5)

# Times up to this far ahead are those of a meter whose clock runs fast; further ahead, the
# computer's clock went back. Judgement without a source.
AHEAD = timedelta(minutes=15)

# How far back signs are read: a low of up to 12 hours, and a day in which it may be watched.
_LOOKS_BACK = timedelta(hours=36)

# "Later" and "nobody answered" leave it open.
SETTLES = frozenset({Said.YES, Said.NO})


@dataclass(frozen=True, slots=True)
class Check:
    """A reading that counts. `instant` is in microseconds, as in `Series`."""

    instant: int
    id: str
    slot: Slot
    is_low: bool
    is_very_low: bool
    is_recheck: bool
    recheck_of: str | None


@dataclass(frozen=True, slots=True)
class LowSign:
    """One sign. `check` is None where no meter showed it; `id` is of the reading or happening."""

    instant: int
    id: str
    check: Check | None
    is_helped: bool = False

    @property
    def at(self) -> datetime:
        """Its instant, in UTC."""
        return from_microseconds(self.instant)

    @property
    def order(self) -> tuple[int, bool, str]:
        """Its place among signs, whatever the order in which they were written down."""
        # Of one minute the number comes last: it is what the low is known by.
        return self.instant, self.check is not None, self.id


class LowTrail:
    """The checks and signs from 36 hours before an instant to 12 hours after it.

    Later ones than the instant are there when the clock went back; a low is not lost by that.
    """

    def __init__(
        self,
        series: Series,
        happenings: Iterable[Happening],
        answers: Iterable[Answer],
        now: datetime,
    ) -> None:
        self._ahead_from = to_microseconds(now + AHEAD)
        self._forgotten_before = to_microseconds(now - FORGOTTEN_AFTER)
        since, until = to_microseconds(now - _LOOKS_BACK), to_microseconds(now + FORGOTTEN_AFTER)
        self.checks = _checks(series, since, until)
        happenings = [one for one in happenings if one.counts]
        self.signs = _signs(self.checks, happenings, since, until)
        self._helped_about = {str(one.about) for one in happenings if one.what.is_helped}
        self._made_of: dict[str, list[Check]] = {}
        for check in _checks(series, None, None):
            if check.recheck_of is not None:
                self._made_of.setdefault(check.recheck_of, []).append(check)
        self._last_said: dict[str, Answer] = {}
        for answer in answers:
            if answer.asked is Asked.RECHECK_DUE:
                earlier = self._last_said.get(str(answer.about))
                if earlier is None or (answer.at, str(answer.id)) > (earlier.at, str(earlier.id)):
                    self._last_said[str(answer.about)] = answer

    def open_sign(self) -> LowSign | None:
        """The latest sign after which a check is due still; None when there is none."""
        still_open = (
            sign
            for sign in reversed(self.signs)
            if sign.instant >= self._forgotten_before and not self._is_settled(sign)
        )
        return next(still_open, None)

    def latest_sign(self) -> LowSign | None:
        """The latest sign by the clock as it stands now, open or not."""
        behind = (sign for sign in reversed(self.signs) if not self.is_ahead(sign.instant))
        return next(behind, self.signs[-1] if self.signs else None)

    def is_ahead(self, instant: int) -> bool:
        """Whether a time lies so far ahead that the clock must have gone back."""
        return instant > self._ahead_from

    def checks_after(self, sign: LowSign) -> list[Check]:
        """The checks made after a sign, or made as its recheck, in order of time."""
        told = self._made_of.get(sign.id, [])
        later = [
            check
            for check in self.checks
            if check.instant > sign.instant and self._same_clock(sign.instant, check.instant)
        ]
        return sorted({*told, *later}, key=lambda check: (check.instant, check.id))

    def settling_answer(self, sign: LowSign) -> Answer | None:
        """The answer that settles it: about this sign or one that came after it."""
        given = [
            self._last_said[later.id]
            for later in self.signs
            if later.id in self._last_said
            and later.order >= sign.order
            and self._same_clock(sign.instant, later.instant)
        ]
        settling = [answer for answer in given if answer.said in SETTLES]
        return min(settling, key=lambda answer: (answer.at, str(answer.id)), default=None)

    def run_of(self, sign: LowSign) -> tuple[LowSign, ...]:
        """The signs in a row that end with this one: no recovery and no two hours between them."""
        run = [sign]
        while (before := self._before(run[-1], run)) is not None:
            run.append(before)
        return tuple(reversed(run))

    def is_helped(self, run: Iterable[LowSign]) -> bool:
        """Whether someone had to help in it."""
        return any(sign.is_helped or sign.id in self._helped_about for sign in run)

    def _is_settled(self, sign: LowSign) -> bool:
        return bool(self.checks_after(sign)) or self.settling_answer(sign) is not None

    def _same_clock(self, instant: int, later: int) -> bool:
        """Whether a later time was not told by a clock that has gone back since."""
        return not self.is_ahead(later) or self.is_ahead(instant)

    def _before(self, sign: LowSign, run: list[LowSign]) -> LowSign | None:
        place = self.signs.index(sign)
        before = self.signs[place - 1] if place else None
        told = None if sign.check is None else sign.check.recheck_of
        linked = next((one for one in self.signs if one.id == told), None)
        if linked is not None and linked.order > sign.order:
            before = linked  # the clock went back between the two
        if before is None or before in run:
            return None
        if abs(sign.instant - before.instant) > SEPARATE_AFTER_MICROSECONDS:
            return None
        recovered = any(
            not check.is_low and check.instant < sign.instant for check in self.checks_after(before)
        )
        return None if recovered else before


def times_low(run: Iterable[LowSign]) -> int:
    """How often in a row it was low: 1 for the first sign, 2 when the first sugar did not help."""
    times = 0
    before: LowSign | None = None
    for sign in run:
        is_recheck = sign.check is not None and sign.check.is_recheck
        if before is None or is_recheck or abs(sign.at - before.at) > SAME_TREATMENT_WITHIN:
            times += 1
        before = sign
    return times


def check_at(series: Series, index: int) -> Check:
    """The reading at a place of the series, as a check."""
    steps, unit, recheck_of = series.steps[index], series.units[index], series.rechecks_of[index]
    return Check(
        instant=series.instants[index],
        id=series.ids[index],
        slot=series.slots[index],
        is_low=steps < LOW_BELOW[unit],
        is_very_low=steps < VERY_LOW_BELOW[unit],
        is_recheck=series.purposes[index] is Purpose.RECHECK or recheck_of is not None,
        recheck_of=recheck_of,
    )


def _checks(series: Series, since: int | None, until: int | None) -> list[Check]:
    start = 0 if since is None else bisect_left(series.instants, since)
    end = len(series) if until is None else bisect_right(series.instants, until)
    outside = int(OUTSIDE_FIGURES)
    return [
        check_at(series, index) for index in range(start, end) if not series.marks[index] & outside
    ]


def _signs(
    checks: Iterable[Check], happenings: Iterable[Happening], since: int, until: int
) -> list[LowSign]:
    signs = [LowSign(check.instant, check.id, check) for check in checks if check.is_low]
    low_ids = {sign.id for sign in signs}
    for happening in happenings:
        instant = to_microseconds(happening.at.instant)
        is_own_low = happening.what.is_low and str(happening.about) not in low_ids
        if is_own_low and since <= instant <= until:
            helped = happening.what.is_helped
            signs.append(LowSign(instant, str(happening.id), None, helped))
    return sorted(signs, key=lambda sign: sign.order)
