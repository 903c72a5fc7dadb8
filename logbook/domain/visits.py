"""Appointments with the provider, the questions collected for them, medicines as written down."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from uuid import UUID


@dataclass(frozen=True, slots=True)
class Appointment:
    """One appointment, to come or past. `decided` is free text written down after it."""

    id: UUID
    day: date
    at: time | None = None
    with_whom: str = ""
    place: str = ""
    decided: str = ""


@dataclass(frozen=True, slots=True)
class Question:
    """Something to ask. `done_on` is the day it was asked or put aside."""

    id: UUID
    text: str
    written_at: datetime
    done_on: date | None = None


@dataclass(frozen=True, slots=True)
class Medicine:
    """A medicine as the person writes it, from a day on.

    Names and amounts are never read by the program: they are printed as written.
    """

    id: UUID
    text: str
    holds_from: date
    holds_until: date | None = None


@dataclass(frozen=True, slots=True)
class Contact:
    """Someone to phone. `role` is person, provider or after_hours."""

    id: UUID
    role: str
    name: str
    phone: str
