"""The periods a person looks back over: the last weeks, since the last visit, since a change."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from enum import StrEnum

from logbook.domain.moments import Period
from logbook.domain.targets import TargetBook
from logbook.domain.visits import Appointment, Medicine


class Span(StrEnum):
    """Which stretch of days up to today."""

    TWO_WEEKS = "two_weeks"
    THIRTY_DAYS = "thirty_days"
    NINETY_DAYS = "ninety_days"
    SINCE_VISIT = "since_visit"
    SINCE_CHANGE = "since_change"


_DAYS = {Span.TWO_WEEKS: 14, Span.THIRTY_DAYS: 30, Span.NINETY_DAYS: 90}


def period_of(
    span: Span,
    today: date,
    appointments: Iterable[Appointment],
    targets: TargetBook,
    medicines: Iterable[Medicine],
) -> Period | None:
    """The days of `span`, today included; None when there was no visit or no change yet."""
    if span in _DAYS:
        return Period.ending(today, _DAYS[span])
    if span is Span.SINCE_VISIT:
        first = last_visit(appointments, today)
    else:
        first = last_change(targets, medicines, today)
    return None if first is None else Period(first, today)


def last_visit(appointments: Iterable[Appointment], today: date) -> date | None:
    """The day of the last appointment before today."""
    return max((visit.day for visit in appointments if visit.day < today), default=None)


def last_change(targets: TargetBook, medicines: Iterable[Medicine], today: date) -> date | None:
    """The last day, up to today, from which a target or a medicine was another."""
    days = list(targets.change_days())
    for medicine in medicines:
        days.append(medicine.holds_from)
        if medicine.holds_until is not None:
            days.append(medicine.holds_until + timedelta(days=1))
    return max((day for day in days if day <= today), default=None)
