"""What stands in `tests/data/revision-1.logbook`: a log with one of every record of version 1.

The file was made by version 1 of the program itself, with `fill` below, and is never made again:
it is what lies on people's computers. The records are invented.
"""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import UUID

from logbook.book import Book
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.kit.lancets import LancetChange, LancetChangeReason
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Difference, Doubt, Earlier, Feeling, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Hand, Place, Side, Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Appointment, Contact, Medicine, Question

FILE = Path(__file__).parent.parent / "data" / "revision-1.logbook"
ZONE = "America/New_York"
BEGIN = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
SETTINGS = LogSettings(home_zone=ZONE, person_name="Example Person", can_have_lows=True)
PLAN = "Invented plan: take four tablets."


class Clock:
    """A clock that goes on by one minute each time it is looked at."""

    def __init__(self, at: datetime = BEGIN) -> None:
        self.at = at

    def __call__(self) -> datetime:
        self.at += timedelta(minutes=1)
        return self.at


def _id(number: int) -> UUID:
    return UUID(int=number, version=4)


def _at(hours: float) -> Moment:
    return Moment.at(BEGIN + timedelta(hours=hours), ZONE)


METER = Meter.usual(_id(1), "bedside", Unit.MG_DL, date(2026, 1, 1))
FASTING = Reading(
    _id(2),
    Glucose.number(128, Unit.MG_DL, "128"),
    _at(0),
    BEGIN + timedelta(minutes=2),
    Slot.FASTING,
    meter_id=METER.id,
    site=Site(Hand.LEFT, Place.RING, Side.THUMB_SIDE),
    site_use=SiteUse.USED,
    feelings=(Feeling.WELL,),
    differences=(Difference.ATE_LATE,),
    note="Notiz \u201e\u00fc\u201c \u2603",
)
LOW = Reading(
    _id(3),
    Glucose.number(61, Unit.MG_DL, "61"),
    _at(5),
    BEGIN + timedelta(hours=5, minutes=1),
    Slot.BEFORE_LUNCH,
    meter_id=METER.id,
)
RECHECK = Reading(
    _id(4),
    Glucose.reads_high(Unit.MG_DL),
    _at(5.3),
    BEGIN + timedelta(hours=5, minutes=20),
    Slot.OTHER,
    Purpose.RECHECK,
    recheck_of=LOW.id,
)
FELT_LOW = Happening(_id(5), What.FELT_LOW_TREATED, _at(30), BEGIN, note="in the garden")
STRIP_FAILED = Happening(
    _id(6), What.STRIP_FAILED, _at(31), BEGIN, StripFailure.PRICKED_AGAIN, about=FASTING.id
)
FALL = Happening(_id(7), What.FALL, _at(32), BEGIN, crossed_out_at=BEGIN + timedelta(days=2))
ANSWERS = (
    Answer(_id(8), LOW.id, Asked.FELT_LOW_COMING, Said.NO, BEGIN + timedelta(hours=6)),
    Answer(_id(9), LOW.id, Asked.RECHECK_DUE, Said.LATER, BEGIN + timedelta(hours=7)),
)
TARGET = Target(
    _id(10),
    TargetKind.FASTING,
    (Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, 80), Limit(Operator.AT_MOST, 130)),),
    date(2026, 1, 1),
    SetBy.PROVIDER,
    source="card",
)
LANCET = LancetChange(_id(11), _at(33), BEGIN, LancetChangeReason.DULL)
SPELL = Spell(_id(12), SpellKind.ILL, date(2026, 3, 3), date(2026, 3, 5), "a cold")
APPOINTMENT = Appointment(_id(13), date(2026, 6, 1), time(9, 30), "the provider")
QUESTION = Question(_id(14), "Are mornings all right?", BEGIN)
MEDICINE = Medicine(_id(15), "tablet, one in the morning", date(2026, 1, 1))
CONTACT = Contact(_id(16), "person", "Example Neighbour", "555-0100")


def fill(path: Path) -> None:
    """Make the log. Run by version 1 only."""
    with Book.create(path, SETTINGS, Clock()) as book:
        book.add(METER)
        for record in (FASTING, LOW, RECHECK, FELT_LOW, STRIP_FAILED, FALL, *ANSWERS):
            book.add(record)
        book.add(TARGET, LANCET, SPELL)
        book.add(APPOINTMENT, QUESTION, MEDICINE, CONTACT)
        book.correct(
            FASTING.id, Glucose.number(182, Unit.MG_DL, "182"), FASTING.at, FASTING.slot, "swapped"
        )
        book.cross_out(LOW.id, "not mine")
        book.bring_back(LOW.id)
        book.cross_out(RECHECK.id, "the dog's")
        book.doubt(LOW.id, Doubt.STRIP)
        book.save_settings(replace(book.settings, low_plan=PLAN))
        book.add(replace(FELT_LOW, id=_id(17)))
        book.undo()
        book.replace(replace(FELT_LOW, note="in the garden, with a neighbour"))


_CORRECTED_AT = BEGIN + timedelta(minutes=14)
_CROSSED_OUT_AT = BEGIN + timedelta(minutes=19)
CORRECTED = replace(
    FASTING,
    glucose=Glucose.number(182, Unit.MG_DL, "182"),
    earlier=(Earlier(FASTING.glucose, FASTING.at, FASTING.slot, _CORRECTED_AT, "swapped"),),
)
DOUBTED = replace(LOW, doubt=Doubt.STRIP)
CROSSED_OUT = replace(RECHECK, crossed_out=CrossedOut(_CROSSED_OUT_AT, "the dog's"))
NOTED = replace(FELT_LOW, note="in the garden, with a neighbour")
READINGS = [CORRECTED, DOUBTED, CROSSED_OUT]
HAPPENINGS = [NOTED, STRIP_FAILED, FALL]
CHANGES = 21


def put_copy(folder: Path) -> Path:
    """A copy of the file with its journal, to open and alter."""
    path = folder / "old.logbook"
    shutil.copyfile(FILE, path)
    shutil.copyfile(f"{FILE}-changes.txt", f"{path}-changes.txt")
    return path
