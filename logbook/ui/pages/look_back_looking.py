"""What the person chose to look at, and what the Book holds of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from enum import StrEnum
from functools import cached_property
from itertools import chain
from uuid import UUID

from logbook.book import Book
from logbook.domain.answers import Answer
from logbook.domain.day_boxes import SlotBox, day_boxes
from logbook.domain.happenings import Happening
from logbook.domain.medicine_notes import MedicineNote
from logbook.domain.moments import Period
from logbook.domain.pairs import MealPair, OvernightPair, meal_pairs, overnight_pairs
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
from logbook.domain.plan.plans import MealStart
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.states import State
from logbook.domain.summary import Summary, summarise
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.turning_points import TurningPoint, turning_points
from logbook.domain.visits import Medicine

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
WithoutNumber = Happening | MedicineNote
# A row of the list: the place of a reading in the series, or what was written without a number.
Listed = int | WithoutNumber


class Shows(StrEnum):
    """How the readings over time are shown."""

    PICTURE = "picture"
    TABLE = "table"
    LIST = "list"


@dataclass
class Looking:
    """The person's choices; they hold as long as the window is open.

    `days` are the days they named themselves, else `span` counts. `ways` has, for each view that
    shows its content in several ways, the one that was chosen. `start` is the first row of list or
    table that is shown, newest first; `subject` the reading that is corrected or crossed out.
    `only` are the ids of the readings and happenings of one finding, the only ones in the list;
    `only_title` says what they are, `only_from` is the view that asked for them.
    """

    span: Span = Span.THIRTY_DAYS
    days: Period | None = None
    kind: TargetKind | None = None
    ways: dict[str, str] = field(default_factory=dict)
    start: int = 0
    subject: UUID | None = None
    only: frozenset[str] = frozenset()
    only_title: str = ""
    only_from: str = ""
    _only_days: Period | None = None
    _looked: Looked | None = None

    def show_only(self, ids: frozenset[str], days: Period, *, asked_by: str, title: str) -> None:
        """Keep the list to these records; `show_all` takes that back."""
        self.only, self._only_days = ids, days
        self.only_from, self.only_title = asked_by, title
        self.ways["time"], self.kind, self.start = Shows.LIST, None, 0

    def show_all(self) -> None:
        """No longer only the readings of one finding."""
        self.only, self._only_days = frozenset(), None
        self.only_from, self.only_title, self.start = "", "", 0

    def period(self, book: Book, today: date) -> Period:
        """The days that are looked at; thirty when there was no visit or change yet."""
        if self._only_days is not None:
            return self._only_days
        if self.days is not None:
            return self.days
        found = period_of(self.span, today, book.appointments(), book.targets(), book.medicines())
        return found or Period.ending(today, 30)

    def look(self, book: Book, today: date, *, is_narrowed: bool = False) -> Looked:
        """What the Book holds of these days; `is_narrowed` to the kind and records chosen.

        It is read once and kept until `forget`.
        """
        period = self.period(book, today)
        kind, only = (self.kind, self.only) if is_narrowed else (None, frozenset[str]())
        found = self._looked
        if found is None or (found.period, found.kind, found.only) != (period, kind, only):
            found = self._looked = look_at(book, period, kind, only)
        return found

    def forget(self) -> None:
        """The Book changed: read it again when it is asked for next."""
        self._looked = None


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
    answers: Sequence[Answer] = ()
    meal_starts: Sequence[MealStart] = ()
    medicine_notes: Sequence[MedicineNote] = ()

    @cached_property
    def marks(self) -> Marks:
        """The readings that take part in figures, each with its state."""
        return marks_of(self.series, self.period, self.settings, self.targets, self.kind)

    @cached_property
    def summary(self) -> Summary:
        """The figures of all times of day, whatever kind was chosen."""
        return summarise(
            self.series, self.period, self.settings, self.targets, self.happenings, self.answers
        )

    @cached_property
    def boxes(self) -> tuple[SlotBox, ...]:
        """Each time of day with its middle half, in the order of the day."""
        return day_boxes(self.series, self.summary, self.settings)

    @cached_property
    def meals(self) -> tuple[MealPair, ...]:
        """Checks before and after a meal, oldest first."""
        return meal_pairs(
            self.series, self.period, self.settings, self.meal_starts, self.happenings
        )

    @cached_property
    def nights(self) -> tuple[OvernightPair, ...]:
        """Bedtime checks with the fasting ones after them, oldest first."""
        return overnight_pairs(self.series, self.period, self.settings, self.happenings)

    def clock_of(self, minute: int) -> time:
        """The clock time that many minutes after the person's day begins."""
        start = datetime.combine(date(2000, 1, 1), self.settings.day_starts_at)
        return (start + timedelta(minutes=minute)).time()

    @cached_property
    def _places(self) -> Mapping[int, int]:
        return dict(zip(self.marks.indices, self.marks.steps, strict=True))

    def place_of(self, index: int) -> int:
        """A reading's place in a picture, in steps of the log's unit."""
        return self._places[index]

    @cached_property
    def state_at(self) -> Mapping[int, State]:
        """The state of each reading, by its place in the series."""
        return dict(zip(self.marks.indices, self.marks.states, strict=True))

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
        if self.has_others_listed:
            found += [*self.happenings, *self.medicine_notes]
            found.sort(key=self._instant)
        if self.only:
            found = [one for one in found if self._id(one) in self.only]
        found.reverse()
        return found

    @property
    def has_others_listed(self) -> bool:
        """Whether the list holds anything that is no reading."""
        return self.kind is None and bool(self.happenings or self.medicine_notes)

    def _id(self, listed: Listed) -> str:
        return self.series.ids[listed] if isinstance(listed, int) else str(listed.id)

    def _instant(self, listed: Listed) -> int:
        if isinstance(listed, int):
            return self.series.instants[listed]
        return (listed.at.instant - _EPOCH) // timedelta(microseconds=1)


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
        book.answers(),
        book.meal_starts(period),
        book.medicine_notes(period),
    )


def find_told(book: Book, told_id: UUID) -> WithoutNumber | None:
    """What was written down without a number, by its id; None where there is no such."""
    told: Iterable[WithoutNumber] = chain(book.happenings(), book.medicine_notes())
    return next((one for one in told if one.id == told_id), None)
