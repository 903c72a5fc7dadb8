"""What rows are made of: moments, values and texts, and records put together from them.

A row here maps column names to values of the domain (datetimes, ids, enum members, days); `records`
turns those into what the file holds.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from datetime import timedelta
from typing import Any, TypeVar

from logbook.domain.glucose import Glucose, Kind
from logbook.domain.moments import Moment

Row = dict[str, Any]
R = TypeVar("R")

SECOND = timedelta(seconds=1)

_MOMENT_COLUMNS = ("instant", "offset_seconds", "zone", "zone_assumed", "wall_minute")
_VALUE_COLUMNS = ("unit", "kind", "steps", "written")


def canonical_json(value: object) -> str:
    """The one way a value is written as JSON here: sorted keys, no spaces, no NaN."""
    return json.dumps(
        value, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


def moment_to_row(at: Moment) -> Row:
    """The five columns of a moment. Raises `ValueError` for an offset with parts of a second."""
    if at.offset % SECOND:
        raise ValueError("an offset has whole seconds")
    return {
        "instant": at.instant,
        "offset_seconds": at.offset // SECOND,
        "zone": at.zone,
        "zone_assumed": at.zone_assumed,
        "wall_minute": at.wall_minute,
    }


def moment_from_row(row: Mapping[str, Any]) -> Moment:
    """The moment of its columns."""
    offset = timedelta(seconds=row["offset_seconds"])
    wall = (row["instant"] + offset).replace(tzinfo=None)
    return Moment(row["instant"], wall, offset, row["zone"], row["zone_assumed"])


def glucose_to_row(glucose: Glucose, prefix: str = "") -> Row:
    """The four columns of a value; LO and HI stand in `steps` as their places in any order."""
    return {
        f"{prefix}unit": glucose.unit,
        f"{prefix}kind": glucose.kind,
        f"{prefix}steps": glucose.order_steps,
        f"{prefix}written": glucose.written,
    }


def glucose_from_row(row: Mapping[str, Any], prefix: str = "") -> Glucose:
    """The value of its columns."""
    unit, kind, steps, written = (row[f"{prefix}{name}"] for name in _VALUE_COLUMNS)
    return Glucose(unit, kind, steps if kind is Kind.NUMBER else None, written)


def plain_to_row(record: object) -> Row:
    """A record whose fields are its columns."""
    return {f.name: getattr(record, f.name) for f in fields(record)}  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class Part:
    """A field of a record that is kept in columns of its own: which, and what makes it of them."""

    field: str
    columns: tuple[str, ...]
    to_columns: Callable[[Any], Row]
    from_columns: Callable[[Mapping[str, Any]], Any]


# The moment `at` of a record.
MOMENT = Part("at", _MOMENT_COLUMNS, moment_to_row, moment_from_row)


def value_part(field: str, prefix: str = "") -> Part:
    """A value, in four columns."""
    columns = tuple(f"{prefix}{name}" for name in _VALUE_COLUMNS)
    return Part(
        field,
        columns,
        lambda value: glucose_to_row(value, prefix),
        lambda row: glucose_from_row(row, prefix),
    )


def text_part(field: str, write: Callable[[Any], str], read: Callable[[str], Any]) -> Part:
    """A field that is kept as a text of its own, or is None."""

    def made(row: Mapping[str, Any]) -> Any:
        text = row[field]
        return None if text is None else read(text)

    return Part(
        field, (field,), lambda value: {field: None if value is None else write(value)}, made
    )


def composed(
    record_type: Callable[..., R], *parts: Part
) -> tuple[Callable[[Any], Row], Callable[[Mapping[str, Any]], R]]:
    """What makes the row of such a record, and the record of its row.

    Fields that are not in `parts` are their columns.
    """
    in_parts = frozenset(column for part in parts for column in part.columns)

    def to_row(record: Any) -> Row:
        row = plain_to_row(record)
        for part in parts:
            row |= part.to_columns(row.pop(part.field))
        return row

    def from_row(row: Mapping[str, Any]) -> R:
        others = {name: value for name, value in row.items() if name not in in_parts}
        return record_type(**others, **{part.field: part.from_columns(row) for part in parts})

    return to_row, from_row
