"""The Book, as a person's logbook: write, correct, cross out, ask."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.book import Action, Book, Changed, Record
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.errors import AlreadyThere, NoSuchRecord
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.kit.lancets import LancetChange
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Doubt, Feeling, Reading, Source
from logbook.domain.series import Mark
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from tests.domain.series_of import series_of
from tests.store import strategies
from tests.store.records import Clock, day, make_log, make_reading, new_id

ZONE = "America/New_York"


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "a.logbook", LogSettings(home_zone=ZONE), Clock()) as book:
        yield book


def at(text: str, zone: str = ZONE, *, second_time: bool = False) -> Moment:
    return Moment.from_wall(datetime.fromisoformat(text), zone, second_time=second_time)


def reading_at(number: int, text: str, zone: str = ZONE, **others: Any) -> Reading:
    moment = at(text, zone)
    return make_reading(number, at=moment, written_at=moment.instant, **others)


# --- writing --------------------------------------------------------------------------------------


def test_a_reading_is_kept_and_told_to_who_listens(book: Book) -> None:
    heard: list[Changed] = []
    book.listen(heard.append)
    changed = book.add(make_reading(1))
    assert heard == [changed]
    assert changed.kinds == {Reading}
    assert (changed.done.action, changed.done.record) == (Action.ADD, make_reading(1))
    assert book.undoable == changed.done
    with Book.open(book.path, Clock(), read_only=True) as other:
        assert other.readings() == [make_reading(1)]


def test_a_correction_keeps_what_was_said_before(book: Book) -> None:
    before = make_reading(1, steps=128)
    book.add(before)
    glucose = Glucose.number(182, Unit.MG_DL, "182")
    seven = at("2026-03-02 07:00")
    done = book.correct(before.id, glucose, seven, Slot.NIGHT, "digits swapped").done
    after = book.reading(before.id)
    assert (done.record, done.earlier) == (after, before)
    assert (after.glucose, after.slot, after.at) == (glucose, Slot.NIGHT, at("2026-03-02 07:00"))
    (earlier,) = after.earlier
    assert (earlier.glucose, earlier.at, earlier.slot) == (before.glucose, before.at, before.slot)
    assert earlier.reason == "digits swapped"
    book.correct(before.id, Glucose.number(181, Unit.MG_DL), after.at, after.slot)
    assert [one.glucose.steps for one in book.reading(before.id).earlier] == [128, 182]
    assert book.correct(before.id, Glucose.number(181, Unit.MG_DL), after.at, after.slot).kinds == (
        frozenset()
    )


def test_a_crossed_out_reading_stays_and_can_be_brought_back(book: Book) -> None:
    book.add(make_reading(1))
    book.cross_out(new_id(1), "someone else's")
    crossed = book.reading(new_id(1))
    assert crossed.crossed_out is not None
    assert crossed.crossed_out.reason == "someone else's"
    assert not crossed.counts
    assert book.cross_out(new_id(1), "again").kinds == frozenset()
    book.bring_back(new_id(1))
    assert book.readings() == [make_reading(1)]


def test_a_doubt_is_put_and_taken_away(book: Book) -> None:
    book.add(make_reading(1))
    book.doubt(new_id(1), Doubt.UNWASHED_FINGER)
    assert book.reading(new_id(1)).doubt is Doubt.UNWASHED_FINGER
    book.doubt(new_id(1), None)
    assert book.readings() == [make_reading(1)]


def test_circumstances_are_replaced(book: Book) -> None:
    reading, question = make_reading(1), Question(new_id(50), "Why at night?", Clock()())
    book.add(reading)
    book.add(question)
    site = Site.from_code("left.ring.thumb_side")
    noted = replace(reading, site=site, site_use=SiteUse.USED, feelings=(Feeling.SHAKY,))
    changed = book.replace(noted, replace(question, done_on=day("2026-03-09")))
    assert changed.kinds == {Reading, Question}
    assert book.readings() == [noted]
    assert book.questions() == []
    assert book.questions(open_only=False) == [replace(question, done_on=day("2026-03-09"))]
    assert book.replace(noted).kinds == frozenset()


def test_an_import_is_one_action_that_names_its_file(book: Book) -> None:
    heard: list[Changed] = []
    book.listen(heard.append)
    many = [make_reading(n, source=Source.IMPORTED) for n in range(1, 500)]
    done = book.take_in(many, "diary.csv").done
    assert (done.action, done.count, done.name) == (Action.IMPORT, 499, "diary.csv")
    assert done.record == many[0]
    assert book.undoable is not None
    assert (book.undoable.count, book.undoable.name) == (499, "diary.csv")
    assert book.has_records([new_id(1), new_id(499), new_id(500)]) == {new_id(1), new_id(499)}
    assert len(heard) == 1
    book.undo()
    assert (book.readings(), book.has_records([new_id(1)])) == ([], set())
    assert book.take_in([], "empty.csv").kinds == frozenset()


def test_a_recheck_may_come_before_the_reading_it_checks(book: Book) -> None:
    book.take_in([make_reading(2, recheck_of=new_id(1)), make_reading(1)], "backwards.csv")
    assert [reading.recheck_of for reading in book.readings()] == [None, new_id(1)]
    book.undo()


def test_what_is_not_there_is_told(book: Book) -> None:
    for act in (book.reading, book.cross_out, book.bring_back):
        with pytest.raises(NoSuchRecord):
            act(UUID(int=1))
    other = make_log(book.path.with_name("b"))
    with pytest.raises(AlreadyThere):
        Book.create(other, LogSettings(), Clock())


def test_a_book_left_by_an_error_is_closed(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook")

    def fail() -> None:
        with Book.open(path, Clock()) as book:
            book.add(make_reading(1))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    with Book.open(path, Clock()) as book:
        assert len(book.readings()) == 1
        book.close()  # and a second time, which is harmless


# --- asking ---------------------------------------------------------------------------------------


def test_readings_come_in_order_and_a_screenful_at_a_time(book: Book) -> None:
    made = [make_reading(n) for n in range(1, 21)]
    book.add(*made[10:])
    book.add(*made[:10])
    assert book.readings() == made
    assert book.readings(newest_first=True) == made[::-1]
    assert book.readings(limit=3) == made[:3]
    shown: list[Reading] = []
    older_than: Moment | None = None
    while page := book.readings(newest_first=True, limit=7, older_than=older_than):
        shown += page
        older_than = page[-1].at
    assert shown == made[::-1]
    assert book.readings(limit=0) == []


def test_a_period_is_of_the_persons_days(book: Book) -> None:
    """From 04:00 to 04:00 by the clock on the wall, whatever the zone."""
    times = ["2026-03-01 03:59", "2026-03-01 04:00", "2026-03-02 03:59", "2026-03-02 04:00"]
    made = [reading_at(n, text) for n, text in enumerate(times, start=1)]
    far = [
        reading_at(11, "2026-03-01 12:00", "Pacific/Kiritimati"),
        reading_at(12, "2026-03-01 12:00", "Etc/GMT+12"),
    ]
    book.add(*made, *far)
    period = Period(day("2026-03-01"), day("2026-03-01"))
    inside = {made[1], made[2], *far}
    assert set(book.readings(period)) == inside
    assert set(book.series(period).ids) == {str(reading.id) for reading in inside}
    assert book.span() == (day("2026-02-28"), day("2026-03-02"))
    book.save_settings(replace(book.settings, day_starts_at=time(0, 0)))
    assert set(book.readings(period)) == {made[0], made[1], *far}
    assert book.span() == (day("2026-03-01"), day("2026-03-02"))


def test_the_repeated_hour_is_in_the_order_of_real_time(book: Book) -> None:
    first = make_reading(1, at=at("2026-11-01 01:30"))
    second = make_reading(2, at=at("2026-11-01 01:10", second_time=True))
    book.add(second, first)
    assert book.readings() == [first, second]
    assert book.series().ids == (str(first.id), str(second.id))
    assert first.at.minutes_until(second.at) == 40


def test_an_empty_book_has_empty_answers(book: Book) -> None:
    period = Period(day("2026-03-01"), day("2026-03-07"))
    assert book.readings() == book.readings(period) == []
    assert len(book.series()) == len(book.series(period)) == 0
    assert book.span() is None
    assert book.undoable is book.restorable is None
    assert book.has_records([new_id(1)]) == book.has_records([]) == set()


@settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=30, deadline=None
)
@given(st.lists(strategies.readings, max_size=12, unique_by=lambda r: r.id))
def test_the_columns_say_what_the_readings_say(book: Book, made: list[Reading]) -> None:
    """Against the columns that the tests of the figures build from whole readings."""
    while book.undoable is not None:
        book.undo()
    if made:
        book.add(*made)
    found, series = book.readings(), book.series()
    assert {reading.id: reading for reading in found} == {reading.id: reading for reading in made}
    expected = series_of(found)
    for name in type(series).__slots__:
        if name != "marks":
            assert getattr(series, name) == getattr(expected, name), name
    for reading, marks in zip(found, series.marks, strict=True):
        told = {mark for mark in Mark if marks & mark}
        assert told == marks_of(reading)


def marks_of(reading: Reading) -> set[Mark]:
    """The marks of a reading, from what each mark's name says."""
    felt = set(reading.feelings) - {Feeling.WELL}
    has = {
        Mark.CROSSED_OUT: reading.crossed_out is not None,
        Mark.NOT_BELIEVED: reading.doubt is not None,
        Mark.FOREIGN_METER: reading.is_foreign,
        Mark.DAMAGED: reading.is_damaged,
        Mark.CORRECTED: bool(reading.earlier),
        Mark.COPIED_FROM_METER: reading.source is Source.COPIED_FROM_METER,
        Mark.IMPORTED: reading.source is Source.IMPORTED,
        Mark.COULD_NOT_WASH: reading.could_not_wash,
        Mark.FELT_SOMETHING: bool(felt) or reading.purpose is Purpose.FELT_SOMETHING,
        Mark.HAS_NOTE: bool(reading.note),
    }
    return {mark for mark, is_so in has.items() if is_so}


def test_every_other_list_is_in_its_order(book: Book) -> None:
    morning, evening = at("2026-03-01 07:00"), at("2026-03-01 19:00")
    happenings = [
        Happening(new_id(102), What.FALL, morning, morning.instant),
        Happening(new_id(101), What.NEEDED_HELP, evening, evening.instant, about=new_id(1)),
    ]
    answers = [
        Answer(new_id(112), new_id(1), Asked.CALLED, Said.LATER, morning.instant),
        Answer(new_id(111), new_id(2), Asked.CALLED, Said.YES, evening.instant),
    ]
    lancets = [
        LancetChange(new_id(122), morning, morning.instant),
        LancetChange(new_id(121), evening, evening.instant),
    ]
    meters = [
        Meter.usual(new_id(132), "bedside", Unit.MG_DL, day("2025-01-01")),
        Meter.usual(new_id(131), "handbag", Unit.MG_DL, day("2026-01-01")),
    ]
    spells = [
        Spell(new_id(142), SpellKind.ILL, day("2026-01-05"), day("2026-01-09")),
        Spell(new_id(141), SpellKind.STEROID, day("2026-02-01")),
    ]
    appointments = [
        Appointment(new_id(153), day("2026-03-01"), time(9, 0)),
        Appointment(new_id(152), day("2026-03-01"), time(15, 30), "Dr Invented"),
        Appointment(new_id(151), day("2026-06-01")),
    ]
    medicines = [
        Medicine(new_id(162), "white tablet", day("2020-01-01"), day("2025-01-01")),
        Medicine(new_id(161), "long-acting", day("2025-01-01")),
    ]
    contacts = [
        Contact(new_id(172), "person", "Anna", "555 0100"),
        Contact(new_id(171), "provider", "Practice", "555 0101"),
    ]
    lists: tuple[Sequence[Record], ...] = (
        happenings,
        answers,
        lancets,
        meters,
        spells,
        appointments,
        medicines,
        contacts,
    )
    for some in lists:
        book.add(*reversed(some))
    assert book.happenings() == happenings
    assert book.answers() == answers
    assert book.answers([new_id(2)]) == answers[1:]
    assert book.lancet_changes() == lancets
    assert book.meters() == meters
    assert book.spells() == spells
    assert book.appointments() == appointments
    assert book.medicines() == medicines
    assert book.contacts() == contacts
    before = Period(day("2026-02-01"), day("2026-02-28"))
    assert (book.happenings(before), book.lancet_changes(before)) == ([], [])


def test_targets_hold_from_their_day(book: Book) -> None:
    def target(number: int, upper: int, holds_from: str) -> Target:
        limits = Limits(Unit.MG_DL, None, Limit(Operator.BELOW, upper))
        return Target(
            new_id(number), TargetKind.FASTING, (limits,), day(holds_from), SetBy.PROVIDER
        )

    old, new = target(1, 130, "2026-01-01"), target(2, 150, "2026-03-01")
    book.add(new)
    book.add(old)
    held = book.targets()
    assert held.for_slot(Slot.FASTING, day("2025-12-31")) is None
    assert held.for_slot(Slot.FASTING, day("2026-02-28")) == old
    assert held.for_slot(Slot.FASTING, day("2026-03-01")) == new


def test_a_visit_is_given_all_that_belongs_to_it(book: Book) -> None:
    period = Period(day("2026-03-01"), day("2026-03-14"))
    inside = [reading_at(n, f"2026-03-{n:02} 08:00") for n in range(1, 15)]
    noted = replace(inside[2], note="party")
    inside[2] = noted
    sited = reading_at(
        30, "2026-02-20 08:00", site=Site.from_code("left.ring"), site_use=SiteUse.USED
    )
    low = Happening(new_id(60), What.FELT_LOW_TREATED, at("2026-03-05 02:00"), Clock()())
    about = Answer(new_id(61), low.id, Asked.FELT_LOW_COMING, Said.NO, Clock()())
    elsewhere = Answer(new_id(62), sited.id, Asked.CALLED, Said.YES, Clock()())
    appointments = [
        Appointment(new_id(70 + n), day(d))
        for n, d in enumerate(["2025-12-01", "2026-03-14", "2026-03-15", "2026-09-01"])
    ]
    spells = [
        Spell(new_id(80), SpellKind.ILL, day("2026-02-01"), day("2026-03-01")),
        Spell(new_id(81), SpellKind.TRAVEL, day("2026-02-01"), day("2026-02-28")),
        Spell(new_id(82), SpellKind.STEROID, day("2026-03-14")),
    ]
    book.add(*inside, sited, low, about, elsewhere, *appointments, *spells)
    made_at = at("2026-03-15 10:00")
    data = book.visit_data(period, made_at)
    assert data.series == series_with_notes(inside)
    assert data.before.ids == (str(sited.id),)
    assert data.noted == (noted,)
    assert (data.happenings, data.answers) == ((low,), (about,))
    assert data.spells == (spells[0], spells[2])
    assert (data.last_appointment, data.next_appointment) == (appointments[1], appointments[2])
    assert data.sites == ((day("2026-02-20"), "left.ring"),)
    assert (data.settings, data.made_at, data.period) == (book.settings, made_at, period)


def series_with_notes(made: list[Reading]) -> object:
    plain = series_of(made)
    marks = tuple(
        marks | (Mark.HAS_NOTE if reading.note else 0)
        for marks, reading in zip(plain.marks, made, strict=True)
    )
    return replace(plain, marks=marks)


def test_writing_time_is_kept_apart_from_reading_time(book: Book) -> None:
    late = make_reading(1, written_at=make_reading(1).at.instant + timedelta(days=3))
    book.add(late)
    assert book.reading(late.id).written_after == timedelta(days=3)
    (written,), (wall,) = book.series().written_minutes, book.series().wall_minutes
    assert written - wall == 3 * 24 * 60
