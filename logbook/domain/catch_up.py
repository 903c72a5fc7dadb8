"""Catching up: many readings at once, from the meter's memory or from a sheet of paper.

The rows go as a memory goes, the newest first. The meter's clock is put right, rows that are in the
log already are told, and what is left becomes readings. Nothing is known of the finger: it was
pricked, and which one is not noted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from uuid import UUID, uuid4

from logbook.domain.glucose import Glucose
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import DAY_STARTS_AT, Moment
from logbook.domain.readings import Reading, Source
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualTimes

# A reading is written down some minutes after the meter noted it. Judgement without a source.
SAME_WITHIN = timedelta(minutes=15)


class From(StrEnum):
    """Where the rows are copied from."""

    METER = "meter"
    PAPER = "paper"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the time `at` already put right, and whether the log has it.

    `shown` is the wall time as meter or paper shows it. `written` is the reading that is this row.
    `is_about` says that the paper gave no clock time: the time is the usual one of the slot.
    """

    id: UUID
    shown: datetime
    at: Moment
    glucose: Glucose
    slot: Slot
    minutes_after: int | None = None
    note: str = ""
    written: UUID | None = None
    is_about: bool = False

    @property
    def is_new(self) -> bool:
        """Whether it is to be written down."""
        return self.written is None


def put_right(shown: datetime, clock_ahead: timedelta, zone: str) -> Moment:
    """The true moment of a time that a clock showed which runs `clock_ahead` of the right one.

    The offset counts real minutes, so it holds across a change of the clocks as well.
    """
    return Moment.at(Moment.from_wall(shown, zone).instant - clock_ahead, zone)


def day_below(above: datetime | None, clock: time, now: datetime) -> date:
    """The day of a row with this clock time, below the row that shows `above`.

    A memory goes back in time: a time later than the one above it is of the day before. The first
    row lies before `now`, by the wall clock.
    """
    latest = now if above is None else above
    is_earlier = clock <= latest.time()
    return latest.date() if is_earlier else latest.date() - timedelta(days=1)


def time_below(above: datetime | None, usual: UsualTimes, now: datetime) -> time | None:
    """The usual time that comes next, going back from the row above; None where nothing is usual.

    It stands in the field beforehand, to be typed over.
    """
    clocks = sorted({check.at for check in usual.checks}, reverse=True)
    if not clocks:
        return None
    start = (now if above is None else above).time()
    return next((clock for clock in clocks if clock < start), clocks[0])


def new_row(
    shown: datetime,
    glucose: Glucose,
    clock_ahead: timedelta,
    zone: str,
    usual: UsualTimes,
) -> Row:
    """A row as it was typed; what it was for is told from the clock, to be looked at."""
    at = put_right(shown, clock_ahead, zone)
    return Row(uuid4(), shown, at, glucose, usual.slot_at(at) or Slot.OTHER)


def matched(
    rows: Iterable[Row], readings: Sequence[Reading], day_starts_at: time = DAY_STARTS_AT
) -> tuple[Row, ...]:
    """The rows, each with the reading of the log that it is, if there is one.

    It is one of the same value and unit at most 15 minutes away; of a row without a clock time also
    one for the same slot on the same day of the person. Each reading is one row at most; of several
    the nearest pair counts first. Readings that were crossed out count: they are there.
    """
    found = tuple(rows)
    pairs = sorted(
        (abs(row.at.instant - reading.at.instant), place, other)
        for place, row in enumerate(found)
        for other, reading in enumerate(readings)
        if row.glucose == reading.glucose
        and not reading.is_damaged
        and _is_near(row, reading, day_starts_at)
    )
    written: dict[int, UUID] = {}
    taken: set[int] = set()
    for _distance, place, other in pairs:
        if place not in written and other not in taken:
            written[place] = readings[other].id
            taken.add(other)
    return tuple(replace(row, written=written.get(place)) for place, row in enumerate(found))


def _is_near(row: Row, reading: Reading, day_starts_at: time) -> bool:
    if abs(row.at.instant - reading.at.instant) <= SAME_WITHIN:
        return True
    is_same_check = row.is_about and row.slot is reading.slot
    return is_same_check and row.at.day(day_starts_at) == reading.at.day(day_starts_at)


def readings_of(
    rows: Iterable[Row], written_at: datetime, origin: From, meter: Meter | None
) -> list[Reading]:
    """The readings that the new rows become, oldest first; `written_at` is aware."""
    source = Source.COPIED_FROM_METER if origin is From.METER else Source.TYPED
    new = sorted((row for row in rows if row.is_new), key=lambda row: row.at.instant)
    return [
        Reading(
            id=row.id,
            glucose=row.glucose,
            at=row.at,
            written_at=written_at,
            slot=row.slot,
            source=source,
            minutes_after=row.minutes_after if row.slot.is_after_meal else None,
            meter_id=None if meter is None else meter.id,
            site_use=SiteUse.NOT_NOTED,
            note=row.note,
        )
        for row in new
    ]


@dataclass(frozen=True, slots=True)
class Tally:
    """The log's readings of some days beside the number that the meter tells of them."""

    in_log: int
    meter_says: int

    @property
    def missing(self) -> int:
        """How many the meter has and the log has not; below zero for the other way round."""
        return self.meter_says - self.in_log


def tally(readings: Iterable[Reading], meter_says: int) -> Tally:
    """What the meter says beside the log.

    A crossed-out reading is in the meter all the same; someone else's meter has its own memory.
    """
    own = sum(not one.is_foreign for one in readings)
    return Tally(own, meter_says)
