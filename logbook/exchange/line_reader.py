"""What one line of a file says: a reading, a line to leave out, or a reason to refuse it.

A line is refused, never repaired, and the first thing found wrong is the reason: first the columns,
then date and time, then the code, then unit and value, then what else was noted.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime, time, timedelta, timezone

from logbook.domain.errors import (
    DecimalsNotShown,
    ImpossibleGlucose,
    LayoutWrong,
    LogbookError,
    NotANumber,
)
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading, Source
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Slot
from logbook.exchange.identity import IdentityGiver
from logbook.exchange.layout import Layout, number_and_unit, plain_text
from logbook.exchange.lines import Row
from logbook.exchange.note_lines import NoteLine
from logbook.exchange.refusals import LineRefused, Reason
from logbook.exchange.told_offsets import moment_told
from logbook.exchange.written_moments import date_of, offset_of, time_of

# Meters for use at home came in the 1970s. From memory, not checked.
EARLIEST_YEAR = 1970

_ZERO = re.compile(r"0+(?:[.,]0+)?", re.ASCII)
_MINUTES = re.compile(r"[0-9]{1,3}", re.ASCII)


class LineReader:
    """Reads the rows of one file, in their order.

    Raises `LayoutWrong` (heading_missing, heading_twice) when `headings`, the file's first row,
    are not those the layout names.
    """

    def __init__(self, layout: Layout, headings: Row | None, home_zone: str, now: datetime) -> None:
        self._layout = layout
        self._zone = layout.zone or home_zone
        self._is_zone_assumed = not layout.zone
        self._now = now
        self._latest = Moment.at(now + timedelta(days=1), self._zone).wall
        self._identities = IdentityGiver()
        self._places = column_places(layout, headings)
        needed = [
            place
            for column, place in self._places.items()
            if column in ("date", "time", "moment", "value", *layout.skip, *layout.notes)
            or (column == "unit" and layout.unit is None)
        ]
        self._fewest = layout.column_count or max(needed) + 1
        self._most = layout.column_count or (len(_titles(headings)) if headings else None)

    def read(self, row: Row) -> Reading | NoteLine | str:
        """The reading of a row, a line for a note, or the layout's word for a row left out.

        Raises `LineRefused`.
        """
        if row.reason is not None:
            raise LineRefused(row.reason)
        self._check_columns(row.fields)

        def cell(column: str) -> str:
            place = self._places.get(column)
            return (
                row.fields[place].strip() if place is not None and place < len(row.fields) else ""
            )

        at, wall = self._when(row, cell)
        for column, words in self._layout.notes.items():
            word = words.get(plain_text(cell(column)))
            if word is not None:
                return NoteLine(wall, word, " ".join(filter(None, (cell("value"), cell("note")))))
        for column, words in self._layout.skip.items():
            word = words.get(plain_text(cell(column)))
            if word is not None:
                return word
        kinds = self._layout.kinds
        if kinds is not None and plain_text(cell("kind")) not in kinds:
            raise LineRefused(Reason.CODE_UNKNOWN)
        slot = self._slot(cell)
        glucose = self._glucose(cell)
        minutes_after = _minutes(cell("minutes_after"))
        site = self._site(cell("site"))
        if at is None:
            at = Moment.from_wall(wall, self._zone, zone_assumed=self._is_zone_assumed)
        return Reading(
            id=self._identities.give(at, glucose),
            glucose=glucose,
            at=at,
            written_at=self._now,
            slot=slot,
            source=Source.IMPORTED,
            minutes_after=minutes_after,
            site=site,
            site_use=SiteUse.NOT_NOTED if site is None else SiteUse.USED,
            note=cell("note"),
        )

    def _check_columns(self, fields: list[str]) -> None:
        if len(fields) < self._fewest:
            raise LineRefused(Reason.TOO_FEW_COLUMNS)
        # A decimal comma in a file with commas between columns shows itself here.
        if self._most is not None and any(map(str.strip, fields[self._most :])):
            raise LineRefused(Reason.TOO_MANY_COLUMNS)

    def _when(self, row: Row, cell: Callable[[str], str]) -> tuple[Moment | None, datetime]:
        """The clock on the wall, and the moment itself where the file tells its offset to UTC."""
        pattern = self._layout.moment
        if pattern is None or not pattern.has_offset or self._places["moment"] in row.moments:
            return None, self._wall(row, cell)
        parts = pattern.read(cell("moment"))
        day = _day(parts)
        assert parts is not None
        clock, offset = _clock(parts), offset_of(parts)
        if offset is None:
            raise LineRefused(Reason.TIME_IMPOSSIBLE)
        try:
            told = datetime.combine(day, clock, timezone(offset))
            at = moment_told(told, self._zone)
            if not self._is_zone_assumed:  # the layout knows whose clock it was
                at = Moment.at(at.instant, self._zone)
        except (OverflowError, ValueError, LogbookError) as error:
            raise LineRefused(Reason.DATE_IMPOSSIBLE) from error
        if at.wall > self._latest:
            raise LineRefused(Reason.DATE_IN_FUTURE)
        return at, at.wall

    def _wall(self, row: Row, cell: Callable[[str], str]) -> datetime:
        layout = self._layout
        is_together = layout.moment is not None
        date_column, time_column = ("moment", "moment") if is_together else ("date", "time")
        date_pattern, time_pattern = layout.moment or layout.date, layout.moment or layout.time
        assert date_pattern is not None
        assert time_pattern is not None
        known_date = row.moments.get(self._places[date_column])
        known_time = row.moments.get(self._places[time_column])
        if isinstance(known_date, date):
            day = known_date.date() if isinstance(known_date, datetime) else known_date
            _check_year(day)
        else:
            day = _day(date_pattern.read(cell(date_column)))
        if isinstance(known_time, datetime):
            clock = known_time.time()
        elif isinstance(known_time, time):
            clock = known_time
        else:
            clock = _clock(time_pattern.read(cell(time_column)))
        wall = datetime.combine(day, clock)
        if wall > self._latest:
            raise LineRefused(Reason.DATE_IN_FUTURE)
        return wall

    def _slot(self, cell: Callable[[str], str]) -> Slot:
        if "slot" not in self._places:
            return Slot.OTHER
        slot = self._layout.slots.get(plain_text(cell("slot")))
        if slot is None:
            raise LineRefused(Reason.CODE_UNKNOWN)
        return slot

    def _glucose(self, cell: Callable[[str], str]) -> Glucose:
        text, unit_text = self._parted(cell("value"), cell("unit"))
        unit = self._unit(unit_text)
        plain = plain_text(text)
        if plain in self._layout.low_texts:
            return Glucose.reads_low(unit, text)
        if plain in self._layout.high_texts:
            return Glucose.reads_high(unit, text)
        if _ZERO.fullmatch(text):
            raise LineRefused(Reason.GLUCOSE_ZERO)
        try:
            return Glucose.parse(text, unit)
        except NotANumber as error:
            raise LineRefused(Reason.VALUE_NOT_A_NUMBER) from error
        except DecimalsNotShown as error:
            raise LineRefused(Reason.DECIMALS_NOT_SHOWN) from error
        except ImpossibleGlucose as error:
            raise LineRefused(Reason.VALUE_IMPOSSIBLE) from error

    def _parted(self, value: str, unit_text: str) -> tuple[str, str]:
        """The value and its unit, where the unit stands behind the number: "128 mg/dL"."""
        number, behind = number_and_unit(value) or (value, "")
        if plain_text(behind) not in self._layout.units:
            return value, unit_text
        if unit_text and self._unit(unit_text) is not self._unit(behind):
            raise LineRefused(Reason.UNIT_UNKNOWN)
        return number, behind

    def _unit(self, text: str) -> Unit:
        if not text and self._layout.unit is not None:
            return self._layout.unit
        unit = self._layout.units.get(plain_text(text))
        if unit is None:
            raise LineRefused(Reason.UNIT_UNKNOWN)
        return unit

    def _site(self, text: str) -> Site | None:
        if not text:
            return None
        if (site := self._layout.sites.get(plain_text(text))) is not None:
            return site
        try:
            return Site.from_code(plain_text(text))
        except LogbookError as error:
            raise LineRefused(Reason.SITE_UNKNOWN) from error


def column_places(layout: Layout, headings: Row | None) -> dict[str, int]:
    """Which field (from 0) holds which of the layout's columns.

    Raises `LayoutWrong` (heading_missing, heading_twice).
    """
    titles = _titles(headings)
    places = {}
    for column, place in layout.columns.items():
        if isinstance(place, int):
            places[column] = place - 1
            continue
        count = titles.count(place)
        if count == 1:
            places[column] = titles.index(place)
        elif count or column not in layout.optional:
            why = "heading_twice" if count else "heading_missing"
            raise LayoutWrong(layout.name, why=why, key=f"columns.{column}", value=place)
    return places


def _titles(headings: Row | None) -> list[str]:
    titles = [plain_text(title) for title in headings.fields] if headings is not None else []
    while titles and not titles[-1]:
        titles.pop()
    return titles


def _day(parts: dict[str, str] | None) -> date:
    numbers = None if parts is None else date_of(parts)
    if numbers is None:
        raise LineRefused(Reason.DATE_MISSING_OR_MALFORMED)
    try:
        day = date(*numbers)
    except ValueError as error:
        raise LineRefused(Reason.DATE_IMPOSSIBLE) from error
    _check_year(day)
    return day


def _check_year(day: date) -> None:
    if day.year < EARLIEST_YEAR:
        raise LineRefused(Reason.DATE_TOO_EARLY)


def _clock(parts: dict[str, str] | None) -> time:
    if parts is None:
        raise LineRefused(Reason.TIME_MALFORMED)
    numbers = time_of(parts)
    if numbers is None:
        raise LineRefused(Reason.TIME_IMPOSSIBLE)
    return time(*numbers)


def _minutes(text: str) -> int | None:
    if not text:
        return None
    if not _MINUTES.fullmatch(text):
        raise LineRefused(Reason.MINUTES_NOT_A_NUMBER)
    return int(text)
