"""What the cells and headings of a table of records are, whatever the kind of record.

A heading is the field's name in words, with its unit in brackets. Codes, days and sites stand as
they do in the log's own file, instants in UTC and with a Z, moments as the clock on the wall showed
them and once more with their offset. Nothing is converted: a value stands in the column of its own
unit, and LO and HI stand there too.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

from logbook.domain.glucose import Glucose, Unit, steps_to_value
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.moments import Moment
from logbook.domain.sites import Site
from logbook.exchange.safe_cells import formula_safe
from logbook.exchange.usable_text import usable_text

Getter = Callable[[Any], Any]

ID = "id"
MOMENT = "date and time with offset"
ZONE = "time zone"
ZONE_ASSUMED = "time zone assumed"

# Fields whose name is no heading yet: the heading with its unit, and how many steps make one.
_NAMED = {
    "temperature_tenths": ("temperature (°C)", 10),
    "depth_tenths": ("depth on the device", 10),
    "minutes_after": ("after the first bite (minutes)", 1),
    "minutes_apart": ("apart (minutes)", 1),
    "clock_ahead_minutes": ("clock ahead (minutes)", 1),
    "clock_ahead": ("clock ahead (seconds)", 1),
    "days": ("over (days)", 1),
    "every_days": ("every (days)", 1),
    "day_offset": ("offset (days)", 1),
    "profile_days": ("seven checks before an appointment (days)", 1),
    "ill_every_hours": ("when ill every (hours)", 1),
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, and what a record has there."""

    heading: str
    value: Getter

    def cell(self, record: object) -> str:
        """The cell of a record, harmless in a spreadsheet."""
        return cell_text(self.value(record))


def cell_text(value: object) -> str:
    """One value as a cell; empty for None."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case int() | Decimal():
            return str(value)
        case datetime():
            return value.astimezone(UTC).replace(tzinfo=None).isoformat() + "Z"
        case date() | time():
            return value.isoformat()
        case timedelta():
            return str(value // timedelta(seconds=1))
        case Site() | PrintedDate() | AfterOpening():
            return value.code
        case tuple():
            return formula_safe(usable_text(_of_several(value)))
        case _:
            return formula_safe(usable_text(str(value)))


def _of_several(values: tuple[Any, ...]) -> str:
    if any(isinstance(one, tuple) for one in values):
        return json.dumps(values, ensure_ascii=False)
    return " ".join(map(cell_text, values))


def field_columns(record_type: type, *, without: Iterable[str] = ()) -> list[Column]:
    """The columns of a record's fields: date and time first, its id last.

    `without` names fields that are written another way.
    """
    first: list[Column] = []
    middle: list[Column] = []
    last: list[Column] = []
    ids: list[Column] = []
    for field in fields(record_type):
        if field.name in without:
            continue
        if field.type == "Moment":
            first += wall_columns(_getter(field.name))
            last += offset_columns(_getter(field.name))
        elif field.type == "Glucose":
            middle += value_columns(field.name, _getter(field.name))
        elif field.name == "id":
            ids.append(Column(ID, _getter("id")))
        else:
            middle.append(_field_column(field.name, str(field.type)))
    return [*first, *middle, *last, *ids]


def _field_column(name: str, declared: str) -> Column:
    if name in _NAMED:
        heading, steps = _NAMED[name]
        get = _getter(name)
        return Column(heading, get if steps == 1 else lambda record: _parted(get(record), steps))
    heading = name.removeprefix("is_").removeprefix("was_").removeprefix("did_").replace("_", " ")
    if declared.startswith("datetime"):
        heading += " (UTC)"
    return Column(heading, _getter(name))


def _getter(name: str) -> Getter:
    return lambda record: getattr(record, name)


def _parted(count: int | None, steps: int) -> Decimal | None:
    return None if count is None else Decimal(count) / steps


# --- moments and values ---------------------------------------------------------------------------


def wall_columns(at: Getter) -> list[Column]:
    """Day and time as the clock on the wall showed them."""
    return [
        Column("date", lambda record: _moment(at, record, lambda m: m.wall.date())),
        Column(
            "time", lambda record: _moment(at, record, lambda m: m.wall.time().strftime("%H:%M"))
        ),
    ]


def offset_columns(at: Getter) -> list[Column]:
    """The same to the last figure with the offset to UTC, and the zone."""
    return [
        Column(MOMENT, lambda record: _moment(at, record, moment_text)),
        Column(ZONE, lambda record: _moment(at, record, lambda m: m.zone)),
        Column(ZONE_ASSUMED, lambda record: _moment(at, record, lambda m: m.zone_assumed)),
    ]


def _moment(at: Getter, record: object, tell: Callable[[Moment], Any]) -> Any:
    moment = at(record)
    return None if moment is None else tell(moment)


def moment_text(at: Moment) -> str:
    """A moment in ISO 8601: the wall clock with its offset to UTC."""
    seconds = at.offset // timedelta(seconds=1)
    sign, (minutes, rest) = "-" if seconds < 0 else "+", divmod(abs(seconds), 60)
    offset = f"{sign}{minutes // 60:02}:{minutes % 60:02}"
    return at.wall.isoformat() + offset + (f":{rest:02}" if rest else "")


def value_columns(name: str, glucose: Getter) -> list[Column]:
    """A value: a column for each unit, and the text as it was written."""
    return [
        *(Column(f"{name} ({unit})", _shown_in(unit, glucose)) for unit in Unit),
        Column(f"{name} as written", lambda record: _written(glucose(record))),
    ]


def _shown_in(unit: Unit, glucose: Getter) -> Getter:
    def shown(record: object) -> str | Decimal | None:
        value: Glucose | None = glucose(record)
        if value is None or value.unit is not unit:
            return None
        return value.text if value.value is None else value.value

    return shown


def _written(value: Glucose | None) -> str | None:
    return None if value is None else value.written


def steps_columns(name: str, steps: Getter, unit: Getter) -> list[Column]:
    """A number in steps of a unit that the record names: a column for each unit."""

    def shown_in(wanted: Unit) -> Getter:
        def shown(record: object) -> Decimal | None:
            count = steps(record)
            return None if count is None or unit(record) is not wanted else in_unit(count, wanted)

        return shown

    return [Column(f"{name} ({wanted})", shown_in(wanted)) for wanted in Unit]


def in_unit(steps: int, unit: Unit) -> Decimal:
    """Steps of a unit as the number a meter shows."""
    return steps_to_value(steps, unit)
