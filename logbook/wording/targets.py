"""Targets as text: the limits as printed, who set them, and from which day they hold."""

from __future__ import annotations

from datetime import timedelta

from logbook.domain.glucose import Unit
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target
from logbook.wording import _, mark
from logbook.wording.dates import day_text
from logbook.wording.numbers import steps_text

_LIMIT = {
    Operator.AT_LEAST: mark("at least {value}"),
    Operator.ABOVE: mark("above {value}"),
    Operator.AT_MOST: mark("at most {value}"),
    Operator.BELOW: mark("below {value}"),
}


def limits_text(limits: Limits, *, with_unit: bool = True) -> str:
    """The limits in their unit: "80 to 130 mg/dL", "below 180 mg/dL"; "no target" without any."""
    lower, upper, unit = limits.lower, limits.upper, limits.unit
    if lower is None or upper is None:
        single = lower or upper
        if single is None:
            return _("no target")
        return _limit_text(single, unit, with_unit=with_unit)
    if lower.operator is Operator.AT_LEAST and upper.operator is Operator.AT_MOST:
        return _("{lowest} to {highest}").format(
            lowest=steps_text(lower.steps, unit, with_unit=False),
            highest=steps_text(upper.steps, unit, with_unit=with_unit),
        )
    return _("{lower} and {upper}").format(
        lower=_limit_text(lower, unit, with_unit=False),
        upper=_limit_text(upper, unit, with_unit=with_unit),
    )


def target_text(target: Target | None, unit: Unit, *, with_unit: bool = True) -> str:
    """The limits as printed in `unit`, else in the unit in which they were given.

    Without the unit only where it is said beside them; the other unit is never left out.
    """
    if target is None or not target.printed:
        return _("no target")
    limits = target.limits_in(unit) or target.printed[0]
    return limits_text(limits, with_unit=with_unit or limits.unit is not unit)


def target_in_both_units(target: Target, first: Unit) -> str:
    """The limits as printed in every unit given: "80 to 130 mg/dL (4.4 to 7.2 mmol/L)"."""
    own, other = target.limits_in(first), target.limits_in(first.other)
    if own is None or other is None:
        return target_text(target, first)
    return _("{limits} ({other})").format(limits=limits_text(own), other=limits_text(other))


def who_set_text(target: Target) -> str:
    """Whose numbers these are: "Set by your provider", "From a published table: ..."."""
    if target.set_by is SetBy.SELF:
        return _("Your own choice")
    if target.set_by is SetBy.PROVIDER:
        if target.set_by_name:
            return _("Set by {name}").format(name=target.set_by_name)
        return _("Set by your provider")
    if not target.source:
        return _("From a published table")
    edition = f"{target.source} {target.edition}".strip()
    return _("From a published table: {source}").format(source=edition)


def since_text(target: Target) -> str:
    """The day from which it holds: "from March 3, 2026"."""
    return _("from {day}").format(day=day_text(target.holds_from))


def span_text(target: Target, following: Target | None) -> str:
    """From when and until when it held: "from March 3, 2026 to August 28, 2026"."""
    if following is None:
        return since_text(target)
    return _("from {first} to {last}").format(
        first=day_text(target.holds_from),
        last=day_text(following.holds_from - timedelta(days=1)),
    )


def not_agreed_text() -> str:
    """What stands beside every target that no provider has agreed to."""
    return _("not yet agreed with your provider")


def _limit_text(limit: Limit, unit: Unit, *, with_unit: bool = True) -> str:
    return _(_LIMIT[limit.operator]).format(
        value=steps_text(limit.steps, unit, with_unit=with_unit)
    )
