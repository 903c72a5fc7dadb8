"""Which comparisons stand: the chance of any finding by chance alone is held for all of a look.

A look is one finished week, or one report. How the levels were chosen, and what they lead to, is in
docs/method.md.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from logbook.domain.findings.comparisons import (
    DAYS_A_WEEK,
    LONGEST_DRIFT_WEEKS,
    Comparison,
    before_lows,
    day_groups,
    drifts,
)
from logbook.domain.findings.finding import Finding, FindingKind
from logbook.domain.findings.high_rules import HIGH_MARGIN
from logbook.domain.findings.material import Material
from logbook.domain.findings.statistics import holm
from logbook.domain.moments import Period
from logbook.domain.readings import Difference

# A report is one look. A quarter has 13 weekly looks, each at almost the same days as the one
# before, so they are worth fewer separate ones. The level of a week is judgement; that it keeps a
# quarter at or below 5 % is measured (docs/method.md).
LEVEL_OF_A_REPORT = 0.05
LEVEL_OF_A_WEEK = 0.008

# How far back groups of days and differences are looked at for a finished week.
WEEKS_OF_A_LOOK = 13


def as_of_week(today: date) -> date:
    """The last day, a Sunday, of the last finished week before the person's day `today`."""
    return today - timedelta(days=today.weekday() + 1)


def drift_period(period: Period, *, as_report: bool) -> Period:
    """The days over which drift is looked at."""
    if as_report:
        return period
    return Period.ending(as_of_week(period.last), LONGEST_DRIFT_WEEKS * DAYS_A_WEEK)


def look_period(period: Period, *, as_report: bool) -> Period:
    """The days over which groups of days and differences are looked at."""
    if as_report:
        longest = LONGEST_DRIFT_WEEKS * DAYS_A_WEEK
        return period if period.days <= longest else Period.ending(period.last, longest)
    return Period.ending(as_of_week(period.last), WEEKS_OF_A_LOOK * DAYS_A_WEEK)


def comparisons(
    material: Material,
    period: Period,
    differences: Mapping[str, Sequence[Difference]],
    *,
    as_report: bool,
) -> list[Comparison]:
    """All comparisons of one look; `material` reaches back as far as `drift_period`."""
    look = look_period(period, as_report=as_report)
    return [
        *drifts(material, drift_period(period, as_report=as_report)),
        *day_groups(material, look),
        *(before_lows(material, look, differences) if differences else ()),
    ]


def statistical_findings(
    material: Material,
    period: Period,
    differences: Mapping[str, Sequence[Difference]],
    *,
    as_report: bool,
) -> list[Finding]:
    """The findings of one look that chance alone would bring in at most the level of it.

    Differences smaller than the margin for highs are not told, however sure. Where a whole day
    differs, its parts are not told again.
    """
    made = comparisons(material, period, differences, as_report=as_report)
    level = LEVEL_OF_A_REPORT if as_report else LEVEL_OF_A_WEEK
    adjusted = holm([comparison.chance for comparison in made])
    margin = material.settings.high_margin or HIGH_MARGIN[material.unit]
    found = [
        comparison.finding
        for comparison, chance in zip(made, adjusted, strict=True)
        if chance <= level
        and (
            comparison.finding.change is None
            or abs(comparison.finding.change) * material.unit.steps_per_one >= margin
        )
    ]
    told: set[str] = set()
    kept = []
    for finding in found:
        if finding.kind is FindingKind.DAY_GROUP and finding.group is not None:
            # The whole day comes first.
            if finding.group in told:
                continue
            told.add(finding.group)
        kept.append(finding)
    return kept
