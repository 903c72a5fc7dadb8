"""When a meter's clock is asked about; clock changes as the tz database has them."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from logbook.domain.kit.clock_checks import (
    ASKED_FOR,
    ClockReason,
    clock_check_due,
    last_clock_change,
)
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meter_care import MeterEvent, MeterWhat
from logbook.domain.moments import Moment
from tests.domain.kit.invented_kit import BEDSIDE, START, meter, new_id

# Clocks in the United States went forward on March 8 and back on November 1, 2026, at 2 o'clock;
# in the European Union forward on March 29 at 01:00 UTC: the rules in force since 2007 and 1996.
NEW_YORK_FORWARD = datetime(2026, 3, 8, 7, tzinfo=UTC)
NEW_YORK_BACK = datetime(2026, 11, 1, 6, tzinfo=UTC)
BERLIN_FORWARD = datetime(2026, 3, 29, 1, tzinfo=UTC)


@pytest.mark.parametrize(
    ("zone", "changed"),
    [
        ("America/New_York", NEW_YORK_FORWARD),
        ("America/New_York", NEW_YORK_BACK),
        ("Europe/Berlin", BERLIN_FORWARD),
    ],
)
@pytest.mark.parametrize("after", [timedelta(0), timedelta(seconds=59), timedelta(days=29.9)])
def test_the_last_change_is_found_to_the_minute(
    zone: str, changed: datetime, after: timedelta
) -> None:
    assert last_clock_change(Moment.at(changed + after, zone), ASKED_FOR) == changed


def test_there_is_none_before_it_long_after_it_and_where_clocks_stay() -> None:
    just_before = Moment.at(BERLIN_FORWARD - timedelta(seconds=1), "Europe/Berlin")
    assert last_clock_change(just_before, ASKED_FOR) is None
    long_after = Moment.at(BERLIN_FORWARD + timedelta(days=31), "Europe/Berlin")
    assert last_clock_change(long_after, ASKED_FOR) is None
    assert last_clock_change(Moment.at(BERLIN_FORWARD, "Asia/Tokyo"), timedelta(days=400)) is None


class TestDue:
    now = Moment.at(BERLIN_FORWARD + timedelta(days=3), "Europe/Berlin")

    def event(self, what: MeterWhat, days_ago: float) -> MeterEvent:
        when = Moment.at(self.now.instant - timedelta(days=days_ago), "Europe/Berlin")
        return MeterEvent(new_id(), BEDSIDE, what, when, START)

    def why(self, *events: MeterEvent) -> ClockReason | None:
        due = clock_check_due(meter(), KitData(meter_events=events), self.now)
        return None if due is None else due.why

    def test_after_the_clocks_changed_until_checked(self) -> None:
        assert self.why() is ClockReason.CLOCKS_CHANGED
        assert self.why(self.event(MeterWhat.CLOCK_CHECKED, 4)) is ClockReason.CLOCKS_CHANGED
        assert self.why(self.event(MeterWhat.CLOCK_CHECKED, 2)) is None

    def test_after_a_battery_change_until_checked(self) -> None:
        changed = self.event(MeterWhat.BATTERY_CHANGED, 1)
        assert self.why(self.event(MeterWhat.CLOCK_CHECKED, 2), changed) is (
            ClockReason.BATTERY_CHANGED
        )
        assert self.why(changed, self.event(MeterWhat.CLOCK_CHECKED, 0.5)) is None
        # Both are written down in one go.
        assert self.why(changed, self.event(MeterWhat.CLOCK_CHECKED, 1)) is None
        old = self.event(MeterWhat.BATTERY_CHANGED, 31)
        assert self.why(old) is ClockReason.CLOCKS_CHANGED

    def test_not_of_a_meter_of_someone_else_or_put_away_or_newer_than_the_change(self) -> None:
        kit = KitData()
        day = self.now.wall.date()
        for one in (
            meter(is_own=False),
            replace(meter(), in_use_until=day - timedelta(days=1)),
            replace(meter(), in_use_from=day),
        ):
            assert clock_check_due(one, kit, self.now) is None
