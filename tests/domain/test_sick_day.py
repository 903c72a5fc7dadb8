"""A day of illness: how often to check, and when to ask. All hours are judgement, no source."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sick_day import SickDay, sick_day
from logbook.domain.spells import Spell, SpellKind
from tests.domain.series_of import moment, new_id, reading, series_of

_ILL = Spell(new_id(), SpellKind.ILL, date(2026, 3, 4))


def _day(
    *readings: Reading,
    now: str,
    spells: tuple[Spell, ...] = (_ILL,),
    answers: tuple[Answer, ...] = (),
    plans: tuple[CheckPlan, ...] = (),
) -> SickDay | None:
    return sick_day(
        spells,
        answers,
        series_of(readings),
        moment(now),
        settings=LogSettings(),
        plans=plans,
    )


def _asks(now: str, *answers: Answer) -> bool:
    found = _day(now=now, answers=answers)
    assert found is not None
    return found.asks_still_ill


def _still_ill(wall: str, about: Spell = _ILL) -> Answer:
    return Answer(new_id(), about.id, Asked.STILL_ILL, Said.YES, moment(wall).instant)


def test_only_while_ill() -> None:
    assert _day(now="2026-03-03 12:00") is None
    ended = Spell(new_id(), SpellKind.ILL, date(2026, 3, 1), date(2026, 3, 3))
    assert _day(now="2026-03-04 12:00", spells=(ended,)) is None
    travel = Spell(new_id(), SpellKind.TRAVEL, date(2026, 3, 4))
    assert _day(now="2026-03-04 12:00", spells=(travel,)) is None


@pytest.mark.parametrize(("now", "number"), [("2026-03-04 12:00", 1), ("2026-03-06 03:00", 2)])
def test_which_day_it_is(now: str, number: int) -> None:
    found = _day(now=now)
    assert found is not None
    assert found.day_number == number


def test_asked_in_the_morning_and_in_the_evening() -> None:
    assert not _asks("2026-03-04 09:00")
    assert _asks("2026-03-04 18:00")
    assert not _asks("2026-03-05 06:59")
    assert _asks("2026-03-05 07:00")
    morning = _still_ill("2026-03-05 07:30")
    assert not _asks("2026-03-05 17:59", morning)
    assert _asks("2026-03-05 18:00", morning)
    assert not _asks("2026-03-05 23:00", morning, _still_ill("2026-03-05 18:10"))


def test_only_an_answer_about_this_illness_counts() -> None:
    other = Spell(new_id(), SpellKind.ILL, date(2026, 3, 4))
    assert _asks("2026-03-05 08:00", _still_ill("2026-03-05 07:30", other))


def test_every_four_hours_without_a_plan() -> None:
    found = _day(reading("2026-03-05 08:10", "140"), now="2026-03-05 09:00")
    assert found is not None
    assert (found.every_hours, found.is_agreed) == (4, False)
    assert found.next_check_at == moment("2026-03-05 12:10")


def test_as_the_plan_in_force_says() -> None:
    written = datetime(2026, 1, 1, tzinfo=UTC)
    plans = (
        CheckPlan(new_id(), date(2026, 1, 1), (), written, ill_every_hours=3),
        CheckPlan(new_id(), date(2026, 2, 1), (), written, ill_every_hours=2),
        CheckPlan(new_id(), date(2026, 4, 1), (), written, ill_every_hours=6),
    )
    found = _day(reading("2026-03-05 08:10", "140"), now="2026-03-05 09:00", plans=plans)
    assert found is not None
    assert (found.every_hours, found.is_agreed) == (2, True)
    assert found.next_check_at == moment("2026-03-05 10:10")


def test_nobody_is_asked_to_wake() -> None:
    found = _day(reading("2026-03-05 20:00", "140"), now="2026-03-05 20:30")
    assert found is not None
    assert found.next_check_at == moment("2026-03-06 07:00")


def test_a_reading_that_does_not_count_is_no_check() -> None:
    found = _day(reading("2026-03-05 08:10", "140", crossed_out=True), now="2026-03-05 09:00")
    assert found is not None
    assert found.next_check_at == moment("2026-03-05 09:00")
