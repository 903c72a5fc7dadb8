"""A change of thousands of records: batch by batch, read meanwhile, stopped without a trace."""

import hashlib
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.store.lines import BATCH

NOW = datetime(2026, 3, 31, 12, 0, tzinfo=UTC)
# Much more than the database keeps in its cache, so that it would have to write early.
MANY = 6 * BATCH + 17


def _readings(count: int) -> list[Reading]:
    start = datetime(2020, 1, 1, tzinfo=UTC)
    moments = [Moment.at(start + timedelta(hours=n), "UTC") for n in range(count)]
    value = Glucose.number(128, Unit.MG_DL)
    return [Reading(uuid4(), value, at, NOW, Slot.OTHER, note="x" * 300) for at in moments]


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return Book.create(tmp_path / "a.logbook", LogSettings(home_zone="UTC"), lambda: NOW)


def test_others_read_the_log_while_it_is_written(book: Book) -> None:
    seen = []

    def told(written: int, of: int) -> None:
        with Book.open(book.path, lambda: NOW, read_only=True) as reader:
            seen.append((written, of, len(reader.series())))

    with book:
        book.add(*_readings(3))
        book.take_in(_readings(MANY), "long", told)
        assert [part[0] for part in seen] == [*range(BATCH, MANY, BATCH), MANY]
        assert {part[1:] for part in seen} == {(MANY, 3)}
        assert len(book.series()) == MANY + 3


def test_what_is_stopped_on_the_way_leaves_nothing(book: Book) -> None:
    class Stopped(Exception):
        pass

    def told(written: int, of: int) -> None:
        if written > 3 * BATCH:
            raise Stopped

    with book:
        book.add(*_readings(3))
        before = hashlib.sha256(book.path.read_bytes()).digest()
        with pytest.raises(Stopped):
            book.take_in(_readings(MANY), "long", told)
        assert len(book.series()) == 3
        assert hashlib.sha256(book.path.read_bytes()).digest() == before
        assert book.check().is_sound
        done = book.undoable
        assert done is not None
        assert done.name == ""


def test_a_long_change_is_taken_back_put_back_and_sound(book: Book) -> None:
    readings = _readings(2 * BATCH + 1)
    with book:
        book.take_in(readings, "long")
        assert book.check().is_sound
        book.undo()
        assert len(book.series()) == 0
        book.put_back()
        assert set(book.series().ids) == {str(one.id) for one in readings}
        assert book.check().is_sound
