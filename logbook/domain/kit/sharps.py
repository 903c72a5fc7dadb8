"""The sharps container: how much went in by the count, never how full it is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.lancets import LancetChange, LancetHabit
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings

# From this share of the capacity on, the person is asked to look at the fill line. Judgement
# without a source; that a container is closed at three quarters is the FDA's advice (in a copy).
LOOK_FROM_THIRDS = 2


@dataclass(frozen=True, slots=True)
class SharpsContainer:
    """One container.

    `capacity` is how many sharps it holds up to its fill line, as the person set it. `counted` are
    sharps that were in it when counting began. `closed_on` and `handed_in_on` are None until then.
    """

    id: UUID
    started_on: date
    written_at: datetime
    capacity: int | None = None
    counted: int = 0
    closed_on: date | None = None
    handed_in_on: date | None = None
    note: str = ""


class SharpsState(StrEnum):
    """How a container stands by the count: never that it is full, only that it is time to look."""

    COUNTING = "counting"
    NO_CAPACITY = "no_capacity"
    LOOK = "look"
    CLOSED = "closed"
    HANDED_IN = "handed_in"


@dataclass(frozen=True, slots=True)
class SharpsCount:
    """What went into a container by the count; `total` includes what was in it at the start."""

    container: SharpsContainer
    lancets: int
    pen_needles: int
    total: int
    state: SharpsState


def container_in_use(containers: Iterable[SharpsContainer]) -> SharpsContainer | None:
    """The container that is neither closed nor handed in; of several the one started last."""
    in_use = [one for one in containers if one.closed_on is None and one.handed_in_on is None]
    return max(in_use, key=lambda one: (one.started_on, one.written_at), default=None)


def sharps_count(
    container: SharpsContainer,
    changes: Iterable[LancetChange],
    punctured_at: Iterable[Moment],
    settings: LogSettings,
    today: date,
) -> SharpsCount:
    """Lancets and pen needles since a container was started, to the day it was closed, or today.

    With a new lancet for every check each puncture throws one away, else each change on record.
    Pen needles are so many a day, the first and the last day included. Both go by the habit and
    the number set now.
    """
    last = min(container.closed_on or today, container.handed_in_on or today, today)
    if settings.lancet_habit is LancetHabit.NEW_EACH_TIME:
        thrown_away = list(punctured_at)
    else:
        thrown_away = [change.at for change in changes]
    days = [moment.day(settings.day_starts_at) for moment in thrown_away]
    lancets = sum(1 for day in days if container.started_on <= day <= last)
    needles = settings.pen_needles_a_day * max(0, (last - container.started_on).days + 1)
    total = container.counted + lancets + needles
    return SharpsCount(container, lancets, needles, total, _state(container, total))


def _state(container: SharpsContainer, total: int) -> SharpsState:
    if container.handed_in_on is not None:
        return SharpsState.HANDED_IN
    if container.closed_on is not None:
        return SharpsState.CLOSED
    if container.capacity is None:
        return SharpsState.NO_CAPACITY
    is_time = total * 3 >= container.capacity * LOOK_FROM_THIRDS
    return SharpsState.LOOK if is_time else SharpsState.COUNTING
