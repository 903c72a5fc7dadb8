"""Which reading stands in which cell of the grid of days: one row a day, one column a time of day.

A cell takes one reading: the first of its day and slot that counts and is no recheck; when none
counts, the first. Every other reading goes to the row's last column, so none is left out. How a
cell is written or drawn is for those who show it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import TypeVar

from logbook.domain.happenings import Happening, What
from logbook.domain.moments import MINUTES_A_DAY, Period
from logbook.domain.series import OUTSIDE_FIGURES, Mark, Series
from logbook.domain.slots import Purpose, Slot

# A check this much off its slot's usual time shows its own. Judgement without a source.
USUAL_WITHIN_MINUTES = 60

# Such a reading was not written down by hand, so "written later" says nothing about it.
_NOT_WRITTEN_BY_HAND = int(Mark.COPIED_FROM_METER | Mark.IMPORTED)

_Any = TypeVar("_Any")

_IN_LAST_COLUMN = frozenset({Purpose.RECHECK, Purpose.REPEAT})


@dataclass(frozen=True, slots=True)
class GridRow:
    """One day: the index of the reading in each cell, the indices of all others, what happened."""

    day: date
    cells: dict[Slot, int]
    others: tuple[int, ...]
    happenings: tuple[Happening, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Nothing was written for this day."""
        return not (self.cells or self.others or self.happenings)


@dataclass(frozen=True, slots=True)
class DayGrid:
    """The rows of a period, one for each of its days, and the slots that have a column.

    `usual_minutes` is the median time of a slot's cells, in minutes since the person's day began.
    """

    slots: tuple[Slot, ...]
    usual_minutes: dict[Slot, int]
    rows: tuple[GridRow, ...]


def day_grid(
    series: Series, period: Period, day_starts_at: time, happenings: Iterable[Happening] = ()
) -> DayGrid:
    """The grid of `period`. Readings and happenings outside it are left out.

    Failed strips are no part of it: they say nothing about the glucose.
    """
    first_minute, end_minute = period.wall_minutes(day_starts_at)
    outside = int(OUTSIDE_FIGURES)
    cells: list[dict[Slot, int]] = [{} for _day in range(period.days)]
    others: list[list[int]] = [[] for _day in range(period.days)]
    stands_in: set[int] = set()
    columns = zip(series.wall_minutes, series.slots, series.purposes, series.marks, strict=True)
    for index, (wall, slot, purpose, marks) in enumerate(columns):
        if not first_minute <= wall < end_minute:
            continue
        row = (wall - first_minute) // MINUTES_A_DAY
        if slot is Slot.OTHER or purpose in _IN_LAST_COLUMN:
            others[row].append(index)
            continue
        held = cells[row].get(slot)
        if held is None:
            cells[row][slot] = index
            if marks & outside:
                stands_in.add(index)
        elif held in stands_in and not marks & outside:
            cells[row][slot] = index
            others[row].append(held)
        else:
            others[row].append(index)
    happened = _by_row(happenings, period, day_starts_at)
    rows = tuple(
        GridRow(
            period.first + timedelta(days=row),
            cells[row],
            tuple(sorted(others[row])),
            tuple(happened.get(row, ())),
        )
        for row in range(period.days)
    )
    return _with_columns(series, rows, first_minute)


def _with_columns(series: Series, rows: tuple[GridRow, ...], first_minute: int) -> DayGrid:
    minutes: dict[Slot, list[int]] = {}
    for row in rows:
        for slot, index in row.cells.items():
            since_start = (series.wall_minutes[index] - first_minute) % MINUTES_A_DAY
            minutes.setdefault(slot, []).append(since_start)
    usual = {slot: sorted(found)[(len(found) - 1) // 2] for slot, found in minutes.items()}
    return DayGrid(tuple(slot for slot in Slot if slot in usual), usual, rows)


def _by_row(
    happenings: Iterable[Happening], period: Period, day_starts_at: time
) -> dict[int, list[Happening]]:
    found: dict[int, list[Happening]] = {}
    for happening in sorted(happenings, key=lambda h: h.at.instant):
        day = happening.at.day(day_starts_at)
        if happening.what is not What.STRIP_FAILED and day in period:
            found.setdefault((day - period.first).days, []).append(happening)
    return found


def is_off_usual_time(grid: DayGrid, slot: Slot, wall_minute: int, day_starts_at: time) -> bool:
    """Whether a check was made over an hour from its slot's usual time."""
    start = day_starts_at.hour * 60 + day_starts_at.minute
    since_start = (wall_minute - start) % MINUTES_A_DAY
    return abs(since_start - grid.usual_minutes[slot]) > USUAL_WITHIN_MINUTES


def is_written_later(series: Series, index: int, day_starts_at: time) -> bool:
    """Whether a reading was written down by hand on a later day of the person's own."""
    if series.marks[index] & _NOT_WRITTEN_BY_HAND:
        return False
    start = day_starts_at.hour * 60 + day_starts_at.minute
    made = (series.wall_minutes[index] - start) // MINUTES_A_DAY
    return (series.written_minutes[index] - start) // MINUTES_A_DAY > made


def part_of_series(series: Series, period: Period, day_starts_at: time) -> Series:
    """The readings of `period` alone."""
    first_minute, end_minute = period.wall_minutes(day_starts_at)
    kept = [i for i, wall in enumerate(series.wall_minutes) if first_minute <= wall < end_minute]
    if len(kept) == len(series):
        return series

    def kept_of(column: tuple[_Any, ...]) -> tuple[_Any, ...]:
        return tuple(column[i] for i in kept)

    return Series(
        ids=kept_of(series.ids),
        instants=kept_of(series.instants),
        wall_minutes=kept_of(series.wall_minutes),
        written_minutes=kept_of(series.written_minutes),
        steps=kept_of(series.steps),
        units=kept_of(series.units),
        slots=kept_of(series.slots),
        purposes=kept_of(series.purposes),
        marks=kept_of(series.marks),
        minutes_after=kept_of(series.minutes_after),
        rechecks_of=kept_of(series.rechecks_of),
    )
