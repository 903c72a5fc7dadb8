"""Catching up: days that go back, a clock put right, rows that are in the log already."""

import random
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest

from logbook.domain.catch_up import (
    SAME_WITHIN,
    From,
    Row,
    day_below,
    matched,
    new_row,
    put_right,
    readings_of,
    tally,
    time_below,
)
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut, Reading, Source
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Slot
from logbook.domain.usual_times import UsualCheck, UsualTimes

NOW = datetime(2026, 3, 31, 10, 0, tzinfo=UTC)
YOUNG = UsualTimes((), frozenset(), time(4))
HABIT = UsualTimes(
    (
        UsualCheck(Slot.FASTING, time(7, 15), 195),
        UsualCheck(Slot.BEFORE_DINNER, time(17, 45), 825),
        UsualCheck(Slot.BEDTIME, time(22, 30), 1110),
    ),
    frozenset({Slot.FASTING}),
    time(4),
)


def _glucose(steps: int) -> Glucose:
    return Glucose.number(steps, Unit.MG_DL)


def _row(wall: str, steps: int) -> Row:
    shown = datetime.fromisoformat(wall)
    return Row(uuid4(), shown, Moment.from_wall(shown, "UTC"), _glucose(steps), Slot.OTHER)


def _reading(wall: str, steps: int) -> Reading:
    at = Moment.from_wall(datetime.fromisoformat(wall), "UTC")
    return Reading(uuid4(), _glucose(steps), at, at.instant, Slot.OTHER)


# --- days and times ------------------------------------------------------------------------------


def test_a_later_time_below_is_of_the_day_before() -> None:
    now, above, days = datetime(2026, 3, 31, 9, 0), None, []
    for clock in ("07:15", "22:30", "17:50", "07:10", "07:05", "23:00"):
        at = time.fromisoformat(clock)
        above = datetime.combine(day_below(above, at, now), at)
        days.append(above.day)
    assert days == [31, 30, 30, 30, 30, 29]


def test_a_first_row_later_than_now_is_of_yesterday() -> None:
    now = datetime(2026, 3, 1, 9, 0)
    assert day_below(None, time(9, 0), now) == date(2026, 3, 1)
    assert day_below(None, time(9, 1), now) == date(2026, 2, 28)


def test_the_same_minute_twice_stays_on_its_day() -> None:
    above = datetime(2026, 3, 30, 7, 15)
    assert day_below(above, time(7, 15), datetime(2026, 3, 31, 9, 0)) == date(2026, 3, 30)


def test_usual_times_go_back_through_the_day() -> None:
    now = datetime(2026, 3, 31, 9, 0)
    found, above = [], None
    for _row_number in range(4):
        clock = time_below(above, HABIT, now)
        assert clock is not None
        above = datetime.combine(day_below(above, clock, now), clock)
        found.append((above.day, clock.hour))
    assert found == [(31, 7), (30, 22), (30, 17), (30, 7)]
    assert time_below(None, YOUNG, now) is None


def test_what_a_row_was_for_is_told_from_the_clock_even_when_done_today() -> None:
    for hour, slot in ((7, Slot.FASTING), (17, Slot.BEFORE_DINNER), (13, Slot.OTHER)):
        row = new_row(datetime(2026, 3, 30, hour, 30), _glucose(128), timedelta(0), "UTC", HABIT)
        assert row.slot is slot
    early = new_row(datetime(2026, 3, 30, 7, 0), _glucose(128), timedelta(0), "UTC", YOUNG)
    assert early.slot is Slot.FASTING


@pytest.mark.parametrize("minutes", [-90, -7, 0, 12, 60, 24 * 60])
def test_the_clock_is_put_right_in_real_minutes(minutes: int) -> None:
    """Against zoneinfo's own arithmetic in UTC, over the hour that New York repeats."""
    zone = ZoneInfo("America/New_York")
    for step in range(0, 48 * 60, 7):
        shown = datetime(2026, 10, 31, 0, 0) + timedelta(minutes=step)
        at = put_right(shown, timedelta(minutes=minutes), "America/New_York")
        by_utc = shown.replace(tzinfo=zone).astimezone(UTC) - timedelta(minutes=minutes)
        assert at.instant == by_utc
        assert at.wall == by_utc.astimezone(zone).replace(tzinfo=None, fold=0)


# --- what is in the log already ------------------------------------------------------------------


def test_a_row_is_the_reading_of_its_value_near_its_time() -> None:
    rows = [
        _row("2026-03-30 07:15", 128),
        _row("2026-03-30 12:00", 128),
        _row("2026-03-29 22:00", 90),
    ]
    log = [_reading("2026-03-30 07:24", 128), _reading("2026-03-29 22:16", 90)]
    found = matched(rows, log)
    assert [row.written for row in found] == [log[0].id, None, None]


def test_each_reading_is_one_row_at_most_and_the_nearest_counts() -> None:
    rows = [_row("2026-03-30 07:15", 128), _row("2026-03-30 07:10", 128)]
    log = [_reading("2026-03-30 07:11", 128)]
    assert [row.written for row in matched(rows, log)] == [None, log[0].id]


def test_a_crossed_out_reading_is_not_written_anew() -> None:
    gone = replace(_reading("2026-03-30 07:11", 128), crossed_out=CrossedOut(NOW))
    assert matched([_row("2026-03-30 07:15", 128)], [gone])[0].written == gone.id


def test_matching_keeps_its_promises_on_any_rows() -> None:
    """Seeded rows and readings close together: no reading twice, none left beside its row."""
    chance = random.Random(3)
    for _trial in range(60):
        start = datetime(2026, 3, 30, 7, 0)
        rows = [
            _row(str(start + timedelta(minutes=chance.randrange(40))), chance.choice((100, 101)))
            for _ in range(4)
        ]
        log = [
            _reading(
                str(start + timedelta(minutes=chance.randrange(40))), chance.choice((100, 101))
            )
            for _ in range(4)
        ]
        found = matched(rows, log)
        used = [row.written for row in found if row.written]
        assert len(used) == len(set(used))
        by_id = {one.id: one for one in log}
        for row in found:
            if row.written:
                one = by_id[row.written]
                assert one.glucose == row.glucose
                assert abs(one.at.instant - row.at.instant) <= SAME_WITHIN
        # Nothing that could still be paired is left: no free row beside a free reading of its own.
        free = [one for one in log if one.id not in used]
        for row, one in [(row, one) for row in found if row.is_new for one in free]:
            is_pair = row.glucose == one.glucose
            assert not (is_pair and abs(one.at.instant - row.at.instant) <= SAME_WITHIN)


# --- what becomes of them ------------------------------------------------------------------------


def test_new_rows_become_readings_of_which_no_finger_is_noted() -> None:
    rows = matched(
        [_row("2026-03-30 07:15", 128), _row("2026-03-29 22:00", 90)],
        [_reading("2026-03-30 07:15", 128)],
    )
    found = readings_of(rows, NOW, From.METER, None)
    assert [(one.glucose.steps, one.source, one.site_use) for one in found] == [
        (90, Source.COPIED_FROM_METER, SiteUse.NOT_NOTED)
    ]
    assert found[0].written_at == NOW
    assert found[0].has_puncture
    assert readings_of(rows, NOW, From.PAPER, None)[0].source is Source.TYPED


def test_the_meter_tells_more_than_the_log() -> None:
    log = [_reading("2026-03-30 07:15", 128), _reading("2026-03-30 12:15", 128)]
    log.append(replace(_reading("2026-03-30 18:15", 128), is_foreign=True))
    assert (tally(log, 5).in_log, tally(log, 5).missing, tally(log, 1).missing) == (2, 3, -1)
