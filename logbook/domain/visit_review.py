"""What a visit's data say beyond their figures: findings, calls, plan, meter, kit, laboratory.

The report, the command `summary` and the window ask here, so that all three tell the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import time, timedelta

from logbook.domain.a1c_comparison import A1CBesideLog, a1c_beside_log, days_before
from logbook.domain.calls import ListedCall, calls_in_period
from logbook.domain.findings.finding import Finding
from logbook.domain.findings.review import days_needed, find_findings
from logbook.domain.kit.kit_summary import KitSummary, kit_summary
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.kit.meters import Meter, meter_used
from logbook.domain.laboratory import LabA1C
from logbook.domain.low_episodes import LowEpisodes, low_episodes
from logbook.domain.meter_average import LogAndMeter, compare_with_meter
from logbook.domain.moments import DAY_STARTS_AT, Period
from logbook.domain.plan.calendar_days import PlanFacts, agreed_profiles
from logbook.domain.plan.done import PlanDone, plan_done
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.domain.readings import Reading
from logbook.domain.summary import Summary, summarise
from logbook.domain.visit_comparisons import VisitComparisons, comparisons_of
from logbook.domain.visit_data import VisitData

# The rules of calls look so many days back from the first day of a period.
_DAYS_BEFORE_CALLS = 8


def reach_of(
    period: Period,
    a1cs: Iterable[LabA1C] = (),
    averages: Iterable[MeterAverage] = (),
    day_starts_at: time = DAY_STARTS_AT,
) -> Period:
    """The days of readings that a review of `period` rests on; `VisitData.reach` holds them.

    The latest A1C and the latest average of a meter in it look back from their own days.
    """
    needed = days_needed(period, as_report=True)
    first = min(needed.first, period.first - timedelta(days=_DAYS_BEFORE_CALLS))
    a1c, average = latest_a1c(a1cs, period), latest_average(averages, period, day_starts_at)
    if a1c is not None:
        first = min(first, days_before(a1c).first)
    if average is not None:
        first = min(first, days_of_average(average).first)
    return Period(first, max(needed.last, period.last))


def latest_a1c(a1cs: Iterable[LabA1C], period: Period) -> LabA1C | None:
    """The latest A1C drawn in `period` that is not crossed out."""
    drawn = (one for one in a1cs if one.counts and one.drawn_on in period)
    return max(drawn, key=lambda one: (one.drawn_on, one.written_at), default=None)


def latest_average(
    averages: Iterable[MeterAverage], period: Period, day_starts_at: time
) -> MeterAverage | None:
    """The latest average read off a meter in `period` that is not crossed out."""
    read = (one for one in averages if one.counts and one.at.day(day_starts_at) in period)
    return max(read, key=lambda one: one.at.instant, default=None)


def days_of_average(average: MeterAverage) -> Period:
    """The days over which a meter's average is held beside the log, and one more on either side.

    However its days are counted, the readings it can be made of lie in them.
    """
    day = average.at.wall.date()
    return Period(day - timedelta(days=average.days + 1), day + timedelta(days=1))


def of_other_meters(
    average: MeterAverage, readings: Iterable[Reading], meters: Iterable[Meter]
) -> frozenset[str]:
    """The ids of those of `readings` that were made with another meter than the average's."""
    if average.meter_id is None:
        return frozenset()
    own = tuple(meters)
    return frozenset(
        str(reading.id)
        for reading in readings
        if meter_used(reading.meter_id, reading.at.instant, own) not in (average.meter_id, None)
    )


@dataclass(frozen=True, slots=True)
class VisitReview:
    """Each in the order in which it is told.

    `plan` is None where no plan held; `meter` is the latest average read off a meter in the period,
    beside the log; `a1c` the latest laboratory value drawn in it.
    """

    findings: tuple[Finding, ...]
    calls: tuple[ListedCall, ...]
    plan: PlanDone | None
    meter: LogAndMeter | None
    kit: KitSummary
    episodes: LowEpisodes
    a1c: A1CBesideLog | None
    compared: VisitComparisons


def review_of(data: VisitData, summary: Summary) -> VisitReview:
    """The review of a visit's period; `summary` are its figures."""
    period, settings = data.period, data.settings
    findings = find_findings(
        data.reach,
        period,
        settings,
        data.targets,
        data.reach_happenings,
        data.answers,
        data.ticks,
        meal_starts=data.meal_starts,
        spells=data.spells,
        differences={
            str(reading.id): reading.differences
            for reading in data.with_circumstances
            if reading.differences
        },
        profiles=agreed_profiles(data.plans, data.appointments),
        as_report=True,
    )
    changed = [medicine.holds_from for medicine in data.medicines]
    listed = calls_in_period(
        data.reach,
        data.reach_happenings,
        data.answers,
        settings,
        data.ticks,
        data.spells,
        data.targets,
        period,
        medicines_changed=changed,
    )
    kit = kit_summary(
        data.kit,
        period,
        settings,
        data.ticks,
        data.made_at,
        data.kit_readings,
        plan_strips_a_day(data.plans, data.made_at.day(settings.day_starts_at)),
    )
    return VisitReview(
        findings=findings,
        calls=listed,
        plan=_plan(data),
        meter=_meter(data),
        kit=kit,
        episodes=low_episodes(
            summary.lows,
            {str(reading.id): reading.feelings for reading in data.with_circumstances},
        ),
        a1c=_a1c(data),
        compared=comparisons_of(data),
    )


def _plan(data: VisitData) -> PlanDone | None:
    if not data.plans:
        return None
    facts = PlanFacts(
        plans=data.plans,
        pauses=data.pauses,
        put_asides=data.put_asides,
        spells=data.spells,
        appointments=data.appointments,
        meal_starts=data.meal_starts,
    )
    done = plan_done(facts, data.reach, data.period, data.settings, data.made_at)
    return done if done.total.of else None


def _meter(data: VisitData) -> LogAndMeter | None:
    average = latest_average(data.meter_averages, data.period, data.settings.day_starts_at)
    if average is None:
        return None
    others = of_other_meters(average, data.average_readings, data.meters)
    return compare_with_meter(average, data.reach, others)


def _a1c(data: VisitData) -> A1CBesideLog | None:
    latest = latest_a1c(data.a1cs, data.period)
    if latest is None:
        return None
    before = summarise(
        data.reach,
        days_before(latest),
        data.settings,
        data.targets,
        data.reach_happenings,
        data.answers,
    )
    return a1c_beside_log(latest, before, data.ticks)
