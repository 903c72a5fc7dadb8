"""Lows: what makes one, what belongs to it, how it went on, and whether anyone looked."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from uuid import UUID

import pytest

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.low_facts import Looked, count_lows, who_looked
from logbook.domain.lows import Level, Low, WarningSigns, find_lows
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from tests.domain.series_of import glucose, happening, moment, new_id, reading, series_of

_SETTINGS = LogSettings()


def _lows(
    *readings: Reading,
    happenings: tuple[Happening, ...] = (),
    answers: tuple[Answer, ...] = (),
    period: Period | None = None,
) -> tuple[Low, ...]:
    return find_lows(series_of(readings), _SETTINGS, happenings, answers, period)


def _felt(about: UUID, said: Said, minute: int = 0) -> Answer:
    at = datetime(2026, 3, 1, 13, minute, tzinfo=UTC)
    return Answer(new_id(), about, Asked.FELT_LOW_COMING, said, at)


# ADA Standards of Care 2024, section 6, read at the journal: level 1 is below 70 (3.9), level 2
# below 54 (3.0). (The 2017 text said 70 or below; 70 is no low now.)
@pytest.mark.parametrize(
    ("shown", "unit", "level"),
    [
        ("70", Unit.MG_DL, None),
        ("69", Unit.MG_DL, Level.LOW),
        ("54", Unit.MG_DL, Level.LOW),
        ("53", Unit.MG_DL, Level.VERY_LOW),
        ("LO", Unit.MG_DL, Level.VERY_LOW),
        ("HI", Unit.MG_DL, None),
        ("3.9", Unit.MMOL_L, None),
        ("3.8", Unit.MMOL_L, Level.LOW),
        ("3.0", Unit.MMOL_L, Level.LOW),
        ("2.9", Unit.MMOL_L, Level.VERY_LOW),
        ("LO", Unit.MMOL_L, Level.VERY_LOW),
    ],
)
def test_the_level_of_a_low_reading(shown: str, unit: Unit, level: Level | None) -> None:
    lows = _lows(reading("2026-03-01 12:00", shown, Slot.BEFORE_LUNCH, unit=unit))
    assert [low.level for low in lows] == ([] if level is None else [level])
    for low in lows:
        assert low.is_measured
        assert low.value == glucose(shown, unit)
        assert low.slot is Slot.BEFORE_LUNCH


# Level 3 is told, never inferred from a number: someone had to help, whatever the glucose.
@pytest.mark.parametrize("what", [What.NEEDED_HELP, What.AMBULANCE])
def test_help_makes_level_three_with_and_without_a_number(what: What) -> None:
    mild = reading("2026-03-01 12:00", "68")
    (measured,) = _lows(mild, happenings=(happening("2026-03-01 18:00", what, about=mild),))
    assert (measured.level, measured.help, measured.value) == (Level.HELPED, what, glucose("68"))
    assert measured.at == mild.at.instant
    (unmeasured,) = _lows(happenings=(happening("2026-03-01 18:00", what),))
    assert (unmeasured.level, unmeasured.help, unmeasured.value) == (Level.HELPED, what, None)
    assert not unmeasured.is_measured
    assert unmeasured.slot is None


def test_the_gravest_help_is_told() -> None:
    (low,) = _lows(
        happenings=(
            happening("2026-03-01 12:00", What.NEEDED_HELP),
            happening("2026-03-01 12:10", What.AMBULANCE),
        )
    )
    assert low.help is What.AMBULANCE
    assert len(low.happening_ids) == 2


def test_a_low_that_was_only_felt_counts_and_a_fall_does_not() -> None:
    felt = happening("2026-03-01 12:00", What.FELT_LOW_TREATED)
    taken_back = Happening(
        new_id(),
        What.NEEDED_HELP,
        moment("2026-03-02 12:00"),
        datetime(2026, 3, 2, 12, tzinfo=UTC),
        crossed_out_at=datetime(2026, 3, 3, tzinfo=UTC),
    )
    others = (
        happening("2026-03-03 12:00", What.FALL),
        happening("2026-03-04 12:00", What.STRIP_FAILED),
    )
    (low,) = _lows(happenings=(felt, taken_back, *others))
    assert (low.level, low.value, low.help) == (Level.LOW, None, None)
    assert low.happening_ids == (felt.id,)
    assert low.reading_ids == ()


def test_readings_outside_figures_are_no_lows() -> None:
    assert not _lows(
        reading("2026-03-01 12:00", "50", crossed_out=True),
        reading("2026-03-02 12:00", "50", doubted=True),
        reading("2026-03-03 12:00", "50", foreign=True),
        reading("2026-03-04 12:00", "50", damaged=True),
    )


def test_lows_up_to_two_hours_apart_are_one() -> None:
    first = reading("2026-03-01 12:00", "62")
    second = reading("2026-03-01 14:00", "51")
    third = reading("2026-03-01 16:01", "66")
    one, other = _lows(first, second, third)
    assert one.reading_ids == (str(first.id), str(second.id))
    assert (one.level, one.value) == (Level.VERY_LOW, glucose("51"))
    assert other.reading_ids == (str(third.id),)


def test_what_was_felt_within_two_hours_belongs_to_the_measured_low() -> None:
    felt = happening("2026-03-01 11:50", What.FELT_LOW_TREATED)
    measured = reading("2026-03-01 12:00", "62", Slot.BEFORE_LUNCH)
    (low,) = _lows(measured, happenings=(felt,))
    assert low.at == felt.at.instant
    assert low.is_measured
    assert low.slot is Slot.BEFORE_LUNCH
    assert low.rechecked_after_minutes == 10


def test_two_instants_of_one_wall_time_are_an_hour_apart() -> None:
    # Clocks in New York went back at 02:00 on 1 November 2026, so 01:30 came twice.
    zone = "America/New_York"
    first = reading("2026-11-01 01:30", "62", zone=zone)
    later = reading("2026-11-01 02:10", "80", zone=zone)
    (low,) = _lows(first, later)
    assert low.at.isoformat() == "2026-11-01T01:30:00-04:00"
    assert low.rechecked_after_minutes == 100


# --- how it went on -------------------------------------------------------------------------------


def test_the_minutes_to_the_recheck_and_to_recovery() -> None:
    low = reading("2026-03-01 12:04", "62")
    still = reading("2026-03-01 12:19", "66", purpose=Purpose.RECHECK, recheck_of=low)
    better = reading("2026-03-01 12:35", "84", purpose=Purpose.RECHECK, recheck_of=still)
    (found,) = _lows(low, still, better)
    assert found.rechecked_after_minutes == 15
    assert found.back_above_69_after_minutes == 31
    assert found.value == glucose("62")


def test_a_check_in_time_is_a_recheck_without_being_told() -> None:
    low = reading("2026-03-01 12:00", "62")
    (within,) = _lows(low, reading("2026-03-01 14:00", "130"))
    assert (within.rechecked_after_minutes, within.back_above_69_after_minutes) == (120, 120)
    (too_late,) = _lows(low, reading("2026-03-01 14:01", "130"))
    assert too_late.rechecked_after_minutes is None
    assert too_late.back_above_69_after_minutes is None


def test_a_recheck_that_was_told_counts_whenever_it_was_made() -> None:
    low = reading("2026-03-01 12:00", "62")
    told = reading("2026-03-01 15:00", "HI", purpose=Purpose.RECHECK, recheck_of=low)
    (found,) = _lows(low, told)
    assert found.rechecked_after_minutes == 180
    assert found.back_above_69_after_minutes == 180


def test_a_recheck_of_something_else_is_not_one_of_this_low() -> None:
    high = reading("2026-03-01 11:50", "310")
    low = reading("2026-03-01 12:00", "62")
    of_high = reading("2026-03-01 12:10", "300", purpose=Purpose.REPEAT, recheck_of=high)
    (found,) = _lows(high, low, of_high)
    assert found.rechecked_after_minutes is None


def test_recovery_is_what_no_further_low_followed() -> None:
    (found,) = _lows(
        reading("2026-03-01 12:00", "62"),
        reading("2026-03-01 12:15", "75"),
        reading("2026-03-01 13:00", "65"),
        reading("2026-03-01 13:20", "90"),
    )
    assert found.rechecked_after_minutes == 15
    assert found.back_above_69_after_minutes == 80


def test_a_crossed_out_check_is_no_recheck() -> None:
    low = reading("2026-03-01 12:00", "62")
    (found,) = _lows(low, reading("2026-03-01 12:15", "90", crossed_out=True))
    assert found.rechecked_after_minutes is None


# --- warning signs --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (Said.YES, WarningSigns.YES),
        (Said.NO, WarningSigns.NO),
        (Said.NOT_SURE, WarningSigns.UNKNOWN),
        (Said.NOT_ANSWERED, WarningSigns.UNKNOWN),
        (None, WarningSigns.UNKNOWN),
    ],
)
def test_warning_signs_are_what_was_answered(said: Said | None, expected: WarningSigns) -> None:
    low = reading("2026-03-01 12:00", "62")
    answers = () if said is None else (_felt(low.id, said),)
    assert _lows(low, answers=answers)[0].warning_signs is expected


def test_the_latest_answer_about_any_part_of_a_low_holds() -> None:
    first = reading("2026-03-01 12:00", "62")
    second = reading("2026-03-01 12:15", "64")
    answers = (_felt(second.id, Said.NO, 30), _felt(first.id, Said.YES, 10))
    assert _lows(first, second, answers=answers)[0].warning_signs is WarningSigns.NO


def test_a_changed_mind_holds_in_whatever_order_the_answers_come() -> None:
    low = reading("2026-03-01 12:00", "62")
    answers = (_felt(low.id, Said.NO, 30), _felt(low.id, Said.YES, 10))
    for given in (answers, answers[::-1]):
        assert _lows(low, answers=given)[0].warning_signs is WarningSigns.NO


def test_an_answer_to_another_question_says_nothing_about_warning_signs() -> None:
    low = reading("2026-03-01 12:00", "62")
    called = Answer(new_id(), low.id, Asked.CALLED, Said.NO, low.at.instant)
    assert _lows(low, answers=(called,))[0].warning_signs is WarningSigns.UNKNOWN


# --- night ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wall", "slot", "expected"),
    [
        ("2026-03-02 02:30", Slot.NIGHT, True),
        ("2026-03-01 21:00", Slot.NIGHT, True),
        ("2026-03-01 23:10", Slot.OTHER, True),
        ("2026-03-01 22:10", Slot.OTHER, False),
        ("2026-03-02 03:00", Slot.OTHER, True),
        ("2026-03-02 05:59", Slot.OTHER, True),
        ("2026-03-02 06:00", Slot.OTHER, False),
        ("2026-03-02 08:00", Slot.BETWEEN_MEALS, False),
        ("2026-03-01 22:30", Slot.BEDTIME, False),
        ("2026-03-02 05:30", Slot.FASTING, False),
        ("2026-03-02 05:45", Slot.AFTER_BREAKFAST, False),
    ],
)
def test_at_night_is_between_bedtime_and_waking(wall: str, slot: Slot, expected: bool) -> None:
    bedtime = reading("2026-03-01 22:30", "140", Slot.BEDTIME)
    (low,) = _lows(bedtime, reading(wall, "62", slot))
    assert low.is_at_night is expected


def test_after_the_fasting_check_it_is_day_however_early() -> None:
    up_early = reading("2026-03-02 04:30", "110", Slot.FASTING)
    (low,) = _lows(up_early, reading("2026-03-02 05:30", "62"))
    assert not low.is_at_night


def test_a_low_without_a_number_is_at_night_by_the_same_rule() -> None:
    bedtime = reading("2026-03-01 22:30", "140", Slot.BEDTIME)
    at_night, by_day = _lows(
        bedtime,
        happenings=(
            happening("2026-03-01 23:50", What.FELT_LOW_TREATED),
            happening("2026-03-02 10:00", What.FELT_LOW_TREATED),
        ),
    )
    assert (at_night.is_at_night, by_day.is_at_night) == (True, False)
    # Ten to midnight, but half past one still belongs to the evening's day.
    assert at_night.day == date(2026, 3, 1)


# --- counts and whether anyone looked -------------------------------------------------------------


def test_a_period_holds_its_own_lows_by_the_persons_day() -> None:
    period = Period(date(2026, 3, 2), date(2026, 3, 3))
    lows = _lows(
        reading("2026-03-02 03:59", "50"),
        reading("2026-03-02 10:00", "51"),
        reading("2026-03-04 03:59", "52"),
        reading("2026-03-04 04:00", "53"),
        happenings=(
            happening("2026-03-01 12:00", What.NEEDED_HELP),
            happening("2026-03-03 12:00", What.NEEDED_HELP),
        ),
        period=period,
    )
    assert [low.value.text if low.value else None for low in lows] == ["51", None, "52"]


def test_counts_by_level_and_time_of_day() -> None:
    no_signs = reading("2026-03-02 12:00", "66", Slot.BEFORE_LUNCH)
    lows = _lows(
        reading("2026-03-01 12:00", "62", Slot.BEFORE_LUNCH),
        no_signs,
        reading("2026-03-03 02:00", "48", Slot.NIGHT),
        reading("2026-03-04 07:00", "64", Slot.FASTING),
        happenings=(happening("2026-03-05 15:00", What.AMBULANCE),),
        answers=(_felt(no_signs.id, Said.NO),),
    )
    counts = count_lows(lows)
    assert (counts.helped, counts.very_low, counts.low, counts.total) == (1, 1, 3, 5)
    assert (counts.not_measured, counts.at_night, counts.without_warning_signs) == (1, 1, 1)
    assert list(counts.by_slot.items()) == [
        (Slot.FASTING, 1),
        (Slot.BEFORE_LUNCH, 2),
        (Slot.NIGHT, 1),
        (None, 1),
    ]


def test_no_lows_is_good_news_only_if_someone_looked() -> None:
    period = Period.ending(date(2026, 3, 25), 84)
    series = series_of(
        [
            reading("2026-03-01 07:30", "120", Slot.FASTING),
            reading("2026-03-02 07:30", "120", Slot.FASTING),
            reading("2026-03-02 22:30", "140", Slot.BEDTIME),
            reading("2026-03-03 02:30", "130", Slot.NIGHT),
            reading("2026-03-03 03:30", "130", Slot.NIGHT, crossed_out=True),
            reading("2026-03-05 00:30", "130"),
        ]
    )
    assert who_looked(series, period, _SETTINGS, ()) == Looked(
        days_without_low=84, days_with_checks=3, checks_at_bedtime=1, checks_at_night=2
    )


def test_days_without_a_low_are_those_since_the_last() -> None:
    period = Period(date(2026, 3, 1), date(2026, 3, 31))
    readings = (
        reading("2026-03-05 12:00", "62", Slot.BEFORE_LUNCH),
        reading("2026-03-21 01:00", "62", Slot.NIGHT),
    )
    looked = who_looked(series_of(readings), period, _SETTINGS, _lows(*readings))
    assert looked.days_without_low == 11, "the low at one in the night was on the 20th"


def test_a_longer_gap_than_two_hours_is_needed_whatever_was_between() -> None:
    start = datetime(2026, 3, 1, 8, 0)
    every_two_hours = [
        reading((start + timedelta(hours=2 * n)).isoformat(" "), "62") for n in range(6)
    ]
    assert len(_lows(*every_two_hours)) == 1
