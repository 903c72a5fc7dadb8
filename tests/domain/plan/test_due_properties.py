"""What must hold for any plan, any readings and any clock.

What is done is held against a second way of telling it, written here from the rule's own words.
"""

from __future__ import annotations

from collections import Counter
from datetime import date, datetime, time, timedelta

from hypothesis import assume, given
from hypothesis import strategies as st

from logbook.domain.moments import Moment, person_day
from logbook.domain.occasions import ONCE_A_DAY
from logbook.domain.plan.calendar_days import PlanFacts, checks_on, pause_on, plan_on
from logbook.domain.plan.due import Due, DueCheck, what_is_due
from logbook.domain.plan.matching import done_checks
from logbook.domain.plan.plans import (
    EVERY_WEEKDAY,
    CheckPlan,
    MealStart,
    Pause,
    PlannedCheck,
    PutAside,
)
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from tests.domain.plan.plan_records import WRITTEN, appointment
from tests.domain.series_of import glucose, new_id, series_of

# Few days and few times of day, so that readings meet checks: around a change forward (29 March in
# Europe) and one back (5 April in the south).
DAYS = tuple(date(2026, 3, 28) + timedelta(days=n) for n in (0, 1, 2, 7, 8, 9))
ZONES = (
    "Europe/London",
    "Atlantic/Azores",  # at midnight
    "Australia/Lord_Howe",  # half an hour
    "America/Santiago",  # at midnight
    "Asia/Kolkata",
)

days = st.sampled_from(DAYS)
clocks = st.integers(0, 24 * 12 - 1).map(lambda n: time(n * 5 // 60, n * 5 % 60))
walls = st.builds(datetime.combine, days, clocks)
zones = st.sampled_from(ZONES)
moments = st.builds(Moment.from_wall, walls, zones, second_time=st.booleans())
slots = st.sampled_from(
    [Slot.FASTING, Slot.BEFORE_LUNCH, Slot.AFTER_LUNCH, Slot.BETWEEN_MEALS, Slot.NIGHT, Slot.OTHER]
)

planned_checks = st.builds(
    PlannedCheck,
    slot=slots,
    at=clocks,
    weekdays=st.sampled_from([EVERY_WEEKDAY, EVERY_WEEKDAY, (0, 5, 6), (1, 3)]),
    every_days=st.sampled_from([1, 1, 2, 3]),
    day_offset=st.integers(0, 2),
    minutes_after=st.none(),
)
plans = st.builds(
    CheckPlan,
    id=st.builds(new_id),
    holds_from=st.sampled_from([date(2026, 3, 1), *DAYS]),
    checks=st.lists(planned_checks, max_size=6).map(tuple),
    written_at=st.just(WRITTEN),
    profile_days=st.integers(0, 3),
)
pauses = st.builds(
    lambda first, length: Pause(new_id(), first, WRITTEN, first + timedelta(days=length)),
    days,
    st.integers(0, 2),
)
put_asides = st.builds(lambda day, slot: PutAside(new_id(), day, slot, WRITTEN), days, slots)
spells = st.builds(
    lambda first, length: Spell(new_id(), SpellKind.ILL, first, first + timedelta(days=length)),
    days,
    st.integers(0, 3),
)
meal_starts = st.builds(
    lambda slot, at: MealStart(new_id(), slot, at, at.instant),
    st.sampled_from([Slot.AFTER_LUNCH, Slot.AFTER_SNACK]),
    moments,
)
readings = st.builds(
    lambda at, slot, purpose: Reading(
        new_id(), glucose("110"), at, at.instant, slot, purpose=purpose
    ),
    moments,
    slots,
    st.sampled_from([Purpose.PLANNED, Purpose.EXTRA, Purpose.RECHECK]),
)


def some(strategy: st.SearchStrategy[object], most: int) -> st.SearchStrategy[tuple[object, ...]]:
    return st.lists(strategy, max_size=most).map(tuple)


all_facts = st.builds(
    PlanFacts,
    plans=some(plans, 2),
    pauses=some(pauses, 1),
    put_asides=some(put_asides, 2),
    spells=some(spells, 1),
    appointments=some(days.map(lambda day: appointment(day.isoformat())), 1),
    meal_starts=some(meal_starts, 2),
)
logs = st.lists(readings, max_size=25)
settings = st.builds(LogSettings, day_starts_at=st.sampled_from([time(4), time(0), time(14)]))


def listed(due: Due) -> list[DueCheck]:
    """Every check of the answer, recheck aside."""
    following = [] if due.next is None else [due.next]
    return [*due.missed_today, *due.now, *following, *due.later_today]


@given(all_facts, logs, settings, moments)
def test_nothing_twice_in_order_of_time_and_never_in_a_pause(
    facts: PlanFacts, log: list[Reading], settings: LogSettings, now: Moment
) -> None:
    due = what_is_due(facts, series_of(log), now, settings)
    for checks in (due.now, due.later_today, due.missed_today):
        assert [one.at.wall for one in checks] == sorted(one.at.wall for one in checks)
    if due.next is not None and due.later_today:
        assert due.next.at.wall <= due.later_today[0].at.wall
    if plan_on(facts.plans, now.day(settings.day_starts_at)) is not None:
        keys = [(one.day, one.slot, one.at.wall) for one in listed(due)]
        assert len(keys) == len(set(keys))
        for one in due.now:
            assert one.window_from <= now.wall < one.window_until
    for one in listed(due):
        assert pause_on(facts.pauses, one.day) is None
    if pause_on(facts.pauses, now.day(settings.day_starts_at)) is not None:
        assert due.now == ()


@given(all_facts, logs, settings)
def test_a_reading_makes_one_check_done_and_a_check_is_done_once(
    facts: PlanFacts, log: list[Reading], settings: LogSettings
) -> None:
    series = series_of(log)
    checks = [check for day in DAYS for check in checks_on(day, facts, settings.day_starts_at)]
    done = done_checks(checks, series, range(len(series)), settings.day_starts_at)
    assert len(set(done.values())) == len(done)
    for number, index in done.items():
        assert series.purposes[index] is not Purpose.RECHECK
        assert checks[number].slot in {series.slots[index], Slot.OTHER}


@given(all_facts, logs, settings, days)
def test_a_check_that_comes_once_a_day_is_done_exactly_when_the_day_has_it(
    facts: PlanFacts, log: list[Reading], settings: LogSettings, day: date
) -> None:
    """The rule in its own words: a reading in that slot on that day, rechecks aside."""
    checks = checks_on(day, facts, settings.day_starts_at)
    often = Counter(check.slot for check in checks)
    done = done_checks(checks, series_of(log), range(len(log)), settings.day_starts_at)
    for number, check in enumerate(checks):
        if check.slot in ONCE_A_DAY and often[check.slot] == 1:
            has_it = any(
                one.slot is check.slot
                and one.purpose is not Purpose.RECHECK
                and person_day(one.at.wall, settings.day_starts_at) == day
                for one in log
            )
            assert (number in done) == has_it


def of_day(due: Due, day: date) -> Counter[Slot]:
    """What the answer says about one day; the next check counts when it is of that day."""
    return Counter(one.slot for one in listed(due) if one.day == day)


@given(all_facts, logs, settings, days, st.lists(st.tuples(clocks, zones), min_size=2, max_size=6))
def test_moving_the_clock_or_the_zone_loses_and_repeats_nothing(
    facts: PlanFacts,
    log: list[Reading],
    settings: LogSettings,
    day: date,
    looks: list[tuple[time, str]],
) -> None:
    """Whatever the clock says on a day, the open checks of that day are the same."""
    starts = settings.day_starts_at
    assume(plan_on(facts.plans, day) is not None)
    series = series_of(log)
    answers = []
    for at, zone in looks:
        wall = datetime.combine(day if at >= starts else day + timedelta(days=1), at)
        due = what_is_due(facts, series, Moment.from_wall(wall, zone), settings)
        answers.append(of_day(due, day))
    assert all(answer == answers[0] for answer in answers)


@given(all_facts, logs, settings, moments)
def test_each_open_check_of_today_is_in_exactly_one_list(
    facts: PlanFacts, log: list[Reading], settings: LogSettings, now: Moment
) -> None:
    starts, series = settings.day_starts_at, series_of(log)
    today = now.day(starts)
    assume(plan_on(facts.plans, today) is not None)
    without_meals = PlanFacts(facts.plans, facts.pauses, facts.put_asides, facts.spells)
    around = [
        check
        for n in (-1, 0, 1)
        for check in checks_on(today + timedelta(days=n), without_meals, starts)
    ]
    once = [check for check in around if check.slot in ONCE_A_DAY and check.day == today]
    done = done_checks(once, series, range(len(series)), starts)
    aside = {one.slot for one in facts.put_asides if one.day == today}
    open_slots = Counter(
        check.slot
        for number, check in enumerate(once)
        if number not in done and check.slot not in aside
    )
    found = of_day(what_is_due(without_meals, series, now, settings), today)
    assert {slot: n for slot, n in found.items() if slot in ONCE_A_DAY} == dict(open_slots)
