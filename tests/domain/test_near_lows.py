"""Near-lows: which values, at which times, for whom."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.near_lows import near_lows
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.targets import Target, TargetBook, TargetKind
from logbook.domain.ticks import About, Tick, TickBook, Told
from tests.domain.series_of import new_id, range_target, reading, series_of

_INSULIN = TickBook(
    [Tick(new_id(), About.INSULIN, Told.YES, date(2020, 1, 1), datetime(2020, 1, 1, tzinfo=UTC))]
)


def _near(
    *readings: Reading,
    targets: tuple[Target, ...] = (),
    ticks: TickBook = _INSULIN,
    settings: LogSettings | None = None,
) -> list[str]:
    found = near_lows(series_of(readings), settings or LogSettings(), ticks, TargetBook(targets))
    shown = {str(one.id): one.glucose.text for one in readings}
    return [shown[one.id] for one in found]


# 70 to 100 mg/dL asks for a call in long-term care: PMC7428662, table 4, read at the journal. The
# pairs 70 = 3.9, 80 = 4.4 and 100 = 5.6 are as the ADA prints them.
@pytest.mark.parametrize(
    ("shown", "unit", "is_near"),
    [
        ("69", Unit.MG_DL, False),
        ("70", Unit.MG_DL, True),
        ("79", Unit.MG_DL, True),
        ("80", Unit.MG_DL, False),
        ("3.8", Unit.MMOL_L, False),
        ("3.9", Unit.MMOL_L, True),
        ("4.3", Unit.MMOL_L, True),
        ("4.4", Unit.MMOL_L, False),
    ],
)
def test_70_to_79_always(shown: str, unit: Unit, is_near: bool) -> None:
    floor = 70 if unit is Unit.MG_DL else 39
    target = range_target(TargetKind.FASTING, floor, None, unit=unit)
    found = _near(reading("2026-03-01 07:00", shown, Slot.FASTING, unit=unit), targets=(target,))
    assert bool(found) is is_near


@pytest.mark.parametrize(("shown", "is_near"), [("89", True), ("90", False), ("99", False)])
def test_80_to_99_under_the_persons_own_floor(shown: str, is_near: bool) -> None:
    target = range_target(TargetKind.FASTING, 90, 150)
    found = _near(reading("2026-03-01 07:00", shown, Slot.FASTING), targets=(target,))
    assert bool(found) is is_near


@pytest.mark.parametrize(("shown", "is_near"), [("99", True), ("100", False)])
def test_80_to_99_where_no_floor_is_agreed(shown: str, is_near: bool) -> None:
    made = reading("2026-03-01 07:00", shown, Slot.FASTING)
    not_agreed = replace(range_target(TargetKind.FASTING, 80, 130), is_agreed=False)
    no_floor = range_target(TargetKind.FASTING, None, 150)
    for targets in ((), (not_agreed,), (no_floor,)):
        assert bool(_near(made, targets=targets)) is is_near


@pytest.mark.parametrize(("shown", "is_near"), [("5.5", True), ("5.6", False)])
def test_the_upper_end_in_the_other_unit(shown: str, is_near: bool) -> None:
    made = reading("2026-03-01 07:00", shown, Slot.FASTING, unit=Unit.MMOL_L)
    assert bool(_near(made)) is is_near


@pytest.mark.parametrize(
    ("slot", "clock", "is_near"),
    [
        (Slot.FASTING, "07:00", True),
        (Slot.BEDTIME, "22:00", True),
        (Slot.NIGHT, "03:00", True),
        (Slot.OTHER, "03:00", True),
        (Slot.OTHER, "15:00", False),
        (Slot.BEFORE_LUNCH, "12:00", False),
        (Slot.AFTER_DINNER, "20:00", False),
    ],
)
def test_fasting_at_bedtime_and_at_night(slot: Slot, clock: str, is_near: bool) -> None:
    assert bool(_near(reading(f"2026-03-02 {clock}", "75", slot))) is is_near


def test_only_where_medicines_can_cause_lows() -> None:
    made = reading("2026-03-01 07:00", "75", Slot.FASTING)
    at = datetime(2020, 1, 1, tzinfo=UTC)
    told_no = [
        Tick(new_id(), about, Told.NO, date(2020, 1, 1), at)
        for about in (About.INSULIN, About.LOW_CAUSING_TABLETS)
    ]
    assert _near(made, ticks=TickBook(told_no)) == []
    not_sure = Tick(new_id(), About.INSULIN, Told.NOT_SURE, date(2026, 3, 1), at)
    assert _near(made, ticks=TickBook([*told_no, not_sure])) == ["75"]
    from_tomorrow = replace(not_sure, holds_from=date(2026, 3, 2))
    assert _near(made, ticks=TickBook([*told_no, from_tomorrow])) == []
    assert _near(made, ticks=TickBook()) == ["75"]
    assert _near(made, ticks=TickBook(), settings=LogSettings(can_have_lows=False)) == []


def test_one_for_each_occasion_and_no_recheck() -> None:
    low = reading("2026-03-01 06:00", "60", Slot.NIGHT)
    recheck = reading("2026-03-01 06:15", "74", Slot.NIGHT, purpose=Purpose.RECHECK, recheck_of=low)
    fasting = reading("2026-03-01 07:00", "78", Slot.FASTING)
    again = reading("2026-03-01 07:02", "77", Slot.FASTING, purpose=Purpose.REPEAT)
    assert _near(low, recheck, fasting, again) == ["78"]


def test_only_what_counts() -> None:
    readings = [
        reading("2026-03-01 07:00", "75", Slot.FASTING, crossed_out=True),
        reading("2026-03-02 07:00", "75", Slot.FASTING, doubted=True),
        reading("2026-03-03 07:00", "75", Slot.FASTING, foreign=True),
        reading("2026-03-04 07:00", "75", Slot.FASTING, damaged=True),
    ]
    assert _near(*readings) == []
    assert _near() == []
