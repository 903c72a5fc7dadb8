"""What the report tells of the kit in a period: strips, control tests, meters, lancets, stock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from uuid import UUID

from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.control_due import ControlStanding, standing_of
from logbook.domain.kit.control_results import ControlResult, result_of
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_questions import KitQuestion, kit_questions
from logbook.domain.kit.lancets import LancetHabit
from logbook.domain.kit.meter_care import LabComparison, MeterEvent
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import stock_outlooks
from logbook.domain.kit.strip_accounts import VialAccount, account_of, is_account_complete
from logbook.domain.kit.strip_stock import RATE_DAYS, StockOutlook
from logbook.domain.kit.strips import Vial
from logbook.domain.kit.suspects import suspect_readings
from logbook.domain.kit.vial_life import Life, OutOfDate, life_of, out_of_date
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.ticks import TickBook


@dataclass(frozen=True, slots=True)
class VialInReport:
    """A vial that was in use; `account` is None where its first strips are no longer at hand."""

    vial: Vial
    life: Life | None
    account: VialAccount | None


@dataclass(frozen=True, slots=True)
class KitSummary:
    """The kit in a period, in the order of time; crossed-out records left aside.

    `tests` are all control tests, of which `passed`, `failed` and `not_known` are counts.
    `standings` tell how each own meter stands now. `suspect` are the readings of the period that
    are in doubt because control tests failed.
    """

    period: Period
    vials: tuple[VialInReport, ...]
    tests: tuple[ControlTest, ...]
    passed: int
    failed: int
    not_known: int
    standings: tuple[tuple[UUID | None, ControlStanding], ...]
    meter_events: tuple[MeterEvent, ...]
    comparisons: tuple[LabComparison, ...]
    lancet_habit: LancetHabit
    lancet_changes: int
    out_of_date: tuple[OutOfDate, ...]
    suspect: tuple[UUID, ...]
    outlooks: tuple[StockOutlook, ...]
    questions: tuple[KitQuestion, ...]


def kit_summary(
    kit: KitData,
    period: Period,
    settings: LogSettings,
    ticks: TickBook,
    now: Moment,
    readings: Sequence[Reading] = (),
    plan_strips_a_day: Fraction | float | None = None,
) -> KitSummary:
    """The kit in `period`; `readings` are those of it, for what is to be said beside them."""

    def is_in(at: Moment) -> bool:
        return at.day(settings.day_starts_at) in period

    tests = tuple(test for test in kit.control_tests if test.counts and is_in(test.at))
    results = [result_of(test, kit) for test in tests]
    of_period = [reading for reading in readings if is_in(reading.at)]
    meters: list[UUID | None] = [
        meter.id for meter in own_meters(kit.meters, now.day(settings.day_starts_at))
    ]
    return KitSummary(
        period=period,
        vials=_vials(kit, period, now, settings.day_starts_at),
        tests=tests,
        passed=results.count(ControlResult.PASS),
        failed=results.count(ControlResult.FAIL),
        not_known=results.count(ControlResult.NOT_KNOWN),
        standings=tuple(
            (meter_id, standing_of(meter_id, kit, settings))
            for meter_id in (meters if kit.meters else [None])
        ),
        meter_events=tuple(e for e in kit.meter_events if e.counts and is_in(e.at)),
        comparisons=tuple(c for c in kit.lab_comparisons if c.counts and is_in(c.at)),
        lancet_habit=settings.lancet_habit,
        lancet_changes=sum(1 for change in kit.lancet_changes if is_in(change.at)),
        out_of_date=out_of_date(of_period, kit, settings),
        suspect=suspect_readings(of_period, kit, settings),
        outlooks=stock_outlooks(kit, settings, now, plan_strips_a_day),
        questions=kit_questions(kit, settings, ticks, now, period, of_period, plan_strips_a_day),
    )


def _vials(kit: KitData, period: Period, now: Moment, starts_at: time) -> tuple[VialInReport, ...]:
    """The vials in use on a day of the period, by the day each was opened on."""
    held_since = now.instant - timedelta(days=RATE_DAYS)
    found = []
    for vial in kit.vials:
        if vial.opened_at is None or vial.opened_on is None or vial.opened_on > period.last:
            continue
        if vial.ended_at is not None and _day(vial.ended_at, now, starts_at) < period.first:
            continue
        is_complete = is_account_complete(vial, kit, held_since)
        account = account_of(vial, kit) if is_complete else None
        found.append(VialInReport(vial, life_of(vial), account))
    return tuple(sorted(found, key=lambda one: one.vial.opened_at or one.vial.written_at))


def _day(instant: datetime, now: Moment, starts_at: time) -> date:
    return Moment.at(instant, now.zone).day(starts_at)
