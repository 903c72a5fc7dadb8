"""What tables are made of: columns, each with the named CHECK that says what it may hold.

The tables are in `tables`, `kit_tables` and `plan_tables`, by subject, and are one schema.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import Any

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

from logbook.domain.glucose import HI_STEPS, LO_STEPS, POSSIBLE_STEPS, Kind, Unit
from logbook.store.types import Code, Day, Flag, Id, Instant

schema_metadata = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "ix": "ix_%(table_name)s_%(column_0_name)s",
    }
)


def record_table(name: str, *parts: Any) -> Table:
    """A table of records: its columns, and the digest of the row as the last one."""
    return Table(name, schema_metadata, *parts, digest_column(), sqlite_strict=True)


def key_column(name: str = "id") -> Column[Any]:
    """The id of a record, the primary key."""
    return Column(name, Id, CheckConstraint(f"length({name}) = 36", name=name), primary_key=True)


def id_column(name: str, *, to: str = "", nullable: bool = True) -> Column[Any]:
    """An id that refers to another record; `to` names the column it must be found in."""
    check = CheckConstraint(f"length({name}) = 36", name=name)
    if not to:
        return Column(name, Id, check, nullable=nullable)
    # Checked at COMMIT, so that the order of records within one change does not matter.
    reference = ForeignKey(to, deferrable=True, initially="DEFERRED")
    return Column(name, Id, reference, check, nullable=nullable)


def code_column(name: str, members: type[StrEnum], *, nullable: bool = False) -> Column[Any]:
    """One of the codes of an enum."""
    values = ", ".join(f"'{member.value}'" for member in members)
    check = CheckConstraint(f"{name} IN ({values})", name=name)
    return Column(name, Code(members), check, nullable=nullable)


def flag_column(name: str, *, nullable: bool = False) -> Column[Any]:
    """Yes or no; NULL, where it may be, for "nobody said"."""
    return Column(name, Flag, CheckConstraint(f"{name} IN (0, 1)", name=name), nullable=nullable)


def number_column(
    name: str, *, least: int | None = None, most: int | None = None, nullable: bool = False
) -> Column[Any]:
    """A whole number, `least` and `most` included."""
    bounds = [f'"{name}" >= {least}'] if least is not None else []
    bounds += [f'"{name}" <= {most}'] if most is not None else []
    checks = [CheckConstraint(" AND ".join(bounds), name=name)] if bounds else []
    return Column(name, Integer, *checks, nullable=nullable)


def instant_column(name: str, *, nullable: bool = False) -> Column[Any]:
    """Microseconds since 1970 in UTC."""
    return Column(name, Instant, nullable=nullable)


def day_column(name: str, *, nullable: bool = False) -> Column[Any]:
    """A calendar day, 2026-03-31."""
    shape = "-".join("[0-9]" * digits for digits in (4, 2, 2))
    return Column(
        name, Day, CheckConstraint(f"{name} GLOB '{shape}'", name=name), nullable=nullable
    )


def printed_date_column(name: str) -> Column[Any]:
    """The date on a label: a month, 2027-03, or a day, 2027-03-15; NULL for none."""
    month = "-".join("[0-9]" * digits for digits in (4, 2))
    shapes = f"{name} GLOB '{month}' OR {name} GLOB '{month}-[0-9][0-9]'"
    return Column(name, Text, CheckConstraint(shapes, name=name), nullable=True)


def after_opening_column(name: str) -> Column[Any]:
    """How long a thing lasts once it is open, 90d or 3m; NULL for none."""
    shape = f"{name} GLOB '[1-9]*[dm]' AND {name} NOT GLOB '*[^0-9]*[dm]'"
    return Column(name, Text, CheckConstraint(shape, name=name), nullable=True)


def text_column(name: str) -> Column[Any]:
    """Free text, empty when there is none."""
    return Column(name, Text, nullable=False)


def _json(name: str, shape: str) -> Column[Any]:
    # json_valid is refused in a CHECK with trusted_schema off.
    check = CheckConstraint(f"\"{name}\" = '' OR \"{name}\" GLOB '{shape}'", name=name)
    return Column(name, Text, check, nullable=False)


def list_column(name: str) -> Column[Any]:
    """A JSON array as text, empty when there is nothing."""
    return _json(name, "[[]*]")


def object_column(name: str) -> Column[Any]:
    """A JSON object as text, empty when there is nothing."""
    return _json(name, "{*}")


def sha256_column(name: str) -> Column[Any]:
    """The 32 bytes of a SHA-256."""
    check = CheckConstraint(f"length({name}) = 32", name=name)
    return Column(name, LargeBinary, check, nullable=False)


def digest_column() -> Column[Any]:
    """The digest of the row, a table of records' last column."""
    return sha256_column("digest")


def moment_columns() -> Iterator[Column[Any] | CheckConstraint]:
    """The five columns of a moment; the wall minute must fit the instant and the offset."""
    yield instant_column("instant")
    yield Column(
        "offset_seconds",
        Integer,
        CheckConstraint("offset_seconds BETWEEN -86399 AND 86399", name="offset_seconds"),
        nullable=False,
    )
    yield text_column("zone")
    yield flag_column("zone_assumed")
    yield Column(
        "wall_minute",
        Integer,
        CheckConstraint(
            "instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999",
            name="wall_minute",
        ),
        nullable=False,
    )


def glucose_columns(prefix: str = "") -> Iterator[Column[Any]]:
    """The four columns of a value; only steps that a living person's value can have fit."""
    unit, kind, steps = (f"{prefix}{name}" for name in ("unit", "kind", "steps"))
    numbers = " OR ".join(
        f"({kind} = '{Kind.NUMBER}' AND {unit} = '{one}' AND {steps} BETWEEN {least} AND {most})"
        for one, (least, most) in POSSIBLE_STEPS.items()
    )
    possible = (
        f"{numbers} OR ({kind} = '{Kind.READS_LOW}' AND {steps} = {LO_STEPS})"
        f" OR ({kind} = '{Kind.READS_HIGH}' AND {steps} = {HI_STEPS})"
    )
    yield code_column(unit, Unit)
    yield code_column(kind, Kind)
    yield Column(steps, Integer, CheckConstraint(possible, name=steps), nullable=False)
    yield text_column(f"{prefix}written")
