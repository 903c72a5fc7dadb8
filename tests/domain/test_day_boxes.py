"""Boxes of the day: where they lie and what they are made of."""

from __future__ import annotations

from datetime import date, time

import numpy as np
import pytest

from logbook.domain.day_boxes import Dot, SlotBox, day_boxes, spread_of
from logbook.domain.glucose import HI_STEPS, LO_STEPS, Unit
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.summary import summarise
from logbook.domain.targets import TargetBook
from tests.domain.series_of import reading, series_of

_MARCH = Period(date(2026, 3, 1), date(2026, 3, 31))


def _boxes(*readings: Reading, settings: LogSettings | None = None) -> tuple[SlotBox, ...]:
    chosen = settings or LogSettings()
    series = series_of(readings)
    summary = summarise(series, _MARCH, chosen, TargetBook(()), (), ())
    return day_boxes(series, summary, chosen)


def test_a_box_holds_the_figures_of_its_slot_and_every_value() -> None:
    values = [110, 98, 126, 126, 141, 87]
    (box,) = _boxes(
        *(
            reading(f"2026-03-{day:02} 07:{day:02}", str(value), Slot.FASTING)
            for day, value in enumerate(values, 1)
        ),
        reading("2026-03-07 07:00", "300", Slot.FASTING, purpose=Purpose.RECHECK),
        reading("2026-03-08 07:00", "300", Slot.FASTING, crossed_out=True),
    )
    # NumPy's default quantile is type 7 of Hyndman and Fan (NumPy's own documentation).
    quartiles = list(np.quantile(values, [0.25, 0.5, 0.75]))
    figures = box.figures
    assert [figures.q1, figures.median, figures.q3] == pytest.approx(quartiles)
    assert (figures.least, figures.greatest, figures.count) == (87, 141, 6)
    assert [dot.steps for dot in box.dots for _ in range(dot.count)] == sorted(values)
    assert box.is_enough
    # The clock showed 07:01 to 07:06; the lower of the two middle minutes, from 04:00 on.
    assert box.minute == 3 * 60 + 3


def test_a_box_needs_five_values() -> None:
    four, five = (
        _boxes(*(reading(f"2026-03-0{d} 07:00", "120", Slot.FASTING) for d in range(1, n + 1)))[0]
        for n in (4, 5)
    )
    assert (four.is_enough, five.is_enough) == (False, True)
    assert four.dots == (Dot(120, 4),)


def test_boxes_come_in_the_order_of_this_persons_day() -> None:
    # Someone who works at night: dinner in the morning, breakfast in the evening.
    boxes = _boxes(
        reading("2026-03-02 18:30", "120", Slot.FASTING),
        reading("2026-03-03 07:30", "140", Slot.BEFORE_DINNER),
        reading("2026-03-03 13:30", "150", Slot.BEDTIME),
        settings=LogSettings(day_starts_at=time(16)),
    )
    assert [box.slot for box in boxes] == [Slot.FASTING, Slot.BEFORE_DINNER, Slot.BEDTIME]
    assert [box.minute for box in boxes] == [150, 15 * 60 + 30, 21 * 60 + 30]


def test_lo_and_hi_keep_their_places_and_the_other_unit_its_rounded_one() -> None:
    series = series_of(
        [
            reading("2026-03-01 07:00", "LO", unit=Unit.MMOL_L),
            reading("2026-03-02 07:00", "HI"),
            reading("2026-03-03 07:00", "7.0", unit=Unit.MMOL_L),
            reading("2026-03-04 07:00", "126"),
            reading("2026-03-05 07:00", "90"),
        ]
    )
    # 7.0 mmol/L is printed 126 mg/dL.
    dots = spread_of(series, range(5), Unit.MG_DL)
    assert dots == (Dot(LO_STEPS, 1), Dot(90, 1), Dot(126, 2), Dot(HI_STEPS, 1))
    dots = spread_of(series, range(5), Unit.MMOL_L)
    assert dots == (Dot(LO_STEPS, 1), Dot(50, 1), Dot(70, 2), Dot(HI_STEPS, 1))


def test_a_box_is_open_where_its_middle_half_meets_a_lo_or_hi() -> None:
    (box,) = _boxes(
        *(
            reading(f"2026-03-0{day} 07:00", shown, Slot.FASTING)
            for day, shown in enumerate(["100", "110", "120", "HI", "HI"], 1)
        )
    )
    assert (box.figures.q1, box.figures.median, box.figures.q3) == (110, 120, None)


def test_an_empty_period_has_no_box_and_one_reading_makes_one() -> None:
    assert _boxes() == ()
    (box,) = _boxes(reading("2026-03-01 07:00", "120", Slot.FASTING))
    assert (box.figures.median, box.is_enough, box.dots) == (120, False, (Dot(120, 1),))
