"""A laboratory A1C beside the log: when the two may be compared at all, and when a gap is told.

Both numbers are always shown. A gap between them is common without anything being wrong: of 641
visits half differed by 0.5 % or more and 22 % by 1.0 % or more (doi 10.1089/dia.2020.0501, read at
the journal; there against sensors).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum

from logbook.domain.figures import Figures
from logbook.domain.glucose import MG_DL_PER_MMOL_L, Unit
from logbook.domain.laboratory import LabA1C, adag_average, adag_steps
from logbook.domain.moments import Period
from logbook.domain.summary import Summary
from logbook.domain.ticks import FOOLS_THE_A1C, FOOLS_THE_METER, About, TickBook

LOOKS_BACK_DAYS = 90

# So many times of day with so many values make a mean that may stand beside an A1C. Judgement
# without a source.
_LEAST_SLOTS = 3
_LEAST_VALUES = 10

# From a gap as wide as 1.0 % of A1C makes on the line of Nathan et al. (28.7 mg/dL) it is told.
# Judgement without a source; half the visits of the study above differed by half of it.
TOLD_FROM_MG_DL = Decimal("28.7")


class A1CVerdict(StrEnum):
    """What can be said of the two numbers."""

    NOT_COMPARED = "not_compared"
    NOTHING_TO_SAY = "nothing_to_say"
    LOG_IS_LOWER = "log_is_lower"
    LOG_IS_HIGHER = "log_is_higher"


class NotCompared(StrEnum):
    """Why the two numbers stand side by side and are not compared."""

    TOO_FEW_READINGS = "too_few_readings"
    OUTSIDE_METER_RANGE = "outside_meter_range"
    SOMETHING_CAN_FOOL = "something_can_fool"


@dataclass(frozen=True, slots=True)
class A1CBesideLog:
    """An A1C and the log of the days before it.

    `adag_steps` is the average that studies found with that A1C, in steps of the log's unit; `log`
    the figures of all readings of `period`. `reasons` say why they are not compared; `can_fool`
    what the person said, yes or not sure, about things that can fool the meter or the A1C.
    """

    a1c: LabA1C
    period: Period
    adag_steps: int
    log: Figures
    verdict: A1CVerdict
    reasons: tuple[NotCompared, ...]
    can_fool: tuple[About, ...]


def days_before(a1c: LabA1C) -> Period:
    """The 90 days that end the day before the blood was drawn."""
    return Period.ending(a1c.drawn_on - timedelta(days=1), LOOKS_BACK_DAYS)


def a1c_beside_log(a1c: LabA1C, summary: Summary, ticks: TickBook) -> A1CBesideLog:
    """How `a1c` stands beside the log; `summary` is that of `days_before(a1c)`.

    They are compared when three times of day have ten values each, no LO or HI is among the
    readings, and nothing that can fool the meter or the A1C was told in those days or the day it
    was drawn.
    """
    can_fool = _what_can_fool(ticks, summary.period, a1c.drawn_on)
    well_checked = sum(slot.count >= _LEAST_VALUES for slot in summary.slots)
    reasons = []
    if well_checked < _LEAST_SLOTS:
        reasons.append(NotCompared.TOO_FEW_READINGS)
    if not summary.figures.is_complete:
        reasons.append(NotCompared.OUTSIDE_METER_RANGE)
    if can_fool:
        reasons.append(NotCompared.SOMETHING_CAN_FOOL)
    return A1CBesideLog(
        a1c=a1c,
        period=summary.period,
        adag_steps=adag_steps(a1c.percent, summary.unit),
        log=summary.figures,
        verdict=A1CVerdict.NOT_COMPARED if reasons else _verdict(a1c, summary),
        reasons=tuple(reasons),
        can_fool=can_fool,
    )


def _verdict(a1c: LabA1C, summary: Summary) -> A1CVerdict:
    mean = summary.figures.mean
    if mean is None:
        return A1CVerdict.NOT_COMPARED
    # By way of text: 154.2 as a binary number is a hair less, and the gap would not be met.
    in_mg_dl = Decimal(str(mean))
    if summary.unit is Unit.MMOL_L:
        in_mg_dl *= MG_DL_PER_MMOL_L
    gap = in_mg_dl - adag_average(a1c.percent)
    if abs(gap) < TOLD_FROM_MG_DL:
        return A1CVerdict.NOTHING_TO_SAY
    return A1CVerdict.LOG_IS_LOWER if gap < 0 else A1CVerdict.LOG_IS_HIGHER


def _what_can_fool(ticks: TickBook, period: Period, drawn_on: date) -> tuple[About, ...]:
    days = {period.first, drawn_on}
    days.update(tick.holds_from for tick in ticks.all if period.first < tick.holds_from < drawn_on)
    return tuple(
        about
        for about in (*FOOLS_THE_METER, *FOOLS_THE_A1C)
        if any(ticks.may_hold(about, day) for day in days)
    )
