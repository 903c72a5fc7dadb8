"""The statements each kind of record needs, built once.

They take and give what the file holds, not what the domain knows: a row is verified before any of
it is believed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    Delete,
    LargeBinary,
    Table,
    Text,
    Update,
    bindparam,
    cast,
    delete,
    func,
    insert,
    literal,
    type_coerce,
    update,
)
from sqlalchemy.dialects import sqlite
from sqlalchemy.types import TypeDecorator, TypeEngine

from logbook.store.records import RecordKind, Stored


@dataclass(frozen=True, slots=True)
class Statements:
    """Replacing and removing rows; the parameters are made by `parameters`."""

    replacement: Update
    removal: Delete


def kept_as(column: Column[Any]) -> TypeEngine[Any]:
    """The type of what the file holds in a column."""
    kind = column.type
    return kind.impl_instance if isinstance(kind, TypeDecorator) else kind


def key_of(kind: RecordKind) -> ColumnElement[str]:
    """The key column of a kind, as the text it is in the file."""
    return type_coerce(kind.table.c[kind.key], Text)


@cache
def row_text_of(kind: RecordKind) -> ColumnElement[bytes]:
    """The row text, made by SQLite of all columns but the digest (see `records`)."""
    columns = (type_coerce(column, kept_as(column)) for column in kind.columns)
    return cast(func.json_array(literal(kind.name), *columns, type_=Text), LargeBinary)


@cache
def statements_of(kind: RecordKind) -> Statements:
    """The statements of a kind."""
    values = {
        column: bindparam(f"new_{column.name}", type_=kept_as(column))
        for column in kind.table.columns
    }
    at_key = key_of(kind) == bindparam("at_key", type_=Text())
    return Statements(
        update(kind.table).where(at_key).values(values),
        delete(kind.table).where(at_key),
    )


def insert_rows(connection: Connection, table: Table, rows: Sequence[tuple[Any, ...]]) -> None:
    """Add rows as the file holds them, the values in the order of the table's columns.

    Straight to the driver: of a long import, a third of the time went into naming parameters.
    """
    if rows:
        connection.exec_driver_sql(_insertion(table), list(rows))


@cache
def _insertion(table: Table) -> str:
    return str(insert(table).compile(dialect=sqlite.dialect()))


def parameters(stored: Stored, digest: bytes) -> dict[str, object]:
    """A stored row, with its digest, for `replacement`."""
    named: dict[str, object] = {f"new_{name}": value for name, value in stored.items()}
    named["new_digest"] = digest
    return named
