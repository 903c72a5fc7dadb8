"""The table of readings: what an export writes of them.

How it is read back is in `reading_table_file`; both go by the headings here. A reading that was
corrected stands here as it is now; what it said before has a table of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

from logbook.domain.readings import Earlier, Reading
from logbook.exchange.table_cells import (
    ID,
    Column,
    field_columns,
    offset_columns,
    value_columns,
    wall_columns,
)

COUNTS = "counts in figures"
AFTER = "after the first bite (minutes)"
FINGER, FINGER_KNOWN = "finger", "finger known"
OTHER_METER = "meter of others"
NOT_BELIEVED = "not believed"
CROSSED_OUT, CROSSED_OUT_WHY = "crossed out at (UTC)", "crossed out because"
RECHECK_OF = "recheck of"
METER_ID = "meter id"
WRITTEN_AT = "written at (UTC)"
AS_WRITTEN = "glucose as written"
DAMAGED = "damaged"
CORRECTED_AT, CORRECTED_WHY = "corrected at (UTC)", "reason"
OF_READING = "reading"


def reading_columns(meter_names: Mapping[UUID, str]) -> list[Column]:
    """The columns of a reading; `meter_names` are by id."""
    return [
        *wall_columns(lambda reading: reading.at),
        *value_columns("glucose", _glucose)[:2],
        Column(COUNTS, lambda reading: reading.counts),
        Column("slot", lambda reading: reading.slot),
        Column(AFTER, lambda reading: reading.minutes_after),
        Column("purpose", lambda reading: reading.purpose),
        Column(FINGER, lambda reading: reading.site),
        Column(FINGER_KNOWN, lambda reading: reading.site_use),
        Column("feelings", lambda reading: reading.feelings),
        Column("differences", lambda reading: reading.differences),
        Column("could not wash", lambda reading: reading.could_not_wash),
        Column("note", lambda reading: reading.note),
        Column("initials", lambda reading: reading.initials),
        Column("meter", lambda reading: meter_names.get(reading.meter_id, "")),
        Column(OTHER_METER, lambda reading: reading.is_foreign),
        Column(NOT_BELIEVED, lambda reading: reading.doubt),
        Column(CROSSED_OUT, lambda reading: reading.crossed_out and reading.crossed_out.at),
        Column(CROSSED_OUT_WHY, lambda reading: reading.crossed_out and reading.crossed_out.reason),
        Column("corrections", lambda reading: len(reading.earlier)),
        Column("source", lambda reading: reading.source),
        Column(WRITTEN_AT, lambda reading: reading.written_at),
        Column(AS_WRITTEN, lambda reading: reading.glucose.written),
        Column(RECHECK_OF, lambda reading: reading.recheck_of),
        Column(METER_ID, lambda reading: reading.meter_id),
        *offset_columns(lambda reading: reading.at),
        Column(DAMAGED, lambda reading: reading.is_damaged),
        Column(ID, lambda reading: reading.id),
    ]


def _glucose(reading: Reading) -> object:
    """The value, but for a damaged reading: what may be left of it is no number."""
    return None if reading.is_damaged else reading.glucose


@dataclass(frozen=True, slots=True)
class EarlierValue:
    """What a reading said before it was corrected, with the reading's id."""

    earlier: Earlier
    of: UUID


def earlier_columns() -> list[Column]:
    """The columns of what a reading said before."""
    inner = field_columns(Earlier)
    return [
        *(
            Column(column.heading, lambda row, column=column: column.value(row.earlier))  # type: ignore[misc]
            for column in inner
        ),
        Column(OF_READING, lambda row: row.of),
    ]
