"""How the log is kept: counts, held against counts made here one reading at a time."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.domain.figures import Share
from logbook.domain.log_keeping import log_keeping
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import CrossedOut, Earlier, Reading, Source
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from tests.domain.series_of import glucose, new_id, series_of

PERIOD = Period(date(2026, 3, 1), date(2026, 3, 20))
LOG = LogSettings()


def made(hour: int, source: Source, initials: str, what: str, hours_later: int) -> Reading:
    wall = datetime(2026, 2, 27) + timedelta(hours=hour)
    at = Moment.from_wall(wall, "UTC")
    slot_reading = Reading(
        new_id(),
        glucose("120"),
        at,
        at.instant + timedelta(hours=hours_later),
        Slot.FASTING,
        source=source,
        initials=initials,
    )
    if what == "out":
        return replace(slot_reading, crossed_out=CrossedOut(at.instant))
    if what == "corrected":
        was = Earlier(glucose("119"), at, slot_reading.slot, at.instant)
        return replace(slot_reading, earlier=(was,))
    return slot_reading


READINGS = st.lists(
    st.builds(
        made,
        st.integers(0, 26 * 24),
        st.sampled_from(list(Source)),
        st.sampled_from(["", "", "EK", "BT"]),
        st.sampled_from(["", "", "out", "corrected"]),
        st.integers(0, 40),
    ),
    max_size=40,
)


def day_of(at: datetime) -> date:
    return (at - timedelta(hours=4)).date()


@settings(deadline=None, max_examples=60)
@given(readings=READINGS)
def test_counts_are_those_of_counting_by_hand(readings: list[Reading]) -> None:
    readings = sorted(readings, key=lambda one: one.at.instant)
    inside = [one for one in readings if day_of(one.at.wall) in PERIOD]
    kept = [one for one in inside if one.crossed_out is None]
    told = log_keeping(series_of(readings), PERIOD, LOG, helped=inside)
    assert told.readings == len(kept)
    days = {day_of(one.at.wall) for one in kept}
    assert told.days == Share(len(days), 20)
    assert told.crossed_out == len(inside) - len(kept)
    assert told.corrected == sum(bool(one.earlier) for one in kept)
    assert told.copied == sum(one.source is Source.COPIED_FROM_METER for one in kept)
    assert dict(told.by_helpers) == {
        initials: count
        for initials in ("EK", "BT")
        if (count := sum(one.initials == initials for one in kept))
    }
    longest = max(
        (
            length
            for length in range(21)
            for first in range(21 - length)
            if not days & {PERIOD.first + timedelta(days=first + n) for n in range(length)}
        ),
        default=0,
    )
    assert told.longest_without == longest


def test_a_day_starts_when_the_person_said() -> None:
    late = made(2 * 24 + 26, Source.TYPED, "", "", 0)  # 02:00 on March 2
    assert log_keeping(series_of([late]), PERIOD, LOG).days.part == 1
    first_only = Period(date(2026, 3, 1), date(2026, 3, 1))
    assert log_keeping(series_of([late]), first_only, LOG).readings == 1
    by_calendar = replace(LOG, day_starts_at=time(0))
    assert log_keeping(series_of([late]), first_only, by_calendar).readings == 0
