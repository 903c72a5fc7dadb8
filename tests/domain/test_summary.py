"""The summary of a period: what counts where, by time of day and by the targets of each day."""

from __future__ import annotations

import json
import statistics
from collections.abc import Sequence
from datetime import date, datetime, time

import pytest
from scipy.stats import binomtest

from logbook.domain.bands import Bands, TargetCounts
from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.series import EMPTY_SERIES, Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.summary import SlotSummary, Summary, summarise
from logbook.domain.summary_form import summary_form
from logbook.domain.targets import Target, TargetBook, TargetKind
from logbook.domain.visit_data import VisitData
from logbook.domain.visit_review import VisitReview, review_of
from tests.domain.series_of import happening, range_target, reading, series_of

_MARCH = Period(date(2026, 3, 1), date(2026, 3, 31))
_SETTINGS = LogSettings()


def _summarise(
    *readings: Reading,
    targets: tuple[Target, ...] = (),
    settings: LogSettings = _SETTINGS,
    period: Period = _MARCH,
) -> Summary:
    return summarise(series_of(readings), period, settings, TargetBook(targets), (), ())


def _review(
    summary: Summary,
    readings: Sequence[Reading],
    targets: TargetBook,
    happenings: Sequence[Happening] = (),
    settings: LogSettings = _SETTINGS,
    before: Series = EMPTY_SERIES,
) -> VisitReview:
    series = series_of(readings)
    data = VisitData(
        period=summary.period,
        settings=settings,
        series=series,
        before=before,
        noted=(),
        happenings=tuple(happenings),
        answers=(),
        targets=targets,
        meters=(),
        lancet_changes=(),
        spells=(),
        medicines=(),
        questions=(),
        last_appointment=None,
        next_appointment=None,
        sites=(),
        made_at=Moment.from_wall(datetime(2026, 4, 1, 12), "UTC"),
        reach=series,
        reach_happenings=tuple(happenings),
    )
    return review_of(data, summary)


def _slot(summary: Summary, slot: Slot) -> SlotSummary:
    found = summary.slot(slot)
    assert found is not None
    return found


def test_only_what_counts_is_counted_and_the_rest_is_told_once() -> None:
    summary = _summarise(
        reading("2026-03-01 07:30", "100", Slot.FASTING),
        reading("2026-03-01 12:00", "LO", Slot.BEFORE_LUNCH),
        reading("2026-03-01 12:15", "90", Slot.BEFORE_LUNCH, purpose=Purpose.RECHECK),
        reading("2026-03-02 18:00", "HI", Slot.BEFORE_DINNER),
        reading("2026-03-02 18:05", "300", Slot.BEFORE_DINNER, doubted=True),
        reading("2026-03-02 18:06", "301", Slot.BEFORE_DINNER, crossed_out=True),
        reading("2026-03-02 18:07", "302", doubted=True, crossed_out=True),
        reading("2026-03-03 09:00", "303", foreign=True),
        reading("2026-03-04 09:00", "304", damaged=True),
    )
    counts = summary.readings
    assert (counts.numbers, counts.reads_low, counts.reads_high, counts.count) == (2, 1, 1, 4)
    assert counts.rechecks == 1
    assert (counts.crossed_out, counts.not_believed) == (2, 1)
    assert (counts.foreign, counts.damaged) == (1, 1)
    assert summary.days_with_readings == 2
    assert summary.bands == Bands(1, 0, 2, 0, 1)
    assert summary.figures.mean == 95
    assert not summary.figures.is_complete


def test_a_reading_belongs_to_the_persons_day() -> None:
    # The day starts at 04:00, so half past one on 1 April is still 31 March.
    night = reading("2026-04-01 01:30", "120", Slot.NIGHT)
    early = reading("2026-03-01 03:59", "110", Slot.NIGHT)
    assert _summarise(night, early).readings.count == 1
    from_midnight = LogSettings(day_starts_at=time(0))
    assert _summarise(night, early, settings=from_midnight).readings.count == 1
    assert _summarise(night, early).figures.mean == 120
    assert _summarise(night, early, settings=from_midnight).figures.mean == 110


# Bands end where the ADA's levels and targets do (read at the journal): below 54 (3.0), below 70
# (3.9), 180 (10.0), 250 (13.9); each unit by its own printed limit.
@pytest.mark.parametrize(
    ("unit", "shown"),
    [
        (Unit.MG_DL, ["53", "54", "69", "70", "180", "181", "250", "251"]),
        (Unit.MMOL_L, ["2.9", "3.0", "3.8", "3.9", "10.0", "10.1", "13.9", "14.0"]),
    ],
)
def test_bands_end_at_the_printed_limits(unit: Unit, shown: list[str]) -> None:
    readings = [
        reading(f"2026-03-{day:02} 10:00", value, unit=unit)
        for day, value in enumerate(shown, start=1)
    ]
    for log_unit in Unit:
        summary = _summarise(*readings, settings=LogSettings(unit=log_unit))
        assert summary.bands == Bands(1, 2, 2, 2, 1)
        assert summary.bands.below_70 == 3


def test_a_time_of_day_has_one_value_for_each_occasion() -> None:
    summary = _summarise(
        # The first counts, not the check made again three hours later in the same slot.
        reading("2026-03-01 07:00", "150", Slot.FASTING),
        reading("2026-03-01 10:00", "90", Slot.FASTING, purpose=Purpose.REPEAT),
        # The first is not believed, so the second stands.
        reading("2026-03-02 07:00", "310", Slot.FASTING, doubted=True),
        reading("2026-03-02 07:05", "130", Slot.FASTING, purpose=Purpose.REPEAT),
        # A recheck is of the low before it and says nothing about this time of day.
        reading("2026-03-03 06:50", "88", Slot.FASTING, purpose=Purpose.RECHECK),
        reading("2026-03-03 07:00", "110", Slot.FASTING),
    )
    fasting = _slot(summary, Slot.FASTING)
    assert fasting.count == 3
    assert (fasting.figures.median, fasting.figures.mean) == (130, 130)
    assert summary.readings.count == 5
    assert summary.readings.rechecks == 1


def test_slots_that_recur_in_a_day_have_several_occasions() -> None:
    summary = _summarise(
        reading("2026-03-01 10:00", "150", Slot.BETWEEN_MEALS),
        reading("2026-03-01 12:00", "170", Slot.BETWEEN_MEALS),
        reading("2026-03-01 12:01", "190", Slot.BETWEEN_MEALS),
    )
    between = _slot(summary, Slot.BETWEEN_MEALS)
    # Two hours after the first still belong to its occasion, a minute more does not.
    assert (between.count, between.figures.mean) == (2, 170)


def test_shares_follow_the_target_in_force_on_each_day() -> None:
    targets = (
        range_target(TargetKind.FASTING, 80, 130, date(2026, 3, 2)),
        range_target(TargetKind.FASTING, 100, 180, date(2026, 3, 5)),
    )
    shown = {1: "150", 2: "150", 3: "75", 4: "130", 5: "150", 6: "90", 7: "62", 8: "310", 9: "HI"}
    readings = [
        reading(f"2026-03-{day:02} 07:30", value, Slot.FASTING) for day, value in shown.items()
    ]
    fasting = _slot(_summarise(*readings, targets=targets), Slot.FASTING)
    assert fasting.count == 9
    assert fasting.judged == 8, "the first day had no target"
    assert (fasting.low, fasting.very_low, fasting.judged_low) == (1, 0, 1)
    assert fasting.below_target_not_low == 2
    assert fasting.in_target == 2
    assert fasting.above_target == 3
    assert fasting.in_target_share.percent == 25


def test_the_last_hour_before_the_day_starts_still_has_the_old_target() -> None:
    targets = (
        range_target(TargetKind.NIGHT, 80, 130, date(2026, 3, 1)),
        range_target(TargetKind.NIGHT, 100, 180, date(2026, 3, 5)),
    )
    before = reading("2026-03-05 03:59", "150", Slot.NIGHT)
    after = reading("2026-03-05 04:00", "150", Slot.NIGHT)
    assert _slot(_summarise(before, targets=targets), Slot.NIGHT).above_target == 1
    assert _slot(_summarise(after, targets=targets), Slot.NIGHT).in_target == 1


def test_a_low_counts_as_low_with_and_without_a_target() -> None:
    readings = [
        reading("2026-03-01 22:00", "53", Slot.BEDTIME),
        reading("2026-03-02 22:00", "LO", Slot.BEDTIME),
        reading("2026-03-03 22:00", "69", Slot.BEDTIME),
        reading("2026-03-04 22:00", "70", Slot.BEDTIME),
    ]
    without = _slot(_summarise(*readings), Slot.BEDTIME)
    assert (without.low, without.very_low, without.judged) == (3, 2, 0)
    target = range_target(TargetKind.BEDTIME, 40, 180)
    judged = _slot(_summarise(*readings, targets=(target,)), Slot.BEDTIME)
    assert (judged.low, judged.judged_low, judged.in_target) == (3, 3, 1)


def test_the_persons_own_very_high_limit_holds_in_the_unit_of_the_log_only() -> None:
    # 13.9 mmol/L is kept as 139 tenths, which must not be taken for 139 mg/dL.
    settings = LogSettings(unit=Unit.MMOL_L, very_high_above=139)
    targets = (
        range_target(TargetKind.BEDTIME, 44, 160, unit=Unit.MMOL_L),
        range_target(TargetKind.NIGHT, 80, 280),
    )
    summary = _summarise(
        reading("2026-03-01 22:00", "14.0", Slot.BEDTIME, unit=Unit.MMOL_L),
        reading("2026-03-02 02:00", "150", Slot.NIGHT),
        targets=targets,
        settings=settings,
    )
    assert _slot(summary, Slot.BEDTIME).above_target == 1
    assert _slot(summary, Slot.NIGHT).in_target == 1


# The regression set of three days with seven checks each (computed, not published), against the
# ADA's targets for adults: before meals 7 of 9, after meals 4 of 9, at bedtime 3 of 3.
def test_the_regression_set_against_adult_targets() -> None:
    slots = [
        (Slot.FASTING, "07:00"),
        (Slot.AFTER_BREAKFAST, "09:00"),
        (Slot.BEFORE_LUNCH, "12:00"),
        (Slot.AFTER_LUNCH, "14:00"),
        (Slot.BEFORE_DINNER, "18:00"),
        (Slot.AFTER_DINNER, "20:00"),
        (Slot.BEDTIME, "22:00"),
    ]
    days = {
        "2026-03-01": (110, 165, 98, 182, 120, 210, 140),
        "2026-03-02": (126, 190, 88, 150, 64, 175, 130),
        "2026-03-03": (134, 201, 104, 168, 115, 240, 151),
    }
    readings = [
        reading(f"{day} {clock}", str(value), slot)
        for day, values in days.items()
        for (slot, clock), value in zip(slots, values, strict=True)
    ]
    targets = (
        range_target(TargetKind.FASTING, 80, 130),
        range_target(TargetKind.BEFORE_MEALS, 80, 130),
        range_target(TargetKind.AFTER_MEALS, None, 179),
        range_target(TargetKind.BEDTIME, 80, 180),
    )
    summary = _summarise(*readings, targets=targets)
    in_target = {slot.slot: slot.in_target for slot in summary.slots}
    assert sum(n for slot, n in in_target.items() if slot.is_before_meal) == 7
    assert sum(n for slot, n in in_target.items() if slot.is_after_meal) == 4
    assert in_target[Slot.BEDTIME] == 3
    assert [slot.slot for slot in summary.slots] == [slot for slot, _ in slots]
    assert (summary.bands.below_70, summary.bands.from_70_to_180) == (1, 15)
    assert summary.bands.from_181_to_250 + summary.bands.above_250 == 5


def test_readings_outside_the_period_change_nothing() -> None:
    inside = reading("2026-03-10 07:00", "120", Slot.FASTING)
    # All of them later, so that the readings inside keep their places.
    outside = [
        reading("2026-04-01 06:00", "50", Slot.FASTING),
        reading("2026-04-01 07:00", "50", Slot.FASTING),
        reading("2026-04-01 07:00", "50", Slot.FASTING, crossed_out=True),
    ]
    assert _summarise(inside, *outside) == _summarise(inside)
    earlier = reading("2026-02-28 07:00", "50", Slot.FASTING)
    with_earlier, alone = _summarise(inside, earlier), _summarise(inside)
    assert with_earlier.slots[0].indices == (1,)
    assert (with_earlier.readings, with_earlier.figures, with_earlier.bands, with_earlier.lows) == (
        alone.readings,
        alone.figures,
        alone.bands,
        alone.lows,
    )


def test_an_empty_period_has_counts_and_no_figures() -> None:
    summary = _summarise()
    assert summary.readings.count == 0
    assert summary.figures.mean is None
    assert (summary.slots, summary.lows) == ((), ())
    assert summary.slot(Slot.FASTING) is None


# --- the JSON form --------------------------------------------------------------------------------


def test_the_form_has_these_keys_and_plain_values() -> None:
    recheck_of = reading("2026-03-02 12:00", "62", Slot.BEFORE_LUNCH)
    readings = [
        reading("2026-03-01 07:30", "142", Slot.FASTING),
        reading("2026-03-02 07:30", "121", Slot.FASTING),
        recheck_of,
        reading(
            "2026-03-02 12:16",
            "84",
            Slot.BEFORE_LUNCH,
            purpose=Purpose.RECHECK,
            recheck_of=recheck_of,
        ),
    ]
    targets = TargetBook([range_target(TargetKind.FASTING, 80, 130)])
    happenings = [happening("2026-03-20 02:30", What.NEEDED_HELP)]
    summary = summarise(series_of(readings), _MARCH, LogSettings(), targets, happenings, ())
    review = _review(summary, readings, targets, happenings)
    sd = statistics.stdev([142, 121, 62, 84])
    interval = binomtest(1, 2).proportion_ci(method="wilson")
    assert json.loads(json.dumps(summary_form(summary, review), allow_nan=False)) == {
        "unit": "mg/dL",
        "from": "2026-03-01",
        "to": "2026-03-31",
        "readings": {
            "count": 4,
            "numbers": 4,
            "reads_low": 0,
            "reads_high": 0,
            "rechecks": 1,
            "not_believed": 0,
            "crossed_out": 0,
        },
        "days": {"in_period": 31, "with_readings": 2},
        "figures": {
            "mean": 102.25,
            "sd": pytest.approx(sd),
            "cv_percent": pytest.approx(100 * sd / 102.25),
            "min": 62,
            "q1": 78.5,
            "median": 102.5,
            "q3": 126.25,
            "max": 142,
        },
        "bands": {
            "below_54": 0,
            "54_to_69": 1,
            "70_to_180": 3,
            "181_to_250": 0,
            "above_250": 0,
        },
        "slots": [
            {
                "slot": "fasting",
                "count": 2,
                "mean": 131.5,
                "sd": pytest.approx(statistics.stdev([142, 121])),
                "median": 131.5,
                "low": 0,
                "below_target_not_low": 0,
                "in_target": 1,
                "above_target": 1,
                "in_target_percent": 50.0,
                "in_target_interval": pytest.approx([100 * interval.low, 100 * interval.high]),
            },
            {
                "slot": "before_lunch",
                "count": 1,
                "mean": 62.0,
                "sd": None,
                "median": 62,
                "low": 1,
                "below_target_not_low": None,
                "in_target": None,
                "above_target": None,
                "in_target_percent": None,
                "in_target_interval": None,
            },
        ],
        "findings": [
            {
                "kind": "low_helped",
                "slot": None,
                "group": None,
                "count": 1,
                "of": 2,
                "from": "2026-03-19",
                "to": "2026-03-19",
            },
            {
                "kind": "low_at_night",
                "slot": None,
                "group": None,
                "count": 1,
                "of": 2,
                "from": "2026-03-19",
                "to": "2026-03-19",
            },
        ],
        "lows": [
            {
                "at": "2026-03-02T12:00+00:00",
                "value": 62,
                "measured": True,
                "level": 1,
                "help": None,
                "warning_signs": "unknown",
                "rechecked_after_minutes": 16,
                "back_above_69_after_minutes": 16,
            },
            {
                "at": "2026-03-20T02:30+00:00",
                "value": None,
                "measured": False,
                "level": 3,
                "help": "needed_help",
                "warning_signs": "unknown",
                "rechecked_after_minutes": None,
                "back_above_69_after_minutes": None,
            },
        ],
        "control_tests": {"count": 0, "passed": 0},
        "calls": [
            {
                "reason": "helped",
                "urgency": "today",
                "at": "2026-03-20T02:30+00:00",
                "count": 1,
                "said": None,
            }
        ],
        "low_episodes": {
            "rechecked": 1,
            "without_recheck": 1,
            "median_minutes_to_recheck": 16,
            "median_minutes_until_back": 16,
        },
        "planned_checks": None,
        "meter_average": None,
        "a1c": None,
        "days_before": [],
        "change": [],
        "pairs": [],
    }


def test_the_form_of_a_log_in_mmol_holds_its_own_numbers() -> None:
    readings = [
        reading("2026-03-01 07:30", "7.1", Slot.FASTING, unit=Unit.MMOL_L),
        reading("2026-03-02 07:30", "3.6", Slot.FASTING, unit=Unit.MMOL_L),
        reading("2026-03-03 07:30", "LO", Slot.FASTING, unit=Unit.MMOL_L),
        reading("2026-03-04 07:30", "63", Slot.FASTING),
    ]
    settings = LogSettings(unit=Unit.MMOL_L)
    summary = _summarise(*readings, settings=settings)
    form = summary_form(summary, _review(summary, readings, TargetBook(()), settings=settings))
    assert form["unit"] == "mmol/L"
    figures = form["figures"]
    assert isinstance(figures, dict)
    assert figures["max"] == 7.1
    assert figures["min"] == pytest.approx(63 / 18.0156)
    lows = form["lows"]
    assert isinstance(lows, list)
    assert [low["value"] for low in lows] == [3.6, None, pytest.approx(63 / 18.0156)]
    assert [low["measured"] for low in lows] == [True, True, True]
    assert [low["level"] for low in lows] == [1, 2, 1]


def test_bands_and_shares_of_a_slot_and_of_the_period() -> None:
    targets = (
        range_target(TargetKind.FASTING, 80, 130),
        range_target(TargetKind.BEDTIME, 100, 180),
    )
    summary = _summarise(
        *(
            reading(f"2026-03-{day:02} 07:00", shown, Slot.FASTING)
            for day, shown in enumerate(["LO", "66", "75", "80", "130", "131", "181", "HI"], 1)
        ),
        reading("2026-03-01 22:00", "90", Slot.BEDTIME),
        reading("2026-03-02 22:00", "180", Slot.BEDTIME),
        reading("2026-03-02 12:00", "260", Slot.BEFORE_LUNCH),
        targets=targets,
    )
    fasting = _slot(summary, Slot.FASTING)
    assert fasting.bands == Bands(1, 1, 4, 1, 1)
    assert sum(fasting.bands.counts) == fasting.count == 8
    assert [share.part for share in fasting.bands.shares] == [1, 1, 4, 1, 1]
    assert fasting.against_target == TargetCounts(2, 1, 2, 3)
    # No target before lunch, so that value is held against none.
    of_period = summary.against_target
    assert of_period == TargetCounts(2, 2, 3, 3)
    shares = of_period.below_share, of_period.in_target_share, of_period.above_share
    assert [(share.part, share.of) for share in shares] == [(4, 10), (3, 10), (3, 10)]
    for share in shares:
        # SciPy's Wilson interval.
        theirs = binomtest(share.part, share.of).proportion_ci(0.95, method="wilson")
        assert share.interval_percent == pytest.approx((100 * theirs.low, 100 * theirs.high))
    assert [summary.slots[0].indices, _slot(summary, Slot.BEFORE_LUNCH).indices] == [
        (0, 2, 5, 6, 7, 8, 9, 10),
        (3,),
    ]


def test_the_form_tells_pairs_the_days_before_and_a_change() -> None:
    before = [reading(f"2026-02-{day:02} 07:30", "150", Slot.FASTING) for day in range(9, 15)]
    after = [reading(f"2026-03-{day:02} 07:30", "120", Slot.FASTING) for day in range(2, 8)]
    nights = [reading(f"2026-03-{day:02} 22:00", "160", Slot.BEDTIME) for day in range(2, 7)]
    first, second = date(2026, 2, 1), date(2026, 3, 16)
    targets = TargetBook(
        [
            range_target(TargetKind.FASTING, 80, 130, first),
            range_target(TargetKind.FASTING, 80, 140, second),
        ]
    )
    readings = [*after, *nights]
    summary = summarise(series_of(readings), _MARCH, LogSettings(), targets, (), ())
    review = _review(summary, readings, targets, before=series_of(before))
    form = summary_form(summary, review)
    assert form["days_before"] == [
        _compared(None, 6, 11, 150, 120, 0, 6),
        _compared("fasting", 6, 6, 150, 120, 0, 6),
        _compared("bedtime", 0, 5, None, 160, None, None),
    ]
    change = form["change"]
    assert isinstance(change, list)
    assert {row["day"] for row in change} == {"2026-03-16"}
    assert (change[0]["count_before"], change[0]["count"]) == (11, 0)
    assert form["pairs"] == [
        {
            "slot": "fasting",
            "count": 5,
            "median_change": -40,
            "min_change": -40,
            "max_change": -40,
        }
    ]


def _compared(
    slot: str | None,
    count_before: int,
    count: int,
    median_before: int | None,
    median: int | None,
    in_target_before: int | None,
    in_target: int | None,
) -> dict[str, object]:
    return {
        "slot": slot,
        "count_before": count_before,
        "count": count,
        "median_before": median_before,
        "median": median,
        "in_target_before": in_target_before,
        "in_target": in_target,
        "low_before": 0,
        "low": 0,
    }
