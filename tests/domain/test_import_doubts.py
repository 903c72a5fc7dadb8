"""What is worth a second look in a file: two numbers of one minute, numbers no meter shows.

The walk through sorted readings is held against comparing each with each, as the words say it.
"""

from __future__ import annotations

import random
import tracemalloc
from dataclasses import replace
from datetime import date, datetime, timedelta
from uuid import uuid4

import pytest

from logbook.domain.glucose import Glucose, Kind, Unit
from logbook.domain.import_doubts import ImportDoubts, import_doubts
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import EPOCH, Moment
from logbook.domain.readings import Reading
from logbook.domain.series import EMPTY_SERIES, Series
from tests.domain.series_of import glucose, reading, series_of

MG, MMOL = Unit.MG_DL, Unit.MMOL_L


def _meter(lowest: int = 20, highest: int = 600, unit: Unit = MG, **more: object) -> Meter:
    meter = Meter(uuid4(), "bedside", unit, lowest, highest, date(2020, 1, 1))
    return replace(meter, **more)  # type: ignore[arg-type]


def _texts(doubts: ImportDoubts) -> list[tuple[str, list[str], list[str]]]:
    return [
        (f"{one.at.wall:%m-%d %H:%M}", [g.text for g in one.new], [g.text for g in one.in_log])
        for one in doubts.shared_minutes
    ]


# --- two numbers in one minute -------------------------------------------------------------------


def test_another_number_of_the_log_and_of_the_file() -> None:
    new = [
        reading("2026-03-02 07:15", "141"),
        reading("2026-03-01 07:15", "128"),
        reading("2026-03-02 07:15", "119"),
        reading("2026-03-03 07:16", "150"),
    ]
    log = series_of([reading("2026-03-01 07:15", "130"), reading("2026-03-03 07:15", "90")])
    doubts = import_doubts(new, log, ())
    assert _texts(doubts) == [
        ("03-01 07:15", ["128"], ["130"]),
        ("03-02 07:15", ["141", "119"], []),
    ]
    assert doubts.sharing == 3


def test_the_same_number_twice_is_a_genuine_repeat() -> None:
    twice = [reading("2026-03-01 07:15", "128"), reading("2026-03-01 07:15", "128")]
    assert import_doubts(twice, EMPTY_SERIES, ()) == ImportDoubts()


def test_seconds_do_not_set_two_readings_apart() -> None:
    new = [reading("2026-03-01 07:15:05", "128"), reading("2026-03-01 07:15:55", "141")]
    assert import_doubts(new, EMPTY_SERIES, ()).sharing == 2


def test_letters_are_another_number_and_alike_in_either_unit() -> None:
    low = series_of([reading("2026-03-01 07:15", "LO", unit=MMOL)])
    assert import_doubts([reading("2026-03-01 07:15", "LO")], low, ()).sharing == 0
    assert import_doubts([reading("2026-03-01 07:15", "45")], low, ()).sharing == 1


def test_the_same_measurement_in_the_other_unit_is_told() -> None:
    """7.1 mmol/L and 128 mg/dL of one minute: the same drop twice, most likely."""
    log = series_of([reading("2026-03-01 07:15", "7.1", unit=MMOL)])
    (found,) = import_doubts([reading("2026-03-01 07:15", "128")], log, ()).shared_minutes
    assert found.in_log == (glucose("7.1", MMOL),)


@pytest.mark.parametrize("aside", ["crossed_out", "foreign", "damaged"])
def test_what_was_put_aside_takes_no_part(aside: str) -> None:
    wall = "2026-03-01 07:15"
    log = series_of([reading(wall, "130", **{aside: True})])  # type: ignore[arg-type]
    assert import_doubts([reading(wall, "128")], log, ()).sharing == 0
    new = [reading(wall, "128"), reading(wall, "130", **{aside: True})]  # type: ignore[arg-type]
    assert import_doubts(new, EMPTY_SERIES, ()).sharing == 0


def test_a_number_that_is_not_believed_still_stands_there() -> None:
    log = series_of([reading("2026-03-01 07:15", "130", doubted=True)])
    assert import_doubts([reading("2026-03-01 07:15", "128")], log, ()).sharing == 1


# --- numbers no meter shows ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("shown", "unit", "limit"),
    [
        ("601", MG, "600"),
        ("600", MG, ""),
        ("19", MG, "20"),
        ("20", MG, ""),
        ("HI", MG, ""),
        ("LO", MG, ""),
        # 33.3 mmol/L are 599.9 mg/dL and 33.4 are 601.7 (times 18.0156, by hand).
        ("33.3", MMOL, ""),
        ("33.4", MMOL, "600"),
    ],
)
def test_the_last_number_a_meter_shows(shown: str, unit: Unit, limit: str) -> None:
    new = [reading("2026-03-01 07:15", shown, unit=unit)]
    found = import_doubts(new, EMPTY_SERIES, [_meter()]).beyond_meters
    assert [one.limit.text for one in found] == ([limit] if limit else [])


def test_a_meter_of_the_other_unit_is_asked_in_its_own() -> None:
    meter = _meter(11, 333, MMOL)
    told = [
        import_doubts([reading("2026-03-01 07:15", text)], EMPTY_SERIES, [meter]).beyond_meters
        for text in ("600", "601", "20", "19", "18")
    ]
    # 601 mg/dL are 33.4 mmol/L, 19 are 1.05 and show as 1.1, 18 are 1.0.
    assert [[one.limit for one in found] for found in told] == [
        [],
        [glucose("33.3", MMOL)],
        [],
        [],
        [glucose("1.1", MMOL)],
    ]


def test_one_meter_that_shows_it_is_enough() -> None:
    narrow, wide = _meter(30, 500), _meter(10, 600)
    new = [reading("2026-03-01 07:15", "550"), reading("2026-03-01 12:15", "650")]
    found = import_doubts(new, EMPTY_SERIES, [narrow, wide]).beyond_meters
    assert [(one.glucose.text, one.limit.text, one.is_above) for one in found] == [
        ("650", "600", True)
    ]


def test_only_the_persons_own_meters_of_that_day_count() -> None:
    new = [reading("2026-03-01 07:15", "550")]
    gone = _meter(20, 500, in_use_until=date(2026, 2, 28))
    later = _meter(20, 500, in_use_from=date(2026, 3, 2))
    others = _meter(20, 500, is_own=False)
    assert not import_doubts(new, EMPTY_SERIES, [gone, later, others]).beyond_meters
    assert not import_doubts(new, EMPTY_SERIES, ()).beyond_meters
    assert import_doubts(new, EMPTY_SERIES, [gone, later, others, _meter(20, 500)]).beyond_meters


def test_a_meter_that_is_named_is_the_one() -> None:
    narrow, wide = _meter(20, 500), _meter()
    new = [replace(reading("2026-03-01 07:15", "550"), meter_id=narrow.id)]
    assert import_doubts(new, EMPTY_SERIES, [narrow, wide]).beyond_meters
    other = [replace(new[0], meter_id=wide.id)]
    assert not import_doubts(other, EMPTY_SERIES, [narrow, wide]).beyond_meters


# --- against comparing each with each ------------------------------------------------------------


def _random_readings(chance: random.Random, count: int) -> list[Reading]:
    found = []
    for _number in range(count):
        wall = datetime(2026, 3, 1) + timedelta(seconds=chance.randrange(40 * 60))
        unit = chance.choice([MG, MG, MG, MMOL])
        shown = chance.choice(
            ["LO", "HI", "19", "25", "590", "610"] if unit is MG else ["7.1", "35.0"]
        )
        found.append(
            reading(
                wall.isoformat(" "),
                shown,
                unit=unit,
                zone=chance.choice(["UTC", "Europe/Paris"]),
                crossed_out=chance.random() < 0.1,
                foreign=chance.random() < 0.1,
                doubted=chance.random() < 0.1,
            )
        )
    return found


def _is_asked(one: Reading) -> bool:
    return one.crossed_out is None and not one.is_foreign


def _differ(one: Reading, other: Reading) -> bool:
    first, second = one.glucose, other.glucose
    if first.kind is not Kind.NUMBER or second.kind is not Kind.NUMBER:
        return first.kind is not second.kind
    return (first.steps, first.unit) != (second.steps, second.unit)


def _minute(one: Reading) -> datetime:
    return one.at.wall.replace(second=0, microsecond=0)


def _each_with_each(new: list[Reading], log: list[Reading]) -> set[tuple[datetime, str, str]]:
    """Pairs of a new reading and any other of its minute whose number differs."""
    return {
        (_minute(one), one.glucose.text, other.glucose.text)
        for one in new
        for other in (*new, *log)
        if _is_asked(one) and _is_asked(other)
        if _minute(one) == _minute(other) and _differ(one, other)
    }


def _pairs_told(doubts: ImportDoubts) -> set[tuple[datetime, str, str]]:
    def differ(one: Glucose, other: Glucose) -> bool:
        return one.text != other.text

    return {
        (shared.at.wall.replace(second=0, microsecond=0), one.text, other.text)
        for shared in doubts.shared_minutes
        for one in shared.new
        for other in (*shared.new, *shared.in_log)
        if differ(one, other)
    }


@pytest.mark.parametrize("seed", range(40))
def test_sorting_and_walking_finds_what_comparing_each_with_each_finds(seed: int) -> None:
    chance = random.Random(seed)
    new, log = _random_readings(chance, 60), _random_readings(chance, 40)
    doubts = import_doubts(new, series_of(log), [_meter()])
    expected = _each_with_each(new, log)
    assert expected  # a run that has none would show nothing
    assert _pairs_told(doubts) == expected
    # Each new reading of a minute that is told is told once.
    minutes = {minute for minute, _one, _other in expected}
    assert doubts.sharing == sum(_is_asked(one) and _minute(one) in minutes for one in new)
    beyond = sorted(
        (one.at.wall, one.glucose.text)
        for one in new
        if _is_asked(one) and one.glucose.text in ("19", "610", "35.0")
    )
    assert sorted((one.at.wall, one.glucose.text) for one in doubts.beyond_meters) == beyond


def test_a_walk_that_stops_at_the_first_of_a_minute_would_be_caught() -> None:
    """The negative control of the comparison: a log cut short loses pairs."""
    chance = random.Random(1)
    new, log = _random_readings(chance, 60), _random_readings(chance, 40)
    cut = series_of(log[::2])
    assert _pairs_told(import_doubts(new, cut, ())) != _each_with_each(new, log)


# --- a long file ---------------------------------------------------------------------------------


def test_a_hundred_thousand_readings_need_little_memory() -> None:
    """The whole import of so many may take 300 MB; this is a small part of it."""
    value = Glucose.number(128, MG)
    base = reading("2026-03-01 07:15", "128")
    moments = [Moment.from_wall(EPOCH + timedelta(days=18_000, minutes=7 * n), "UTC") for n in
               range(100_000)]  # fmt: skip
    new = [replace(base, id=uuid4(), at=at, glucose=value) for at in moments]
    random.Random(2).shuffle(new)
    log: Series = series_of(
        replace(base, at=at, glucose=Glucose.number(90, MG)) for at in moments[::50]
    )
    tracemalloc.start()
    doubts = import_doubts(new, log, [_meter()])
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert doubts.sharing == 2_000
    assert most < 20 * 2**20


def test_all_are_counted_and_the_first_thousand_named() -> None:
    base = reading("2026-03-01 07:15", "610")
    moments = [
        Moment.from_wall(EPOCH + timedelta(days=18_000, hours=n), "UTC") for n in range(1001)
    ]
    new = [replace(base, id=uuid4(), at=at) for at in reversed(moments)]
    log = series_of(replace(base, at=at, glucose=Glucose.number(90, MG)) for at in moments)
    doubts = import_doubts(new, log, [_meter(in_use_from=date(2010, 1, 1))])
    assert (doubts.sharing, doubts.beyond) == (1001, 1001)
    assert [one.at for one in doubts.shared_minutes] == moments[:1000]
    assert [one.at for one in doubts.beyond_meters] == moments[:1000]
    assert not doubts.names_all_sharing
    assert not doubts.names_all_beyond
    few = import_doubts(new[:1000], log, [_meter(in_use_from=date(2010, 1, 1))])
    assert few.names_all_sharing
    assert few.names_all_beyond
