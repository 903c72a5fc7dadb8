"""What is odd about a number before it is saved."""

from __future__ import annotations

import random
import time
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, NotANumber
from logbook.domain.glucose import Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.other_log import SavedNumber
from logbook.domain.plausibility import (
    Before,
    Odd,
    Usual,
    explain_refusal,
    find_oddities,
    first_to_tell,
    number_before,
    usual_of,
    usual_of_steps,
)
from logbook.domain.readings import Source
from tests.domain.series_of import glucose, moment, new_id, reading, series_of

_NOW = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
_AT = moment("2026-03-01 11:59")
_USUAL = {
    Unit.MG_DL: Usual(Unit.MG_DL, 90, 220, far_below=40, far_above=270),
    Unit.MMOL_L: Usual(Unit.MMOL_L, 50, 122, far_below=22, far_above=150),
}


def _odd(shown: str, unit: Unit = Unit.MG_DL) -> list[Odd]:
    value = glucose(shown, unit)
    return [oddity.odd for oddity in find_oddities(value, _AT, _NOW, usual=_USUAL[unit])]


@pytest.mark.parametrize(
    ("text", "unit", "why", "meant"),
    [
        ("9", Unit.MG_DL, ImpossibleGlucose, "9.0"),
        ("1001", Unit.MG_DL, ImpossibleGlucose, None),
        ("0.5", Unit.MMOL_L, ImpossibleGlucose, None),
        ("55.1", Unit.MMOL_L, ImpossibleGlucose, None),
        ("128", Unit.MMOL_L, ImpossibleGlucose, "128"),
        ("7.1", Unit.MG_DL, DecimalsNotShown, "7.1"),
        ("7,1", Unit.MG_DL, DecimalsNotShown, "7.1"),
        ("7.15", Unit.MMOL_L, DecimalsNotShown, None),
        ("", Unit.MG_DL, NotANumber, None),
        ("1e2", Unit.MG_DL, NotANumber, None),
    ],
)
def test_why_a_text_is_refused(text: str, unit: Unit, why: type, meant: str | None) -> None:
    refusal = explain_refusal(text, unit)
    assert refusal is not None
    assert refusal.why is why
    assert (refusal.meant.text if refusal.meant else None) == meant
    assert refusal.meant is None or refusal.meant.unit is unit.other


@pytest.mark.parametrize(
    ("text", "unit"),
    [("10", Unit.MG_DL), ("1000", Unit.MG_DL), ("0.6", Unit.MMOL_L), ("55.0", Unit.MMOL_L)],
)
def test_the_ends_of_the_possible_are_not_refused(text: str, unit: Unit) -> None:
    assert explain_refusal(text, unit) is None


@pytest.mark.parametrize(
    ("shown", "unit", "expected"),
    [
        ("128", Unit.MG_DL, []),
        ("220", Unit.MG_DL, []),
        ("270", Unit.MG_DL, []),
        ("271", Unit.MG_DL, [Odd.FAR_FROM_USUAL]),
        ("13", Unit.MG_DL, [Odd.BELOW_METER, Odd.TENFOLD]),
        ("25", Unit.MG_DL, [Odd.FAR_FROM_USUAL]),
        ("40", Unit.MG_DL, [Odd.RARE]),
        ("41", Unit.MG_DL, []),
        ("7.1", Unit.MMOL_L, []),
        ("49.0", Unit.MMOL_L, [Odd.ABOVE_METER, Odd.FAR_FROM_USUAL]),
        ("50.0", Unit.MMOL_L, [Odd.ABOVE_METER, Odd.TENFOLD]),
        ("15.0", Unit.MMOL_L, []),
        ("15.1", Unit.MMOL_L, [Odd.FAR_FROM_USUAL]),
        ("0.7", Unit.MMOL_L, [Odd.BELOW_METER, Odd.TENFOLD]),
        ("2.2", Unit.MMOL_L, [Odd.RARE]),
        ("2.3", Unit.MMOL_L, []),
    ],
)
def test_at_most_one_doubt_is_told_about_a_number(
    shown: str, unit: Unit, expected: list[Odd]
) -> None:
    assert _odd(shown, unit) == expected


def test_a_number_of_the_other_unit_is_told_with_what_was_meant() -> None:
    # 12 typed into a log in mg/dL: 12.0 mmol/L is 216 mg/dL, among this person's numbers; ten-fold
    # it would be 120, which is told first.
    usual = Usual(Unit.MG_DL, 190, 250, far_below=140, far_above=310)
    oddities = find_oddities(glucose("12"), _AT, _NOW, usual=usual)
    assert [oddity.odd for oddity in oddities] == [Odd.BELOW_METER, Odd.OTHER_UNIT]
    meant = oddities[1].meant
    assert meant is not None
    assert (meant.text, meant.unit) == ("12.0", Unit.MMOL_L)
    assert first_to_tell(oddities) is oddities[1], "the one that names what may have been meant"


def test_ten_fold_tells_the_number_that_was_meant() -> None:
    (tenfold,) = find_oddities(
        glucose("1000"), _AT, _NOW, usual=_USUAL[Unit.MG_DL], meter=_meter(20, 1000)
    )
    assert tenfold.odd is Odd.TENFOLD
    assert tenfold.meant == glucose("100")
    assert tenfold.asks_first


@pytest.mark.parametrize("shown", ["13", "12", "25", "69", "LO"])
def test_a_low_is_never_questioned_first(shown: str) -> None:
    future = moment("2026-03-01 12:30")
    usual = Usual(Unit.MG_DL, 190, 250, far_below=140, far_above=310)
    oddities = find_oddities(glucose(shown), future, _NOW, usual=usual, last_written_at=_NOW)
    assert oddities, "each of these is odd in some way"
    assert not any(oddity.asks_first for oddity in oddities)


@pytest.mark.parametrize(
    ("shown", "limits", "expected"),
    [
        ("599", None, []),
        ("600", None, []),
        ("601", None, [(Odd.ABOVE_METER, "600")]),
        ("501", (40, 500), [(Odd.ABOVE_METER, "500")]),
        ("500", (40, 500), []),
        ("80", (90, 500), [(Odd.BELOW_METER, "90")]),
    ],
)
def test_outside_the_meter_is_asked_about(
    shown: str, limits: tuple[int, int] | None, expected: list[tuple[Odd, str]]
) -> None:
    meter = None if limits is None else _meter(*limits)
    oddities = find_oddities(glucose(shown), _AT, _NOW, meter=meter)
    told = [(oddity.odd, oddity.limit.text) for oddity in oddities if oddity.limit is not None]
    assert told == expected
    assert all(oddity.asks_first for oddity in oddities)


def test_hi_and_lo_are_not_outside_the_meter() -> None:
    for shown in ("HI", "LO"):
        assert find_oddities(glucose(shown), _AT, _NOW, usual=_USUAL[Unit.MG_DL]) == ()


def _elsewhere(shown: str, at: str, minutes_ago: float) -> SavedNumber:
    return SavedNumber(glucose(shown), moment(at), _NOW - timedelta(minutes=minutes_ago))


@pytest.mark.parametrize(
    ("shown", "at", "minutes_ago", "is_doubted"),
    [
        ("128", "2026-03-01 11:58", 1, True),
        ("128", "2026-03-01 11:55", 4.9, True),
        ("128", "2026-03-01 11:58", 5, True),
        ("128", "2026-03-01 11:58", 5.1, False),
        ("128", "2026-03-01 11:53", 1, False),  # typed now, measured at another time
        ("128", "2026-03-01 11:58", -1, False),  # the clock was set back
        ("129", "2026-03-01 11:58", 1, False),
        ("HI", "2026-03-01 11:58", 1, False),
    ],
)
def test_the_same_number_in_another_log_a_moment_ago_is_asked_about(
    shown: str, at: str, minutes_ago: float, is_doubted: bool
) -> None:
    saved = _elsewhere(shown, at, minutes_ago)
    oddities = find_oddities(glucose("128"), _AT, _NOW, elsewhere=[saved])
    assert [oddity.odd for oddity in oddities] == [Odd.OTHER_LOG] * is_doubted
    assert all(oddity.asks_first for oddity in oddities)
    assert find_oddities(glucose("128"), _AT, _NOW) == ()


def test_a_low_in_another_log_a_moment_ago_is_never_asked_about_first() -> None:
    saved = _elsewhere("62", "2026-03-01 11:58", 1)
    (oddity,) = find_oddities(glucose("62"), _AT, _NOW, elsewhere=[saved])
    assert (oddity.odd, oddity.asks_first) == (Odd.OTHER_LOG, False)


def test_letters_are_shown_by_many_meters_alike() -> None:
    saved = _elsewhere("LO", "2026-03-01 11:58", 1)
    assert find_oddities(glucose("LO"), _AT, _NOW, elsewhere=[saved]) == ()


def test_a_moment_to_come_is_asked_about() -> None:
    (future,) = find_oddities(glucose("128"), moment("2026-03-01 12:01"), _NOW)
    assert future.odd is Odd.FUTURE
    assert future.asks_first
    assert find_oddities(glucose("128"), moment("2026-03-01 12:00"), _NOW) == ()


def test_a_clock_behind_the_last_entry_is_told_and_does_not_ask() -> None:
    (behind,) = find_oddities(
        glucose("128"), _AT, _NOW, last_written_at=_NOW + timedelta(seconds=1)
    )
    assert behind.odd is Odd.CLOCK_BEHIND
    assert not behind.asks_first
    assert find_oddities(glucose("128"), _AT, _NOW, last_written_at=_NOW) == ()


def test_the_usual_is_that_of_the_last_90_days_and_needs_ten_numbers() -> None:
    shown = ["100", "120", "140", "160", "180", "110", "130", "150", "170"]
    recent = [reading(f"2026-02-{day:02} 07:30", value) for day, value in enumerate(shown, start=1)]
    left_out = [
        reading("2025-11-30 07:30", "60"),
        reading("2026-02-10 07:30", "500", crossed_out=True),
        reading("2026-02-11 07:30", "480", doubted=True),
        reading("2026-02-12 07:30", "HI"),
        reading("2026-02-13 07:30", "LO"),
        reading("2026-02-14 07:30", "7.1", unit=Unit.MMOL_L),
    ]
    assert usual_of(series_of([*recent, *left_out]), Unit.MG_DL, _NOW) is None
    tenth = reading("2026-02-20 07:30", "90")
    usual = usual_of(series_of([*recent, *left_out, tenth]), Unit.MG_DL, _NOW)
    assert usual == usual_of_steps([90, 100, 110, 120, 130, 140, 150, 160, 170, 180], Unit.MG_DL)


def test_the_usual_against_numpy_without_the_two_outermost_numbers() -> None:
    # NumPy's default quantiles are of the same type (Hyndman and Fan 7).
    chance = random.Random(11)
    for count in (10, 11, 37, 360):
        steps = [chance.randint(60, 400) for _ in range(count)]
        low, q1, q3, high = np.quantile(sorted(steps)[1:-1], [0.05, 0.25, 0.75, 0.95])
        usual = usual_of_steps(steps, Unit.MG_DL)
        assert (usual.lowest, usual.highest) == (round(low), round(high))
        assert usual.far_above == round(max(q3 + 3 * (q3 - q1), high + 50))
        assert usual.far_below == round(min(q1 - 3 * (q3 - q1), low - 50))


@pytest.mark.parametrize("count", [10, 30, 300])
def test_one_wild_number_does_not_open_the_range(count: int) -> None:
    steps = [110 + index * 37 % 60 for index in range(count)]
    before, after = (usual_of_steps(some, Unit.MG_DL) for some in (steps, [*steps, 999]))
    assert after.far_above <= before.far_above + 15
    for shown in ("300", "450"):
        (oddity,) = find_oddities(glucose(shown), _AT, _NOW, usual=after)
        assert oddity.odd is Odd.FAR_FROM_USUAL


@pytest.mark.parametrize(
    ("shown", "unit", "odd"),
    [
        ("400", Unit.MG_DL, None),
        ("401", Unit.MG_DL, Odd.RARE),
        ("41", Unit.MG_DL, None),
        ("40", Unit.MG_DL, Odd.RARE),
        ("22.2", Unit.MMOL_L, None),
        ("22.3", Unit.MMOL_L, Odd.RARE),
        ("2.3", Unit.MMOL_L, None),
        ("2.2", Unit.MMOL_L, Odd.RARE),
    ],
)
def test_what_holds_before_the_usual_is_known(shown: str, unit: Unit, odd: Odd | None) -> None:
    told = first_to_tell(find_oddities(glucose(shown, unit), _AT, _NOW))
    assert (told and told.odd) == odd


@pytest.mark.parametrize(
    ("shown", "before", "expected"),
    [
        ("300", 128, [Odd.FAR_FROM_USUAL]),
        ("300", 270, [Odd.FAR_FROM_USUAL]),
        ("300", 271, []),
        ("300", -1, [Odd.FAR_FROM_USUAL]),
        ("300", 1_000_000, []),  # HI
        ("900", 290, [Odd.ABOVE_METER]),
        ("700", 650, []),
        ("25", 128, [Odd.FAR_FROM_USUAL]),
        ("25", 300, [Odd.FAR_FROM_USUAL]),
        ("25", 38, []),
        ("25", -1, []),  # LO
        ("12", 38, [Odd.BELOW_METER]),
    ],
)
def test_no_doubt_comes_twice_in_a_row(shown: str, before: int, expected: list[Odd]) -> None:
    usual = _USUAL[Unit.MG_DL]
    oddities = find_oddities(
        glucose(shown), _AT, _NOW, usual=usual, before=Before((before,), usual)
    )
    assert [oddity.odd for oddity in oddities] == expected


def test_the_number_before_is_the_one_written_last() -> None:
    morning = reading("2026-02-28 07:30", "128")
    late = reading("2026-02-27 19:00", "310", written_later=timedelta(hours=20))
    struck = reading("2026-02-28 20:00", "500", crossed_out=True)
    imported = reading("2026-02-28 21:00", "480", source=Source.IMPORTED)
    series = series_of([morning, late, struck, imported])
    assert number_before(series, Unit.MG_DL).steps == (310,)
    assert number_before(series, Unit.MMOL_L) == Before()
    assert number_before(series_of([]), Unit.MG_DL) == Before()
    at_once = reading("2026-02-28 14:59", "140")
    assert number_before(series_of([morning, late, at_once]), Unit.MG_DL).steps == (310, 140)
    flown_west = reading("2026-02-28 09:00", "99", zone="America/New_York")
    flown_before = reading("2026-02-28 14:30", "98", zone="Europe/London")
    assert number_before(series_of([flown_before, flown_west]), Unit.MG_DL).steps == (98,)


def test_the_number_before_brings_the_usual_as_it_was_before_it() -> None:
    earlier = [reading(f"2026-02-{day:02} 07:30", str(100 + day)) for day in range(1, 13)]
    wild = reading("2026-02-13 07:30", "390")
    as_it_was = usual_of(series_of(earlier), Unit.MG_DL, wild.at.instant)
    before = number_before(series_of([*earlier, wild]), Unit.MG_DL)
    assert before == Before((390,), as_it_was)
    assert as_it_was is not None


def test_the_usual_of_90_days_is_told_within_a_few_milliseconds() -> None:
    # 12 checks a day is more than anyone makes; the limit leaves a slow machine ten times over.
    series = series_of(
        reading(f"2026-0{1 + day // 28}-{1 + day % 28:02} {hour:02}:00", str(100 + hour))
        for day in range(56)
        for hour in range(24)
    )
    begun = time.perf_counter()
    assert usual_of(series, Unit.MG_DL, _NOW) is not None
    assert number_before(series, Unit.MG_DL).steps == (123,)
    assert time.perf_counter() - begun < 0.05


def _meter(lowest: int, highest: int) -> Meter:
    return Meter(new_id(), "bedside", Unit.MG_DL, lowest, highest, date(2025, 1, 1))
