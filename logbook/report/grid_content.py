"""What the grid's rows hold, before it is known how wide each column is.

Every reading becomes a cell and every clock time a word once; columns and pages are laid out from
these by `grid_layout`, and drawn by `grid`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time, timedelta
from functools import cache

from logbook.domain.day_grid import DayGrid, GridRow, is_off_usual_time, is_written_later
from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening
from logbook.domain.moments import MINUTES_A_DAY
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot
from logbook.domain.summary import Summary
from logbook.domain.turning_points import TurningPoint
from logbook.report.cells import Cell, Cells
from logbook.report.fonts import Faces
from logbook.wording import _, mark
from logbook.wording.dates import clock_text, short_day_text, short_weekday_text
from logbook.wording.terms import slot_phrase, what_text

# From so many empty days in a row on, a grid of every day says so in one line.
LONG_GAP_DAYS = 14

_PURPOSE_WORD = {
    Purpose.RECHECK: mark("recheck"),
    Purpose.REPEAT: mark("tested again"),
    Purpose.FELT_SOMETHING: mark("felt something"),
    Purpose.BEFORE_DRIVING: mark("before driving"),
}


@dataclass(frozen=True, slots=True)
class Word:
    """A word of the last column; `cell` when it is a reading."""

    shown: str
    width: float
    cell: Cell | None = None


@dataclass(frozen=True, slots=True)
class SlotCell:
    """A reading in its column, with its clock time when that is unusual."""

    cell: Cell
    time: Word | None


@dataclass(frozen=True, slots=True)
class ContentRow:
    """One day, or a stretch of empty ones from `day` on for `gap_days` days."""

    day: date
    day_word: Word
    cells: dict[Slot, SlotCell]
    others: tuple[Word, ...]
    gap_days: int = 0


@dataclass(frozen=True, slots=True)
class GridSource:
    """What the domain says about the grid's days.

    `summary` is of these days alone, for the foot; `notes_below` tells what corrected readings
    said before; with `joins_gaps` a long stretch of empty days is one line; `in_question` are the
    ids of readings that strips or control tests put in question.
    """

    series: Series
    grid: DayGrid
    summary: Summary
    day_starts_at: time
    points: tuple[TurningPoint, ...]
    notes_below: str
    joins_gaps: bool
    in_question: frozenset[str] = frozenset()


class GridContent:
    """The whole grid in words and cells; `points_on` are the changes by day."""

    def __init__(self, faces: Faces, size: float, source: GridSource) -> None:
        series, grid, summary = source.series, source.grid, source.summary
        self.faces = faces
        self.size = size
        self.summary = summary
        self.unit: Unit = summary.unit
        self.grid = grid
        self.notes_below = source.notes_below
        self.cells = Cells(faces, series, summary.unit, size, source.in_question)
        self.points_on: dict[date, list[TurningPoint]] = {}
        for point in source.points:
            self.points_on.setdefault(point.day, []).append(point)
        self._series = series
        self._day_starts_at = source.day_starts_at
        self._joins_gaps = source.joins_gaps
        self._times: dict[int, Word] = {}
        self._words: dict[str, Word] = {}
        crosses_years = summary.period.first.year != summary.period.last.year
        self._has_years = crosses_years and source.joins_gaps
        self.rows = tuple(self._make_rows())
        self.has_others = any(row.others for row in self.rows)

    def word(self, text: str) -> Word:
        """A word at the grid's size."""
        found = self._words.get(text)
        if found is None:
            found = self._words[text] = Word(
                self.faces.shown_line(text, self.size), self.faces.width(text, self.size)
            )
        return found

    def _make_rows(self) -> Iterator[ContentRow]:
        empty: list[GridRow] = []
        for row in self.grid.rows:
            if self._joins_gaps and row.is_empty and row.day not in self.points_on:
                empty.append(row)
                continue
            yield from self._empty_rows(empty)
            empty = []
            yield self._row(row)
        yield from self._empty_rows(empty)

    def _empty_rows(self, rows: list[GridRow]) -> Iterator[ContentRow]:
        if len(rows) >= LONG_GAP_DAYS:
            first = rows[0].day
            yield ContentRow(first, self._day_word(first), {}, (), len(rows))
        else:
            yield from map(self._row, rows)

    def _row(self, row: GridRow) -> ContentRow:
        series, starts_at, cells = self._series, self._day_starts_at, self.cells
        of_slots = {}
        for slot, index in row.cells.items():
            wall = series.wall_minutes[index]
            unusual = is_off_usual_time(self.grid, slot, wall, starts_at)
            of_slots[slot] = SlotCell(
                cells.cell(index, is_late=is_written_later(series, index, starts_at)),
                self._time(wall) if unusual else None,
            )
        others = self._others(row) if row.others or row.happenings else ()
        return ContentRow(row.day, self._day_word(row.day), of_slots, others)

    def _time(self, wall_minute: int) -> Word:
        minute = wall_minute % MINUTES_A_DAY
        found = self._times.get(minute)
        if found is None:
            hours, minutes = divmod(minute, 60)
            found = self._times[minute] = self.word(clock_text(time(hours, minutes)))
        return found

    def _others(self, row: GridRow) -> tuple[Word, ...]:
        series = self._series
        items: list[tuple[int, int | Happening]] = [
            (series.instants[index], index) for index in row.others
        ]
        for happening in row.happenings:
            instant = happening.at.instant
            items.append((int(instant.timestamp()) * 1_000_000, happening))
        words: list[Word] = []
        items.sort(key=lambda item: item[0])
        for number, (_instant, item) in enumerate(items):
            if number:
                words.append(self.word("·"))
            if isinstance(item, Happening):
                words.extend(self._happening_words(item))
            else:
                words.extend(self._reading_words(item))
        return tuple(words)

    def _reading_words(self, index: int) -> list[Word]:
        series = self._series
        is_late = is_written_later(series, index, self._day_starts_at)
        cell = self.cells.cell(index, is_late=is_late)
        words = [
            self._time(series.wall_minutes[index]),
            Word(cell.shown, cell.width, cell),
        ]
        purpose, slot = series.purposes[index], series.slots[index]
        if purpose in _PURPOSE_WORD:
            text = _(_PURPOSE_WORD[purpose])
        else:
            text = slot_phrase(slot) if slot is not Slot.OTHER else ""
        words.extend(self.word(part) for part in text.split())
        return words

    def _happening_words(self, happening: Happening) -> list[Word]:
        text = what_text(happening.what)
        if not happening.counts:
            text = _("{what} (crossed out)").format(what=text)
        return [
            self._time(happening.at.wall_minute),
            *(self.word(part) for part in text.split()),
        ]

    def _day_word(self, day: date) -> Word:
        if self._has_years:
            return self.word(_day_with_year(day))
        return self.word(f"{_weekday(day.weekday())} {_day_and_month(day.month, day.day)}")


@cache
def _weekday(number: int) -> str:
    # 2024-01-01 was a Monday.
    return short_weekday_text(date(2024, 1, 1) + timedelta(days=number))


@cache
def _day_and_month(month: int, day: int) -> str:
    return short_day_text(date(2000, month, day))


@cache
def _pattern_with_year(month: int, day: int) -> str:
    return short_day_text(date(2000, month, day), with_year=True)


def _day_with_year(day: date) -> str:
    # Ten years are 3,650 days of 366 patterns; where "2000" is written otherwise, one by one.
    pattern = _pattern_with_year(day.month, day.day)
    if pattern.count("2000") != 1:
        return short_day_text(day, with_year=True)
    return pattern.replace("2000", str(day.year))
