"""The columns that tables are made of, each with the named CHECK that says what it may hold."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from typing import Any

from sqlalchemy import CheckConstraint, Column, ForeignKey, Integer, LargeBinary, Text

from logbook.store.types import Code, Day, Flag, Id, Instant


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


def flag_column(name: str) -> Column[Any]:
    """Yes or no."""
    return Column(name, Flag, CheckConstraint(f"{name} IN (0, 1)", name=name), nullable=False)


def instant_column(name: str, *, nullable: bool = False) -> Column[Any]:
    """Microseconds since 1970 in UTC."""
    return Column(name, Instant, nullable=nullable)


def day_column(name: str, *, nullable: bool = False) -> Column[Any]:
    """A calendar day, 2026-03-31."""
    shape = "-".join("[0-9]" * digits for digits in (4, 2, 2))
    return Column(
        name, Day, CheckConstraint(f"{name} GLOB '{shape}'", name=name), nullable=nullable
    )


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
