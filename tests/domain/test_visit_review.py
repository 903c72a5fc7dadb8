"""What a review looks back on: as far as each of its parts needs, told by their own rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.kit.meters import Meter
from logbook.domain.meter_average import Completeness
from logbook.domain.moments import Period
from logbook.domain.summary import summarise
from logbook.domain.visit_data import VisitData
from logbook.domain.visit_review import (
    VisitReview,
    days_of_average,
    latest_a1c,
    latest_average,
    reach_of,
    review_of,
)
from tests.report.invented import LAST_DAY, at, invented_id, reading, series_of
from tests.report.with_kit import BEDSIDE, a1c, days_ago, kit_visit

PERIOD = Period.ending(LAST_DAY, 30)


def average(days_back: int, days: int) -> MeterAverage:
    return replace(
        kit_visit().meter_averages[0],
        id=invented_id(("average", days_back)),
        at=at(days_ago(days_back), 19.0),
        days=days,
    )


def reviewed(data: VisitData) -> VisitReview:
    return review_of(
        data,
        summarise(
            data.series, data.period, data.settings, data.targets, data.happenings, data.answers
        ),
    )


def test_the_reach_holds_the_90_days_before_an_a1c() -> None:
    reach = reach_of(PERIOD, [a1c(10, 72), a1c(300, 80)])
    assert reach.first == days_ago(10) - timedelta(days=90)
    assert reach_of(PERIOD).first > reach.first


def test_the_reach_holds_the_days_of_the_meters_average() -> None:
    reach = reach_of(PERIOD, (), [average(28, 90)])
    assert reach.first == days_ago(28) - timedelta(days=91)
    assert reach.last >= LAST_DAY


def test_only_what_is_of_the_period_and_not_crossed_out_counts() -> None:
    crossed = replace(a1c(1, 90), crossed_out_at=a1c(1, 90).written_at)
    assert latest_a1c([a1c(40, 70), a1c(20, 71), a1c(10, 72), crossed], PERIOD) == a1c(10, 72)
    assert latest_a1c([a1c(40, 70)], PERIOD) is None
    starts_at = kit_visit().settings.day_starts_at
    both = [average(3, 14), average(50, 14)]
    assert latest_average(both, PERIOD, starts_at) == both[0]
    assert latest_average(both[1:], PERIOD, starts_at) is None


def test_readings_of_another_meter_are_not_held_against_a_meters_average() -> None:
    data = kit_visit()
    handbag = next(meter for meter in data.meters if meter.id != BEDSIDE)
    assert isinstance(handbag, Meter)
    own = [reading(days_ago(n), 7.0, 120, data.series.slots[0], meter_id=BEDSIDE) for n in range(9)]
    other = [
        reading(days_ago(n), 12.0, 200, data.series.slots[0], meter_id=handbag.id) for n in range(9)
    ]
    series = series_of([*own, *other])
    shown = replace(
        data.meter_averages[0], count=9, days=14, glucose=own[0].glucose, meter_id=BEDSIDE
    )
    given = replace(
        data,
        series=series,
        reach=series,
        meter_averages=(shown,),
        average_readings=(*own, *other),
    )
    told = reviewed(given).meter
    assert told is not None
    assert (told.log_count, told.verdict) == (9, Completeness.AGREES)
    unknown = reviewed(replace(given, average_readings=())).meter
    assert unknown is not None
    assert unknown.log_count == 18
    days = days_of_average(shown)
    assert days.first <= days_ago(14)
    assert days.last >= LAST_DAY
