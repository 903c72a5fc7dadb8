"""Readings and the other everyday records as rows of their tables, and back.

Records whose fields are their columns, or parts of `row_parts`, need nothing here; those of the kit
and the plan are in `kit_rows`. Nothing here reads or writes the file.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime, time, timedelta
from enum import StrEnum
from typing import Any, TypeVar

from logbook.domain.glucose import Kind, Unit
from logbook.domain.kit.meters import Meter
from logbook.domain.readings import CrossedOut, Difference, Earlier, Feeling, Reading
from logbook.domain.sites import Site
from logbook.domain.slots import Slot
from logbook.domain.targets import Limit, Limits, Operator, Target
from logbook.domain.visits import Appointment
from logbook.store.row_parts import (
    SECOND,
    Row,
    canonical_json,
    glucose_from_row,
    glucose_to_row,
    moment_from_row,
    moment_to_row,
    plain_to_row,
)

E = TypeVar("E", bound=StrEnum)


def _codes(members: Iterable[StrEnum]) -> str:
    values = [member.value for member in members]
    return canonical_json(values) if values else ""


def _members(text: str, enum: type[E]) -> tuple[E, ...]:
    return tuple(enum(value) for value in json.loads(text)) if text else ()


def _earlier_to_text(earlier: tuple[Earlier, ...]) -> str:
    if not earlier:
        return ""
    return canonical_json(
        [
            {
                "instant": one.at.instant.isoformat(),
                "offset_seconds": one.at.offset // SECOND,
                "zone": one.at.zone,
                "zone_assumed": one.at.zone_assumed,
                "unit": one.glucose.unit.value,
                "kind": one.glucose.kind.value,
                "steps": one.glucose.order_steps,
                "written": one.glucose.written,
                "slot": one.slot.value,
                "corrected_at": one.corrected_at.isoformat(),
                "reason": one.reason,
            }
            for one in earlier
        ]
    )


def _earlier_from_text(text: str) -> tuple[Earlier, ...]:
    if not text:
        return ()
    found = []
    for one in json.loads(text):
        row = {
            **one,
            "instant": datetime.fromisoformat(one["instant"]),
            "unit": Unit(one["unit"]),
            "kind": Kind(one["kind"]),
        }
        found.append(
            Earlier(
                glucose_from_row(row),
                moment_from_row(row),
                Slot(one["slot"]),
                datetime.fromisoformat(one["corrected_at"]),
                one["reason"],
            )
        )
    return tuple(found)


# --- records -------------------------------------------------------------------------------------


def reading_to_row(reading: Reading) -> Row:
    """A reading. Raises `ValueError` for one that is damaged: it is never written."""
    if reading.is_damaged:
        raise ValueError("a damaged reading is never written")
    crossed_out = reading.crossed_out
    return {
        "id": reading.id,
        **moment_to_row(reading.at),
        "written_at": reading.written_at,
        **glucose_to_row(reading.glucose),
        "slot": reading.slot,
        "purpose": reading.purpose,
        "source": reading.source,
        "minutes_after": reading.minutes_after,
        "meter_id": reading.meter_id,
        "is_foreign": reading.is_foreign,
        "site": reading.site.code if reading.site is not None else None,
        "site_use": reading.site_use,
        "recheck_of": reading.recheck_of,
        "feelings": _codes(reading.feelings),
        "differences": _codes(reading.differences),
        "could_not_wash": reading.could_not_wash,
        "note": reading.note,
        "initials": reading.initials,
        "crossed_out_at": crossed_out.at if crossed_out is not None else None,
        "crossed_out_reason": crossed_out.reason if crossed_out is not None else "",
        "doubt": reading.doubt,
        "earlier": _earlier_to_text(reading.earlier),
    }


def reading_from_row(row: Mapping[str, Any]) -> Reading:
    """The reading of a row."""
    crossed_out_at = row["crossed_out_at"]
    return Reading(
        id=row["id"],
        glucose=glucose_from_row(row),
        at=moment_from_row(row),
        written_at=row["written_at"],
        slot=row["slot"],
        purpose=row["purpose"],
        source=row["source"],
        minutes_after=row["minutes_after"],
        meter_id=row["meter_id"],
        is_foreign=row["is_foreign"],
        site=Site.from_code(row["site"]) if row["site"] is not None else None,
        site_use=row["site_use"],
        recheck_of=row["recheck_of"],
        feelings=_members(row["feelings"], Feeling),
        differences=_members(row["differences"], Difference),
        could_not_wash=row["could_not_wash"],
        note=row["note"],
        initials=row["initials"],
        crossed_out=(
            CrossedOut(crossed_out_at, row["crossed_out_reason"])
            if crossed_out_at is not None
            else None
        ),
        doubt=row["doubt"],
        earlier=_earlier_from_text(row["earlier"]),
    )


def target_to_row(target: Target) -> Row:
    """A target; the limits of each unit are one JSON list."""
    printed = [
        [
            limits.unit.value,
            *(
                None if limit is None else [limit.operator.value, limit.steps]
                for limit in (limits.lower, limits.upper)
            ),
        ]
        for limits in target.printed
    ]
    return {**plain_to_row(target), "printed": canonical_json(printed) if printed else ""}


def target_from_row(row: Mapping[str, Any]) -> Target:
    """The target of a row."""
    printed = tuple(
        Limits(
            Unit(unit),
            *(None if limit is None else Limit(Operator(limit[0]), limit[1]) for limit in limits),
        )
        for unit, *limits in (json.loads(row["printed"]) if row["printed"] else ())
    )
    return Target(**{**row, "printed": printed})


def meter_to_row(meter: Meter) -> Row:
    """A meter. Raises `ValueError` when its clock is ahead by parts of a second."""
    if meter.clock_ahead % SECOND:
        raise ValueError("a clock is ahead by whole seconds")
    row = plain_to_row(meter)
    return {**row, "clock_ahead_seconds": row.pop("clock_ahead") // SECOND}


def meter_from_row(row: Mapping[str, Any]) -> Meter:
    """The meter of a row."""
    others = dict(row)
    return Meter(clock_ahead=timedelta(seconds=others.pop("clock_ahead_seconds")), **others)


def appointment_to_row(appointment: Appointment) -> Row:
    """An appointment; its time of day is text."""
    at = appointment.at
    return {**plain_to_row(appointment), "at": None if at is None else at.isoformat()}


def appointment_from_row(row: Mapping[str, Any]) -> Appointment:
    """The appointment of a row."""
    at = row["at"]
    return Appointment(**{**row, "at": None if at is None else time.fromisoformat(at)})
