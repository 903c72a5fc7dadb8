"""Another clock than at home: what is asked, what the paper tells, and that nothing else moves.

The zones' own clocks are taken from the IANA database by `zoneinfo`, apart from the module.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.clock_checks import ClockReason, clock_check_due
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.travel import (
    TravelQuestion,
    clock_ahead,
    elsewhere_of,
    ended,
    journey_of,
    meter_clock_since,
    place_name,
    travel_question,
    zone_change,
)

HOME, AWAY = "America/New_York", "Europe/Berlin"
NOON = datetime(2026, 3, 10, 12, 0, tzinfo=UTC)
TODAY = date(2026, 3, 10)
ZONES = st.sampled_from(
    ["America/New_York", "Europe/Berlin", "Asia/Kolkata", "Australia/Lord_Howe", "Pacific/Apia"]
)


def reading(hours_ago: float, zone: str, *, zone_assumed: bool = False) -> Reading:
    instant = NOON - timedelta(hours=hours_ago)
    plain = Moment.at(instant, zone)
    at = Moment(plain.instant, plain.wall, plain.offset, zone, zone_assumed)
    return Reading(uuid4(), Glucose.number(120, Unit.MG_DL), at, instant, Slot.FASTING)


def asked(
    *newest_first: Reading, zone: str, spells: tuple[Spell, ...] = (), settled: str = ""
) -> TravelQuestion | None:
    now = Moment.at(NOON, zone)
    change = zone_change(newest_first, now)
    return travel_question(change, spells, now, TODAY, home_zone=HOME, settled_zone=settled)


@given(first=ZONES, second=ZONES, hours=st.integers(0, 24 * 365 * 3))
def test_how_far_the_clock_is_ahead(first: str, second: str, hours: int) -> None:
    instant = datetime(2024, 1, 1, tzinfo=UTC) + timedelta(hours=hours)
    here = instant.astimezone(ZoneInfo(first)).replace(tzinfo=None)
    there = instant.astimezone(ZoneInfo(second)).replace(tzinfo=None)
    assert clock_ahead(Moment.at(instant, first), second) == here - there


def test_a_clock_that_went_on_is_asked_about_once() -> None:
    assert asked(reading(20, HOME), zone=AWAY) is TravelQuestion.ARE_YOU_TRAVELLING
    # Still after the first entries made there, and no more after three days.
    assert asked(reading(1, AWAY), reading(20, HOME), zone=AWAY) is not None
    assert asked(reading(1, AWAY), reading(80, AWAY), reading(99, HOME), zone=AWAY) is None


@pytest.mark.parametrize("settled", [AWAY])
def test_who_said_neither_is_not_asked_again(settled: str) -> None:
    assert asked(reading(20, HOME), zone=AWAY, settled=settled) is None


def test_at_home_nothing_is_asked() -> None:
    assert asked(reading(20, HOME), zone=HOME) is None
    assert asked(zone=AWAY) is None, "an empty log tells of no other clock"
    # Detroit's clock is New York's.
    assert asked(reading(20, HOME), zone="America/Detroit") is None


def test_an_assumed_zone_tells_nothing() -> None:
    assert asked(reading(20, HOME, zone_assumed=True), zone=AWAY) is None


def test_a_clock_change_of_ones_own_zone_is_no_journey() -> None:
    # Clocks went on in New York on 8 March 2026, between the two.
    assert asked(reading(80, HOME), zone=HOME) is None


def test_a_journey_is_asked_about_when_the_clock_is_the_one_at_home_again() -> None:
    journey = Spell(uuid4(), SpellKind.TRAVEL, date(2026, 3, 1))
    assert asked(reading(20, HOME), zone=AWAY, spells=(journey,)) is None
    back = asked(reading(20, AWAY), zone=HOME, spells=(journey,))
    assert back is TravelQuestion.ARE_YOU_HOME
    over = ended(journey, TODAY)
    assert over.last == TODAY
    assert journey_of([over], TODAY) is None


def test_the_meter_keeps_its_own_clock() -> None:
    meter = Meter(UUID(int=1), "bedside", Unit.MG_DL, 20, 600, date(2025, 1, 1))
    now = Moment.at(NOON, "Asia/Kolkata")  # a zone whose clocks never change
    change = zone_change([reading(5, "Asia/Kolkata"), reading(20, HOME)], now)
    since = meter_clock_since(change, now)
    assert since == NOON - timedelta(hours=5)
    due = clock_check_due(meter, KitData(), now, elsewhere_since=since)
    assert due is not None
    assert due.why is ClockReason.OTHER_PLACE
    assert clock_check_due(meter, KitData(), now) is None


def test_what_the_paper_tells_of_readings_made_elsewhere() -> None:
    made = [reading(hours, AWAY) for hours in (60, 50, 40)]
    told = elsewhere_of(
        [reading(80, HOME), *made, reading(20, HOME), reading(10, HOME, zone_assumed=True)],
        HOME,
        time(4),
    )
    assert len(told) == 1
    # Six hours at the first of them; New York's clocks went on between it and the others.
    assert (told[0].count, told[0].zone, told[0].ahead) == (3, AWAY, timedelta(hours=6))
    assert (told[0].first, told[0].last) == (date(2026, 3, 7), date(2026, 3, 8))
    again = elsewhere_of([reading(400, AWAY), reading(40, AWAY)], HOME, time(4))
    assert [one.count for one in again] == [1, 1]
    assert elsewhere_of([reading(5, "America/Detroit")], HOME, time(4)) == ()


@pytest.mark.parametrize(
    ("zone", "place"),
    [("America/Argentina/Buenos_Aires", "Buenos Aires"), ("UTC", "UTC"), (AWAY, "Berlin")],
)
def test_the_place_in_a_zones_name(zone: str, place: str) -> None:
    assert place_name(zone) == place
