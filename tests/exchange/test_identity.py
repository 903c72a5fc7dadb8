"""Which readings of a file are in the log already."""

from datetime import UTC, datetime
from uuid import UUID, uuid4

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading, Source
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot
from logbook.exchange.identity import IdentityGiver, new_readings

NOW = datetime(2026, 3, 31, 12, 0, tzinfo=UTC)


def _readings(*told: tuple[str, int], zone: str = "UTC") -> list[Reading]:
    giver = IdentityGiver()
    readings = []
    for wall, steps in told:
        at = Moment.from_wall(datetime.fromisoformat(wall), zone)
        glucose = Glucose.number(steps, Unit.MG_DL)
        readings.append(
            Reading(giver.give(at, glucose), glucose, at, NOW, Slot.OTHER, source=Source.IMPORTED)
        )
    return readings


def _series(readings: list[tuple[UUID, Reading]]) -> Series:
    count = len(readings)
    return Series(
        ids=tuple(str(record_id) for record_id, _reading in readings),
        instants=tuple(0 for _ in readings),
        wall_minutes=tuple(reading.at.wall_minute for _id, reading in readings),
        written_minutes=(0,) * count,
        steps=tuple(reading.glucose.order_steps for _id, reading in readings),
        units=tuple(reading.glucose.unit for _id, reading in readings),
        slots=(Slot.OTHER,) * count,
        purposes=(Purpose.PLANNED,) * count,
        marks=(0,) * count,
        minutes_after=(None,) * count,
        rechecks_of=(None,) * count,
    )


FILE = (("2026-03-01T07:15:00", 128), ("2026-03-01T07:15:40", 128), ("2026-03-01T12:00:00", 99))


def test_the_same_file_has_the_same_ids_in_any_zone() -> None:
    ids = [reading.id for reading in _readings(*FILE)]
    assert ids == [reading.id for reading in _readings(*FILE, zone="Asia/Tokyo")]
    assert len(set(ids)) == 3


def test_all_are_new_in_an_empty_log() -> None:
    readings = _readings(*FILE)
    assert new_readings(readings, set(), _series([])) == readings


def test_none_is_new_when_all_are_there() -> None:
    readings = _readings(*FILE)
    there = [(reading.id, reading) for reading in readings]
    assert new_readings(readings, {reading.id for reading in readings}, _series(there)) == []


def test_a_typed_reading_of_the_same_minute_and_value_stands_for_one_line() -> None:
    readings = _readings(*FILE)
    typed = [(uuid4(), readings[0])]
    assert new_readings(readings, set(), _series(typed)) == readings[1:]


def test_a_reading_that_was_corrected_since_is_not_added_again() -> None:
    readings = _readings(*FILE)
    corrected = _readings(("2026-03-01T12:00:00", 199))[0]
    there = [
        (readings[0].id, readings[0]),
        (readings[1].id, readings[1]),
        (readings[2].id, corrected),
    ]
    assert new_readings(readings, {reading.id for reading in readings}, _series(there)) == []


def test_another_value_or_minute_is_new() -> None:
    there = _readings(("2026-03-01T12:00:00", 98), ("2026-03-01T12:01:00", 99))
    new = _readings(("2026-03-01T12:00:00", 99))
    assert new_readings(new, set(), _series([(r.id, r) for r in there])) == new
