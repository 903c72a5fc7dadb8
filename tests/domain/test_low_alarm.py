"""When a low rings and comes forward, by a clock that goes on, goes back, or jumps.

The times are judgement without a source; held against them by hand.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.answers import Asked, Said
from logbook.domain.low_alarm import (
    ATTENDED_FOR,
    RINGS_EVERY,
    Sound,
    comes_forward,
    is_attended,
    sound_due,
)
from logbook.domain.low_course import LowCourse
from tests.domain.series_of import reading
from tests.domain.test_low_course import INSULIN, answer, course_of

LOW = reading("2026-03-01 12:04", "62")
DUE = datetime(2026, 3, 1, 12, 19, tzinfo=UTC)


def low_at(clock: str) -> LowCourse:
    course = course_of(LOW, now=f"2026-03-01 {clock}")
    assert course is not None
    return course


def at(minutes: float) -> datetime:
    return DUE + timedelta(minutes=minutes)


class TestSound:
    @pytest.mark.parametrize(
        ("clock", "minutes", "sound"),
        [
            ("12:18", -1, None),
            ("12:19", 0, Sound.USUAL),
            ("12:28", 9, Sound.USUAL),
            ("12:29", 10, Sound.LOUD),
            ("23:00", 641, Sound.LOUD),
        ],
    )
    def test_it_begins_when_the_recheck_is_due_and_grows(
        self, clock: str, minutes: float, sound: Sound | None
    ) -> None:
        assert sound_due(low_at(clock), at(minutes), rang_at=[], attended_at=None) is sound

    @pytest.mark.parametrize(("seconds", "rings"), [(19, False), (20, True), (-1, True)])
    def test_it_rings_every_20_seconds_also_when_the_clock_goes_back(
        self, seconds: int, *, rings: bool
    ) -> None:
        now = at(1) + timedelta(seconds=seconds)
        found = sound_due(low_at("12:20"), now, rang_at=[at(1)], attended_at=None)
        assert (found is not None) is rings

    def test_it_is_silent_while_somebody_is_at_it_and_no_longer(self) -> None:
        course = low_at("12:20")
        for minutes, sound in ((0, None), (4.9, None), (5, Sound.USUAL)):
            assert sound_due(course, at(minutes), rang_at=[], attended_at=at(0)) is sound

    def test_the_later_check_rings_three_times(self) -> None:
        good = reading("2026-03-01 12:20", "84")
        course = course_of(LOW, good, now="2026-03-01 13:25", ticks=INSULIN)
        assert course is not None
        assert course.watch_due_at is not None
        due = course.watch_due_at
        rang: list[datetime] = []
        for seconds in range(0, 3_600, 5):
            now = due + timedelta(seconds=seconds)
            if sound_due(course, now, rang_at=rang, attended_at=None) is not None:
                rang.append(now)
        assert [moment - due for moment in rang] == [timedelta(minutes=m) for m in (0, 5, 10)]


class TestComingForward:
    def test_once_when_due_once_when_late_then_every_five_minutes(self) -> None:
        came: list[float] = []
        noted = answer(LOW, Asked.RECHECK_DUE, Said.NOT_ANSWERED, "2026-03-01 12:29")
        for minute in range(31):
            clock = (DUE + timedelta(minutes=minute)).strftime("%H:%M")
            answers = (noted,) if any(m >= 10 for m in came) else ()
            course = course_of(LOW, now=f"2026-03-01 {clock}", answers=answers)
            assert course is not None
            last = at(came[-1]) if came else None
            if comes_forward(course, at(minute), came_at=last, attended_at=None):
                came.append(minute)
        assert came == [0, 10, 15, 20, 25, 30]

    def test_not_while_somebody_is_at_it(self) -> None:
        course = low_at("12:29")
        assert not comes_forward(course, at(10), came_at=at(0), attended_at=at(9))
        assert comes_forward(course, at(10), came_at=at(0), attended_at=at(5))

    def test_again_when_the_clock_went_back(self) -> None:
        assert comes_forward(low_at("12:20"), at(1), came_at=at(60), attended_at=None)

    def test_not_before_it_is_due(self) -> None:
        assert not comes_forward(low_at("12:10"), at(-9), came_at=None, attended_at=None)


@given(st.lists(st.integers(-600, 600), max_size=40))
def test_a_due_recheck_is_never_silent_for_longer_than_it_is_attended(jumps: list[int]) -> None:
    """Whatever the clock does: unattended, a due recheck rings at the latest one ring later."""
    course, now = low_at("12:20"), at(1)
    rang: list[datetime] = []
    for jump in jumps:
        now = max(at(0), now + timedelta(seconds=jump))
        if sound_due(course, now, rang_at=rang, attended_at=None) is not None:
            rang.append(now)
        assert rang
        assert timedelta(0) <= now - rang[-1] < RINGS_EVERY


@given(st.integers(-10_000, 10_000))
def test_nobody_is_at_it_before_they_came_nor_long_after(seconds: int) -> None:
    span = timedelta(seconds=seconds)
    assert is_attended(DUE + span, DUE) is (timedelta(0) <= span < ATTENDED_FOR)
