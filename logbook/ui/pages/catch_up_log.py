"""What catching up knows of the log: usual numbers and times, and readings near the rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from logbook.domain.catch_up import Row, matched
from logbook.domain.moments import Moment, Period, wall_on
from logbook.domain.plausibility import usual_of
from logbook.domain.readings import Reading
from logbook.domain.sheet_column import SheetColumn, written_for
from logbook.domain.slots import Slot
from logbook.domain.usual_times import LOOKS_BACK_DAYS, usual_times
from logbook.ui.desk import Desk
from logbook.ui.entry.saving import meters_in_use
from logbook.ui.pages.catch_up_rows import Shown, order_of

_USUAL_DAYS = 120
# A meter keeps weeks; a row of years ago is a slip, and the log is not read for it.
_NEAR = timedelta(days=1)


class LogNear:
    """The log, as far as the rows reach; read anew by `read` and `match`."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._near: list[Reading] = []
        self._periods: list[Period] = []
        self.read()

    def read(self) -> None:
        """What is usual, which meters there are, and what time it is now."""
        book, today = self._desk.book, self._desk.today()
        self.now = self._desk.now()
        self.own_meters = meters_in_use(book, self.now)
        series = book.series(Period.ending(today, _USUAL_DAYS))
        self.usual = usual_of(series, book.settings.unit, self.now.instant)
        recent = book.series(Period.ending(today, LOOKS_BACK_DAYS + 1))
        self.times = usual_times(recent, self.now, self.day_starts_at)
        self.plans = book.plans()

    @property
    def day_starts_at(self) -> time:
        """When the person's day begins."""
        return self._desk.book.settings.day_starts_at

    def match(self, rows: Sequence[Row], typed: date | None) -> tuple[Row, ...]:
        """The rows, each with the reading that it is.

        `typed` is the day of the next row of a column; else the readings up to today are read.
        """
        days = [row.at.day(self.day_starts_at) for row in rows]
        if typed is None:
            days = [*days, self._desk.today()]
        self._periods = [Period(min(days) - _NEAR, max(days) + _NEAR)] if days else []
        if typed is not None and not self.reaches(typed):
            # By itself: a year that is half typed must not have years read.
            self._periods.append(Period(typed - _NEAR, typed + _NEAR))
        readings = self._desk.book.readings
        found = {one.id: one for period in self._periods for one in readings(period)}
        self._near = list(found.values())
        return matched((replace(row, written=None) for row in rows), self._near, self.day_starts_at)

    def reaches(self, day: date) -> bool:
        """Whether the readings of a day were read."""
        return any(day in period for period in self._periods)

    def written_for(self, slot: Slot, at: Moment) -> list[Reading]:
        """What the log has of a column on the day of `at`."""
        return written_for(slot, at, self._near, self.day_starts_at)

    def shown(self, rows: Sequence[Row], column: SheetColumn | None, typed: date) -> list[Shown]:
        """The rows, and the readings of the log from the oldest row on, the newest first.

        Of a column only what stands in it, from the day that is typed.
        """
        near = self._near
        since = min((row.at.instant for row in rows), default=self.now.instant)
        if column is not None:
            rows = [row for row in rows if row.slot is column.slot]
            near = [one for one in near if one.slot is column.slot]
            since = self._start_of(min([typed, *(row.at.day(self.day_starts_at) for row in rows)]))
        written = {row.written for row in rows}
        between = [
            one
            for one in near
            if one.id not in written and one.at.instant >= since and not one.is_damaged
        ]
        return sorted([*rows, *between], key=order_of, reverse=True)

    def _start_of(self, day: date) -> datetime:
        wall = wall_on(day, self.day_starts_at, self.day_starts_at)
        return Moment.from_wall(wall, self._desk.zone()).instant
