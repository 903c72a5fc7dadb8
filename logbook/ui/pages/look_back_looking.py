"""What the person chose to look at, and what the Book holds of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from functools import cached_property
from uuid import UUID

from logbook.book import Book
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
    """

    span: Span = Span.THIRTY_DAYS
    days: Period | None = None
    kind: TargetKind | None = None
    shows: Shows = Shows.PICTURE
    start: int = 0
    subject: UUID | None = None

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
    def listed(self) -> list[int]:
        """Places in the series of every reading, the crossed-out too, newest first."""
        wanted = None if self.kind is None else slots_of(self.kind)
        first, end = self.period.wall_minutes(self.settings.day_starts_at)
        found = [
            index
            for index, wall in enumerate(self.series.wall_minutes)
            if first <= wall < end and (wanted is None or self.series.slots[index] in wanted)
        ]
        found.reverse()
        return found


def look_at(book: Book, period: Period, kind: TargetKind | None) -> Looked:
    """Read what is needed for these days."""
    return Looked(
        period,
        kind,
        book.settings,
        book.series(period),
        book.targets(),
        book.medicines(),
        book.spells(),
    )
