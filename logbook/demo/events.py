"""What was done to the log and when, in the words of the Book."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from logbook.book import Book, Record
from logbook.domain.glucose import Glucose
from logbook.domain.moments import Moment
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


Event = Written | Kept | Corrected | CrossedOutEntry | Doubted
