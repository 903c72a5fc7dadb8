"""What is odd about a number before it is saved."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from logbook.domain.errors import DecimalsNotShown, ImpossibleGlucose, NotANumber
from logbook.domain.glucose import Unit
from logbook.domain.meters import Meter
from logbook.domain.plausibility import (
    Odd,
    Usual,
    explain_refusal,
    find_oddities,
    usual_of,
)
from tests.domain.series_of import glucose, moment, new_id, reading, series_of

_NOW = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
_AT = moment("2026-03-01 11:59")
_USUAL = {Unit.MG_DL: Usual(Unit.MG_DL, 90, 220), Unit.MMOL_L: Usual(Unit.MMOL_L, 50, 122)}


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
        ("320", Unit.MG_DL, []),
        ("321", Unit.MG_DL, [Odd.FAR_FROM_USUAL]),
        ("13", Unit.MG_DL, [Odd.BELOW_METER, Odd.TENFOLD]),
        ("25", Unit.MG_DL, [Odd.FAR_FROM_USUAL]),
        ("7.1", Unit.MMOL_L, []),
        ("49.0", Unit.MMOL_L, [Odd.ABOVE_METER, Odd.FAR_FROM_USUAL]),
        ("50.0", Unit.MMOL_L, [Odd.ABOVE_METER, Odd.TENFOLD]),
        ("17.8", Unit.MMOL_L, []),
        ("17.9", Unit.MMOL_L, [Odd.FAR_FROM_USUAL]),
        ("0.7", Unit.MMOL_L, [Odd.BELOW_METER, Odd.TENFOLD]),
    ],
)
def test_at_most_one_doubt_is_told_about_a_number(
    shown: str, unit: Unit, expected: list[Odd]
) -> None:
    assert _odd(shown, unit) == expected


def test_a_number_of_the_other_unit_is_told_with_what_was_meant() -> None:
    # 12 typed into a log in mg/dL: 12.0 mmol/L is 216 mg/dL, among this person's numbers; ten-fold
    # it would be 120, which is told first.
    usual = Usual(Unit.MG_DL, 190, 250)
    oddities = find_oddities(glucose("12"), _AT, _NOW, usual=usual)
    assert [oddity.odd for oddity in oddities] == [Odd.BELOW_METER, Odd.OTHER_UNIT]
    meant = oddities[1].meant
    assert meant is not None
    assert (meant.text, meant.unit) == ("12.0", Unit.MMOL_L)


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
    oddities = find_oddities(
        glucose(shown), future, _NOW, usual=Usual(Unit.MG_DL, 190, 250), last_written_at=_NOW
    )
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
    assert usual == Usual(Unit.MG_DL, 90, 180)


def _meter(lowest: int, highest: int) -> Meter:
    return Meter(new_id(), "bedside", Unit.MG_DL, lowest, highest, date(2025, 1, 1))
