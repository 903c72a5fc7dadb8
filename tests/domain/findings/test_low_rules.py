"""Findings about lows, near-lows and the night, at their limits."""

from __future__ import annotations

from datetime import UTC, date, datetime

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.findings import FindingKind, Rank
from logbook.domain.glucose import Unit
from logbook.domain.happenings import What
from logbook.domain.moments import Period
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from tests.domain.findings.invented import checks, found_in
from tests.domain.series_of import happening, new_id, reading

MAY_HAVE_LOWS = LogSettings(can_have_lows=True)


def test_one_very_low_number_is_enough() -> None:
    low = reading("2026-03-20 12:00", "53", Slot.BEFORE_LUNCH)
    other = reading("2026-03-05 12:00", "54", Slot.BEFORE_LUNCH)
    [found] = found_in([low, other], FindingKind.LOW_HELPED)
    assert (found.count, found.of, found.helped) == (1, 2, 0)
    assert found.reading_ids == (str(low.id),)
    assert found.rank is Rank.LOWS
    assert found.first == found.last == date(2026, 3, 20)


def test_lo_counts_and_so_does_help_without_a_number() -> None:
    letters = reading("2026-03-20 12:00", "LO", Slot.BEFORE_LUNCH)
    helped = happening("2026-03-22 15:00", What.NEEDED_HELP)
    [found] = found_in([letters], FindingKind.LOW_HELPED, happenings=[helped])
    assert (found.count, found.helped) == (2, 1)
    assert found.happening_ids == (helped.id,)


def test_a_felt_low_that_was_treated_is_not_a_grave_one() -> None:
    felt = happening("2026-03-22 15:00", What.FELT_LOW_TREATED)
    assert found_in([], FindingKind.LOW_HELPED, happenings=[felt]) == []


def test_lows_on_the_first_and_fourteenth_day_are_close_and_on_the_fifteenth_not() -> None:
    def lows(second: int) -> int:
        shown = checks(Slot.BEFORE_LUNCH, {5: "65", second: "66"}, "12:00")
        return len(found_in(shown, FindingKind.LOW_REPEATED))

    assert lows(18) == 1
    assert lows(19) == 0


def test_two_low_numbers_within_two_hours_are_one_low() -> None:
    twice = [
        reading("2026-03-20 12:00", "65", Slot.BEFORE_LUNCH),
        reading("2026-03-20 14:00", "66", Slot.BETWEEN_MEALS),
    ]
    assert found_in(twice, FindingKind.LOW_REPEATED) == []
    later = reading("2026-03-20 16:01", "66", Slot.BETWEEN_MEALS)
    assert len(found_in([twice[0], later], FindingKind.LOW_REPEATED)) == 1


def test_the_time_of_day_is_named_only_when_two_share_it() -> None:
    lunch = checks(Slot.BEFORE_LUNCH, {5: "65", 9: "66"}, "12:00")
    dinner = checks(Slot.BEFORE_DINNER, {7: "61"}, "18:00")
    [named] = found_in([*lunch, *dinner], FindingKind.LOW_REPEATED)
    assert (named.slot, named.count, named.of) == (Slot.BEFORE_LUNCH, 2, 3)
    [unnamed] = found_in([lunch[0], *dinner], FindingKind.LOW_REPEATED)
    assert (unnamed.slot, unnamed.count) == (None, 2)


def test_a_low_at_night_is_one_and_the_fasting_one_is_not() -> None:
    night = reading("2026-03-11 02:30", "66", Slot.NIGHT)
    fasting = reading("2026-03-20 07:00", "66", Slot.FASTING)
    [found] = found_in([night, fasting], FindingKind.LOW_AT_NIGHT)
    assert found.reading_ids == (str(night.id),)
    # Half past two belongs to the evening before.
    assert found.last == date(2026, 3, 10)


def test_lows_not_felt_coming_count_of_those_that_were_asked_about() -> None:
    lows = checks(Slot.BEFORE_LUNCH, {5: "65", 15: "66", 25: "64"}, "12:00")
    answers = [
        Answer(new_id(), low.id, Asked.FELT_LOW_COMING, said, datetime(2026, 3, 26, tzinfo=UTC))
        for low, said in zip(lows, (Said.NO, Said.YES, Said.NOT_SURE), strict=True)
    ]
    [found] = found_in(lows, FindingKind.LOW_UNAWARE, answers=answers)
    assert (found.count, found.of) == (1, 2)
    assert found_in(lows, FindingKind.LOW_UNAWARE) == []


def test_three_near_lows_in_seven_days_where_medicines_can_cause_lows() -> None:
    near = checks(Slot.FASTING, {10: "79", 12: "72", 16: "70"}, "07:00")
    [found] = found_in(near, FindingKind.NEAR_LOW, settings=MAY_HAVE_LOWS)
    assert (found.slot, found.count, found.of, found.middle) == (Slot.FASTING, 3, 3, 72)
    assert found_in(near, FindingKind.NEAR_LOW) == []
    apart = checks(Slot.FASTING, {10: "79", 12: "72", 17: "70"}, "07:00")
    assert found_in(apart, FindingKind.NEAR_LOW, settings=MAY_HAVE_LOWS) == []


def test_a_fall_of_fifty_in_half_of_three_nights() -> None:
    def nights(*mornings: str) -> list[object]:
        evenings = checks(Slot.BEDTIME, ["180"] * len(mornings), "22:00")
        fasting = checks(Slot.FASTING, dict(enumerate(mornings, 5)), "07:00")
        return [
            (one.count, one.of, one.change)
            for one in found_in([*evenings, *fasting], FindingKind.OVERNIGHT_FALL)
        ]

    assert nights("130", "130", "150") == [(2, 3, -50)]
    assert nights("131", "131", "130") == []
    assert nights("120", "120") == []
    assert nights("130", "130", "150", "150") == [(2, 4, -40)]


def test_a_night_in_which_sugar_was_taken_says_nothing_unless_it_fell_all_the_same() -> None:
    evenings = checks(Slot.BEDTIME, ["180"] * 4, "22:00")
    fasting = checks(Slot.FASTING, {5: "120", 6: "120", 7: "170", 8: "130"}, "07:00")
    treated = [happening(f"2026-03-{day:02} 03:00", What.FELT_LOW_TREATED) for day in (7, 8)]
    [found] = found_in([*evenings, *fasting], FindingKind.OVERNIGHT_FALL, happenings=treated)
    assert (found.count, found.of) == (3, 3)


def test_the_fall_in_a_log_in_mmol_is_in_mmol() -> None:
    settings = LogSettings(unit=Unit.MMOL_L, can_have_lows=False)
    evenings = checks(Slot.BEDTIME, ["10.0"] * 3, "22:00", unit=Unit.MMOL_L)
    fasting = checks(Slot.FASTING, {5: "7.2", 6: "7.2", 7: "7.2"}, "07:00", unit=Unit.MMOL_L)
    [found] = found_in([*evenings, *fasting], FindingKind.OVERNIGHT_FALL, settings=settings)
    assert (found.change, found.limit_steps, found.unit) == (-2.8, 28, Unit.MMOL_L)


def test_what_is_outside_figures_is_in_no_finding() -> None:
    kept_out = [
        reading("2026-03-20 12:00", "40", Slot.BEFORE_LUNCH, doubted=True),
        reading("2026-03-21 12:00", "40", Slot.BEFORE_LUNCH, crossed_out=True),
        reading("2026-03-22 12:00", "40", Slot.BEFORE_LUNCH, foreign=True),
        reading("2026-03-23 12:00", "40", Slot.BEFORE_LUNCH, damaged=True),
    ]
    assert found_in(kept_out) == []


def test_lows_of_over_28_days_ago_are_told_as_earlier_and_after_late_ones() -> None:
    quarter = Period(date(2026, 1, 1), date(2026, 3, 31))
    old = reading("2026-03-03 12:00", "50", Slot.BEFORE_LUNCH)
    [earlier] = found_in([old], period=quarter)
    assert not earlier.is_recent
    late = reading("2026-03-11 02:30", "66", Slot.NIGHT)
    kinds = [one.kind for one in found_in([old, late], period=quarter)]
    assert kinds == [FindingKind.LOW_REPEATED, FindingKind.LOW_AT_NIGHT, FindingKind.LOW_HELPED]


def test_a_recheck_belongs_to_its_low_and_repeats_nothing() -> None:
    low = reading("2026-03-20 12:00", "65", Slot.BEFORE_LUNCH)
    again = reading(
        "2026-03-20 12:15", "66", Slot.BEFORE_LUNCH, purpose=Purpose.RECHECK, recheck_of=low
    )
    assert found_in([low, again], FindingKind.LOW_REPEATED) == []
