"""The periods a person looks back over."""

from __future__ import annotations

from datetime import date

from logbook.domain.moments import Period
from logbook.domain.picture_periods import Span, last_change, last_visit, period_of
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.visits import Appointment, Medicine
from tests.domain.series_of import new_id, range_target

TODAY = date(2026, 3, 31)
NO_TARGETS = TargetBook([])


def test_weeks_end_with_today() -> None:
    weeks = period_of(Span.TWO_WEEKS, TODAY, [], NO_TARGETS, [])
    assert weeks == Period(date(2026, 3, 18), TODAY)
    month = period_of(Span.THIRTY_DAYS, TODAY, [], NO_TARGETS, [])
    assert month is not None
    assert month.days == 30


def test_without_a_visit_or_a_change_there_is_no_such_period() -> None:
    to_come = Appointment(new_id(), date(2026, 4, 8))
    assert period_of(Span.SINCE_VISIT, TODAY, [to_come], NO_TARGETS, []) is None
    assert period_of(Span.SINCE_CHANGE, TODAY, [to_come], NO_TARGETS, []) is None


def test_since_the_last_visit_begins_with_its_day() -> None:
    visits = [Appointment(new_id(), date(2026, month, 3)) for month in (1, 3, 5)]
    assert last_visit(visits, TODAY) == date(2026, 3, 3)
    assert period_of(Span.SINCE_VISIT, TODAY, visits, NO_TARGETS, []) == Period(
        date(2026, 3, 3), TODAY
    )


def test_since_the_last_change_takes_targets_and_medicines() -> None:
    targets = TargetBook([range_target(TargetKind.FASTING, 80, 130, date(2026, 3, 5))])
    started = Medicine(new_id(), "evening tablet", date(2026, 2, 1), date(2026, 3, 19))
    to_come = Medicine(new_id(), "another", date(2026, 4, 1))
    assert last_change(targets, [], TODAY) == date(2026, 3, 5)
    # The day after its last day is the first one without it.
    assert last_change(targets, [started, to_come], TODAY) == date(2026, 3, 20)
