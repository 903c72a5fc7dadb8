"""The column types: what a value of the domain looks like in the file, and back.

STRICT tables know only INTEGER, TEXT and BLOB; these five say which of them an instant, an id, a
flag, a code and a day is. Records of several columns (a moment, a value) are made in `rows`.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import Dialect, Integer, Text
from sqlalchemy.types import TypeDecorator

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICROSECOND = timedelta(microseconds=1)

E = TypeVar("E", bound=StrEnum)
R = TypeVar("R")


class NotAsWrittenError(ValueError):
    """A column holds what nothing here ever wrote: the page is damaged or not this table's."""


def _converted(convert: Callable[[Any], R], value: Any) -> R | None:
    if value is None:
        return None
    try:
        return convert(value)
    except (ValueError, TypeError, AttributeError, OverflowError) as error:
        raise NotAsWrittenError(value) from error


def microseconds(instant: datetime) -> int:
    """Whole microseconds since 1970 in UTC. Raises `ValueError` for a datetime without a zone."""
    if instant.tzinfo is None:
        raise ValueError("an instant has a zone")
    return (instant - _EPOCH) // _MICROSECOND


def instant_of(whole_microseconds: int) -> datetime:
    """The instant of so many microseconds since 1970, in UTC."""
    return _EPOCH + timedelta(microseconds=whole_microseconds)


class Instant(TypeDecorator[datetime]):
    """An aware datetime as whole microseconds since 1970-01-01 00:00 UTC."""

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: datetime | None, _dialect: Dialect | None) -> int | None:
        """Microseconds. Raises `ValueError` for a datetime without a zone."""
        return None if value is None else microseconds(value)

    def process_result_value(self, value: int | None, _dialect: Dialect | None) -> datetime | None:
        """The datetime, in UTC."""
        return _converted(instant_of, value)


class Id(TypeDecorator[UUID]):
    """A UUID as its 36 characters, small letters."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: UUID | None, _dialect: Dialect | None) -> str | None:
        """The text."""
        return None if value is None else str(value)

    def process_result_value(self, value: str | None, _dialect: Dialect | None) -> UUID | None:
        """The UUID."""
        return _converted(UUID, value)


class Flag(TypeDecorator[bool]):
    """Yes or no as 1 or 0."""

    impl = Integer
    cache_ok = True

    def process_bind_param(self, value: bool | None, _dialect: Dialect | None) -> int | None:  # noqa: FBT001
        """1 or 0."""
        return None if value is None else int(value)

    def process_result_value(self, value: int | None, _dialect: Dialect | None) -> bool | None:
        """True or False."""
        return None if value is None else value == 1


class Code(TypeDecorator[E]):
    """A member of an enum as its value."""

    impl = Text
    cache_ok = True

    def __init__(self, members: type[E]) -> None:
        super().__init__()
        self.members = members

    def process_bind_param(self, value: E | None, _dialect: Dialect | None) -> str | None:
        """The code."""
        return None if value is None else value.value

    def process_result_value(self, value: str | None, _dialect: Dialect | None) -> E | None:
        """The member. Raises `NotAsWrittenError` for a text that is none."""
        return _converted(self.members, value)


class Day(TypeDecorator[date]):
    """A calendar day as 2026-03-31."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: date | None, _dialect: Dialect | None) -> str | None:
        """The text."""
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, _dialect: Dialect | None) -> date | None:
        """The day."""
        return _converted(date.fromisoformat, value)
