"""A low from its first sign until it is over, told anew from whatever stands in the log."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.happenings import Happening, What
from logbook.domain.low_course import LowCourse, Stage, low_course
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.ticks import About, Tick, TickBook, Told
from tests.domain.series_of import happening, moment, new_id, reading, series_of

_LONG_AGO = datetime(2020, 1, 1, tzinfo=UTC)


def told(about: About, said: Told) -> Tick:
    return Tick(new_id(), about, said, date(2020, 1, 1), _LONG_AGO)


INSULIN = TickBook([told(About.INSULIN, Told.YES)])
NO_LOWS = TickBook([told(About.INSULIN, Told.NO), told(About.LOW_CAUSING_TABLETS, Told.NO)])


def course_of(
    *readings: Reading,
    now: str,
    happenings: tuple[Happening, ...] = (),
    answers: tuple[Answer, ...] = (),
    ticks: TickBook = NO_LOWS,
    zone: str = "UTC",
    bedtime: time = time(22, 0),
) -> LowCourse | None:
    return low_course(
        series_of(readings),
        happenings,
        answers,
        moment(now, zone),
        settings=LogSettings(),
        ticks=ticks,
        bedtime=bedtime,
    )


def stage_at(now: str, *readings: Reading, **others: object) -> Stage | None:
    course = course_of(*readings, now=now, **others)  # type: ignore[arg-type]
    return None if course is None else course.stage


def answer(about: Reading | Happening, asked: Asked, said: Said, wall: str) -> Answer:
    return Answer(new_id(), about.id, asked, said, moment(wall).instant)


class TestStages:
    # 15 grams of sugar, then a check after 15 minutes: ADA 2024, summary of treatment, read at the
    # source. The 45 minutes after recovery: doi 10.1186/s40842-015-0007-3, table 1, read there.
    @pytest.mark.parametrize(
        ("clock", "stage"),
        [
            ("12:04", Stage.LOW),
            ("12:08", Stage.LOW),
            ("12:09", Stage.WAITING),
            ("12:18", Stage.WAITING),
            ("12:19", Stage.RECHECK),
            ("23:59", Stage.RECHECK),
        ],
    )
    def test_from_the_low_to_the_recheck(self, clock: str, stage: Stage) -> None:
        assert stage_at(f"2026-03-01 {clock}", reading("2026-03-01 12:04", "62")) is stage

    def test_nothing_after_twelve_hours(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        assert stage_at("2026-03-02 00:04", low) is Stage.RECHECK
        assert stage_at("2026-03-02 00:05", low) is None

    @pytest.mark.parametrize(
        ("clock", "stage"),
        [("12:20", Stage.RECOVERED), ("13:04", Stage.RECOVERED), ("13:05", Stage.OVER)],
    )
    def test_after_recovery(self, clock: str, stage: Stage) -> None:
        readings = reading("2026-03-01 12:04", "62"), reading("2026-03-01 12:20", "84")
        course = course_of(*readings, now=f"2026-03-01 {clock}")
        assert course is not None
        assert (course.stage, course.due_at) == (stage, None)
        assert course.recovered_at == moment("2026-03-01 12:20").instant

    def test_over_is_told_until_twelve_hours_after_the_low(self) -> None:
        readings = reading("2026-03-01 12:04", "62"), reading("2026-03-01 12:20", "84")
        assert stage_at("2026-03-02 00:04", *readings) is Stage.OVER
        assert stage_at("2026-03-02 00:05", *readings) is None

    def test_nothing_without_a_low(self) -> None:
        assert stage_at("2026-03-01 12:05", reading("2026-03-01 12:04", "70")) is None
        assert stage_at("2026-03-01 12:05") is None

    # The third treatment that does not help is the last one without help: International
    # Hypoglycaemia Study Group on treatment, in a secondary copy.
    def test_still_low_a_second_and_a_third_time_and_after_three_treatments(self) -> None:
        lows = [reading(f"2026-03-01 12:{minute:02}", "64") for minute in (0, 15, 30, 45)]
        seen = []
        for count, clock in enumerate(("12:01", "12:16", "12:31", "12:46"), start=1):
            course = course_of(*lows[:count], now=f"2026-03-01 {clock}")
            assert course is not None
            seen.append((course.stage, course.times_low, course.needs_emergency))
        assert seen == [
            (Stage.LOW, 1, False),
            (Stage.STILL_LOW, 2, False),
            (Stage.STILL_LOW, 3, False),
            (Stage.STILL_LOW, 4, True),
        ]

    def test_help_still_needed_stays_said_while_waiting(self) -> None:
        lows = [reading(f"2026-03-01 12:{minute:02}", "64") for minute in (0, 15, 30, 45)]
        course = course_of(*lows, now="2026-03-01 13:05")
        assert course is not None
        assert (course.stage, course.needs_emergency) == (Stage.RECHECK, True)


class TestWhatItHolds:
    # Very low is below 54 (3.0), or LO: ADA Standards of Care 2024, section 6, read at the journal.
    @pytest.mark.parametrize(
        ("shown", "is_very_low"), [("LO", True), ("53", True), ("54", False), ("69", False)]
    )
    def test_very_low(self, shown: str, is_very_low: bool) -> None:
        course = course_of(reading("2026-03-01 12:04", shown), now="2026-03-01 12:05")
        assert course is not None
        assert course.is_very_low is is_very_low

    def test_a_low_without_a_number(self) -> None:
        felt = happening("2026-03-01 12:04", What.FELT_LOW_TREATED)
        course = course_of(now="2026-03-01 12:05", happenings=(felt,))
        assert course is not None
        assert (course.about, course.stage, course.helped) == (str(felt.id), Stage.LOW, False)

    def test_help_about_the_low_belongs_to_it(self) -> None:
        low = reading("2026-03-01 12:04", "50")
        helped = happening("2026-03-01 12:10", What.NEEDED_HELP, about=low)
        course = course_of(low, now="2026-03-01 12:12", happenings=(helped,))
        assert course is not None
        assert (course.helped, course.about, course.signs) == (True, str(low.id), (str(low.id),))

    def test_felt_coming_is_asked_once_after_recovery(self) -> None:
        low, back = reading("2026-03-01 12:04", "62"), reading("2026-03-01 12:20", "84")
        during = course_of(low, now="2026-03-01 12:10")
        after = course_of(low, back, now="2026-03-01 12:21")
        said = answer(low, Asked.FELT_LOW_COMING, Said.NOT_SURE, "2026-03-01 12:22")
        answered = course_of(low, back, now="2026-03-01 12:23", answers=(said,))
        assert during is not None
        assert after is not None
        assert answered is not None
        asked = (during.asks_felt_coming, after.asks_felt_coming, answered.asks_felt_coming)
        assert asked == (False, True, False)


class TestUnanswered:
    def test_ten_minutes_after_it_was_due(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        before = course_of(low, now="2026-03-01 12:28")
        then = course_of(low, now="2026-03-01 12:29")
        assert before is not None
        assert then is not None
        assert (before.is_unanswered, then.is_unanswered) == (False, True)
        assert not then.is_unanswered_noted

    def test_later_puts_the_ten_minutes_off(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        later = answer(low, Asked.RECHECK_DUE, Said.LATER, "2026-03-01 12:25")
        before = course_of(low, now="2026-03-01 12:34", answers=(later,))
        then = course_of(low, now="2026-03-01 12:35", answers=(later,))
        assert before is not None
        assert then is not None
        assert (before.is_unanswered, then.is_unanswered) == (False, True)

    def test_that_it_was_noted_is_told_after_a_restart(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        noted = answer(low, Asked.RECHECK_DUE, Said.NOT_ANSWERED, "2026-03-01 12:29")
        course = course_of(low, now="2026-03-01 12:40", answers=(noted,))
        assert course is not None
        assert (course.is_unanswered, course.is_unanswered_noted) == (True, True)

    @pytest.mark.parametrize("said", [Said.YES, Said.NO])
    def test_done_and_will_not_end_it(self, said: Said) -> None:
        low = reading("2026-03-01 12:04", "62")
        given = answer(low, Asked.RECHECK_DUE, said, "2026-03-01 12:25")
        course = course_of(low, now="2026-03-01 12:30", answers=(given,))
        assert course is not None
        assert (course.stage, course.asks_felt_coming) == (Stage.OVER, False)


class TestWatched:
    """Long lows after insulin and some tablets, in a secondary copy; the hours are judgement."""

    def _low(self) -> tuple[Reading, Reading]:
        return reading("2026-03-01 12:04", "62"), reading("2026-03-01 12:20", "84")

    def _due(self, now: str, *more: Reading, **others: object) -> str | None:
        course = course_of(*self._low(), *more, now=now, **{"ticks": INSULIN, **others})  # type: ignore[arg-type]
        due = None if course is None else course.watch_due_at
        return None if due is None else f"{due:%d %H:%M}"

    @pytest.mark.parametrize(
        "ticks",
        [
            INSULIN,
            TickBook([told(About.LOW_CAUSING_TABLETS, Told.YES)]),
            TickBook([told(About.INSULIN, Told.NOT_SURE)]),
            TickBook(),
        ],
    )
    def test_with_insulin_tablets_or_nobody_knows(self, ticks: TickBook) -> None:
        assert self._due("2026-03-01 13:10", ticks=ticks) == "01 13:20"

    def test_not_without_such_medicines(self) -> None:
        assert self._due("2026-03-01 13:10", ticks=NO_LOWS) is None

    def test_recovered_first_then_watched(self) -> None:
        assert stage_at("2026-03-01 13:04", *self._low(), ticks=INSULIN) is Stage.RECOVERED
        assert stage_at("2026-03-01 13:05", *self._low(), ticks=INSULIN) is Stage.WATCHED

    @pytest.mark.parametrize(("clock", "due"), [("13:04", "01 13:20"), ("13:05", "01 22:00")])
    def test_a_reading_from_15_minutes_before_settles_it(self, clock: str, due: str) -> None:
        later = reading(f"2026-03-01 {clock}", "90")
        assert self._due("2026-03-01 13:30", later) == due

    def test_an_answer_settles_the_one_that_is_due(self) -> None:
        low, back = self._low()
        for said in (Said.YES, Said.NO):
            given = answer(low, Asked.WATCH_CHECK, said, "2026-03-01 13:25")
            course = course_of(low, back, now="2026-03-01 13:30", answers=(given,), ticks=INSULIN)
            assert course is not None
            assert course.watch_due_at == moment("2026-03-01 22:00").instant

    def test_it_lapses_after_three_hours_and_the_other_with_the_night(self) -> None:
        assert self._due("2026-03-01 16:19") == "01 13:20"
        assert self._due("2026-03-01 16:20") == "01 22:00"
        assert self._due("2026-03-02 03:59") == "01 22:00"
        assert stage_at("2026-03-02 04:00", *self._low(), ticks=INSULIN) is None

    def test_an_early_bedtime_check_settles_the_one_before_sleep(self) -> None:
        in_an_hour = reading("2026-03-01 13:20", "90")
        early = reading("2026-03-01 20:10", "120", Slot.BEDTIME)
        assert self._due("2026-03-01 21:00", in_an_hour) == "01 22:00"
        assert self._due("2026-03-01 21:00", in_an_hour, early) is None

    def test_at_night_the_check_after_an_hour_is_the_last(self) -> None:
        low, back = reading("2026-03-01 23:10", "62"), reading("2026-03-01 23:30", "84")
        course = course_of(low, back, now="2026-03-02 00:20", ticks=INSULIN)
        assert course is not None
        assert course.watch_due_at == moment("2026-03-02 00:30").instant
        done = reading("2026-03-02 00:31", "95")
        assert stage_at("2026-03-02 01:00", low, back, done, ticks=INSULIN) is Stage.OVER

    def test_also_after_a_low_that_nobody_rechecked(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        will_not = answer(low, Asked.RECHECK_DUE, Said.NO, "2026-03-01 12:25")
        course = course_of(low, now="2026-03-01 13:00", answers=(will_not,), ticks=INSULIN)
        assert course is not None
        assert (course.stage, course.recovered_at) == (Stage.WATCHED, None)
        assert course.watch_due_at == moment("2026-03-01 13:25").instant

    def test_a_new_low_begins_anew(self) -> None:
        again = reading("2026-03-01 13:20", "66")
        assert stage_at("2026-03-01 13:21", *self._low(), again, ticks=INSULIN) is Stage.LOW

    def test_it_is_an_hour_of_real_time_when_clocks_change(self) -> None:
        # Clocks in Berlin went forward on 29 March 2026 at 02:00 (IANA time zone data).
        zone = "Europe/Berlin"
        low = reading("2026-03-29 01:20", "62", zone=zone)
        back = reading("2026-03-29 01:40", "84", zone=zone)
        course = course_of(low, back, now="2026-03-29 03:20", zone=zone, ticks=INSULIN)
        assert course is not None
        assert course.watch_due_at == back.at.instant + timedelta(hours=1)


class TestCorrections:
    def test_crossing_the_low_out_ends_it(self) -> None:
        assert stage_at(
            "2026-03-01 12:05", reading("2026-03-01 12:04", "62", crossed_out=True)
        ) is (None)

    def test_crossing_the_recovery_out_opens_it_again(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        back = reading("2026-03-01 12:20", "84", crossed_out=True)
        assert stage_at("2026-03-01 12:25", low, back) is Stage.RECHECK

    def test_a_recheck_that_is_not_believed_opens_it_again(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        back = reading("2026-03-01 12:20", "184", purpose=Purpose.RECHECK, doubted=True)
        assert stage_at("2026-03-01 12:25", low, back) is Stage.RECHECK

    def test_correcting_the_value_tells_it_anew(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        meant = reading("2026-03-01 12:04", "162")
        corrected = low.corrected(meant.glucose, low.at, low.slot, low.written_at)
        assert stage_at("2026-03-01 12:05", low) is Stage.LOW
        assert stage_at("2026-03-01 12:05", corrected) is None

    def test_correcting_the_time_moves_the_recheck(self) -> None:
        low = reading("2026-03-01 12:04", "62")
        earlier = low.corrected(low.glucose, moment("2026-03-01 11:50"), low.slot, low.written_at)
        course = course_of(earlier, now="2026-03-01 12:05")
        assert course is not None
        assert course.due_at == moment("2026-03-01 12:05").instant
