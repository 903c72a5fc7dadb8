"""Readings from a file take strips of the vial in use only when the person says so."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from uuid import UUID, uuid4

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.file_strips import strip_question, with_strips_of
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.strips import StripUse, Vial
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading, Source
from logbook.domain.slots import Slot

OPENED = datetime(2026, 3, 10, 8, 0, tzinfo=UTC)
METER = Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2025, 1, 1))
VIAL = Vial(uuid4(), METER.id, 50, OPENED, opened_at=OPENED, opened_on=OPENED.date())


def _reading(days: float, meter: UUID | None = None) -> Reading:
    at = Moment.at(OPENED + timedelta(days=days), "UTC")
    return Reading(
        uuid4(), Glucose.number(128, Unit.MG_DL), at, at.instant, Slot.OTHER,
        source=Source.IMPORTED, meter_id=meter,
    )  # fmt: skip


READINGS = [_reading(days) for days in (-2, -1, 1, 2, 3)]


def _left(readings: list[Reading]) -> int:
    uses = tuple(StripUse(one.at.instant, one.meter_id, was_typed=False) for one in readings)
    return account_of(VIAL, KitData(meters=(METER,), vials=(VIAL,), strip_uses=uses)).left


def test_only_readings_since_the_vial_is_in_use_are_asked_about() -> None:
    kit = KitData(meters=(METER,), vials=(VIAL,))
    question = strip_question(READINGS, kit)
    assert question is not None
    assert (question.vial, question.count) == (VIAL, 3)
    assert strip_question(READINGS[:2], kit) is None
    assert strip_question([_reading(1, METER.id)], kit) is None
    ended = replace(VIAL, ended_at=OPENED + timedelta(days=9))
    assert strip_question(READINGS, replace(kit, vials=(ended,))) is None
    assert strip_question(READINGS, KitData()) is None


def test_yes_takes_a_strip_each_and_no_takes_none() -> None:
    assert _left(READINGS) == 50
    told = with_strips_of(VIAL, READINGS)
    assert _left(told) == 47
    assert [one.meter_id for one in told] == [None, None, METER.id, METER.id, METER.id]
