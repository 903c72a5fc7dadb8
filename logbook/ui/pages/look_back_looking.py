"""What the person chose to look at, and what the Book holds of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from functools import cached_property
from uuid import UUID

from logbook.book import Book
from logbook.domain.happenings import Happening
from logbook.domain.moments import Period
from logbook.domain.picture import (
    BandStep,
    Marks,
    Stretch,
    band_steps,
    kinds_in,
    marks_of,
    slots_of,
    stretches_of,
)
from logbook.domain.picture_periods import Span, period_of
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.turning_points import TurningPoint, turning_points
from logbook.domain.visits import Medicine

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# A row of the list: the place of a reading in the series, or what happened without a number.
Listed = int | Happening


class Shows(StrEnum):
    """How the readings are shown."""

    PICTURE = "picture"
    TABLE = "table"
    TIMES = "times"
    LIST = "list"


@dataclass
class Looking:
    """The person's choices; they hold as long as the window is open.

    `days` are the days they named themselves, else `span` counts. `start` is the first row of list
    or table that is shown, newest first; `subject` the reading that is corrected or crossed out.
    `only` are the ids of the readings and happenings of one finding, the only ones in the list.
    """

    span: Span = Span.THIRTY_DAYS
    days: Period | None = None
    kind: TargetKind | None = None
    shows: Shows = Shows.PICTURE
    start: int = 0
    subject: UUID | None = None
    only: frozenset[str] = frozenset()

    def show_all(self) -> None:
        """No longer only the readings of one finding."""
        if self.only:
            self.only, self.days = frozenset(), None

    def period(self, book: Book, today: date) -> Period:
        """The days that are looked at; thirty when there was no visit or change yet."""
        if self.days is not None:
            return self.days
        found = period_of(self.span, today, book.appointments(), book.targets(), book.medicines())
        return found or Period.ending(today, 30)


@dataclass
class Looked:
    """What the Book holds of `period`, for those times of day that were chosen."""

    period: Period
    kind: TargetKind | None
    settings: LogSettings
    series: Series
    targets: TargetBook
    medicines: Sequence[Medicine]
    spells: Sequence[Spell]
    happenings: Sequence[Happening] = ()
    only: frozenset[str] = frozenset()
    marks: Marks = field(init=False)

    def __post_init__(self) -> None:
        self.marks = marks_of(self.series, self.period, self.settings, self.targets, self.kind)

    @cached_property
    def kinds(self) -> tuple[TargetKind, ...]:
        """The kinds of checks there are in it."""
        return kinds_in(self.series, self.marks)

    @cached_property
    def band(self) -> tuple[BandStep, ...]:
        """The target of each day."""
        kinds = self.kinds if self.kind is None else (self.kind,)
        return band_steps(self.period, self.settings, self.targets, kinds)

    @cached_property
    def changes(self) -> list[TurningPoint]:
        """What began or ended in it, spells aside."""
        points = turning_points(self.period, self.targets, self.medicines, ())
        wanted = None if self.kind is None else {self.kind}
        return [
            point
            for point in points
            if wanted is None or isinstance(point.about, Medicine) or point.about.kind in wanted
        ]

    @cached_property
    def stretches(self) -> tuple[Stretch, ...]:
        """The picture as rows, newest first; stretches without a reading are left out."""
        found = stretches_of(self.marks, self.period, self.settings.day_starts_at)
        return tuple(stretch for stretch in reversed(found) if stretch.count)

    @cached_property
    def listed(self) -> list[Listed]:
        """Every reading and all that happened, the crossed-out too, newest first.

        What happened belongs to no time of day: it is left out where one was chosen.
        """
        series = self.series
        wanted = None if self.kind is None else slots_of(self.kind)
        first, end = self.period.wall_minutes(self.settings.day_starts_at)
        found: list[Listed] = [
            index
            for index, wall in enumerate(series.wall_minutes)
            if first <= wall < end and (wanted is None or series.slots[index] in wanted)
        ]
        if self.has_listed_happenings:
            found += self.happenings
            found.sort(key=self._instant)
        if self.only:
            found = [one for one in found if self._id(one) in self.only]
        found.reverse()
        return found

    @property
    def has_listed_happenings(self) -> bool:
        """Whether the list holds anything that is no reading."""
        return self.kind is None and bool(self.happenings)

    def _id(self, listed: Listed) -> str:
        return str(listed.id) if isinstance(listed, Happening) else self.series.ids[listed]

    def _instant(self, listed: Listed) -> int:
        if isinstance(listed, Happening):
            return (listed.at.instant - _EPOCH) // timedelta(microseconds=1)
        return self.series.instants[listed]


def look_at(
    book: Book, period: Period, kind: TargetKind | None, only: frozenset[str] = frozenset()
) -> Looked:
    """Read what is needed for these days; `only` keeps the list to these records."""
    return Looked(
        period,
        kind,
        book.settings,
        book.series(period),
        book.targets(),
        book.medicines(),
        book.spells(),
        book.happenings(period),
        only,
    )
