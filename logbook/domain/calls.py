"""When to call the provider: what happened, how soon, and whether the person has called.

Derived from readings, happenings and answers; only the answers are records. What counts as a reason
is in `call_reasons`; the sentences are for `wording`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.call_reasons import CallGroup, CallReason, Occurrence, Urgency, occurrences
from logbook.domain.happenings import Happening
from logbook.domain.moments import Moment, Period, person_day
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook

# After so many days a call that nobody answered leaves Write down; page 1 keeps it. Judgement
# without a source.
LAPSES_AFTER_DAYS = 14

# "I called" and "Not now". Whatever else is said leaves the call where it is.
_TAKES_OFF = frozenset({Said.YES, Said.LATER})

_URGENCIES = tuple(Urgency)


@dataclass(frozen=True, slots=True)
class Call:
    """A reason to call.

    `at` is when the latest of it happened, aware, with the offset of the clock on the wall.
    `about` is the id of the record that showed it, which answers are given about; `evidence` are
    the ids of all records behind it, oldest first. `count` says how many lows, near-lows, readings
    or days these are.
    """

    reason: CallReason
    at: datetime
    about: str
    evidence: tuple[str, ...]
    count: int

    @property
    def urgency(self) -> Urgency:
        """How soon to call."""
        return self.reason.urgency

    @property
    def group(self) -> CallGroup:
        """What it is about: lows, near-lows, highs, or being ill."""
        return self.reason.group


@dataclass(frozen=True, slots=True)
class ListedCall:
    """A reason to call and what the person said: `YES` called, `LATER` not now, None not yet."""

    call: Call
    said: Said | None
    answered_at: datetime | None

    @property
    def was_called(self) -> bool:
        """Whether the person said that they called."""
        return self.said is Said.YES


def calls(  # noqa: PLR0913  (a call can arise from every part of the log)
    series: Series,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    settings: LogSettings,
    ticks: TickBook,
    spells: Iterable[Spell],
    targets: TargetBook,
    now: Moment,
    *,
    medicines_changed: Iterable[date] = (),
) -> tuple[Call, ...]:
    """The calls that nobody answered, the most urgent first, then the latest.

    At most one for each reason. Older than 14 days they are left to page 1. `series` and
    `happenings` need 14 days and the 8 before them.
    """
    given = _latest_answers(answers)
    found = occurrences(
        series, happenings, settings, ticks, spells, targets, medicines_changed, answered=given
    )
    today = now.day(settings.day_starts_at)
    still_open = [
        listed.call
        for listed in _listed(found, given)
        if listed.said is None and (today - _day(listed.call, settings)).days <= LAPSES_AFTER_DAYS
    ]
    still_open.sort(key=lambda call: call.at, reverse=True)
    return tuple(sorted(still_open, key=lambda call: _URGENCIES.index(call.urgency)))


def calls_in_period(  # noqa: PLR0913  (the same)
    series: Series,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    settings: LogSettings,
    ticks: TickBook,
    spells: Iterable[Spell],
    targets: TargetBook,
    period: Period,
    *,
    medicines_changed: Iterable[date] = (),
) -> tuple[ListedCall, ...]:
    """The calls of a period and what was said to each, oldest first.

    A call belongs to the person's day on which it arose. `series` and `happenings` need the period
    and the 8 days before it.
    """
    given = _latest_answers(answers)
    found = [
        one
        for one in occurrences(
            series, happenings, settings, ticks, spells, targets, medicines_changed, answered=given
        )
        if person_day(one.at.replace(tzinfo=None), settings.day_starts_at) in period
    ]
    return tuple(sorted(_listed(found, given), key=lambda listed: listed.call.at))


def _latest_answers(answers: Iterable[Answer]) -> dict[str, Answer]:
    """The latest answer that takes a call off, by the id of the record that it is about."""
    latest: dict[str, Answer] = {}
    for answer in answers:
        if answer.asked is Asked.CALLED and answer.said in _TAKES_OFF:
            earlier = latest.get(str(answer.about))
            if earlier is None or (answer.at, str(answer.id)) > (earlier.at, str(earlier.id)):
                latest[str(answer.about)] = answer
    return latest


def _listed(found: Sequence[Occurrence], given: Mapping[str, Answer]) -> Iterator[ListedCall]:
    """One for each reason and answer: what an answer was given about, and what came before it."""
    for reason in CallReason:
        waiting: list[Occurrence] = []
        for occurrence in found:
            if occurrence.reason is not reason:
                continue
            waiting.append(occurrence)
            about = [given[one] for one in occurrence.shown_by if one in given]
            if about:
                answer = max(about, key=lambda one: (one.at, str(one.id)))
                yield ListedCall(_call(reason, waiting), answer.said, answer.at)
                waiting = []
        if waiting:
            yield ListedCall(_call(reason, waiting), None, None)


def _call(reason: CallReason, occurred: Sequence[Occurrence]) -> Call:
    latest = occurred[-1]
    evidence = dict.fromkeys(one for occurrence in occurred for one in occurrence.evidence)
    units = {one for occurrence in occurred for one in occurrence.units}
    return Call(reason, latest.at, latest.about, tuple(evidence), len(units))


def _day(call: Call, settings: LogSettings) -> date:
    return person_day(call.at.replace(tzinfo=None), settings.day_starts_at)
