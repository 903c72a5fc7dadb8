"""Which comparisons stand: the chance of any finding by chance alone is held for all of a look.

A look is one finished week, or one report. How the levels were chosen, and what they lead to, is in
docs/method.md.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from logbook.domain.findings.comparisons import (
    DAYS_A_WEEK,
    LEAST_WEEKS_FOR_A_PART,
    LONGEST_DRIFT_WEEKS,
    Comparison,
    before_lows,
    day_groups,
    drifts,
    weekdays_of_groups,
)
from logbook.domain.findings.finding import Finding, FindingKind
from logbook.domain.findings.limits import high_margin
from logbook.domain.findings.material import Material
from logbook.domain.findings.statistics import holm
from logbook.domain.moments import Period
from logbook.domain.readings import Difference

# A report is one look. A quarter has 13 weekly looks, each at almost the same days as the one
# before, so they are worth fewer separate ones. In its first weeks a log can be compared in few
# ways and only a few times, so these looks are given more. The levels of a week are judgement;
# that they keep a quarter under 5 % is measured (docs/method.md).
LEVEL_OF_A_REPORT = 0.05
LEVEL_OF_A_WEEK = 0.008
LEVEL_OF_AN_EARLY_WEEK = 0.02

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
    differs, its parts are not told again; and a group of days is not told where it differs only
    because the days of a clearer one are among the others.
    """
    made = comparisons(material, period, differences, as_report=as_report)
    look = look_period(period, as_report=as_report)
    level = LEVEL_OF_A_REPORT if as_report else _level_of_a_week(material, look)
    adjusted = holm([comparison.chance for comparison in made])
    standing = [
        comparison
        for comparison, chance in zip(made, adjusted, strict=True)
        if chance <= level and _is_large(material, comparison.finding)
    ]
    groups = [one for one in standing if one.finding.kind is FindingKind.DAY_GROUP]
    return [
        *(one.finding for one in standing if one.finding.kind is not FindingKind.DAY_GROUP),
        *_of_their_own(material, look, groups, level),
    ]


def _level_of_a_week(material: Material, look: Period) -> float:
    """The level for the week that ends with `look`, by how many weeks of it there are."""
    days = [material.day(indices[0]) for indices in material.occasions(look).values()]
    is_early = not days or (look.last - min(days)).days < LEAST_WEEKS_FOR_A_PART * DAYS_A_WEEK - 4
    return LEVEL_OF_AN_EARLY_WEEK if is_early else LEVEL_OF_A_WEEK


def _is_large(material: Material, finding: Finding) -> bool:
    if finding.change is None:
        return True
    return abs(finding.change) * material.unit.steps_per_one >= high_margin(material.settings)


def _of_their_own(
    material: Material, look: Period, standing: Sequence[Comparison], level: float
) -> Iterator[Finding]:
    """One finding a group, the clearest first, the whole day before its parts.

    A further group must stand without the days of those told already.
    """
    groups = weekdays_of_groups(material.settings)
    told: set[int] = set()
    for name in dict.fromkeys(
        one.finding.group for one in sorted(standing, key=lambda one: one.chance)
    ):
        of_group = [one.finding for one in standing if one.finding.group == name]
        if told:
            stands = {
                (again.finding.part, again.finding.slot)
                for again in day_groups(material, look, frozenset(told - groups[name or ""]))
                if again.finding.group == name and again.chance <= level
            }
            of_group = [finding for finding in of_group if (finding.part, finding.slot) in stands]
        if of_group:
            told |= groups[name or ""]
            yield of_group[0]
