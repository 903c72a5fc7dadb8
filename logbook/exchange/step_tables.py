"""Tables of records that hold numbers in steps of a unit, or lists of their own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from decimal import Decimal

from logbook.domain.glucose import Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import ControlRange, Vial
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.settings import LogSettings
from logbook.domain.targets import Limit, Target
from logbook.exchange.table_cells import Column, Getter, field_columns, in_unit, steps_columns

# Settings that are numbers in steps of the log's unit.
_IN_STEPS = frozenset({"very_high_above", "high_margin", "meal_rise_above", "overnight_fall_from"})


# --- targets --------------------------------------------------------------------------------------


def _limit(end: str, unit: Unit) -> Getter:
    def limit(target: Target) -> Limit | None:
        limits = target.limits_in(unit)
        found: Limit | None = None if limits is None else getattr(limits, end)
        return found

    return limit


def _limit_columns() -> Iterator[Column]:
    for unit in Unit:
        for end in ("lower", "upper"):
            limit = _limit(end, unit)
            yield Column(
                f"{end} limit is ({unit})",
                lambda target, limit=limit: (found := limit(target)) and found.operator,  # type: ignore[misc]
            )
            yield Column(
                f"{end} limit ({unit})",
                lambda target, limit=limit, unit=unit: (  # type: ignore[misc]
                    None if (found := limit(target)) is None else in_unit(found.steps, unit)
                ),
            )


def _before_last(columns: Sequence[Column], more: Iterable[Column]) -> tuple[Column, ...]:
    """The columns with more before the id, which stands last."""
    return (*columns[:-1], *more, columns[-1])


TARGET_COLUMNS = _before_last(field_columns(Target, without=["printed"]), _limit_columns())


# --- meters and strips ----------------------------------------------------------------------------

METER_COLUMNS = _before_last(
    field_columns(Meter, without=["lowest", "highest"]),
    [
        *steps_columns("lowest shown", lambda meter: meter.lowest, lambda meter: meter.unit),
        *steps_columns("highest shown", lambda meter: meter.highest, lambda meter: meter.unit),
    ],
)


@dataclass(frozen=True, slots=True)
class RangeOfVial:
    """A range printed on a vial, with the vial's id."""

    range: ControlRange
    vial: Vial


def ranges_of_vials(vials: Iterable[Vial]) -> Iterator[RangeOfVial]:
    """Every printed range."""
    return (RangeOfVial(one, vial) for vial in vials for one in vial.ranges)


def _range_unit(row: RangeOfVial) -> Unit:
    return row.range.unit


RANGE_COLUMNS = (
    Column("level", lambda row: row.range.level),
    *steps_columns("lowest", lambda row: row.range.lowest, _range_unit),
    *steps_columns("highest", lambda row: row.range.highest, _range_unit),
    Column("strips", lambda row: row.vial.id),
)


# --- the plan -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class CheckOfPlan:
    """One check of a plan, with the plan; None for a plan without any."""

    check: PlannedCheck | None
    plan: CheckPlan


def checks_of_plans(plans: Iterable[CheckPlan]) -> Iterator[CheckOfPlan]:
    """A row for every check, and one for a plan without any."""
    for plan in plans:
        for check in plan.checks or (None,):
            yield CheckOfPlan(check, plan)


CHECK_COLUMNS = (
    *(
        Column(
            column.heading,
            lambda row, column=column: None if row.check is None else column.value(row.check),  # type: ignore[misc]
        )
        for column in field_columns(PlannedCheck)
    ),
    *(
        Column(
            "plan" if column.heading == "id" else column.heading,
            lambda row, column=column: column.value(row.plan),  # type: ignore[misc]
        )
        for column in field_columns(CheckPlan, without=["checks"])
    ),
)


# --- A1C and settings -----------------------------------------------------------------------------


def _a1c_in(unit: A1CUnit) -> Getter:
    def shown(a1c: LabA1C) -> Decimal | None:
        return None if a1c.unit is not unit else Decimal(a1c.steps) / unit.steps_per_one

    return shown


A1C_COLUMNS = (
    *_before_last(
        field_columns(LabA1C, without=["steps", "unit"]),
        [Column(f"a1c ({unit})", _a1c_in(unit)) for unit in A1CUnit],
    ),
)


def setting_rows(settings: LogSettings) -> Iterator[tuple[str, object]]:
    """Every setting of the log: its name, with a unit where it has one, and its value."""
    for field in fields(settings):
        value = getattr(settings, field.name)
        name = field.name.replace("_", " ")
        if field.name in _IN_STEPS:
            name = f"{name} ({settings.unit})"
            value = None if value is None else in_unit(value, settings.unit)
        yield name, value
