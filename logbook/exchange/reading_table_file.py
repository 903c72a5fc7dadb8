"""Reading back the table of readings that an export wrote, with all that stands in it.

Ids and crossings out come back, so that nothing is doubled and nothing crossed out counts again. A
row is refused, never repaired. Rows that a person added in a spreadsheet need a date, a time and a
value; what else they leave empty is not known.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from uuid import UUID

from logbook.domain.errors import CannotRead
from logbook.domain.moments import Moment
from logbook.domain.readings import (
    CrossedOut,
    Difference,
    Doubt,
    Feeling,
    Reading,
    Source,
)
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.exchange import reading_table as table
from logbook.exchange.diary_file import MOST_READINGS, MOST_REFUSED, TOLD_EVERY, FileRead, Told
from logbook.exchange.earlier_values_file import read_earlier_values
from logbook.exchange.exported_table import Cells, open_table_in
from logbook.exchange.identity import IdentityGiver
from logbook.exchange.lines import Row, kept_text
from logbook.exchange.log_tables import READINGS
from logbook.exchange.refusals import LineRefused, Reason, RefusedLine
from logbook.exchange.table_cells import ID, MOMENT
from logbook.exchange.table_reading import (
    glucose_in,
    id_in,
    instant_in,
    member_in,
    members_in,
    minutes_in,
    moment_in,
    site_in,
)
from logbook.wording import _

_NEEDED = ("date", "time", "glucose (mg/dL)", "glucose (mmol/L)", MOMENT, ID)

# What a person wrote keeps its spaces.
_FREE_TEXTS = frozenset({"note", "initials", table.CROSSED_OUT_WHY, table.AS_WRITTEN})


def is_reading_table(path: Path) -> bool:
    """Whether the file at `path` is a table of readings of an export, or an archive with one.

    Raises `CannotRead`.
    """
    try:
        with open_table_in(path, READINGS) as opened:
            return set(_NEEDED) <= set(opened.headings)
    except CannotRead as error:
        if error.facts.get("why") in ("encoding", "not_text", "archive"):
            return False
        raise


def read_reading_table(
    path: Path, home_zone: str, now: datetime, told: Told | None = None
) -> FileRead:
    """Read the table, and what corrected readings said before where the export lies beside it.

    `home_zone` and `now` are for rows that tell no zone or time of writing; `told` hears how far it
    is, as with `diary_file.read_diary`. Meters and earlier readings are named by id; whether the
    log has them is for the caller to see. Raises `CannotRead`.
    """
    readings: list[Reading] = []
    refused: list[RefusedLine] = []
    damaged = 0
    earlier = read_earlier_values(path, home_zone)
    with open_table_in(path, READINGS) as opened:
        if not opened.headings:
            raise CannotRead(path, why="empty")
        reader = _RowReader(opened.headings, home_zone, now)
        for count, row in enumerate(opened.rows):
            if told is not None and count % TOLD_EVERY == 0:
                told(count, opened.share())
            try:
                reading = reader.read(row)
            except LineRefused as refusal:
                refused.append(RefusedLine(row.number, refusal.reason, kept_text(row.text)))
            else:
                readings += [] if reading is None else [earlier.given_to(reading)]
                damaged += reading is None
            if len(readings) > MOST_READINGS:
                raise CannotRead(path, why="too_many_readings", most=MOST_READINGS)
            if len(refused) > MOST_REFUSED:
                raise CannotRead(path, why="too_many_refused", most=MOST_REFUSED)
    skipped = {_("damaged in the log it came from"): damaged} if damaged else {}
    if earlier.unread:
        skipped[_("earlier value of a corrected reading, not understood")] = earlier.unread
    lines = len(readings) + len(refused) + sum(skipped.values())
    return FileRead(lines, tuple(readings), skipped, tuple(refused))


class _RowReader:
    """Reads the rows of one table, in their order."""

    def __init__(self, headings: tuple[str, ...], home_zone: str, now: datetime) -> None:
        self._places = {heading: place for place, heading in enumerate(headings)}
        self._home_zone = home_zone
        self._now = now
        self._latest = now + timedelta(days=1)
        self._identities = IdentityGiver()
        self._seen: set[UUID] = set()

    def read(self, row: Row) -> Reading | None:
        """The reading of a row; None for one that was damaged where it came from."""
        if row.reason is not None:
            raise LineRefused(row.reason)
        if any(map(str.strip, row.fields[len(self._places) :])):
            raise LineRefused(Reason.TOO_MANY_COLUMNS)

        cell = Cells(self._places, row.fields, _FREE_TEXTS)
        if cell(table.DAMAGED) == "yes":
            return None
        at = self._moment(cell)
        slot = member_in(cell("slot"), Slot) or Slot.OTHER
        glucose = glucose_in(cell)
        site = site_in(cell(table.FINGER))
        unsaid = SiteUse.NOT_NOTED if site is None else SiteUse.USED
        crossed_out_at = instant_in(cell(table.CROSSED_OUT))
        reading = Reading(
            id=id_in(cell(ID)) or UUID(int=0),
            glucose=glucose,
            at=at,
            written_at=instant_in(cell(table.WRITTEN_AT)) or self._now,
            slot=slot,
            purpose=member_in(cell("purpose"), Purpose) or Purpose.PLANNED,
            source=member_in(cell("source"), Source) or Source.IMPORTED,
            minutes_after=minutes_in(cell(table.AFTER)),
            meter_id=id_in(cell(table.METER_ID)),
            is_foreign=cell(table.OTHER_METER) == "yes",
            site=site,
            site_use=member_in(cell(table.FINGER_KNOWN), SiteUse) or unsaid,
            recheck_of=id_in(cell(table.RECHECK_OF)),
            feelings=members_in(cell("feelings"), Feeling),
            differences=members_in(cell("differences"), Difference),
            could_not_wash=cell("could not wash") == "yes",
            note=cell("note"),
            initials=cell("initials"),
            crossed_out=(
                None
                if crossed_out_at is None
                else CrossedOut(crossed_out_at, cell(table.CROSSED_OUT_WHY))
            ),
            doubt=member_in(cell(table.NOT_BELIEVED), Doubt),
        )
        return replace(reading, id=self._identity(reading))

    def _identity(self, reading: Reading) -> UUID:
        """The id in the row; one of time and value where there is none, or it stands twice."""
        if reading.id.int and reading.id not in self._seen:
            self._seen.add(reading.id)
            return reading.id
        return self._identities.give(reading.at, reading.glucose)

    def _moment(self, cell: Cells) -> Moment:
        at = moment_in(cell, self._home_zone)
        if at.instant > self._latest:
            raise LineRefused(Reason.DATE_IN_FUTURE)
        return at
