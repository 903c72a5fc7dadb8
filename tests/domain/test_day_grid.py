"""The grid's rows: which reading stands in which cell, and that none is left out."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, time, timedelta

from logbook.domain.day_grid import (
    DayGrid,
    day_grid,
    is_off_usual_time,
    is_written_later,
    part_of_series,
)
from logbook.domain.happenings import What
from logbook.domain.moments import Period
from logbook.domain.readings import CrossedOut, Doubt, Source
from logbook.domain.series import Series
from logbook.domain.slots import Purpose, Slot
from tests.domain.series_of import happening
from tests.report.invented import invented_readings, reading, series_of

STARTS = time(4, 0)
FIRST = date(2026, 3, 1)
PERIOD = Period(FIRST, FIRST + timedelta(days=2))
CROSSED_OUT = CrossedOut(datetime(2026, 3, 1, 12, tzinfo=UTC))


def grid_of(series: Series) -> DayGrid:
    return day_grid(series, PERIOD, STARTS)


def test_first_reading_of_a_slot_takes_the_cell_and_the_second_the_last_column() -> None:
    first, second = reading(FIRST, 7, 120, Slot.FASTING), reading(FIRST, 7.5, 131, Slot.FASTING)
    row = grid_of(series_of([first, second])).rows[0]
    assert row.cells == {Slot.FASTING: 0}
    assert row.others == (1,)


def test_a_reading_that_does_not_count_gives_way_to_one_that_does() -> None:
    doubted = reading(FIRST, 7, 318, Slot.FASTING, doubt=Doubt.UNWASHED_FINGER)
    crossed = reading(FIRST, 7.2, 221, Slot.FASTING, crossed_out=CROSSED_OUT)
    believed = reading(FIRST, 7.4, 128, Slot.FASTING)
    row = grid_of(series_of([doubted, crossed, believed])).rows[0]
    assert row.cells == {Slot.FASTING: 2}
    assert row.others == (0, 1)


def test_a_crossed_out_reading_alone_still_stands_in_its_cell() -> None:
    series = series_of([reading(FIRST, 7, 221, Slot.FASTING, crossed_out=CROSSED_OUT)])
    assert grid_of(series).rows[0].cells == {Slot.FASTING: 0}


def test_rechecks_and_repeats_and_other_times_go_to_the_last_column() -> None:
    readings = [
        reading(FIRST, 7, 62, Slot.FASTING),
        reading(FIRST, 7.3, 95, Slot.FASTING, purpose=Purpose.RECHECK),
        reading(FIRST, 12, 180, Slot.BEFORE_LUNCH, purpose=Purpose.REPEAT),
        reading(FIRST, 15, 140, Slot.OTHER),
    ]
    grid = grid_of(series_of(readings))
    assert grid.slots == (Slot.FASTING,)
    assert grid.rows[0].others == (1, 2, 3)


def test_a_check_at_half_past_one_belongs_to_the_evening_before() -> None:
    grid = grid_of(series_of([reading(FIRST + timedelta(days=1), 1.5, 110, Slot.NIGHT)]))
    assert grid.rows[0].cells == {Slot.NIGHT: 0}
    assert grid.rows[1].is_empty


def test_every_day_has_a_row_and_every_reading_stands_once() -> None:
    period = Period.ending(date(2026, 3, 31), 60)
    series = series_of(invented_readings(period, list(Slot)[:6], seed=11))
    grid = day_grid(series, period, STARTS)
    assert [row.day for row in grid.rows] == list(period)
    placed = [index for row in grid.rows for index in (*row.cells.values(), *row.others)]
    assert sorted(placed) == list(range(len(series)))


def test_what_happened_stands_on_its_day_but_not_a_failed_strip() -> None:
    felt = happening("2026-03-02 15:00", What.FELT_LOW_TREATED)
    strip = happening("2026-03-02 16:00", What.STRIP_FAILED)
    grid = day_grid(series_of(()), PERIOD, STARTS, [strip, felt])
    assert [row.happenings for row in grid.rows] == [(), (felt,), ()]
    assert not grid.rows[1].is_empty


def test_usual_time_is_the_median_and_more_than_an_hour_off_is_told() -> None:
    hours = (7.0, 7.2, 9.5)
    readings = [
        reading(FIRST + timedelta(days=n), hour, 120, Slot.FASTING) for n, hour in enumerate(hours)
    ]
    series = series_of(readings)
    grid = grid_of(series)
    assert grid.usual_minutes[Slot.FASTING] == round(3.2 * 60)  # 07:12, counted from 04:00
    off = [is_off_usual_time(grid, Slot.FASTING, wall, STARTS) for wall in series.wall_minutes]
    assert off == [False, False, True]
    exactly_an_hour = series.wall_minutes[1] + 60
    assert not is_off_usual_time(grid, Slot.FASTING, exactly_an_hour, STARTS)
    assert is_off_usual_time(grid, Slot.FASTING, exactly_an_hour + 1, STARTS)


def test_written_later_means_a_later_day_of_the_persons_own_and_by_hand() -> None:
    one = reading(FIRST, 22, 120, Slot.BEDTIME)
    after_midnight = one.at.instant + timedelta(hours=5)  # 03:00, still the same day of theirs
    in_the_morning = one.at.instant + timedelta(hours=7)
    cases = [
        (after_midnight, Source.TYPED, False),
        (in_the_morning, Source.TYPED, True),
        (in_the_morning, Source.COPIED_FROM_METER, False),
        (in_the_morning, Source.IMPORTED, False),
    ]
    for written_at, source, expected in cases:
        series = series_of(
            [reading(FIRST, 22, 120, Slot.BEDTIME, written_at=written_at, source=source)]
        )
        assert is_written_later(series, 0, STARTS) is expected, (written_at, source)


def test_a_part_of_a_series_holds_the_readings_of_its_days_alone() -> None:
    readings = invented_readings(Period.ending(date(2026, 3, 31), 20), seed=4)
    random.Random(1).shuffle(readings)
    series = series_of(readings)
    part = part_of_series(series, Period.ending(date(2026, 3, 31), 5), STARTS)
    wanted = [
        reading_id
        for reading_id, wall in zip(series.ids, series.wall_minutes, strict=True)
        if date(2026, 3, 27) <= date(1970, 1, 1) + timedelta(days=(wall - 240) // 1440)
    ]
    assert list(part.ids) == wanted
    assert len(part.steps) == len(part.rechecks_of) == len(wanted) > 0
