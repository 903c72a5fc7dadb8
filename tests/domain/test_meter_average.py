"""The meter's own average and count beside the log: count first, then average."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.meter_average import (
    Completeness,
    CouldExplain,
    DaysCounted,
    LogAndMeter,
    compare_with_meter,
)
from logbook.domain.readings import Reading
from logbook.domain.slots import Purpose
from tests.domain.series_of import glucose, moment, new_id, reading, series_of

_LAST = date(2026, 3, 14)


def _average(
    shown: str,
    count: int | None = None,
    *,
    days: int = 7,
    at: str = "2026-03-14 12:00",
    unit: Unit = Unit.MG_DL,
    zone: str = "UTC",
) -> MeterAverage:
    when = moment(at, zone)
    return MeterAverage(new_id(), None, when, when.instant, days, glucose(shown, unit), count)


def _week(*values: int) -> list[Reading]:
    """One reading at 08:00 on each of the days that end with the 14th."""
    return [
        reading(f"{_LAST - timedelta(days=number)} 08:00", str(value))
        for number, value in enumerate(values)
    ]


def _compared(average: MeterAverage, *readings: Reading) -> LogAndMeter:
    return compare_with_meter(average, series_of(readings))


_VALUES = (100, 110, 120, 130, 140, 150, 161)  # mean 130.14


@pytest.mark.parametrize(
    ("shown", "count", "verdict"),
    [
        ("130", 7, Completeness.AGREES),
        ("131", 7, Completeness.AGREES),
        ("130", None, Completeness.AGREES),
        ("132", 7, Completeness.LOG_HAS_OTHER_NUMBERS),
        ("128", 7, Completeness.LOG_HAS_OTHER_NUMBERS),
        ("132", None, Completeness.LOG_HAS_OTHER_NUMBERS),
        ("130", 8, Completeness.LOG_HAS_FEWER),
        ("130", 6, Completeness.LOG_HAS_OTHER_NUMBERS),
        ("HI", 8, Completeness.LOG_HAS_FEWER),
        ("HI", 7, Completeness.CANNOT_TELL),
        ("HI", None, Completeness.CANNOT_TELL),
    ],
)
def test_count_first_then_average(shown: str, count: int | None, verdict: Completeness) -> None:
    compared = _compared(_average(shown, count), *_week(*_VALUES))
    assert compared.verdict is verdict
    assert compared.log_count == 7
    assert compared.log_mean == pytest.approx(911 / 7)
    assert compared.missing == (None if count is None else count - 7)


def test_what_the_meter_holds_takes_part_whatever_became_of_it() -> None:
    compared = _compared(
        _average("150", 4),
        reading("2026-03-14 08:00", "60"),
        reading("2026-03-14 08:15", "90", purpose=Purpose.RECHECK),
        reading("2026-03-13 08:00", "250", doubted=True),
        reading("2026-03-12 08:00", "200", crossed_out=True),
        # Another's meter, and a later reading, are not in this one.
        reading("2026-03-12 09:00", "500", foreign=True),
        reading("2026-03-14 12:01", "500"),
    )
    assert (compared.verdict, compared.log_count) == (Completeness.AGREES, 4)
    assert compared.log_mean == 150
    assert compared.explanations == ()


def test_readings_of_another_meter_are_left_aside() -> None:
    own, others = _week(*_VALUES), [reading("2026-03-13 09:00", "300")]
    average, series = _average("130", 7), series_of([*own, *others])
    assert compare_with_meter(average, series).verdict is Completeness.LOG_HAS_OTHER_NUMBERS
    ids = {str(one.id) for one in others}
    assert compare_with_meter(average, series, ids).verdict is Completeness.AGREES


def test_days_can_be_counted_in_two_ways_and_the_nearer_one_stands() -> None:
    # Read off at noon. Counted from midnight the first of seven days is the 8th; counted back by
    # the hour it begins at noon on the 7th.
    evening = reading("2026-03-07 18:00", "190")
    morning = reading("2026-03-07 08:00", "400")
    week = _week(*_VALUES)
    calendar = _compared(_average("130", 7), *week, evening, morning)
    assert (calendar.verdict, calendar.counted) == (
        Completeness.AGREES,
        DaysCounted.CALENDAR_DAYS,
    )
    hours = _compared(_average("138", 8), *week, evening, morning)
    assert (hours.verdict, hours.counted, hours.log_count) == (
        Completeness.AGREES,
        DaysCounted.FULL_DAYS,
        8,
    )
    neither = _compared(_average("130", 10), *week, evening, morning)
    assert (neither.verdict, neither.missing) == (Completeness.LOG_HAS_FEWER, 2)
    assert CouldExplain.DAYS_COUNTED in neither.explanations
    without = _compared(_average("130", 10), *week)
    assert CouldExplain.DAYS_COUNTED not in without.explanations


def test_full_days_are_elapsed_time_when_clocks_change() -> None:
    # In London clocks go forward on 29 March: a day before 00:30 on the 30th is 23:30 on the 28th.
    london = "Europe/London"
    average = _average("120", 2, days=1, at="2026-03-30 00:30", zone=london)
    inside = [
        reading("2026-03-28 23:31", "110", zone=london),
        reading("2026-03-29 12:00", "130", zone=london),
    ]
    outside = reading("2026-03-28 23:29", "300", zone=london)
    compared = _compared(average, *inside, outside)
    assert (compared.verdict, compared.counted) == (Completeness.AGREES, DaysCounted.FULL_DAYS)


@pytest.mark.parametrize(
    ("shown", "count", "verdict"),
    [
        # 100, 120 and HI: left out, the mean is 110; taken in as 600 it is 273.3.
        ("110", 2, Completeness.AGREES),
        ("110", 3, Completeness.AGREES),
        ("273", 3, Completeness.AGREES),
        ("105", 3, Completeness.LOG_HAS_OTHER_NUMBERS),
        ("110", 1, Completeness.LOG_HAS_OTHER_NUMBERS),
        ("110", 4, Completeness.LOG_HAS_FEWER),
    ],
)
def test_a_meter_may_leave_hi_out_or_take_it_in(
    shown: str, count: int, verdict: Completeness
) -> None:
    compared = _compared(
        _average(shown, count),
        reading("2026-03-12 08:00", "100"),
        reading("2026-03-13 08:00", "120"),
        reading("2026-03-14 08:00", "HI"),
    )
    assert compared.verdict is verdict
    assert (compared.log_count, compared.log_mean) == (3, 110)
    shows = CouldExplain.OUTSIDE_METER_RANGE in compared.explanations
    assert shows is (verdict is not Completeness.AGREES)


def test_an_empty_log_has_fewer_and_a_damaged_reading_leaves_the_average_open() -> None:
    nothing = _compared(_average("130"))
    assert (nothing.verdict, nothing.log_count, nothing.log_mean) == (
        Completeness.LOG_HAS_FEWER,
        0,
        None,
    )
    damaged = _compared(
        _average("130", 2),
        reading("2026-03-13 08:00", "130"),
        reading("2026-03-14 08:00", "130", damaged=True),
    )
    assert (damaged.verdict, damaged.log_count) == (Completeness.CANNOT_TELL, 2)
    assert damaged.explanations == (CouldExplain.DAMAGED,)


def test_a_meter_in_the_other_unit_and_a_last_digit_cut_off() -> None:
    week = [
        reading(f"2026-03-{day:02} 08:00", shown, unit=Unit.MMOL_L)
        for day, shown in ((12, "7.2"), (13, "7.3"), (14, "7.4"))
    ]
    for shown, verdict in (
        ("7.2", Completeness.AGREES),
        ("7.3", Completeness.AGREES),
        ("7.5", Completeness.LOG_HAS_OTHER_NUMBERS),
    ):
        average = _average(shown, 3, unit=Unit.MMOL_L)
        assert _compared(average, *week).verdict is verdict
    # 7.3 mmol/L are 131.5 mg/dL.
    assert _compared(_average("132", 3), *week).verdict is Completeness.AGREES


def test_what_can_explain_a_difference_fits_it() -> None:
    fewer = _compared(_average("130", 9), *_week(*_VALUES)).explanations
    assert fewer == (
        CouldExplain.NOT_WRITTEN_DOWN,
        CouldExplain.CONTROL_TESTS,
        CouldExplain.OTHER_PEOPLE,
        CouldExplain.METER_DATE,
    )
    crossed_out = reading("2026-03-13 09:00", "300", crossed_out=True)
    other = _compared(_average("130", 7), *_week(*_VALUES), crossed_out).explanations
    assert other == (
        CouldExplain.CONTROL_TESTS,
        CouldExplain.OTHER_PEOPLE,
        CouldExplain.METER_DATE,
        CouldExplain.OTHER_METER,
        CouldExplain.CROSSED_OUT,
        CouldExplain.TYPED_DIFFERENTLY,
    )
