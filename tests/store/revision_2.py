"""What stands in `tests/data/revision-2.logbook`: a log with records of the kit and the plan.

The file was made by version 2 of the program itself, with `fill` below, and is never made again:
it is what lies on people's computers. The records are invented.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import UUID

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import Vial
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact

FILE = Path(__file__).parent.parent / "data" / "revision-2.logbook"
BEGIN = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
SETTINGS = LogSettings(home_zone="America/New_York", person_name="Example Person")


class Clock:
    """A clock that goes on by one minute each time it is looked at."""

    def __init__(self, at: datetime = BEGIN) -> None:
        self.at = at

    def __call__(self) -> datetime:
        self.at += timedelta(minutes=1)
        return self.at


def _id(number: int) -> UUID:
    return UUID(int=number, version=4)


METER = Meter.usual(_id(1), "bedside", Unit.MG_DL, date(2026, 1, 1))
VIAL = Vial(_id(2), METER.id, 50, BEGIN, lot="A7", opened_at=BEGIN, opened_on=BEGIN.date())
PLAN = CheckPlan(_id(3), date(2026, 2, 1), (PlannedCheck(Slot.FASTING, time(7, 30)),), BEGIN)
TICK = Tick(_id(4), About.INSULIN, Told.YES, date(2026, 1, 1), BEGIN)
CONTACT = Contact(_id(5), "daughter", "Anna", "555-0100")
READING = Reading(
    _id(6),
    Glucose.number(128, Unit.MG_DL, "128"),
    Moment.at(BEGIN, "America/New_York"),
    BEGIN + timedelta(minutes=2),
    Slot.FASTING,
    meter_id=METER.id,
    note="Notiz \u201e\u00fc\u201c \u2603",
)


def fill(path: Path) -> None:
    """Make the log, by seven changes after its beginning; the last one was taken back."""
    with Book.create(path, SETTINGS, Clock()) as book:
        book.add(METER)
        book.add(VIAL, PLAN)
        book.add(TICK, CONTACT)
        book.add(READING)
        book.correct(
            READING.id, Glucose.number(138, Unit.MG_DL, "138"), READING.at, READING.slot, "misread"
        )
        book.cross_out(READING.id, "pressed by mistake")
        book.undo()
