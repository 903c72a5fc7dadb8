"""What to look at once more before the readings of a file come into the log.

Nothing is refused or left out for it: two readings of one minute may come from two meters, a wrong
clock, or a line that was typed twice, and only the person can tell. Which readings are new is told
by `exchange.identity`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from logbook.domain.glucose import Glucose, Kind, Unit, converted_steps
from logbook.domain.kit.meters import Meter, own_meters
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.series import Mark, Series

# A crossed-out number was looked at already, a damaged one is none, and a clinic's meter beside the
# own one is meant to be compared.
_APART = int(Mark.CROSSED_OUT | Mark.FOREIGN_METER | Mark.DAMAGED)

# Nobody reads more, and 100,000 kept while the log is copied would fill the memory. Judgement.
NAMED_AT_MOST = 1_000


@dataclass(frozen=True, slots=True)
class SharedMinute:
    """Readings of one minute by the wall clock, of which one at least is new.

    `new` are those the file brings, in the order of the file; `in_log` those that are there.
    """

    at: Moment
    new: tuple[Glucose, ...]
    in_log: tuple[Glucose, ...]


@dataclass(frozen=True, slots=True)
class BeyondMeters:
    """A new number that no meter of the person in use on that day shows as one.

    `limit` is the last number that their meters show on that side, in the meter's own unit.
    """

    at: Moment
    glucose: Glucose
    limit: Glucose
    is_above: bool


@dataclass(frozen=True, slots=True)
class ImportDoubts:
    """Both, in the order of time; of each kind the first 1,000 are named.

    `sharing` counts all new readings that share their minute with another one, be its number the
    same or not; `beyond` counts all that no meter shows.
    """

    shared_minutes: tuple[SharedMinute, ...] = ()
    beyond_meters: tuple[BeyondMeters, ...] = ()
    sharing: int = 0
    beyond: int = 0

    @property
    def names_all_sharing(self) -> bool:
        """Whether every shared minute is named."""
        return sum(len(one.new) for one in self.shared_minutes) == self.sharing

    @property
    def names_all_beyond(self) -> bool:
        """Whether every number beyond the meters is named."""
        return len(self.beyond_meters) == self.beyond


def import_doubts(new: Sequence[Reading], in_log: Series, meters: Iterable[Meter]) -> ImportDoubts:
    """What is doubtful about `new`; `in_log` are the log's readings over the same days.

    Crossed-out and damaged readings, and those of someone else's meter, take no part.
    """
    asked = [
        one for one in new if one.crossed_out is None and not one.is_foreign and not one.is_damaged
    ]
    asked.sort(key=lambda one: one.at.wall)
    shared: list[SharedMinute] = []
    sharing = 0
    for minute in _shared_minutes(asked, in_log):
        sharing += len(minute.new)
        if len(shared) < NAMED_AT_MOST:
            shared.append(minute)
    named: list[BeyondMeters] = []
    beyond = 0
    for number in _beyond_meters(asked, tuple(meters)):
        beyond += 1
        if len(named) < NAMED_AT_MOST:
            named.append(number)
    return ImportDoubts(tuple(shared), tuple(named), sharing, beyond)


# --- two readings in one minute ------------------------------------------------------------------


def _shared_minutes(asked: Sequence[Reading], in_log: Series) -> Iterator[SharedMinute]:
    there = sorted(
        (index for index, marks in enumerate(in_log.marks) if not marks & _APART),
        key=in_log.wall_minutes.__getitem__,
    )
    place = 0
    for minute, group in groupby(asked, key=lambda one: one.at.wall_minute):
        while place < len(there) and in_log.wall_minutes[there[place]] < minute:
            place += 1
        beside = []
        while place < len(there) and in_log.wall_minutes[there[place]] == minute:
            beside.append(there[place])
            place += 1
        together = list(group)
        if len(together) + len(beside) > 1:
            yield SharedMinute(
                together[0].at,
                tuple(one.glucose for one in together),
                tuple(Glucose.of_order(in_log.steps[n], in_log.units[n]) for n in beside),
            )


# --- beyond what the meters show -----------------------------------------------------------------


def _beyond_meters(asked: Sequence[Reading], meters: tuple[Meter, ...]) -> Iterator[BeyondMeters]:
    if not meters:
        return
    named = {meter.id: meter for meter in meters}
    for day, group in groupby(asked, key=lambda one: one.at.wall.date()):
        in_use = own_meters(meters, day)
        for one in group:
            # Without a meter in use on that day nobody knows what it could show.
            known = named.get(one.meter_id) if one.meter_id is not None else None
            found = _beyond(one, in_use if known is None else (known,))
            if found is not None:
                yield found


def _beyond(reading: Reading, meters: tuple[Meter, ...]) -> BeyondMeters | None:
    glucose = reading.glucose
    if glucose.kind is not Kind.NUMBER or not meters:
        return None
    # In each meter's own unit: a number that was converted may be rounded either way.
    steps = [converted_steps(glucose.order_steps, glucose.unit, meter.unit) for meter in meters]
    if all(step > meter.highest for step, meter in zip(steps, meters, strict=True)):
        widest = max(meters, key=lambda meter: _comparable(meter.highest, meter.unit))
        limit = Glucose.number(widest.highest, widest.unit)
        return BeyondMeters(reading.at, glucose, limit, is_above=True)
    if all(step < meter.lowest for step, meter in zip(steps, meters, strict=True)):
        widest = min(meters, key=lambda meter: _comparable(meter.lowest, meter.unit))
        limit = Glucose.number(widest.lowest, widest.unit)
        return BeyondMeters(reading.at, glucose, limit, is_above=False)
    return None


def _comparable(steps: int, unit: Unit) -> int:
    return converted_steps(steps, unit, Unit.MG_DL)
