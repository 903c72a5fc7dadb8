"""Invented records and logs for the tests of the store."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from uuid import UUID

from logbook.book import Book
from logbook.domain.actions import Record
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot

ZONE = "America/New_York"
BEGIN = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


class Clock:
    """A clock that goes on by one minute each time it is looked at."""

    def __init__(self, at: datetime = BEGIN) -> None:
        self.at = at

    def __call__(self) -> datetime:
        self.at += timedelta(minutes=1)
        return self.at


def new_id(number: int) -> UUID:
    """The id of the invented record with this number."""
    return UUID(int=number, version=4)


def make_reading(number: int, steps: int | None = None, **others: object) -> Reading:
    """An invented reading; those with higher numbers are later."""
    at = Moment.at(BEGIN + timedelta(hours=5 * number), ZONE)
    value = 60 + number * 7 % 200 if steps is None else steps
    plain = Reading(
        id=new_id(number),
        glucose=Glucose.number(value, Unit.MG_DL, str(value)),
        at=at,
        written_at=at.instant + timedelta(minutes=2),
        slot=list(Slot)[number % len(Slot)],
    )
    return replace(plain, **others)  # type: ignore[arg-type]


def make_log(path: Path, *records: Record) -> Path:
    """A closed log with these records, one action each."""
    with Book.create(path, LogSettings(home_zone=ZONE), Clock()) as book:
        for record in records:
            book.add(record)
    return path


def day(text: str) -> date:
    """A day from `2026-03-01`."""
    return date.fromisoformat(text)
