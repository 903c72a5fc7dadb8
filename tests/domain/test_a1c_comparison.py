"""When an A1C and the log are compared, and when a gap between them is told."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from logbook.domain.a1c_comparison import (
    A1CBesideLog,
    A1CVerdict,
    NotCompared,
    a1c_beside_log,
    days_before,
)
from logbook.domain.glucose import Unit
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.summary import summarise
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import FOOLS_THE_A1C, FOOLS_THE_METER, About, Tick, TickBook, Told
from tests.domain.series_of import new_id, reading, series_of

_DRAWN = date(2026, 6, 1)
_WRITTEN = datetime(2026, 6, 2, tzinfo=UTC)
_SLOTS = (Slot.FASTING, Slot.BEFORE_DINNER, Slot.BEDTIME)


def _a1c(steps: int = 70, unit: A1CUnit = A1CUnit.PERCENT) -> LabA1C:
    return LabA1C(new_id(), _DRAWN, steps, unit, _WRITTEN)


def _log(shown: str = "154", *, days: int = 10, unit: Unit = Unit.MG_DL) -> list[Reading]:
    return [
        reading(f"{_DRAWN - timedelta(days=number)} {7 + 6 * place:02}:30", shown, slot, unit=unit)
        for number in range(1, days + 1)
        for place, slot in enumerate(_SLOTS)
    ]


def _beside(
    a1c: LabA1C, readings: list[Reading], *ticks: Tick, unit: Unit = Unit.MG_DL
) -> A1CBesideLog:
    settings = LogSettings(unit=unit)
    period = days_before(a1c)
    summary = summarise(series_of(readings), period, settings, TargetBook(()), (), ())
    return a1c_beside_log(a1c, summary, TickBook(ticks))


def _tick(about: About, told: Told, day: date) -> Tick:
    return Tick(new_id(), about, told, day, _WRITTEN)


def test_the_days_before_are_ninety_and_end_the_day_before() -> None:
    assert days_before(_a1c()) == Period(date(2026, 3, 3), date(2026, 5, 31))
    assert days_before(_a1c()).days == 90


# 7 % goes with 154.2 mg/dL; the gap told from is 28.7.
@pytest.mark.parametrize(
    ("shown", "verdict"),
    [
        ("125", A1CVerdict.LOG_IS_LOWER),
        ("126", A1CVerdict.NOTHING_TO_SAY),
        ("154", A1CVerdict.NOTHING_TO_SAY),
        ("182", A1CVerdict.NOTHING_TO_SAY),
        ("183", A1CVerdict.LOG_IS_HIGHER),
    ],
)
def test_a_gap_is_told_from_one_percent_on(shown: str, verdict: A1CVerdict) -> None:
    beside = _beside(_a1c(), _log(shown))
    assert beside.verdict is verdict
    assert (beside.reasons, beside.can_fool) == ((), ())
    assert (beside.adag_steps, beside.log.mean) == (154, int(shown))


def test_exactly_one_percent_is_told() -> None:
    # 6.0 % goes with 125.5 mg/dL and 7.0 % with 154.2: nine values of 154 and one of 156 are it.
    readings = _log("154")
    exact = [
        reading(r.at.wall.isoformat(" "), "156" if n % 10 == 0 else "154", r.slot)
        for n, r in enumerate(readings)
    ]
    assert _beside(_a1c(60), exact).log.mean == pytest.approx(154.2)
    assert _beside(_a1c(60), exact).verdict is A1CVerdict.LOG_IS_HIGHER
    assert _beside(_a1c(61), exact).verdict is A1CVerdict.NOTHING_TO_SAY


@pytest.mark.parametrize(
    ("shown", "verdict"),
    [
        ("6.9", A1CVerdict.LOG_IS_LOWER),
        ("8.6", A1CVerdict.NOTHING_TO_SAY),
        ("10.2", A1CVerdict.LOG_IS_HIGHER),
    ],
)
def test_a_log_and_a_laboratory_in_the_other_units(shown: str, verdict: A1CVerdict) -> None:
    # 53 mmol/mol are 7.0 %.
    beside = _beside(_a1c(53, A1CUnit.MMOL_MOL), _log(shown, unit=Unit.MMOL_L), unit=Unit.MMOL_L)
    assert beside.adag_steps == 86
    assert beside.verdict is verdict


def test_too_few_readings_are_not_compared() -> None:
    assert _beside(_a1c(), _log("300", days=9)).reasons == (NotCompared.TOO_FEW_READINGS,)
    two_slots = [one for one in _log("300") if one.slot is not Slot.BEDTIME]
    assert _beside(_a1c(), two_slots).reasons == (NotCompared.TOO_FEW_READINGS,)
    nothing = _beside(_a1c(), [])
    assert nothing.verdict is A1CVerdict.NOT_COMPARED
    assert nothing.log.mean is None
    # Readings of the day itself and of the 91st day before it are not among them.
    outside = [
        reading(f"{day} {hour:02}:00", "300", slot)
        for day in ("2026-06-01", "2026-03-02")
        for hour, slot in zip((7, 18, 22), _SLOTS, strict=True)
    ]
    assert _beside(_a1c(), outside).log.count == 0


def test_readings_outside_the_meters_range_are_not_compared() -> None:
    high = reading("2026-05-02 12:00", "HI", Slot.BEFORE_LUNCH)
    beside = _beside(_a1c(), [*_log("300"), high])
    assert beside.reasons == (NotCompared.OUTSIDE_METER_RANGE,)
    assert beside.verdict is A1CVerdict.NOT_COMPARED


@pytest.mark.parametrize("about", [*FOOLS_THE_METER, *FOOLS_THE_A1C])
def test_what_can_fool_one_of_them_forbids_the_comparison(about: About) -> None:
    for told, day in (
        (Told.YES, date(2020, 1, 1)),
        (Told.NOT_SURE, date(2026, 5, 1)),
        (Told.YES, _DRAWN),
    ):
        beside = _beside(_a1c(), _log("300"), _tick(about, told, day))
        assert beside.reasons == (NotCompared.SOMETHING_CAN_FOOL,)
        assert beside.can_fool == (about,)
        assert beside.verdict is A1CVerdict.NOT_COMPARED


def test_what_was_over_in_those_days_still_counts_and_what_came_later_does_not() -> None:
    transfusion = _tick(About.TRANSFUSION, Told.YES, date(2026, 4, 1))
    over = _tick(About.TRANSFUSION, Told.NO, date(2026, 4, 20))
    assert _beside(_a1c(), _log("300"), transfusion, over).can_fool == (About.TRANSFUSION,)
    long_over = _tick(About.TRANSFUSION, Told.NO, date(2026, 3, 3))
    before = _tick(About.TRANSFUSION, Told.YES, date(2026, 1, 1))
    assert _beside(_a1c(), _log("300"), before, long_over).can_fool == ()
    later = _tick(About.ANAEMIA, Told.YES, _DRAWN + timedelta(days=1))
    no_matter = _tick(About.INSULIN, Told.YES, date(2020, 1, 1))
    assert _beside(_a1c(), _log("300"), later, no_matter).reasons == ()
