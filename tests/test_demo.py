"""The demonstration log: invented, whole, and the same every time it is made on one day."""

import sqlite3
from collections import Counter
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from logbook.book import Action, Book
from logbook.demo.diary import diary
from logbook.demo.making import make_demo_log
from logbook.demo.story import Story
from logbook.domain.answers import Said
from logbook.domain.glucose import Kind
from logbook.domain.happenings import What
from logbook.domain.kit.comparison import ComparisonVerdict, compared
from logbook.domain.kit.control_results import ControlResult, result_of
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.supplies import SupplyKind
from logbook.domain.kit.vial_life import stock_vials, vial_in_use
from logbook.domain.lows import WarningSigns
from logbook.domain.moments import Moment, Period
from logbook.domain.punctures import Past, punctures_of, recent
from logbook.domain.readings import Doubt, Source
from logbook.domain.rest import evenness
from logbook.domain.rotation import sites_in_use
from logbook.domain.sites import SiteUse
from logbook.domain.spells import SpellKind
from logbook.domain.summary import summarise
from logbook.domain.targets import SetBy, TargetKind
from logbook.domain.ticks import About, Told

ZONE = "America/Chicago"
NOW = Moment.at(datetime(2026, 3, 31, 15, 0, tzinfo=UTC), ZONE)


def _clock() -> datetime:
    return NOW.instant


@pytest.fixture(scope="module")
def demo_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("demo") / "demo.logbook"
    make_demo_log(path, NOW)
    return path


@pytest.fixture
def book(demo_path: Path):  # type: ignore[no-untyped-def]  # noqa: ANN201
    with Book.open(demo_path, _clock, read_only=True) as book:
        yield book


def test_it_is_marked_as_invented(book: Book) -> None:
    assert book.settings.person_name.startswith("Invented demo log")
    for contact in book.contacts():
        assert contact.phone.startswith("555-01")  # kept free for stories


def test_it_covers_five_months_up_to_yesterday(book: Book) -> None:
    span = book.span()
    assert span is not None
    assert span[1] == date(2026, 3, 30)
    assert timedelta(days=140) < span[1] - span[0] < timedelta(days=150)


def test_one_to_four_checks_a_day_and_days_without(book: Book) -> None:
    per_day = Counter(reading.at.day() for reading in book.readings())
    usual = [count for count in per_day.values() if 1 <= count <= 4]
    assert len(usual) >= 0.95 * len(per_day)
    away = next(spell for spell in book.spells() if spell.kind is SpellKind.TRAVEL)
    assert away.last is not None
    days_away = Period(away.first, away.last)
    assert sum(per_day[day] for day in days_away) < days_away.days


def test_the_story_holds_everything_a_log_can_hold(book: Book) -> None:
    readings = book.readings()
    assert sum(reading.crossed_out is not None for reading in readings) == 1
    assert [r.doubt for r in readings if r.doubt] == [Doubt.UNWASHED_FINGER]
    (corrected,) = [reading for reading in readings if reading.earlier]
    assert (corrected.glucose.steps, corrected.earlier[0].glucose.steps) == (181, 118)
    assert corrected.earlier[0].corrected_at - corrected.at.instant > timedelta(days=1)
    assert any(reading.glucose.kind is Kind.READS_HIGH for reading in readings)
    assert any(reading.is_foreign for reading in readings)
    assert any(reading.source is Source.COPIED_FROM_METER for reading in readings)
    assert any(reading.note for reading in readings)
    assert len({reading.meter_id for reading in readings}) == 3
    assert set(SiteUse) == {reading.site_use for reading in readings}
    assert {spell.kind for spell in book.spells()} >= {SpellKind.STEROID, SpellKind.ILL}
    assert len(book.questions()) == 3
    assert len(book.questions(open_only=False)) == 4
    assert {contact.role for contact in book.contacts()} == {"person", "provider", "after_hours"}
    assert len(book.medicines()) == 3
    assert len(book.lancet_changes()) > 20
    whats = {happening.what for happening in book.happenings()}
    assert whats == {What.FELT_LOW_TREATED, What.STRIP_FAILED}
    last, following = book.appointments()
    assert last.decided
    assert following.day == date(2026, 4, 3)


def test_the_provider_changed_the_targets_at_the_last_visit(book: Book) -> None:
    targets = book.targets()
    days = targets.change_days(TargetKind.FASTING)
    assert len(days) == 2
    assert days[1] == book.appointments()[0].day
    assert {target.set_by for target in targets.all} == {SetBy.PROVIDER}


def test_lows_have_their_rechecks_and_answers(book: Book) -> None:
    span = book.span()
    assert span is not None
    period = Period(*span)
    summary = summarise(
        book.series(), period, book.settings, book.targets(), book.happenings(), book.answers()
    )
    assert len(summary.lows) == 7
    assert sum(not low.is_measured for low in summary.lows) == 1
    assert sum(low.back_above_69_after_minutes is not None for low in summary.lows) == 5
    assert Counter(low.warning_signs for low in summary.lows) == {
        WarningSigns.YES: 3,
        WarningSigns.NO: 2,
        WarningSigns.UNKNOWN: 2,
    }
    readings = {reading.id: reading for reading in book.readings()}
    rechecks = [reading for reading in readings.values() if reading.recheck_of]
    assert len(rechecks) == 8
    for recheck in rechecks:
        low = readings[recheck.recheck_of]  # type: ignore[index]
        assert low.glucose.steps is not None
        assert low.glucose.steps < 70
        assert timedelta(0) < recheck.at.instant - low.at.instant < timedelta(minutes=40)
    assert {answer.about for answer in book.answers()} <= readings.keys()
    assert {answer.said for answer in book.answers()} == {Said.YES, Said.NO}


def test_lows_come_from_the_story_alone(book: Book) -> None:
    low = [r for r in book.readings() if r.glucose.steps is not None and r.glucose.steps < 70]
    assert len(low) == 6 + 3  # six lows, three rechecks that were still low


def test_values_are_higher_in_the_steroid_week(book: Book) -> None:
    steroid = next(spell for spell in book.spells() if spell.kind is SpellKind.STEROID)

    def mean_of_day_time(*, within: bool) -> float:
        values = [
            reading.glucose.steps
            for reading in book.readings()
            if reading.counts
            and reading.glucose.steps is not None
            and 11 <= reading.at.wall.hour <= 20
            and steroid.covers(reading.at.day()) is within
        ]
        return sum(values) / len(values)

    assert mean_of_day_time(within=True) > mean_of_day_time(within=False) + 50


def test_fingers_mostly_follow_the_advice(book: Book) -> None:
    punctures = punctures_of(book.readings(), book.happenings())
    lately = recent(punctures, book.settings, NOW)
    even = evenness(lately, sites_in_use(book.settings))
    assert even is not None
    assert even > 0.9
    assert Past(punctures, NOW, book.settings).punctures


def test_everything_was_written_when_the_story_says(book: Book) -> None:
    for reading in book.readings():
        assert reading.written_at > reading.at.instant
        assert reading.written_at < NOW.instant


def test_the_last_action_can_be_undone_and_is_a_recent_one(book: Book) -> None:
    done = book.undoable
    assert done is not None
    assert done.action is Action.ADD
    assert done.at.date() == date(2026, 3, 30) or done.at.date() == date(2026, 3, 31)


def test_it_is_the_same_for_every_moment_of_one_day_and_differs_the_next() -> None:
    today = Story(date(2026, 3, 31), ZONE)
    assert diary(today) == diary(Story(date(2026, 3, 31), ZONE))
    assert diary(today) != diary(Story(date(2026, 4, 1), ZONE))


@pytest.mark.parametrize("day", [date(2024, 2, 29), date(2026, 1, 1), date(2026, 11, 2)])
@pytest.mark.parametrize("zone", ["UTC", "Europe/Berlin", "Pacific/Auckland"])
def test_any_day_and_zone_will_do(day: date, zone: str) -> None:
    events = diary(Story(day, zone))
    assert len(events) > 150
    assert events == sorted(events, key=lambda event: event.when)


def test_the_file_is_a_sound_database(demo_path: Path) -> None:
    # SQLite's own checks.
    with sqlite3.connect(f"file:{demo_path}?mode=ro", uri=True) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    connection.close()


def test_the_kit_is_whole_and_its_sums_are_right(book: Book) -> None:
    kit = book.kit()
    own = own_meters(kit.meters, date(2026, 3, 31))
    for meter in own:
        vial = vial_in_use(meter.id, kit)
        assert vial is not None, meter.name
        account = account_of(vial, kit)
        assert account.beyond == 0
        assert 0 < account.left < account.count
    assert len(stock_vials(own[0].id, kit)) == 1
    assert all(result_of(test, kit) is ControlResult.PASS for test in kit.control_tests)
    assert {supply.kind for supply in kit.supplies} == {SupplyKind.STRIPS, SupplyKind.LANCETS}
    assert all(supply.exact_type.startswith("invented") for supply in kit.supplies)
    (pair,) = kit.lab_comparisons
    assert compared(pair).verdict is ComparisonVerdict.WITHIN
    ids = {reading.id for reading in book.readings()}
    assert len(kit.puncture_notes) == 4
    assert {note.about for note in kit.puncture_notes} <= ids
    assert book.ticks().told(About.INSULIN, date(2026, 3, 31)) is Told.YES
    assert len(book.a1cs()) == 1


def test_the_average_of_the_meter_is_that_of_its_readings(book: Book) -> None:
    (average,) = book.meter_averages()
    held = [
        reading.glucose.steps
        for reading in book.readings()
        if reading.meter_id == average.meter_id
        and date(2026, 3, 16) <= reading.at.wall.date() <= date(2026, 3, 29)
        and reading.at.instant <= average.at.instant
    ]
    assert average.at.wall.date() == date(2026, 3, 29)
    assert average.count == len(held)
    assert average.glucose.steps == round(sum(steps for steps in held if steps) / len(held))
