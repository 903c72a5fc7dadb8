"""All readings of a period in columns, the form that figures, pictures and findings take.

Whole `Reading` objects are for lists and grids, a screenful at a time: 73,000 of them take seconds
to build, these columns a fraction of one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, fields
from datetime import UTC, datetime, timedelta
from enum import IntFlag

from logbook.domain.glucose import Unit
from logbook.domain.slots import Purpose, Slot

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)


class Mark(IntFlag):
    """What a list or grid shows beside a number."""

    CROSSED_OUT = 1
    NOT_BELIEVED = 2
    FOREIGN_METER = 4
    DAMAGED = 8
    CORRECTED = 16
    COPIED_FROM_METER = 32
    IMPORTED = 64
    COULD_NOT_WASH = 128
    FELT_SOMETHING = 256
    HAS_NOTE = 512


OUTSIDE_FIGURES = Mark.CROSSED_OUT | Mark.NOT_BELIEVED | Mark.FOREIGN_METER | Mark.DAMAGED


@dataclass(frozen=True, slots=True)
class Series:
    """Columns of equal length in order of instant.

    `instants` are microseconds since 1970 in UTC; `wall_minutes` and `written_minutes` whole
    minutes of wall time since 1970-01-01 00:00 (written: in the zone of the reading);
    `steps` counts the smallest steps of `units` (`LO_STEPS` and `HI_STEPS` for LO and HI);
    `slots` are the slots the readings are judged by (`Reading.judged_slot`).
    `marks` are sums of `Mark`; a reading with any mark of `OUTSIDE_FIGURES` stays outside every
    figure. `ids` are the readings' ids as text, `minutes_after` whole minutes since the first bite
    or None. A damaged reading has steps 0 and must never be shown as a number.
    """

    ids: tuple[str, ...]
    instants: tuple[int, ...]
    wall_minutes: tuple[int, ...]
    written_minutes: tuple[int, ...]
    steps: tuple[int, ...]
    units: tuple[Unit, ...]
    slots: tuple[Slot, ...]
    purposes: tuple[Purpose, ...]
    marks: tuple[int, ...]
    minutes_after: tuple[int | None, ...]
    rechecks_of: tuple[str | None, ...]

    def __len__(self) -> int:
        return len(self.instants)

    def counted(self) -> Iterator[int]:
        """The indices of the readings that take part in figures."""
        outside = int(OUTSIDE_FIGURES)
        return (index for index, marks in enumerate(self.marks) if not marks & outside)

    def before(self, instant: datetime) -> Series:
        """The readings before an aware instant."""
        microseconds = (instant - _EPOCH) // _MICROSECOND
        end = bisect_left(self.instants, microseconds)
        return Series(*(getattr(self, field.name)[:end] for field in fields(self)))

    def without(self, reading_id: str) -> Series:
        """The readings but one, named by its id."""
        if reading_id not in self.ids:
            return self
        place = self.ids.index(reading_id)
        columns = (getattr(self, field.name) for field in fields(self))
        return Series(*(column[:place] + column[place + 1 :] for column in columns))

    def with_mark(self, mark: Mark) -> int:
        """How many readings carry `mark`."""
        wanted = int(mark)  # arithmetic with flags is slow
        return sum(1 for marks in self.marks if marks & wanted)


EMPTY_SERIES = Series((), (), (), (), (), (), (), (), (), (), ())
