"""Answers to questions the program asked, kept with the reading they were given for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class Asked(StrEnum):
    """What was asked."""

    FELT_LOW_COMING = "felt_low_coming"
    RECHECK_DUE = "recheck_due"
    CALLED = "called"


class Said(StrEnum):
    """What was answered. `LATER` puts a thing off, `NOT_ANSWERED` keeps that nobody answered."""

    YES = "yes"
    NO = "no"
    NOT_SURE = "not_sure"
    LATER = "later"
    NOT_ANSWERED = "not_answered"


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer, about the record `about`; it outlives that record's crossing out."""

    id: UUID
    about: UUID
    asked: Asked
    said: Said
    at: datetime
