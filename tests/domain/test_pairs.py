"""Pairs of checks: which belong together, and which do not."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.moments import Period
from logbook.domain.pairs import (
    BiteToldBy,
    Changes,
    MealPair,
    OvernightPair,
    changes_of,
    meal_pairs,
    overnight_pairs,
)
from logbook.domain.plan.plans import MealStart
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from tests.domain.series_of import happening, moment, new_id, reading, series_of

_MARCH = Period(date(2026, 3, 1), date(2026, 3, 31))
_SETTINGS = LogSettings()


def _meal_pairs(
    *readings: Reading,
    settings: LogSettings = _SETTINGS,
    meal_starts: tuple[MealStart, ...] = (),
    happenings: tuple[Happening, ...] = (),
) -> tuple[MealPair, ...]:
    return meal_pairs(series_of(readings), _MARCH, settings, meal_starts, happenings)


def _bite(wall: str, slot: Slot = Slot.AFTER_LUNCH, *, crossed_out: bool = False) -> MealStart:
    at = moment(wall)
    return MealStart(new_id(), slot, at, at.instant, at.instant if crossed_out else None)


def _before(wall: str = "2026-03-02 12:00", shown: str = "110", **told: object) -> Reading:
    return reading(wall, shown, Slot.BEFORE_LUNCH, **told)  # type: ignore[arg-type]


def _after(wall: str = "2026-03-02 14:10", shown: str = "165", **told: object) -> Reading:
    told = {"minutes_after": 120, **told}
    return reading(wall, shown, Slot.AFTER_LUNCH, **told)  # type: ignore[arg-type]


# Seven checks a day for three days; the rises were worked out by hand.
_THREE_DAYS = (
    (110, 165, 98, 182, 120, 210),
    (126, 190, 88, 150, 64, 175),
    (134, 201, 104, 168, 115, 240),
)
_RISES = [[55, 84, 90], [64, 62, 111], [67, 64, 125]]


def test_the_rises_of_three_days_of_paired_checks() -> None:
    slots = list(Slot)[:6]
    readings = []
    for number, values in enumerate(_THREE_DAYS, 1):
        for place, (slot, value) in enumerate(zip(slots, values, strict=True)):
            wall = f"2026-03-0{number} {(7, 9, 12, 14, 18, 20)[place]:02}:15"
            minutes = 120 if slot.is_after_meal else None
            readings.append(reading(wall, str(value), slot, minutes_after=minutes))
    pairs = _meal_pairs(*readings)
    # The check before dinner of the second day is a low (64): that pair takes no part.
    expected = [rise for day in _RISES for rise in day if rise != 111]
    assert [pair.rise for pair in pairs] == expected
    assert {pair.minutes_after for pair in pairs} == {120}
    assert [pair.day.day for pair in pairs] == [1, 1, 1, 2, 2, 3, 3, 3]
    assert changes_of(pair.rise for pair in pairs if pair.slot is Slot.AFTER_DINNER) == Changes(
        2, 107.5, 90, 125
    )


@pytest.mark.parametrize(
    ("before_wall", "minutes_after", "is_pair"),
    [
        # Check after at 14:10; with 120 minutes the first bite is at 12:10.
        ("2026-03-02 11:40", 120, True),
        ("2026-03-02 11:39", 120, False),
        ("2026-03-02 12:10", 120, True),
        ("2026-03-02 12:11", 120, False),
        ("2026-03-02 12:30", 90, True),
        ("2026-03-02 12:30", 89, False),
        ("2026-03-02 11:30", 150, True),
        ("2026-03-02 11:30", 151, False),
        ("2026-03-02 12:00", None, False),
    ],
)
def test_the_edges_of_a_meal_pair(
    before_wall: str, minutes_after: int | None, *, is_pair: bool
) -> None:
    after = _after(minutes_after=minutes_after)
    assert bool(_meal_pairs(_before(before_wall), after)) is is_pair


def test_a_plan_can_let_the_check_after_be_at_one_hour() -> None:
    readings = _before("2026-03-02 13:05"), _after(minutes_after=60)
    assert not _meal_pairs(*readings)
    (pair,) = _meal_pairs(*readings, settings=LogSettings(after_meal_from_minutes=60))
    assert (pair.minutes_after, pair.bite_told_by) == (60, BiteToldBy.MINUTES_AFTER)
    assert not _meal_pairs(
        _before("2026-03-02 13:05"),
        _after(minutes_after=59),
        settings=LogSettings(after_meal_from_minutes=60),
    )


def test_a_noted_first_bite_stands_before_the_minutes_told_later() -> None:
    readings = _before("2026-03-02 12:10"), _after(minutes_after=150)
    assert not _meal_pairs(*readings)
    (pair,) = _meal_pairs(*readings, meal_starts=(_bite("2026-03-02 12:15"),))
    assert (pair.minutes_after, pair.bite_told_by) == (115, BiteToldBy.MEAL_START)
    # Without minutes the first bite alone tells it.
    (pair,) = _meal_pairs(
        _before("2026-03-02 12:10"),
        _after(minutes_after=None),
        meal_starts=(_bite("2026-03-02 11:00"), _bite("2026-03-02 12:15")),
    )
    assert pair.minutes_after == 115


@pytest.mark.parametrize(
    "bite",
    [
        _bite("2026-03-02 12:15", crossed_out=True),
        _bite("2026-03-02 12:15", Slot.AFTER_DINNER),
        _bite("2026-03-02 14:11"),
        _bite("2026-03-02 11:39"),
    ],
    ids=["crossed out", "another meal", "after the check", "over 150 minutes before"],
)
def test_a_first_bite_that_does_not_belong_tells_nothing(bite: MealStart) -> None:
    assert not _meal_pairs(
        _before("2026-03-02 12:00"), _after(minutes_after=None), meal_starts=(bite,)
    )


@pytest.mark.parametrize("what", [What.FELT_LOW_TREATED, What.NEEDED_HELP, What.AMBULANCE])
def test_no_pair_over_a_low_or_sugar(what: What) -> None:
    pair = _before(), _after()
    assert _meal_pairs(*pair)
    assert not _meal_pairs(*pair, reading("2026-03-02 13:00", "69", Slot.OTHER))
    assert not _meal_pairs(*pair, reading("2026-03-02 13:00", "LO", purpose=Purpose.RECHECK))
    assert not _meal_pairs(*pair, happenings=(happening("2026-03-02 13:00", what),))
    # A low before the meal is treated as well; one at the check after it is what the meal led to.
    assert not _meal_pairs(_before(shown="69"), _after())
    assert _meal_pairs(_before(), _after(shown="69"))[0].rise == -41
    # What lies outside changes nothing, and nor does a fall or a number not believed.
    assert _meal_pairs(*pair, happenings=(happening("2026-03-02 11:59", what),))
    assert _meal_pairs(*pair, happenings=(happening("2026-03-02 14:10", what),))
    assert _meal_pairs(*pair, happenings=(happening("2026-03-02 13:00", What.FALL),))
    assert _meal_pairs(*pair, reading("2026-03-02 13:00", "60", doubted=True))
    assert _meal_pairs(*pair, reading("2026-03-02 13:00", "70"))


@pytest.mark.parametrize(
    "readings",
    [
        (_before(), _after(shown="HI")),
        (_before(shown="HI"), _after()),
        (_before(crossed_out=True), _after()),
        (_before(), _after(doubted=True)),
        (_before(foreign=True), _after()),
        (_before(purpose=Purpose.RECHECK), _after()),
        (_before(), _after(purpose=Purpose.RECHECK)),
        (_before(damaged=True), _after()),
        (_before(),),
        (_after(),),
        (),
    ],
)
def test_what_makes_no_pair(readings: tuple[Reading, ...]) -> None:
    assert _meal_pairs(*readings) == ()


def test_a_check_before_a_meal_has_one_pair_and_the_first_checks_make_it() -> None:
    (pair,) = _meal_pairs(
        _before("2026-03-02 12:00", "110"),
        _before("2026-03-02 12:05", "130", purpose=Purpose.REPEAT),
        _after("2026-03-02 13:50", "165", minutes_after=100),
        _after("2026-03-02 14:10", "190", minutes_after=120),
    )
    assert (pair.before, pair.after, pair.rise) == (0, 2, 55)


def test_two_checks_of_one_instant_are_two_readings() -> None:
    (pair,) = _meal_pairs(_before(shown="110"), _before(shown="112"), _after())
    assert pair.before == 0


def test_minutes_are_elapsed_ones_when_clocks_change_and_zones_do() -> None:
    # In London clocks go forward at 01:00 on 29 March 2026: 00:50 to 03:00 are 70 minutes.
    london = "Europe/London"
    readings = (
        reading("2026-03-29 00:50", "110", Slot.BEFORE_SNACK, zone=london),
        reading("2026-03-29 03:00", "150", Slot.AFTER_SNACK, zone=london),
    )
    bites = (
        MealStart(
            new_id(),
            Slot.AFTER_SNACK,
            moment("2026-03-29 00:55", london),
            moment("2026-03-29 00:55", london).instant,
        ),
    )
    (pair,) = _meal_pairs(
        *readings, meal_starts=bites, settings=LogSettings(after_meal_from_minutes=60)
    )
    assert pair.minutes_after == 65
    assert pair.day == date(2026, 3, 28)
    # On a journey: 12:00 in London and 16:10 in Helsinki are 130 minutes apart.
    assert _meal_pairs(
        _before("2026-03-02 12:00", zone=london),
        _after("2026-03-02 16:10", zone="Europe/Helsinki", minutes_after=125),
    )


def test_a_rise_is_in_steps_of_the_logs_unit() -> None:
    mmol = LogSettings(unit=Unit.MMOL_L)
    own = _before(shown="6.1", unit=Unit.MMOL_L), _after(shown="9.2", unit=Unit.MMOL_L)
    assert _meal_pairs(*own, settings=mmol)[0].rise == 31
    # 3.1 mmol/L are 55.85 mg/dL with 18.0156.
    assert _meal_pairs(*own)[0].rise == 56
    mixed = _before(shown="110"), _after(shown="9.2", unit=Unit.MMOL_L)
    # 9.2 mmol/L are 165.74 mg/dL; 110 mg/dL are 6.106 mmol/L.
    assert _meal_pairs(*mixed)[0].rise == 56
    assert _meal_pairs(*mixed, settings=mmol)[0].rise == 31
    falling = _before(shown="110"), _after(shown="5.0", unit=Unit.MMOL_L)
    assert _meal_pairs(*falling)[0].rise == -20


def test_both_checks_lie_in_the_period() -> None:
    series = series_of([_before("2026-03-02 03:55"), _after("2026-03-02 06:10", minutes_after=125)])
    day = Period(date(2026, 3, 2), date(2026, 3, 2))
    assert not meal_pairs(series, day, _SETTINGS)
    assert meal_pairs(series, Period.ending(date(2026, 3, 2), 2), _SETTINGS)


# --- overnight -----------------------------------------------------------------------------------


def _overnight(*readings: Reading, happenings: tuple[Happening, ...] = ()) -> list[OvernightPair]:
    return list(overnight_pairs(series_of(readings), _MARCH, _SETTINGS, happenings))


def _bedtime(wall: str = "2026-03-02 22:30", shown: str = "180", **told: object) -> Reading:
    return reading(wall, shown, Slot.BEDTIME, **told)  # type: ignore[arg-type]


def _fasting(wall: str = "2026-03-03 07:00", shown: str = "120", **told: object) -> Reading:
    return reading(wall, shown, Slot.FASTING, **told)  # type: ignore[arg-type]


def test_bedtime_and_the_next_fasting_check() -> None:
    assert _overnight(_bedtime(), _fasting()) == [OvernightPair(date(2026, 3, 3), 0, 1, -60, False)]
    # After midnight it is still the evening's bedtime.
    assert _overnight(_bedtime("2026-03-03 01:30"), _fasting())[0].change == -60
    assert not _overnight(_bedtime(), _fasting("2026-03-04 07:00"))
    assert not _overnight(_fasting("2026-03-03 07:00"), _bedtime("2026-03-03 22:00"))


@pytest.mark.parametrize(("wall", "is_pair"), [("17:00", True), ("16:59", False)])
def test_a_night_is_at_most_14_hours(wall: str, *, is_pair: bool) -> None:
    assert bool(_overnight(_bedtime(f"2026-03-02 {wall}"), _fasting())) is is_pair


def test_a_low_in_the_night_is_told_with_the_pair() -> None:
    def has_low(*more: Reading, bedtime: str = "180", fasting: str = "120") -> bool:
        pairs = _overnight(_bedtime(shown=bedtime), _fasting(shown=fasting), *more)
        return pairs[0].has_low_between

    assert not has_low()
    assert has_low(reading("2026-03-03 02:00", "60", Slot.NIGHT))
    assert has_low(bedtime="66")
    assert not has_low(fasting="66")
    felt = happening("2026-03-03 03:00", What.FELT_LOW_TREATED)
    assert _overnight(_bedtime(), _fasting(), happenings=(felt,))[0].has_low_between


def test_each_night_makes_one_pair_from_what_counts() -> None:
    pairs = _overnight(
        _bedtime("2026-03-02 22:00", "190", crossed_out=True),
        _bedtime("2026-03-02 22:05", "180"),
        _bedtime("2026-03-02 23:30", "150"),
        _fasting("2026-03-03 06:30", "125", purpose=Purpose.RECHECK),
        _fasting("2026-03-03 07:00", "120"),
        _fasting("2026-03-03 08:00", "140"),
        _bedtime("2026-03-03 22:00", "HI"),
        _fasting("2026-03-04 07:00", "120"),
        _bedtime("2026-03-04 22:00", "140"),
        _fasting("2026-03-05 07:00", "190"),
    )
    assert [pair.change for pair in pairs] == [-60, 50]
    assert changes_of(pair.change for pair in pairs) == Changes(2, -5, -60, 50)
    assert changes_of([]) == Changes(0, None, None, None)
