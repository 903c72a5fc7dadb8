"""What was done to the log and when, in the words of the Book."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from logbook.book import Book, Record
from logbook.domain.glucose import Glucose
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Doubt
from logbook.domain.slots import Slot


@dataclass(frozen=True, slots=True)
class Written:
    """Records that were written down together."""

    when: datetime
    records: tuple[Record, ...]

    def do(self, book: Book) -> None:
        """Keep them."""
        book.add(*self.records)


@dataclass(frozen=True, slots=True)
class Kept:
    """New records, and new versions of others, in one action."""

    when: datetime
    records: tuple[Record, ...]

    def do(self, book: Book) -> None:
        """Keep them."""
        book.keep(*self.records)


@dataclass(frozen=True, slots=True)
class Corrected:
    """A reading put right."""

    when: datetime
    reading_id: UUID
    glucose: Glucose
    at: Moment
    slot: Slot
    reason: str

    def do(self, book: Book) -> None:
        """Correct it."""
        book.correct(self.reading_id, self.glucose, self.at, self.slot, self.reason)


@dataclass(frozen=True, slots=True)
class CrossedOutEntry:
    """A reading crossed out."""

    when: datetime
    reading_id: UUID
    reason: str

    def do(self, book: Book) -> None:
        """Cross it out."""
        book.cross_out(self.reading_id, self.reason)


@dataclass(frozen=True, slots=True)
class Doubted:
    """A reading that was not believed."""

    when: datetime
    reading_id: UUID
    doubt: Doubt

    def do(self, book: Book) -> None:
        """Mark it."""
        book.doubt(self.reading_id, self.doubt)


@dataclass(frozen=True, slots=True)
class PrickTold:
    """How the puncture of the last reading went, as she told it afterwards."""

    when: datetime
    note_id: UUID
    depth_tenths: int
    was_enough_blood: bool
    did_hurt: bool

    def do(self, book: Book) -> None:
        """Keep it."""
        (last,) = book.readings(newest_first=True, limit=1)
        book.add(
            PunctureNote(
                self.note_id,
                last.id,
                last.at.instant,
                self.depth_tenths,
                self.was_enough_blood,
                self.did_hurt,
            )
        )


@dataclass(frozen=True, slots=True)
class AverageRead:
    """The average and the count that her meter shows, which are those of what it holds."""

    at: Moment
    average_id: UUID
    meter_id: UUID
    days: int

    @property
    def when(self) -> datetime:
        """When she looked."""
        return self.at.instant

    def do(self, book: Book) -> None:
        """Write it down."""
        days = Period.ending(self.at.wall.date(), self.days)
        held = [
            one.glucose.order_steps
            for one in book.readings(days)
            if one.meter_id == self.meter_id and one.at.instant <= self.at.instant
        ]
        average = Glucose.number(round(sum(held) / len(held)), book.settings.unit)
        book.add(
            MeterAverage(
                self.average_id,
                self.meter_id,
                self.at,
                self.at.instant,
                self.days,
                average,
                len(held),
            )
        )


Event = Written | Kept | Corrected | CrossedOutEntry | Doubted | PrickTold | AverageRead
