"""Published starting points for targets: what each guideline prints, where, and how well known.

A starting point is a suggestion until the provider has agreed to it, and is marked so. A limit is
given in a unit only when the guideline prints it in that unit; one is never derived from the other.
There are none for pregnancy: those targets are the provider's to set.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from uuid import UUID, uuid4

from logbook.domain.glucose import Unit
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind

Pair = tuple[str, str]
Pairs = tuple[Pair, Pair]


class HowKnown(StrEnum):
    """How a printed number is known to this program."""

    READ_AT_SOURCE = "read_at_source"
    READ_IN_COPY = "read_in_copy"
    FROM_MEMORY = "from_memory"


class Health(StrEnum):
    """State of health, as the guidelines for older adults divide it.

    `GOOD`: few lasting illnesses, mind and daily life as ever. `SEVERAL_ILLNESSES`: several lasting
    illnesses, or some help needed in daily life, or some trouble with memory. `POOR`: very ill for
    long, or in long-term care, or much help needed, or memory much impaired.
    """

    GOOD = "good"
    SEVERAL_ILLNESSES = "several_illnesses"
    POOR = "poor"


@dataclass(frozen=True, slots=True)
class Printed:
    """One target as a guideline prints it, for the kinds of check that it names."""

    kinds: tuple[TargetKind, ...]
    limits: tuple[Limits, ...]
    known: HowKnown


@dataclass(frozen=True, slots=True)
class StartingPoint:
    """One row of a guideline's table.

    `code` names it for good. `body`, `source` and `edition` are proper names. `health` is the state
    of health it is printed for, None for adults in general. `with_medicine_that_causes_lows` says
    whether the row is printed for people with such a medicine, or without; None when the table does
    not ask.
    """

    code: str
    body: str
    source: str
    edition: str
    printed: tuple[Printed, ...]
    health: Health | None = None
    with_medicine_that_causes_lows: bool | None = None

    def is_printed_in(self, unit: Unit) -> bool:
        """Whether every target of the row is printed in `unit`."""
        return all(
            any(limits.unit is unit for limits in printed.limits) for printed in self.printed
        )

    @property
    def known(self) -> HowKnown:
        """How well its least known number is known."""
        return max((printed.known for printed in self.printed), key=list(HowKnown).index)


def _between(unit: Unit, low: str, high: str) -> Limits:
    """A range as guidelines print one, both ends included."""
    return Limits(
        unit,
        Limit(Operator.AT_LEAST, _steps(low, unit)),
        Limit(Operator.AT_MOST, _steps(high, unit)),
    )


def _below(unit: Unit, high: str) -> Limits:
    return Limits(unit, None, Limit(Operator.BELOW, _steps(high, unit)))


def _steps(printed: str, unit: Unit) -> int:
    return int(Decimal(printed) * unit.steps_per_one)


_BEFORE_ANY_MEAL = (TargetKind.FASTING, TargetKind.BEFORE_MEALS)
_AFTER = (TargetKind.AFTER_MEALS,)
_BEDTIME = (TargetKind.BEDTIME,)
_FASTING = (TargetKind.FASTING,)


def _older_adults_ada(code: str, health: Health, before: Pairs, bedtime: Pairs) -> StartingPoint:
    return StartingPoint(
        code,
        "American Diabetes Association",
        "Standards of Care in Diabetes, section 13, table 13.1 (doi 10.2337/dc24-S013)",
        "2024",
        (
            Printed(_BEFORE_ANY_MEAL, _in_both(before), HowKnown.READ_AT_SOURCE),
            Printed(_BEDTIME, _in_both(bedtime), HowKnown.READ_AT_SOURCE),
        ),
        health,
    )


def _older_adults_endocrine_society(
    code: str, health: Health, fasting: Pair, bedtime: Pair, *, with_medicine: bool
) -> StartingPoint:
    return StartingPoint(
        code,
        "Endocrine Society",
        "Treatment of Diabetes in Older Adults, table 3 (doi 10.1210/jc.2019-00198)",
        "2019",
        (
            Printed(_FASTING, (_between(Unit.MG_DL, *fasting),), HowKnown.READ_IN_COPY),
            Printed(_BEDTIME, (_between(Unit.MG_DL, *bedtime),), HowKnown.READ_IN_COPY),
        ),
        health,
        with_medicine,
    )


def _in_both(pairs: Pairs) -> tuple[Limits, ...]:
    mg_dl, mmol_l = pairs
    return _between(Unit.MG_DL, *mg_dl), _between(Unit.MMOL_L, *mmol_l)


# Every number below stands as its source prints it. Where a source gives one unit, the other is
# absent.
STARTING_POINTS: tuple[StartingPoint, ...] = (
    _older_adults_ada(
        "ada_older_good",
        Health.GOOD,
        (("80", "130"), ("4.4", "7.2")),
        (("80", "180"), ("4.4", "10.0")),
    ),
    _older_adults_ada(
        "ada_older_several_illnesses",
        Health.SEVERAL_ILLNESSES,
        (("90", "150"), ("5.0", "8.3")),
        (("100", "180"), ("5.6", "10.0")),
    ),
    _older_adults_ada(
        "ada_older_poor",
        Health.POOR,
        (("100", "180"), ("5.6", "10.0")),
        (("110", "200"), ("6.1", "11.1")),
    ),
    _older_adults_endocrine_society(
        "endocrine_society_older_good",
        Health.GOOD,
        ("90", "130"),
        ("90", "150"),
        with_medicine=False,
    ),
    _older_adults_endocrine_society(
        "endocrine_society_older_several_illnesses",
        Health.SEVERAL_ILLNESSES,
        ("90", "150"),
        ("100", "180"),
        with_medicine=False,
    ),
    _older_adults_endocrine_society(
        "endocrine_society_older_poor",
        Health.POOR,
        ("100", "180"),
        ("110", "200"),
        with_medicine=False,
    ),
    _older_adults_endocrine_society(
        "endocrine_society_older_good_with_medicine",
        Health.GOOD,
        ("90", "150"),
        ("100", "180"),
        with_medicine=True,
    ),
    _older_adults_endocrine_society(
        "endocrine_society_older_several_illnesses_with_medicine",
        Health.SEVERAL_ILLNESSES,
        ("100", "150"),
        ("150", "180"),
        with_medicine=True,
    ),
    _older_adults_endocrine_society(
        "endocrine_society_older_poor_with_medicine",
        Health.POOR,
        ("100", "180"),
        ("150", "250"),
        with_medicine=True,
    ),
    StartingPoint(
        "ada_adults",
        "American Diabetes Association",
        "Standards of Medical Care in Diabetes, glycemic recommendations for many adults",
        # Read in an edition of these years; that later ones print the same is from memory.
        "mid-2010s",
        (
            Printed(
                _BEFORE_ANY_MEAL,
                _in_both((("80", "130"), ("4.4", "7.2"))),
                HowKnown.READ_AT_SOURCE,
            ),
            # Printed for one to two hours after the beginning of the meal.
            Printed(
                _AFTER,
                (_below(Unit.MG_DL, "180"), _below(Unit.MMOL_L, "10.0")),
                HowKnown.READ_AT_SOURCE,
            ),
        ),
    ),
    StartingPoint(
        "diabetes_canada_adults",
        "Diabetes Canada",
        "Clinical Practice Guidelines, targets for glycemic control",
        "2018",
        (
            Printed(
                _BEFORE_ANY_MEAL, (_between(Unit.MMOL_L, "4.0", "7.0"),), HowKnown.READ_IN_COPY
            ),
            Printed(_AFTER, (_between(Unit.MMOL_L, "5.0", "10.0"),), HowKnown.READ_IN_COPY),
        ),
    ),
    StartingPoint(
        "nice_type_1_adults",
        "National Institute for Health and Care Excellence",
        "NG17, Type 1 diabetes in adults",
        "2015",
        (
            Printed(_FASTING, (_between(Unit.MMOL_L, "5", "7"),), HowKnown.READ_AT_SOURCE),
            Printed(
                (TargetKind.BEFORE_MEALS,),
                (_between(Unit.MMOL_L, "4", "7"),),
                HowKnown.READ_AT_SOURCE,
            ),
            # Printed for 90 minutes or more after eating.
            Printed(_AFTER, (_between(Unit.MMOL_L, "5", "9"),), HowKnown.FROM_MEMORY),
        ),
    ),
)

# A row whose lower limit lies under this, or that has none, is meant for people whose medicines
# cause no lows. 90 = 5.0 is printed so by the Endocrine Society (2019, read in a copy, mg/dL) and
# the ADA (2024, table 13.1, read at the journal, both units).
_FLOOR = {Unit.MG_DL: 90, Unit.MMOL_L: 50}


def starting_points(
    unit: Unit, health: Health | None = None, *, can_have_lows: bool | None = None
) -> tuple[StartingPoint, ...]:
    """The rows to offer in a log of `unit`, those for older adults first.

    `health` keeps the rows for that state of health; None gives all rows. `can_have_lows` leaves
    out rows printed for the other case: a person who said no is not offered the rows for medicines
    that cause lows, one who said yes only those and rows that do not ask. None (not sure) counts as
    yes.
    """
    lows = can_have_lows is not False
    return tuple(
        point
        for point in STARTING_POINTS
        if point.is_printed_in(unit)
        and (health is None or point.health is health)
        and point.with_medicine_that_causes_lows in {None, lows}
    )


def needs_caution(point: StartingPoint, *, can_have_lows: bool | None) -> bool:
    """Whether to say that the row is meant for people whose medicines do not cause lows.

    With such a medicine, or when the person is not sure (None): for a row printed for people
    without one, and for a row with a target that has no lower limit or one under 90 mg/dL (5.0).
    """
    if can_have_lows is False:
        return False
    return point.with_medicine_that_causes_lows is False or any(
        limits.lower is None or limits.lower.steps < _FLOOR[limits.unit]
        for printed in point.printed
        for limits in printed.limits
    )


def targets_of(
    point: StartingPoint,
    holds_from: date,
    written_at: datetime | None = None,
    new_id: Callable[[], UUID] = uuid4,
) -> tuple[Target, ...]:
    """The targets of a chosen row, from a day on, marked as not yet agreed with the provider."""
    return tuple(
        Target(
            id=new_id(),
            kind=kind,
            printed=printed.limits,
            holds_from=holds_from,
            set_by=SetBy.PUBLISHED,
            set_by_name=point.body,
            source=point.source,
            edition=point.edition,
            is_agreed=False,
            written_at=written_at,
        )
        for printed in point.printed
        for kind in printed.kinds
    )
