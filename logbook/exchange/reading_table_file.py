"""Reading back the table of readings that an export wrote, with all that stands in it.

Ids and crossings out come back, so that nothing is doubled and nothing crossed out counts again. A
row is refused, never repaired. Rows that a person added in a spreadsheet need a date, a time and a
value; what else they leave empty is not known.
"""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from io import TextIOWrapper
from pathlib import Path
from typing import TextIO
from uuid import UUID

from logbook.domain.errors import CannotRead, LogbookError
from logbook.domain.glucose import Unit
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
from logbook.exchange.diary_file import MOST_READINGS, MOST_REFUSED, FileRead
from logbook.exchange.identity import IdentityGiver
from logbook.exchange.layout_check import check_layout
from logbook.exchange.lines import LONGEST_KEPT_TEXT, Row, open_text, rows
from logbook.exchange.log_tables import READINGS
from logbook.exchange.refusals import LineRefused, Reason, RefusedLine
from logbook.exchange.safe_cells import formula_free
from logbook.exchange.table_cells import ID, MOMENT, ZONE, ZONE_ASSUMED
from logbook.exchange.table_reading import (
    clock_in,
    day_in,
    glucose_in,
    id_in,
    instant_in,
    member_in,
    members_in,
    minutes_in,
    site_in,
)
from logbook.wording import _

_NEEDED = ("date", "time", "glucose (mg/dL)", "glucose (mmol/L)", MOMENT, ID)
_CELL = Callable[[str], str]

# How the table is written, for the reader of lines.
_WRITTEN_AS = check_layout(
    {
        "delimiter": "comma",
        "header": True,
        "unit": Unit.MG_DL.value,
        "columns": {"date": "date", "time": "time", "value": f"glucose ({Unit.MG_DL})"},
        "written": {"date": "%Y-%m-%d", "time": "%H:%M"},
    },
    "",
)

# More than the largest table of readings that is taken in.
_LARGEST_BYTES = 200_000_000

# What a person wrote keeps its spaces.
_FREE_TEXTS = frozenset({"note", "initials", table.CROSSED_OUT_WHY, table.AS_WRITTEN})


def is_reading_table(path: Path) -> bool:
    """Whether the file at `path` is a table of readings of an export, or an archive with one.

    Raises `CannotRead`.
    """
    try:
        with _opened(path) as file:
            row = next(rows(path, file, _WRITTEN_AS), None)
    except CannotRead as error:
        if error.facts.get("why") in ("encoding", "not_text", "archive"):
            return False
        raise
    return row is not None and set(_NEEDED) <= set(row.fields)


@contextmanager
def _opened(path: Path) -> Iterator[TextIO]:
    """The table: the file itself, or what the archive of an export calls by its name."""
    try:
        with zipfile.ZipFile(path) as archive:
            member = archive.getinfo(f"{READINGS}.csv")
            if member.file_size > _LARGEST_BYTES:
                raise CannotRead(path, why="too_large")
            with archive.open(member) as content, TextIOWrapper(content, "utf-8-sig") as file:
                yield file
        return
    except KeyError as error:  # an archive of something else
        raise CannotRead(path, why="not_text") from error
    except (zlib.error, EOFError, RuntimeError, NotImplementedError) as error:
        raise CannotRead(path, why="archive") from error
    except zipfile.BadZipFile as error:
        if zipfile.is_zipfile(path):
            raise CannotRead(path, why="archive") from error
    except OSError:
        pass  # whoever opens it as text tells why it can't be read
    with open_text(path, "utf-8") as file:
        yield file


def read_reading_table(path: Path, home_zone: str, now: datetime) -> FileRead:
    """Read the table. `home_zone` and `now` are for rows that tell no zone or time of writing.

    Meters and earlier readings are named by id; whether the log has them is for the caller to see.
    Raises `CannotRead`.
    """
    readings: list[Reading] = []
    refused: list[RefusedLine] = []
    damaged = 0
    with _opened(path) as file:
        found = rows(path, file, _WRITTEN_AS)
        headings = next(found, None)
        if headings is None:
            raise CannotRead(path, why="empty")
        reader = _RowReader(headings.fields, home_zone, now)
        for row in found:
            try:
                reading = reader.read(row)
            except LineRefused as refusal:
                refused.append(RefusedLine(row.number, refusal.reason, _kept(row.text)))
            else:
                readings += [] if reading is None else [reading]
                damaged += reading is None
            if len(readings) > MOST_READINGS:
                raise CannotRead(path, why="too_many_readings", most=MOST_READINGS)
            if len(refused) > MOST_REFUSED:
                raise CannotRead(path, why="too_many_refused", most=MOST_REFUSED)
    skipped = {_("damaged in the log it came from"): damaged} if damaged else {}
    lines = len(readings) + len(refused) + damaged
    return FileRead(lines, tuple(readings), skipped, tuple(refused))


def _kept(text: str) -> str:
    return text if len(text) <= LONGEST_KEPT_TEXT else text[:LONGEST_KEPT_TEXT] + "…"


class _RowReader:
    """Reads the rows of one table, in their order."""

    def __init__(self, headings: list[str], home_zone: str, now: datetime) -> None:
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

        def cell(heading: str) -> str:
            place = self._places.get(heading)
            if place is None or place >= len(row.fields):
                return ""
            text = formula_free(row.fields[place])
            return text if heading in _FREE_TEXTS else text.strip()

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

    def _moment(self, cell: _CELL) -> Moment:
        day, clock = day_in(cell("date")), clock_in(cell("time"))
        wall = datetime.combine(day, clock)
        zone = cell(ZONE) or self._home_zone
        is_assumed = cell(ZONE_ASSUMED) == "yes" or not cell(ZONE)
        try:
            exact = datetime.fromisoformat(cell(MOMENT)) if cell(MOMENT) else None
            if exact is not None and exact.tzinfo is not None and _is_within(exact, wall):
                shown = exact.replace(tzinfo=None)
                at = Moment(
                    exact.astimezone(UTC),
                    shown,
                    exact.utcoffset() or timedelta(0),
                    zone,
                    is_assumed,
                )
            else:
                at = Moment.from_wall(wall, zone, zone_assumed=is_assumed)
        except (ValueError, OverflowError, LogbookError) as error:
            raise LineRefused(Reason.TIME_MALFORMED) from error
        if at.instant > self._latest:
            raise LineRefused(Reason.DATE_IN_FUTURE)
        return at


def _is_within(exact: datetime, wall: datetime) -> bool:
    """Whether the exact time shows the same minute; else the date or time was changed by hand."""
    return timedelta(0) <= exact.replace(tzinfo=None) - wall < timedelta(minutes=1)
