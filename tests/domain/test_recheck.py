"""When to check again after a low, and when that is settled."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import UUID

import pytest

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.happenings import Happening, What
from logbook.domain.low_course import low_course
from logbook.domain.readings import Reading
from logbook.domain.recheck import RecheckDue
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose
from logbook.domain.ticks import TickBook
from tests.domain.series_of import happening, moment, new_id, reading, series_of

_LOW_AT = datetime(2026, 3, 1, 12, 4, tzinfo=UTC)


def _due(
    *readings: Reading,
    now: str = "2026-03-01 12:05",
    happenings: tuple[Happening, ...] = (),
    answers: tuple[Answer, ...] = (),
) -> RecheckDue | None:
    course = low_course(
        series_of(readings),
        happenings,
        answers,
        moment(now),
        settings=LogSettings(),
        ticks=TickBook(),
    )
    return None if course is None else course.recheck


def _answer(about: UUID, said: Said, asked: Asked = Asked.RECHECK_DUE, minute: int = 20) -> Answer:
    return Answer(new_id(), about, asked, said, _LOW_AT.replace(minute=minute))


# Check again 15 minutes after treating a low: ADA 2024, summary of treatment, read at the source.
@pytest.mark.parametrize("shown", ["69", "53", "LO"])
def test_a_check_is_due_15_minutes_after_a_low(shown: str) -> None:
    low = reading("2026-03-01 12:04", shown)
    due = _due(low)
    assert due == RecheckDue(str(low.id), _LOW_AT, _LOW_AT + timedelta(minutes=15), 1)
    assert not due.is_overdue(moment("2026-03-01 12:18").instant)
    assert due.is_overdue(moment("2026-03-01 12:19").instant)


@pytest.mark.parametrize("shown", ["70", "128", "HI"])
def test_nothing_is_due_after_a_reading_that_is_not_low(shown: str) -> None:
    assert _due(reading("2026-03-01 12:04", shown)) is None


def test_nothing_is_due_after_a_low_that_was_crossed_out() -> None:
    assert _due(reading("2026-03-01 12:04", "60", crossed_out=True)) is None


def test_a_recheck_settles_it_by_link_or_by_time() -> None:
    low = reading("2026-03-01 12:04", "60")
    by_time = reading("2026-03-01 12:21", "90")
    assert _due(low, by_time, now="2026-03-01 12:22") is None
    # In the same minute, but told to be the recheck.
    by_link = reading("2026-03-01 12:04", "90", purpose=Purpose.RECHECK, recheck_of=low)
    assert _due(low, by_link, now="2026-03-01 12:22") is None


def test_a_recheck_that_does_not_count_settles_nothing() -> None:
    low = reading("2026-03-01 12:04", "60")
    not_believed = reading("2026-03-01 12:21", "90", doubted=True)
    taken_back = reading("2026-03-01 12:20", "90", recheck_of=low, crossed_out=True)
    assert _due(low, taken_back, not_believed, now="2026-03-01 12:22") is not None


def test_still_low_makes_the_next_one_due_and_counts() -> None:
    first = reading("2026-03-01 12:04", "60")
    second = reading("2026-03-01 12:19", "64", purpose=Purpose.RECHECK, recheck_of=first)
    third = reading("2026-03-01 12:34", "66", purpose=Purpose.RECHECK, recheck_of=second)
    due = _due(first, second, third, now="2026-03-01 12:35")
    assert due is not None
    assert (due.about, due.times_low) == (str(third.id), 3)
    assert due.due_at == _LOW_AT + timedelta(minutes=45)


def test_the_count_starts_anew_after_recovery_and_after_two_hours() -> None:
    recovered = [
        reading("2026-03-01 12:04", "60"),
        reading("2026-03-01 12:19", "80"),
        reading("2026-03-01 13:00", "64"),
    ]
    after_recovery = _due(*recovered, now="2026-03-01 13:01")
    assert after_recovery is not None
    assert after_recovery.times_low == 1
    apart = _due(
        reading("2026-03-01 09:00", "60"),
        reading("2026-03-01 11:01", "64"),
        now="2026-03-01 11:02",
    )
    assert apart is not None
    assert apart.times_low == 1


def test_a_low_without_a_number_makes_a_check_due_too() -> None:
    felt = happening("2026-03-01 12:04", What.FELT_LOW_TREATED)
    due = _due(happenings=(felt,))
    assert due is not None
    assert (due.about, due.low_at) == (str(felt.id), _LOW_AT)
    assert _due(happenings=(happening("2026-03-01 12:04", What.FALL),)) is None


def test_help_told_about_a_low_reading_is_no_second_low() -> None:
    low = reading("2026-03-01 12:04", "50")
    helped = happening("2026-03-01 12:30", What.NEEDED_HELP, about=low)
    due = _due(low, now="2026-03-01 12:31", happenings=(helped,))
    assert due is not None
    assert (due.about, due.times_low) == (str(low.id), 1)


@pytest.mark.parametrize(
    ("said", "settled"),
    [
        (Said.YES, True),
        (Said.NO, True),
        (Said.LATER, False),
        (Said.NOT_ANSWERED, False),
        (Said.NOT_SURE, False),
    ],
)
def test_only_done_and_will_not_settle_it(said: Said, settled: bool) -> None:
    low = reading("2026-03-01 12:04", "60")
    due = _due(low, now="2026-03-01 12:40", answers=(_answer(low.id, said),))
    assert (due is None) is settled


def test_the_latest_answer_about_this_low_holds() -> None:
    low = reading("2026-03-01 12:04", "60")
    put_off = _answer(low.id, Said.LATER, minute=20)
    done = _answer(low.id, Said.YES, minute=30)
    assert _due(low, now="2026-03-01 12:40", answers=(done, put_off)) is None
    others = (_answer(new_id(), Said.YES), _answer(low.id, Said.YES, Asked.CALLED))
    assert _due(low, now="2026-03-01 12:40", answers=others) is not None


def test_it_stays_due_for_twelve_hours() -> None:
    low = reading("2026-03-01 12:04", "60")
    assert _due(low, now="2026-03-02 00:04") is not None
    assert _due(low, now="2026-03-02 00:05") is None


def test_a_low_a_little_ahead_of_the_clock_is_waited_for() -> None:
    due = _due(reading("2026-03-01 12:04", "60"), now="2026-03-01 12:03")
    assert due is not None
    assert due.due_at == _LOW_AT + timedelta(minutes=15)


def test_a_clock_that_went_back_hides_no_low() -> None:
    low = reading("2026-03-01 12:04", "60")
    now = "2026-03-01 11:05"
    due = _due(low, now=now)
    assert due is not None
    # No clock can tell how long ago it was, so it is due at once.
    assert due.is_overdue(moment(now).instant)
    after = reading("2026-03-01 11:06", "90", recheck_of=low)
    assert _due(low, after, now="2026-03-01 11:07") is None


def test_a_later_low_by_a_clock_that_went_back_is_due_too() -> None:
    before = reading("2026-03-01 12:04", "60")
    recovered = reading("2026-03-01 11:06", "90", recheck_of=before)
    again = reading("2026-03-01 11:40", "64")
    due = _due(before, recovered, again, now="2026-03-01 11:41")
    assert due is not None
    assert due.about == str(again.id)


def test_a_second_number_at_once_is_no_second_treatment() -> None:
    first = reading("2026-03-01 12:04", "60")
    at_once = reading("2026-03-01 12:06", "62")
    due = _due(first, at_once, now="2026-03-01 12:07")
    assert due is not None
    assert (due.about, due.times_low) == (str(at_once.id), 1)
    told = reading("2026-03-01 12:06", "62", purpose=Purpose.RECHECK, recheck_of=first)
    due = _due(first, told, now="2026-03-01 12:07")
    assert due is not None
    assert due.times_low == 2


def test_not_checking_again_settles_the_earlier_signs_of_that_low_too() -> None:
    low = reading("2026-03-01 12:04", "60")
    felt = happening("2026-03-01 12:20", What.FELT_LOW_TREATED)
    will_not = _answer(felt.id, Said.NO, minute=25)
    assert _due(low, now="2026-03-01 12:30", happenings=(felt,), answers=(will_not,)) is None
