"""What this program saved in each log since it was started, kept in memory for some minutes.

It goes from one window to the next, so that a number written in the wrong log is noticed. Nothing
of it is shown, and no log is opened for it.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from uuid import UUID

from logbook.book import Book
from logbook.domain.errors import LogbookError
from logbook.domain.other_log import SavedNumber
from logbook.domain.readings import Reading


class SavedNumbers:
    """One for the program; each window's desk has it."""

    def __init__(self) -> None:
        self._saved: dict[tuple[Path, UUID], SavedNumber] = {}

    def note(self, log: Path, reading: Reading) -> None:
        """A reading was saved just now in the log at this path."""
        self._saved = {
            key: one for key, one in self._saved.items() if one.is_recent(reading.written_at)
        }
        number = SavedNumber(reading.glucose, reading.at, reading.written_at)
        self._saved[log, reading.id] = number

    def elsewhere(self, log: Path, now: datetime) -> tuple[SavedNumber, ...]:
        """What was saved in other logs than this one in the last minutes before an aware `now`."""
        found = ((where, number) for (where, _id), number in self._saved.items())
        return tuple(number for where, number in found if where != log and number.is_recent(now))

    def settle(self, book: Book) -> None:
        """Before its log closes: what was undone or crossed out is out, what was corrected anew."""
        for where, reading_id in list(self._saved):
            if where != book.path:
                continue
            saved_at = self._saved.pop((where, reading_id)).saved_at
            try:
                reading = book.reading(reading_id)
            except LogbookError:
                continue
            if reading.counts:
                number = SavedNumber(reading.glucose, reading.at, saved_at)
                self._saved[where, reading_id] = number
