"""Reading back what corrected readings said before, from the table that an export writes of it.

It lies in the same archive as the readings, or in the folder beside their file. A row that is not
understood is counted and left out; the reading it belongs to is taken in all the same.
"""

from __future__ import annotations

import zipfile
from collections import defaultdict
from dataclasses import dataclass, replace
from pathlib import Path
from uuid import UUID

from logbook.domain.errors import CannotRead
from logbook.domain.readings import Earlier, Reading
from logbook.domain.slots import Slot
from logbook.exchange.diary_file import MOST_READINGS
from logbook.exchange.exported_table import Cells, ExportedTable, is_spreadsheet, open_table_in
from logbook.exchange.lines import Row
from logbook.exchange.log_export import folder_of_others
from logbook.exchange.log_tables import EARLIER_VALUES
from logbook.exchange.reading_table import AS_WRITTEN, CORRECTED_AT, CORRECTED_WHY, OF_READING
from logbook.exchange.refusals import LineRefused, Reason
from logbook.exchange.table_reading import (
    glucose_in,
    id_in,
    instant_in,
    member_in,
    moment_in,
)

_FREE_TEXTS = frozenset({CORRECTED_WHY, AS_WRITTEN})


@dataclass(frozen=True, slots=True)
class EarlierValues:
    """What readings said before, by their ids, oldest first; `unread` rows were not understood."""

    by_reading: dict[UUID, tuple[Earlier, ...]]
    unread: int = 0

    def given_to(self, reading: Reading) -> Reading:
        """The reading with what it said before."""
        earlier = self.by_reading.get(reading.id)
        return reading if earlier is None else replace(reading, earlier=earlier)


def read_earlier_values(readings: Path, home_zone: str) -> EarlierValues:
    """What lies with the table of readings at `readings`; nothing where nothing does.

    Raises `CannotRead` where it is there and can't be read: its past would be lost unsaid.
    """
    if zipfile.is_zipfile(readings) and not is_spreadsheet(readings):
        path = readings
    else:
        path = folder_of_others(readings) / f"{EARLIER_VALUES}.csv"
        if not path.exists():
            return EarlierValues({})
    try:
        with open_table_in(path, EARLIER_VALUES) as opened:
            return _values_in(path, opened, home_zone)
    except CannotRead as error:
        if path == readings and error.facts.get("why") == "not_text":  # the readings alone
            return EarlierValues({})
        raise


def _values_in(path: Path, opened: ExportedTable, home_zone: str) -> EarlierValues:
    places = {heading: place for place, heading in enumerate(opened.headings)}
    found: defaultdict[UUID, list[Earlier]] = defaultdict(list)
    unread = 0
    for count, row in enumerate(opened.rows):
        if count == MOST_READINGS:
            raise CannotRead(path, why="too_many_readings", most=MOST_READINGS)
        try:
            of, earlier = _value(row, places, home_zone)
        except LineRefused:
            unread += 1
        else:
            found[of].append(earlier)
    return EarlierValues({of: tuple(values) for of, values in found.items()}, unread)


def _value(row: Row, places: dict[str, int], home_zone: str) -> tuple[UUID, Earlier]:
    if row.reason is not None:
        raise LineRefused(row.reason)
    cell = Cells(places, row.fields, _FREE_TEXTS)
    of, corrected_at = id_in(cell(OF_READING)), instant_in(cell(CORRECTED_AT))
    if of is None or corrected_at is None:
        raise LineRefused(Reason.TOO_FEW_COLUMNS)
    slot = member_in(cell("slot"), Slot) or Slot.OTHER
    at = moment_in(cell, home_zone)
    return of, Earlier(glucose_in(cell), at, slot, corrected_at, cell(CORRECTED_WHY))
