"""Findings about highs, meals and profiles, at their limits."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from logbook.domain.findings import Finding, FindingKind, Rank, Side
from logbook.domain.glucose import Unit
from logbook.domain.happenings import What
from logbook.domain.moments import Period
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.targets import TargetBook, TargetKind
from tests.domain.findings.invented import checks, found_in, targets
from tests.domain.series_of import happening, range_target, reading


def _highs(*values: str, **more: Any) -> list[Finding]:
    return found_in(checks(Slot.FASTING, values, "07:00"), FindingKind.HIGH, **more)


def test_five_values_half_of_them_above_and_the_middle_twenty_over() -> None:
    [found] = _highs("110", "120", "150", "160", "170")
    assert (found.count, found.of, found.middle, found.limit_steps) == (3, 5, 150, 130)
    assert found.rank is Rank.BEFORE_MEALS
    assert (found.first, found.last) == (date(2026, 3, 6), date(2026, 3, 8))
    assert len(found.reading_ids) == found.count


@pytest.mark.parametrize(
    "values",
    [
        ("110", "120", "149", "160", "170"),  # the middle value is 19 over
        ("150", "160", "170", "180"),  # four
        ("110", "120", "125", "180", "190"),  # the middle value is in target
    ],
)
def test_less_than_that_is_nothing(values: tuple[str, ...]) -> None:
    assert _highs(*values) == []


def test_a_high_needs_an_agreed_limit() -> None:
    assert _highs(*["200"] * 9, book=TargetBook(())) == []
    other = TargetBook([range_target(TargetKind.BEDTIME, 100, 180)])
    assert _highs(*["200"] * 9, book=other) == []


def test_each_value_is_held_against_the_target_of_its_own_day() -> None:
    changed = TargetBook(
        [
            range_target(TargetKind.FASTING, 80, 130),
            range_target(TargetKind.FASTING, 100, 180, date(2026, 3, 7)),
        ]
    )
    # Three under the first target, 30 over; three under the second, in it.
    assert _highs(*["160"] * 6, book=changed) == []
    [found] = _highs("160", "160", "160", "201", "201", "201", book=changed)
    assert (found.count, found.of, found.limit_steps) == (6, 6, 180)


def test_highs_are_looked_for_in_the_last_28_days() -> None:
    old = [reading(f"2026-02-{day:02} 07:00", "200", Slot.FASTING) for day in range(1, 20)]
    quarter = Period(date(2026, 1, 1), date(2026, 3, 31))
    assert found_in(old, FindingKind.HIGH, period=quarter) == []


def test_hi_counts_as_above_and_its_middle_is_not_told_as_a_number() -> None:
    [found] = _highs("HI", "HI", "HI", "120", "125")
    assert (found.count, found.of, found.middle) == (3, 5, None)


def test_one_value_for_each_occasion_and_no_recheck() -> None:
    once = checks(Slot.FASTING, ["200"] * 4, "07:00")
    again = checks(Slot.FASTING, ["210"] * 4, "07:20")
    rechecked = checks(Slot.FASTING, {20: "210"}, "07:20", purpose=Purpose.RECHECK)
    assert found_in([*once, *again, *rechecked], FindingKind.HIGH) == []


def test_a_low_in_the_twelve_hours_before_is_told_beside_it() -> None:
    highs = checks(Slot.FASTING, ["180"] * 6, "07:00")
    near = reading("2026-03-05 19:00", "65", Slot.BEFORE_DINNER)
    far = reading("2026-03-07 18:59", "65", Slot.BEFORE_DINNER)
    [found] = found_in([*highs, near, far], FindingKind.HIGH)
    assert found.low_before_ids == (str(near.id),)
    felt = happening("2026-03-07 03:00", What.FELT_LOW_TREATED)
    [found] = found_in([*highs, near, far], FindingKind.HIGH, happenings=[felt])
    assert found.low_before_ids == (str(near.id), str(felt.id))


def test_a_high_never_stands_above_a_low_not_even_an_old_one() -> None:
    quarter = Period(date(2026, 1, 1), date(2026, 3, 31))
    highs = checks(Slot.FASTING, ["180"] * 6, "07:00")
    after = checks(Slot.AFTER_LUNCH, ["280"] * 6, "14:00")
    old = reading("2026-01-05 12:00", "50", Slot.BEFORE_LUNCH)
    found = found_in([*after, *highs, old], period=quarter)
    assert [(one.kind, one.slot) for one in found] == [
        (FindingKind.LOW_HELPED, None),
        (FindingKind.HIGH, Slot.FASTING),
        (FindingKind.HIGH, Slot.AFTER_LUNCH),
    ]


def test_a_log_in_mmol_is_held_against_its_own_limits() -> None:
    def highs(shown: str) -> int:
        values = checks(Slot.FASTING, [shown] * 5, "07:00", unit=Unit.MMOL_L)
        settings = LogSettings(unit=Unit.MMOL_L, can_have_lows=False)
        return len(found_in(values, FindingKind.HIGH, settings=settings, book=targets(Unit.MMOL_L)))

    assert highs("8.3") == 1
    assert highs("8.2") == 0


# The 21 readings of three days in the reference table of the clinical notes: before and after
# breakfast, lunch and dinner, and bedtime. All nine rises are over 50.
DAYS = (
    ("110", "165", "98", "182", "120", "210", "140"),
    ("126", "190", "88", "150", "64", "175", "130"),
    ("134", "201", "104", "168", "115", "240", "151"),
)
TIMES = (
    (Slot.FASTING, "07:00"),
    (Slot.AFTER_BREAKFAST, "09:00"),
    (Slot.BEFORE_LUNCH, "12:00"),
    (Slot.AFTER_LUNCH, "14:00"),
    (Slot.BEFORE_DINNER, "18:00"),
    (Slot.AFTER_DINNER, "20:00"),
    (Slot.BEDTIME, "22:00"),
)


def _three_days() -> list[Any]:
    return [
        reading(
            f"2026-03-{day:02} {at}",
            shown,
            slot,
            minutes_after=120 if slot.is_after_meal else None,
        )
        for day, values in enumerate(DAYS, 20)
        for (slot, at), shown in zip(TIMES, values, strict=True)
    ]


def test_rises_of_the_reference_days_count_where_the_value_is_above_target() -> None:
    found = {one.slot: one for one in found_in(_three_days(), FindingKind.MEAL_RISE)}
    # After breakfast 2 of 3 are above 180; after lunch 1; after dinner the pair of the second day
    # begins with a low of 64 and is none, so two are left, too few.
    assert set(found) == {Slot.AFTER_BREAKFAST}
    breakfast = found[Slot.AFTER_BREAKFAST]
    assert (breakfast.count, breakfast.of, breakfast.change) == (2, 3, 64)
    assert breakfast.rank is Rank.AFTER_MEALS


def test_a_rise_of_exactly_fifty_is_none() -> None:
    def rises(after: str) -> int:
        before = checks(Slot.BEFORE_LUNCH, ["140"] * 3, "12:00")
        later = checks(Slot.AFTER_LUNCH, [after] * 3, "14:00", minutes_after=120)
        return len(found_in([*before, *later], FindingKind.MEAL_RISE))

    assert rises("191") == 1
    assert rises("190") == 0


def test_two_of_three_on_the_same_side_in_a_profile() -> None:
    found = {one.slot: one for one in found_in(_three_days(), FindingKind.PROFILE)}
    assert {slot: (one.count, one.of, one.side) for slot, one in found.items()} == {
        Slot.AFTER_BREAKFAST: (2, 3, Side.HIGHER),
        Slot.AFTER_DINNER: (2, 3, Side.HIGHER),
    }


def test_a_profile_may_lack_one_check_a_day_and_not_two() -> None:
    days = _three_days()
    without_bedtime = [one for one in days if one.slot is not Slot.BEDTIME]
    assert found_in(without_bedtime, FindingKind.PROFILE)
    without_lunch = [one for one in without_bedtime if one.slot is not Slot.BEFORE_LUNCH]
    assert found_in(without_lunch, FindingKind.PROFILE) == []
    agreed = Period(date(2026, 3, 20), date(2026, 3, 22))
    assert found_in(without_lunch, FindingKind.PROFILE, profiles=[agreed])


def test_agreed_days_without_checks_do_not_hide_a_profile_that_was_made() -> None:
    days = _three_days()
    not_made = Period(date(2026, 3, 28), date(2026, 3, 30))
    found = found_in(days, FindingKind.PROFILE, profiles=[not_made])
    assert found == found_in(days, FindingKind.PROFILE)
    assert found


def test_a_time_of_day_checked_often_is_left_to_the_rule_about_highs() -> None:
    more = checks(Slot.AFTER_BREAKFAST, {10: "140", 11: "150"}, "09:00")
    slots = {one.slot for one in found_in([*_three_days(), *more], FindingKind.PROFILE)}
    assert slots == {Slot.AFTER_DINNER}


def test_a_margin_of_nought_is_a_margin() -> None:
    values = checks(Slot.FASTING, ["131"] * 5, "07:00")
    settings = LogSettings(can_have_lows=False, high_margin=0)
    assert len(found_in(values, FindingKind.HIGH, settings=settings)) == 1
    assert found_in(values, FindingKind.HIGH) == []
    # The middle value is not over the limit, and fewer than half are above it.
    at_it = checks(Slot.FASTING, ["130", "130", "130", "131", "131"], "07:00")
    assert found_in(at_it, FindingKind.HIGH, settings=settings) == []
