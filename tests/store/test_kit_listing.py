"""What the Book tells of the kit, the plan and health: in the order of time, and which strips."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import fields, replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import UUID

import pytest

from logbook.book import Book
from logbook.domain.actions import Record
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.errors import NoSuchRecord
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent, MeterWhat
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import ControlRange, StripCount, StripUse, StripUseKind, Vial
from logbook.domain.kit.supplies import ForLows, LowSupply, Supply, SupplyKind
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.medicine_notes import MedicineNote, NotAsPlanned
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PlannedCheck, PutAside
from logbook.domain.readings import Reading, Source
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact
from tests.store.records import ZONE, Clock, new_id

BEGIN = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
GLUCOSE = Glucose.number(118, Unit.MG_DL, "118")
METER = Meter.usual(new_id(1), "bedside", Unit.MG_DL, date(2026, 1, 1))


def at(days: float) -> Moment:
    """A moment so many days after the beginning."""
    return Moment.at(BEGIN + timedelta(days=days), ZONE)


def on(days: int) -> date:
    return date(2026, 3, 1) + timedelta(days=days)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "a.logbook", LogSettings(home_zone=ZONE), Clock()) as made:
        made.add(METER)
        yield made


def make_vial(number: int, opened: float | None = None, ended: float | None = None) -> Vial:
    return Vial(
        new_id(number),
        METER.id,
        50,
        BEGIN,
        lot=f"lot {number}",
        expires=PrintedDate.from_code("2027-03"),
        after_opening=AfterOpening.from_code("3m"),
        opened_at=None if opened is None else at(opened).instant,
        opened_on=None if opened is None else at(opened).day(),
        ended_at=None if ended is None else at(ended).instant,
        ranges=(ControlRange("1", Unit.MG_DL, 95, 130), ControlRange("2", Unit.MG_DL, 250, 340)),
    )


def make_reading(number: int, days: float, **others: object) -> Reading:
    moment = at(days)
    plain = Reading(new_id(number), GLUCOSE, moment, moment.instant, Slot.OTHER, meter_id=METER.id)
    return replace(plain, **others)  # type: ignore[arg-type]


# Each list in the order in which it is to come out.
KIT: dict[str, list[Record]] = {
    "vials": [make_vial(10, -30, -2), make_vial(11, -2), make_vial(12), make_vial(13)],
    "strip_counts": [StripCount(new_id(20 + n), new_id(11), at(n), BEGIN, 40 - n) for n in (0, 1)],
    "bottles": [
        ControlBottle(new_id(30), "1", BEGIN, opened_on=on(-3), ended_on=on(4)),
        ControlBottle(new_id(31), "2", BEGIN, opened_on=on(1)),
        ControlBottle(new_id(32), "2", BEGIN),
    ],
    "control_tests": [
        ControlTest(new_id(40), at(1), BEGIN, METER.id, new_id(11), new_id(30), "1", GLUCOSE),
        ControlTest(new_id(41), at(2), BEGIN, None, None, None, "2", GLUCOSE, 215),
    ],
    "meter_events": [
        MeterEvent(new_id(50), METER.id, MeterWhat.DROPPED, at(1), BEGIN),
        MeterEvent(new_id(51), METER.id, MeterWhat.CLOCK_CHECKED, at(2), BEGIN, -3),
    ],
    "lab_comparisons": [
        LabComparison(
            new_id(60), METER.id, at(1), BEGIN, GLUCOSE, Glucose.number(110, Unit.MG_DL), 5, True
        )
    ],
    "lancet_changes": [LancetChange(new_id(70), at(1), BEGIN)],
    "puncture_notes": [
        PunctureNote(new_id(80), new_id(500), at(1).instant, 25, False, None),
        PunctureNote(new_id(81), new_id(501), at(2).instant),
    ],
    "sharps_containers": [
        SharpsContainer(new_id(90), on(0), BEGIN, 100, 0, on(3), on(4)),
        SharpsContainer(new_id(91), on(3), BEGIN),
    ],
    "low_supplies": [
        LowSupply(new_id(100), ForLows.GLUCAGON, BEGIN, expires=PrintedDate(on(300))),
        LowSupply(new_id(101), ForLows.GLUCOSE_TABLETS, BEGIN + timedelta(minutes=1)),
    ],
    "supplies": [
        Supply(new_id(110), SupplyKind.LANCETS, "30G", BEGIN, 100, on(0)),
        Supply(new_id(111), SupplyKind.BATTERIES, "CR2032", BEGIN + timedelta(minutes=1)),
    ],
}


def test_all_of_the_kit_comes_back_in_order_of_time(book: Book) -> None:
    everything = [record for several in KIT.values() for record in several]
    random.Random(1).shuffle(everything)
    book.add(*everything)
    kit = book.kit()
    assert set(KIT) | {"meters", "strip_uses"} == {field.name for field in fields(KitData)}
    for name, expected in KIT.items():
        assert getattr(kit, name) == tuple(expected), name
    assert kit.meters == (METER,)
    assert book.check().is_sound


@pytest.mark.parametrize(
    "record",
    [
        StripCount(new_id(20), new_id(999), at(0), BEGIN, 3),
        make_vial(21),
        MeterEvent(new_id(22), new_id(999), MeterWhat.DROPPED, at(0), BEGIN),
        ControlTest(new_id(23), at(0), BEGIN, None, None, new_id(999), "1", GLUCOSE),
        Happening(new_id(24), What.STRIP_FAILED, at(0), BEGIN, meter_id=new_id(999)),
    ],
)
def test_what_refers_to_nothing_is_refused(book: Book, record: Record) -> None:
    if isinstance(record, Vial):
        record = replace(record, meter_id=new_id(999))
    with pytest.raises(NoSuchRecord):
        book.add(record)
    assert book.check().is_sound


def test_a_thing_and_what_refers_to_it_are_one_action_in_any_order(book: Book) -> None:
    book.add(KIT["strip_counts"][0], make_vial(11, -2))
    book.undo()
    assert book.kit().vials == ()
    book.put_back()
    assert book.kit().strip_counts == (KIT["strip_counts"][0],)


# --- strips --------------------------------------------------------------------------------------


def test_every_strip_is_told_that_the_log_knows_of(book: Book) -> None:
    book.add(
        make_reading(200, 1),
        make_reading(201, 2, source=Source.IMPORTED, meter_id=None),
        make_reading(202, 3),
        make_reading(203, 4, is_foreign=True),
        make_reading(204, 5, source=Source.COPIED_FROM_METER),
        Happening(new_id(210), What.STRIP_FAILED, at(2.5), BEGIN, StripFailure.SAME_DROP),
        Happening(new_id(211), What.STRIP_FAILED, at(6), BEGIN, meter_id=METER.id),
        Happening(new_id(212), What.STRIP_FAILED, at(7), BEGIN, crossed_out_at=BEGIN),
        Happening(new_id(213), What.FALL, at(7), BEGIN),
        ControlTest(new_id(220), at(3.5), BEGIN, METER.id, None, None, "1", GLUCOSE),
        ControlTest(new_id(221), at(8), BEGIN, METER.id, None, None, "1", GLUCOSE, None, "", BEGIN),
    )
    book.cross_out(new_id(202), "not mine")
    expected = (
        StripUse(at(1).instant, METER.id),
        StripUse(at(2).instant, None, was_typed=False),
        StripUse(at(2.5).instant, None, StripUseKind.FAILED),
        StripUse(at(3).instant, METER.id),  # crossed out, but the strip is gone
        StripUse(at(3.5).instant, METER.id, StripUseKind.CONTROL_TEST),
        StripUse(at(5).instant, METER.id, was_typed=False),
        StripUse(at(6).instant, METER.id, StripUseKind.FAILED),
    )
    assert book.kit().strip_uses == expected
    # From the first instant on, and before the second.
    assert book.strip_uses(at(2).instant, at(5).instant) == list(expected[1:5])
    assert book.strip_uses(at(5.1).instant, at(5.9).instant) == []


def test_a_damaged_reading_is_no_strip(book: Book) -> None:
    book.add(make_reading(200, 1), make_reading(201, 2))
    with closing(sqlite3.connect(book.path)) as connection:
        connection.execute("UPDATE readings SET note = 'x' WHERE rowid = 2")
        connection.commit()
    assert book.kit().strip_uses == (StripUse(at(1).instant, METER.id),)


def test_strips_are_told_since_the_first_vial_in_use_was_opened(book: Book) -> None:
    days = (-100, -50, -29, -27, 0)
    for number, day in enumerate(days):
        book.add(make_reading(200 + number, day))

    def told() -> list[float]:
        return [(use.at - BEGIN) / timedelta(days=1) for use in book.kit().strip_uses]

    assert told() == [-27, 0]  # 28 days at least
    book.add(make_vial(10, -3))
    assert told() == [-27, 0]
    book.add(make_vial(11, -50), make_vial(12, -120, -60), make_vial(13))
    assert told() == [-50, -29, -27, 0]
    book.replace(make_vial(11, -50, -1))
    assert told() == [-27, 0]


def test_without_an_entry_there_is_no_strip(book: Book) -> None:
    book.add(make_vial(10, -3))
    assert book.kit().strip_uses == ()


# --- plan and health -----------------------------------------------------------------------------


def test_plan_and_health_come_back_in_order_of_time(book: Book) -> None:
    check = PlannedCheck(Slot.AFTER_LUNCH, time(14, 0), (0, 2, 4), 2, 1, 120)
    plans = [
        CheckPlan(new_id(300), on(-9), (), BEGIN),
        CheckPlan(new_id(301), on(0), (check,), BEGIN, profile_days=3, ill_every_hours=4),
    ]
    pauses = [Pause(new_id(310), on(0), BEGIN, on(2), "away"), Pause(new_id(311), on(9), BEGIN)]
    put_asides = [PutAside(new_id(320 + n), on(n), Slot.BEDTIME, BEGIN) for n in (0, 1)]
    meals = [MealStart(new_id(330 + n), Slot.AFTER_LUNCH, at(n), BEGIN) for n in (0, 5)]
    notes = [MedicineNote(new_id(340 + n), NotAsPlanned.LATE, at(n), BEGIN, "x") for n in (0, 5)]
    ticks = [Tick(new_id(350 + n), About.INSULIN, Told.NO, on(n), BEGIN) for n in (0, 1)]
    a1cs = [LabA1C(new_id(360 + n), on(n), 71 + n, A1CUnit.PERCENT, BEGIN) for n in (0, 1)]
    averages = [MeterAverage(new_id(370 + n), None, at(n), BEGIN, 14, GLUCOSE) for n in (0, 1)]
    lists = (plans, pauses, put_asides, meals, notes, ticks, a1cs, averages)
    everything = [record for several in lists for record in several]
    random.Random(2).shuffle(everything)
    book.add(*everything)
    first_days = Period(on(0), on(3))
    assert book.plans() == plans
    assert book.pauses() == pauses
    assert book.put_asides() == put_asides
    assert book.meal_starts() == meals
    assert book.meal_starts(first_days) == meals[:1]
    assert book.medicine_notes() == notes
    assert book.medicine_notes(first_days) == notes[:1]
    assert book.ticks().all == tuple(ticks)
    assert book.a1cs() == a1cs
    assert book.meter_averages() == averages
    visit = book.visit_data(first_days, at(4))
    assert (visit.plans, visit.pauses) == (tuple(plans), tuple(pauses))
    assert (visit.put_asides, visit.meal_starts) == (tuple(put_asides), tuple(meals[:1]))
    assert (visit.medicine_notes, visit.ticks.all) == (tuple(notes[:1]), tuple(ticks))
    assert (visit.a1cs, visit.meter_averages) == (tuple(a1cs), tuple(averages))


def test_a_report_knows_the_strips_of_its_period_and_answers_about_days(book: Book) -> None:
    spell = Spell(new_id(400), SpellKind.ILL, on(-90), on(-80))
    tick = Tick(new_id(401), About.INSULIN, Told.YES, on(-90), BEGIN)
    contact = Contact(new_id(402), "person", "Example Neighbour", "555-0100")

    def answer(number: int, about: UUID) -> Answer:
        return Answer(new_id(number), about, Asked.STILL_ILL, Said.YES, BEGIN)

    about_days = [answer(410, spell.id), answer(411, tick.id)]
    book.add(make_reading(200, -60), make_reading(201, -40), make_reading(202, 0))
    book.add(spell, tick, contact, *about_days, answer(412, new_id(200)), answer(413, new_id(999)))
    period = Period(on(-45), on(-35))
    visit = book.visit_data(period, at(0))
    assert [use.at for use in visit.kit.strip_uses] == [at(-40).instant, at(0).instant]
    assert visit.answers == tuple(about_days)
    assert visit.contacts == (contact,)
    assert visit.kit.meters == (METER,)


def test_a_report_is_given_the_readings_that_its_kit_questions_and_no_others(book: Book) -> None:
    late = replace(
        Vial(new_id(500), METER.id, 50, BEGIN),
        after_opening=AfterOpening(5, in_months=False),
        opened_at=at(-30).instant,
        opened_on=on(-30),
        ended_at=at(-20).instant,
    )
    book.add(late, *(make_reading(510 + n, -40 + n) for n in range(40)))
    visit = book.visit_data(Period(on(-44), on(0)), at(0))
    asked = [one.at.day() for one in visit.kit_readings]
    assert asked == [on(day) for day in range(-25, -18)]
    book.replace(replace(late, after_opening=None))
    assert book.visit_data(Period(on(-44), on(0)), at(0)).kit_readings == ()


def test_a_report_reaches_back_before_its_period_for_a1c_and_the_meters_average(
    book: Book,
) -> None:
    book.add(*(make_reading(600 + n, -120 + n) for n in range(120)))
    period = Period(on(-29), on(0))
    plain = book.visit_data(period, at(0))
    assert len(plain.series) == 29
    assert len(plain.series) < len(plain.reach) < 60
    assert plain.average_readings == ()
    book.add(
        LabA1C(new_id(730), on(-5), 71, A1CUnit.PERCENT, BEGIN),
        MeterAverage(new_id(731), METER.id, at(-2), BEGIN, 14, GLUCOSE),
    )
    visit = book.visit_data(period, at(0))
    assert visit.reach.wall_minutes[0] // 1440 == (on(-95) - date(1970, 1, 1)).days
    assert {one.at.day() for one in visit.average_readings} == {on(day) for day in range(-17, 0)}
