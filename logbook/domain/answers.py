"""Answers to questions the program asked, kept with the reading they were given for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID


class Asked(StrEnum):
    """What was asked.

    `WATCH_CHECK` is a later check after a low that is over, about the low; `STILL_ILL` is about a
    spell; `KIT_LINE` is about the thing of the kit that a line on Write down named.
    """

    FELT_LOW_COMING = "felt_low_coming"
    RECHECK_DUE = "recheck_due"
    CALLED = "called"
    WATCH_CHECK = "watch_check"
    STILL_ILL = "still_ill"
    KIT_LINE = "kit_line"


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
