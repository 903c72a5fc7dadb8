"""Clock times as they are typed, and what is usual for this person."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.errors import BadMoment
from logbook.domain.glucose import Unit
from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.due import what_is_due
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.usual_times import usual_times
from logbook.ui.clock_input import parse_clock
from logbook.wording.manner import Manner, set_manner
from tests.ui.writing_window import writing_window

AM, PM = time(7, 30), time(19, 30)


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("7:30 pm", (PM,)),
        ("7.30 PM", (PM,)),
        ("7:30 p.m.", (PM,)),
        ("730pm", (PM,)),
        ("7:30 am", (AM,)),
        ("0730", (AM,)),
        ("07:30", (AM,)),
        ("1930", (PM,)),
        ("19.30", (PM,)),
        ("7:30", (AM, PM)),
        ("7.30", (AM, PM)),
        ("730", (AM, PM)),
        ("7 30", (AM, PM)),
        (" 7:30 ", (AM, PM)),
        ("12 am", (time(0),)),
        ("12 pm", (time(12),)),
        ("12:15", (time(0, 15), time(12, 15))),
        ("0:15", (time(0, 15),)),
        ("00:15", (time(0, 15),)),
        ("7", (time(7), time(19))),
        ("13", (time(13),)),
    ],
)
def test_clock_times_on_a_clock_of_12_hours(text: str, meant: tuple[time, ...]) -> None:
    set_manner(Manner("en_US"))
    assert parse_clock(text) == meant


@pytest.mark.parametrize("text", ["7:30", "7.30", "730", "07:30", "7h30"])
def test_on_a_clock_of_24_hours_nothing_is_asked(text: str) -> None:
    set_manner(Manner("en_GB"))
    try:
        assert parse_clock(text) == (AM,)
    finally:
        set_manner(Manner("en_US"))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "time_malformed"),
        ("noon", "time_malformed"),
        ("7:3", "time_malformed"),
        ("7:60", "time_malformed"),
        ("-7:30", "time_malformed"),
        ("7:30:15", "time_malformed"),
        ("\u0667:\u0663\u0660", "time_malformed"),  # 7:30 in Arabic-Indic figures
        ("25:00", "time_impossible"),
        ("24:00", "time_impossible"),
        ("13:30 pm", "time_impossible"),
        ("0 am", "time_impossible"),
    ],
)
def test_what_is_no_time_is_refused(text: str, why: str) -> None:
    with pytest.raises(BadMoment) as refused:
        parse_clock(text)
    assert refused.value.facts["why"] == why


def test_an_hour_that_came_twice_is_asked_about(qtbot: QtBot, tmp_path: Path) -> None:
    # Clocks in New York went back on 2 November 2025 at 2:00; 1:00 came twice.
    monday = datetime.fromisoformat("2025-11-03T15:00:00+00:00")
    with writing_window(tmp_path, now=monday) as person:
        # One o'clock in the night from Saturday to Sunday belongs to the person's Saturday.
        person.press("1", "2", "8", "Another day", "Saturday, November 1")
        person.press("1:00 AM after midnight", "The second time, an hour later")
        person.press("Save 128 mg/dL")
        at = person.readings[0].at
        assert (at.wall.hour, at.offset) == (1, timedelta(hours=-5))


def test_only_hours_that_have_been_are_offered_today(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:  # 12:04
        person.press("1", "Earlier today")
        offered = [one.text() for one in person.page.filling.when_step._buttons]
        # The night just over is among them, though it belongs to yesterday.
        assert (offered[0], offered[-1]) == ("12:00 AM", "12:00 PM")
        assert len(offered) == 13


def test_a_check_of_the_night_is_found_under_yesterday_too(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:  # Tuesday 12:04
        person.press("1", "2", "8", "Yesterday", "2:00 AM after midnight", "Save 128 mg/dL")
        at = person.readings[0].at
        assert at.wall == datetime(2026, 3, 31, 2, 0)
        assert "last night at 2:00 AM" in person.words()


def test_after_midnight_earlier_today_is_the_evening(qtbot: QtBot, tmp_path: Path) -> None:
    half_past_one = datetime(2026, 4, 1, 5, 30, tzinfo=UTC)
    with writing_window(tmp_path, now=half_past_one) as person:
        person.press("1", "2", "8", "Earlier today", "10:00 PM", "Save 128 mg/dL")
        assert person.readings[0].at.wall == datetime(2026, 3, 31, 22, 0)
        assert "today at 10:00 PM" in person.words()


def test_a_time_that_has_not_come_is_refused_in_words(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        person.press("1", "Earlier today")
        person.fill(person.page.filling.when_step.typed_text, "19:00")
        person.press("Use what I typed")
        assert "has not come yet" in person.message
        assert person.page.filling.when_step.typed_text.text() == "19:00"


# --- usual times --------------------------------------------------------------------------------


def series_of(checks: list[tuple[Slot, datetime]]) -> Series:
    moments = [Moment.from_wall(wall, "UTC") for _slot, wall in checks]
    count = len(checks)
    return Series(
        ids=tuple(str(index) for index in range(count)),
        instants=tuple(int(m.instant.timestamp() * 1_000_000) for m in moments),
        wall_minutes=tuple(m.wall_minute for m in moments),
        written_minutes=tuple(m.wall_minute for m in moments),
        steps=(100,) * count,
        units=(Unit.MG_DL,) * count,
        slots=tuple(slot for slot, _wall in checks),
        purposes=(Purpose.PLANNED,) * count,
        marks=(0,) * count,
        minutes_after=(None,) * count,
        rechecks_of=(None,) * count,
    )


NOW = Moment.from_wall(datetime(2026, 3, 31, 7, 20), "UTC")
DAY_STARTS = time(4)


def daily(slot: Slot, clock: time, days: int) -> list[tuple[Slot, datetime]]:
    return [
        (slot, datetime.combine(NOW.wall.date(), clock) - timedelta(days=back))
        for back in range(days, 0, -1)
    ]


def test_five_days_make_a_usual_time_and_four_do_not() -> None:
    four = usual_times(series_of(daily(Slot.FASTING, time(7, 5), 4)), NOW, DAY_STARTS)
    five = usual_times(series_of(daily(Slot.FASTING, time(7, 5), 5)), NOW, DAY_STARTS)
    assert four.checks == ()
    assert four.due(NOW) is None
    due = five.due(NOW)
    assert due is not None
    assert (due.slot, due.at) == (Slot.FASTING, time(7))  # told to the quarter of an hour


def test_what_is_done_today_or_far_off_is_not_due() -> None:
    checks = daily(Slot.FASTING, time(7, 5), 10)
    done = [*checks, (Slot.FASTING, datetime(2026, 3, 31, 7, 1))]
    assert usual_times(series_of(done), NOW, DAY_STARTS).due(NOW) is None
    noon = Moment.from_wall(datetime(2026, 3, 31, 12), "UTC")
    assert usual_times(series_of(checks), noon, DAY_STARTS).due(noon) is None


def test_a_check_after_midnight_belongs_to_the_evening_before() -> None:
    checks = daily(Slot.BEDTIME, time(0, 30), 10)
    late = Moment.from_wall(datetime(2026, 3, 31, 0, 10), "UTC")
    due = usual_times(series_of(checks), late, DAY_STARTS).due(late)
    assert due is not None
    assert due.slot is Slot.BEDTIME


def test_the_next_check_may_be_tomorrow() -> None:
    checks = daily(Slot.FASTING, time(7, 5), 10)
    noon = Moment.from_wall(datetime(2026, 3, 31, 12), "UTC")
    following = what_is_due(PlanFacts(), series_of(checks), noon, LogSettings()).next
    assert following is not None
    assert (following.slot, following.at.wall.date()) == (Slot.FASTING, date(2026, 4, 1))


def test_a_young_log_chooses_a_tile_by_common_hours_and_says_nothing() -> None:
    young = usual_times(series_of([]), NOW, DAY_STARTS)
    assert young.likely_slot(NOW) is Slot.FASTING
    assert young.due(NOW) is None
    afternoon = Moment.from_wall(datetime(2026, 3, 31, 15), "UTC")
    assert young.likely_slot(afternoon) is None
