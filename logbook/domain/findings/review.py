"""All findings of a period in the order of review."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta
from types import MappingProxyType

from logbook.domain.answers import Answer
from logbook.domain.findings.finding import Finding, in_order_of_review
from logbook.domain.findings.high_rules import high_findings
from logbook.domain.findings.material import Material, material_of
from logbook.domain.findings.rules import low_findings
from logbook.domain.findings.statistical import drift_period, look_period, statistical_findings
from logbook.domain.happenings import Happening
from logbook.domain.moments import Period
from logbook.domain.plan.plans import MealStart
from logbook.domain.readings import Difference
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.spells import Spell
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import TickBook

_NOTHING_NOTED: Mapping[str, Sequence[Difference]] = MappingProxyType({})


def find_findings(  # noqa: PLR0913  (everything a log holds that bears on what repeats)
    series: Series,
    period: Period,
    settings: LogSettings,
    targets: TargetBook,
    happenings: Iterable[Happening],
    answers: Iterable[Answer],
    ticks: TickBook,
    *,
    meal_starts: Iterable[MealStart] = (),
    spells: Iterable[Spell] = (),
    differences: Mapping[str, Sequence[Difference]] = _NOTHING_NOTED,
    profiles: Iterable[Period] = (),
    as_report: bool,
) -> tuple[Finding, ...]:
    """The findings of `period`, in the order of review.

    `series` and `happenings` reach back as far as `days_needed` says; more does no harm.
    `spells` of illness, steroids and hospital are kept out of what goes on over weeks;
    `differences` are what was noted with readings, by id; `profiles` the days of agreed profiles.
    As a report, the statistical findings are of the period itself. Otherwise they are of the last
    week, Monday to Sunday, that was finished before the period's last day, and stay as they are
    until the next one is.
    """
    happenings, answers = tuple(happenings), tuple(answers)
    material = material_of(series, period, settings, targets, happenings, answers, spells)
    return in_order_of_review(
        [
            *low_findings(material, ticks),
            *high_findings(material, meal_starts, profiles),
            *statistical_findings(
                _over_weeks(material, series, answers, as_report=as_report),
                period,
                differences,
                as_report=as_report,
            ),
        ]
    )


def find_over_weeks(
    series: Series,
    period: Period,
    settings: LogSettings,
    happenings: Iterable[Happening] = (),
    answers: Iterable[Answer] = (),
    *,
    spells: Iterable[Spell] = (),
    differences: Mapping[str, Sequence[Difference]] = _NOTHING_NOTED,
    as_report: bool,
) -> tuple[Finding, ...]:
    """The statistical findings alone, in the order of review; see `find_findings`."""
    days = _days_over_weeks(period, as_report=as_report)
    material = material_of(series, days, settings, TargetBook(()), happenings, answers, spells)
    found = statistical_findings(material, period, differences, as_report=as_report)
    return in_order_of_review(found)


def _days_over_weeks(period: Period, *, as_report: bool) -> Period:
    spans = [of(period, as_report=as_report) for of in (drift_period, look_period)]
    return Period(min(span.first for span in spans), max(span.last for span in spans))


def _over_weeks(
    material: Material, series: Series, answers: tuple[Answer, ...], *, as_report: bool
) -> Material:
    """The material of the statistical findings: in a report, what the rules had already."""
    days = _days_over_weeks(material.period, as_report=as_report)
    if days == material.period:
        return material
    return material_of(
        series,
        days,
        material.settings,
        material.targets,
        material.happenings,
        answers,
        material.spells,
    )


def days_needed(period: Period, *, as_report: bool) -> Period:
    """The days of readings that the findings of `period` rest on, those beside it included."""
    spans = [
        period,
        drift_period(period, as_report=as_report),
        look_period(period, as_report=as_report),
    ]
    return Period(
        min(span.first for span in spans) - timedelta(days=_DAYS_BESIDE),
        max(span.last for span in spans) + timedelta(days=_DAYS_BESIDE),
    )


# Nights and rechecks reach over the ends of a period.
_DAYS_BESIDE = 2
