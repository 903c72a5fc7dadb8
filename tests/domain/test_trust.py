"""The trust line: counts, each with its own denominator."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from logbook.domain.figures import Share
from logbook.domain.moments import Period
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.plan.done import plan_done
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Source
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.trust import written_same_day
from tests.domain.series_of import new_id, reading, series_of

_WEEK = Period(date(2026, 3, 2), date(2026, 3, 8))
_SETTINGS = LogSettings()


def test_same_day_is_the_persons_day_and_typed_readings_alone() -> None:
    series = series_of(
        [
            reading("2026-03-02 07:30", "120"),
            # Written at half past two in the night: the person's day has not ended yet.
            reading("2026-03-02 22:00", "130", written_later=timedelta(hours=4, minutes=30)),
            reading("2026-03-03 22:00", "140", written_later=timedelta(hours=6)),
            reading("2026-03-04 07:30", "150", written_later=timedelta(days=2)),
            reading("2026-03-04 08:30", "150", doubted=True),
            reading(
                "2026-03-05 07:30",
                "160",
                source=Source.COPIED_FROM_METER,
                written_later=timedelta(days=3),
            ),
            reading(
                "2026-03-05 08:30",
                "160",
                source=Source.IMPORTED,
                written_later=timedelta(days=90),
            ),
            reading("2026-03-06 07:30", "170", crossed_out=True),
            reading("2026-03-09 07:30", "180"),
        ]
    )
    assert written_same_day(series, _WEEK, _SETTINGS) == Share(3, 5)


def test_planned_checks_are_counted_by_day_and_slot() -> None:
    series = series_of(
        [
            reading("2026-03-02 07:30", "120", Slot.FASTING),
            reading("2026-03-02 09:30", "120", Slot.FASTING),
            reading("2026-03-02 22:00", "120", Slot.BEDTIME),
            reading("2026-03-03 07:30", "120", Slot.FASTING, purpose=Purpose.EXTRA),
            reading("2026-03-04 07:30", "120", Slot.FASTING, purpose=Purpose.RECHECK),
            reading("2026-03-05 07:30", "120", Slot.FASTING, crossed_out=True),
            reading("2026-03-06 12:30", "120", Slot.BEFORE_LUNCH),
        ]
    )
    planned = (PlannedCheck(Slot.FASTING, time(7, 30)), PlannedCheck(Slot.BEDTIME, time(22)))
    assert _done(series, planned) == Share(3, 14)
    assert _done(series, ()) == Share(0, 0)


def _done(series: Series, planned: tuple[PlannedCheck, ...]) -> Share:
    plan = CheckPlan(new_id(), _WEEK.first, planned, datetime(2026, 3, 1, tzinfo=UTC))
    return plan_done(PlanFacts(plans=(plan,)), series, _WEEK, _SETTINGS).total
