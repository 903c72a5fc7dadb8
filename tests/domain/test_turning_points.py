"""Days from which something was different."""

from __future__ import annotations

from datetime import date, timedelta

from logbook.domain.moments import Period
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.turning_points import splitting_day, turning_points
from logbook.domain.visits import Medicine
from tests.report.invented import invented_id, target

FIRST = date(2026, 1, 1)
PERIOD = Period(FIRST, FIRST + timedelta(days=89))


def day(number: int) -> date:
    return FIRST + timedelta(days=number)


def test_only_what_changes_after_the_first_day_is_a_turning_point() -> None:
    targets = TargetBook(
        [
            target(TargetKind.FASTING, 80, 130, day(-30)),
            target(TargetKind.FASTING, 90, 150, day(0)),
            target(TargetKind.FASTING, 100, 160, day(40)),
            target(TargetKind.FASTING, 80, 130, day(90)),
        ]
    )
    assert [point.day for point in turning_points(PERIOD, targets, (), ())] == [day(40)]


def test_a_medicine_and_a_spell_have_a_beginning_and_an_end() -> None:
    medicine = Medicine(invented_id("m"), "Invented tablets", day(10), day(19))
    spell = Spell(invented_id("s"), SpellKind.ILL, day(50), day(53))
    points = turning_points(PERIOD, TargetBook(()), [medicine], [spell])
    assert [(point.day, point.is_end) for point in points] == [
        (day(10), False),
        (day(20), True),
        (day(50), False),
        (day(54), True),
    ]


def test_figures_are_split_at_the_latest_change_with_enough_days_on_both_sides() -> None:
    medicines = [Medicine(invented_id(n), "Invented tablets", day(n)) for n in (5, 20, 60, 85)]
    points = turning_points(PERIOD, TargetBook(()), medicines, ())
    assert splitting_day(points, PERIOD, least_days=14) == day(60)
    assert splitting_day(points, PERIOD, least_days=31) is None


def test_a_spell_splits_only_where_no_target_or_medicine_does() -> None:
    spell = Spell(invented_id("s"), SpellKind.STEROID, day(45), day(50))
    alone = turning_points(PERIOD, TargetBook(()), (), [spell])
    assert splitting_day(alone, PERIOD, least_days=14) == day(51)
    assert splitting_day(alone, PERIOD, least_days=46) is None
    medicine = Medicine(invented_id("m"), "Invented tablets", day(20))
    both = turning_points(PERIOD, TargetBook(()), [medicine], [spell])
    assert splitting_day(both, PERIOD, least_days=14) == day(20)
    assert splitting_day(both, PERIOD, least_days=30) == day(51)
