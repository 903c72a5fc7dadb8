"""Words beside figures, A1C and the meter's average: plain, short, each code with its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from enum import Enum
from typing import Any

import pytest

from logbook.domain.a1c_comparison import A1CBesideLog, A1CVerdict, NotCompared
from logbook.domain.figures import Share, figures_of
from logbook.domain.glucose import HI_STEPS, Glucose, Unit
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.meter_average import Completeness, CouldExplain, DaysCounted, LogAndMeter
from logbook.domain.moments import Period
from logbook.wording import completeness, laboratory
from logbook.wording.figures import share_text, share_with_interval_text, too_few_text
from tests.domain.series_of import moment, new_id
from tests.wording.plain_words import faults

_CODES: list[tuple[type[Enum], Callable[[Any], str]]] = [
    (A1CUnit, laboratory.a1c_unit_text),
    (NotCompared, laboratory.not_compared_text),
    (Completeness, completeness.completeness_phrase),
    (DaysCounted, completeness.days_counted_text),
    (CouldExplain, completeness.could_explain_text),
]


@pytest.mark.parametrize(("codes", "text_of"), _CODES, ids=lambda one: getattr(one, "__name__", ""))
def test_every_code_has_words_of_its_own(codes: type[Enum], text_of: Callable[[Any], str]) -> None:
    texts = [text_of(code) for code in codes]
    assert len(set(texts)) == len(texts)
    assert [fault for text in texts for fault in faults(text)] == []


def _beside(
    verdict: A1CVerdict, *steps: int, reasons: tuple[NotCompared, ...] = ()
) -> A1CBesideLog:
    a1c = LabA1C(new_id(), date(2026, 6, 1), 72, A1CUnit.PERCENT, datetime(2026, 6, 2, tzinfo=UTC))
    figures = figures_of(Unit.MG_DL, steps)
    period = Period.ending(date(2026, 5, 31), 90)
    return A1CBesideLog(a1c, period, 160, figures, verdict, reasons, ())


def test_both_numbers_stand_with_where_they_come_from() -> None:
    lines = laboratory.both_numbers(_beside(A1CVerdict.NOTHING_TO_SAY, 150, 151))
    assert lines[0].endswith("7.2% (55 mmol/mol).")
    assert lines[1] == "In studies an average of 160 mg/dL went with such an A1C."
    assert "151 mg/dL (2 readings)" in lines[2]
    assert "Mean" in lines[2]
    # With a HI among them no mean is shown, but the middle value is.
    with_hi = laboratory.both_numbers(_beside(A1CVerdict.NOT_COMPARED, 150, 160, HI_STEPS))
    assert "Middle value" in with_hi[2]
    assert "160 mg/dL (3 readings)" in with_hi[2]
    assert "no readings" in laboratory.both_numbers(_beside(A1CVerdict.NOT_COMPARED))[2]
    assert [fault for line in lines + with_hi for fault in faults(line)] == []


def test_an_ordinary_gap_is_not_commented_on_and_a_wide_one_differently_for_each_reader() -> None:
    assert laboratory.what_it_means(_beside(A1CVerdict.NOTHING_TO_SAY, 150)) == []
    for verdict in (A1CVerdict.LOG_IS_LOWER, A1CVerdict.LOG_IS_HIGHER):
        beside = _beside(verdict, 150)
        (mine,), (theirs,) = (
            laboratory.what_it_means(beside, for_provider=is_provider)
            for is_provider in (False, True)
        )
        assert mine != theirs
        assert "asking your provider" in mine
        assert list(faults(mine)) == list(faults(theirs)) == []
    reasons = tuple(NotCompared)
    not_compared = _beside(A1CVerdict.NOT_COMPARED, 150, reasons=reasons)
    assert len(laboratory.what_it_means(not_compared)) == len(reasons)
    assert [fault for line in laboratory.limits_of_both() for fault in faults(line)] == []


def _meter(
    verdict: Completeness, count: int | None, missing: int | None, *, reads_high: bool = False
) -> LogAndMeter:
    at = moment("2026-03-14 12:00")
    shown = Glucose.reads_high(Unit.MG_DL) if reads_high else Glucose.number(142, Unit.MG_DL)
    average = MeterAverage(new_id(), None, at, at.instant, 14, shown, count)
    return LogAndMeter(average, verdict, DaysCounted.CALENDAR_DAYS, 28, missing, 141.6, ())


@pytest.mark.parametrize(
    ("compared", "said"),
    [
        (_meter(Completeness.AGREES, 28, 0), "Count and average agree."),
        (_meter(Completeness.AGREES, None, None), "The averages agree."),
        (_meter(Completeness.LOG_HAS_FEWER, 31, 3), "The meter has 3 readings more than the log."),
        (_meter(Completeness.LOG_HAS_FEWER, 29, 1), "The meter has 1 reading more than the log."),
        (_meter(Completeness.LOG_HAS_FEWER, None, None), "may have fewer"),
        (_meter(Completeness.LOG_HAS_OTHER_NUMBERS, 28, 0), "The averages differ."),
        (_meter(Completeness.LOG_HAS_OTHER_NUMBERS, 27, -1), "The log has 1 reading more"),
        (_meter(Completeness.CANNOT_TELL, 28, 0, reads_high=True), "outside its range"),
        (_meter(Completeness.CANNOT_TELL, 28, 0), "damaged"),
    ],
)
def test_what_the_meter_and_the_log_say(compared: LogAndMeter, said: str) -> None:
    (sentence,) = completeness.verdict_sentences(compared)
    assert said in sentence
    lines = [sentence, *completeness.both_counts(compared), completeness.proves_nothing()]
    assert [fault for line in lines for fault in faults(line)] == []
    assert "14 days" in lines[1]
    assert "142 mg/dL" in lines[2]
    assert "28 readings" in lines[2]


def test_too_few_to_tell_shows_numbers_and_no_percentage() -> None:
    assert too_few_text(3) == "too few to tell (3 readings)"
    assert share_text(Share(2, 4)) == share_with_interval_text(Share(2, 4)) == "2 of 4"
    assert share_text(Share(7, 12)) == "7 of 12, 58%"
    # Wilson's interval of 7 of 12 is 31.95 % to 80.67 % (SciPy).
    assert share_with_interval_text(Share(7, 12)) == "7 of 12, 58% (32% to 81%)"
