"""What to look through before a visit: facts that are done, open, or only to be thought of.

What other parts of the log know (control tests, meters, supplies, whether the report was printed)
is passed in as plain facts; those of the kit are told by `has_passed_control` and `to_ask_for`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum

from logbook.domain.figures import Share
from logbook.domain.kit.control_due import ControlState, due_reasons, standing_of
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import RefillLine, refill_list
from logbook.domain.kit.supplies import SupplyKind
from logbook.domain.moments import Moment, wall_on
from logbook.domain.night_work import own_clock
from logbook.domain.plan.calendar_days import (
    PROFILE_SLOTS,
    USUAL_CLOCK,
    DayCheck,
    PlanFacts,
    Reason,
    profile_period,
)
from logbook.domain.plan.matching import done_checks
from logbook.domain.series import Series
from logbook.domain.settings import LogSettings
from logbook.domain.visits import Appointment, Question

# What runs out within so many days after a visit is asked for at it. Judgement without a source.
ASKED_AHEAD_DAYS = 28


class ChecklistItem(StrEnum):
    """What is looked through, in the order in which it is best done."""

    PROFILE_DAYS = "profile_days"
    CONTROL_TEST = "control_test"
    QUESTIONS = "questions"
    SUPPLIES = "supplies"
    REPORT = "report"
    METERS = "meters"


@dataclass(frozen=True, slots=True)
class ChecklistLine:
    """One line of the list.

    `is_done` is None for what can't be done beforehand: questions to ask, meters to bring. `share`
    is told for the days of seven checks, `names` for supplies and meters, `count` for questions.
    """

    item: ChecklistItem
    is_done: bool | None = None
    share: Share | None = None
    names: tuple[str, ...] = ()
    count: int = 0


@dataclass(frozen=True, slots=True)
class KnownForVisit:
    """What other parts of the log tell for the list.

    `control_test_passed` is None where control tests are not made; `supplies` are those to ask for,
    `meters` those in use, both by name.
    """

    questions: Sequence[Question] = ()
    control_test_passed: bool | None = None
    supplies: Sequence[str] = ()
    report_printed: bool = False
    meters: Sequence[str] = ()


def appointment_checklist(
    appointment: Appointment,
    facts: PlanFacts,
    series: Series,
    settings: LogSettings,
    known: KnownForVisit,
) -> tuple[ChecklistLine, ...]:
    """The list for one appointment; what does not apply is left out.

    `series` holds the days of seven checks before the appointment.
    """
    lines: list[ChecklistLine] = []
    profile = profile_done(appointment, facts, series, settings)
    if profile is not None:
        is_done = profile.part == profile.of
        lines.append(ChecklistLine(ChecklistItem.PROFILE_DAYS, is_done, profile))
    if known.control_test_passed is not None:
        lines.append(ChecklistLine(ChecklistItem.CONTROL_TEST, known.control_test_passed))
    open_questions = _count_open(known.questions)
    lines.append(ChecklistLine(ChecklistItem.QUESTIONS, count=open_questions))
    if known.supplies:
        lines.append(ChecklistLine(ChecklistItem.SUPPLIES, names=tuple(known.supplies)))
    lines.append(ChecklistLine(ChecklistItem.REPORT, known.report_printed))
    lines.append(ChecklistLine(ChecklistItem.METERS, names=tuple(known.meters)))
    return tuple(lines)


def has_passed_control(kit: KitData, settings: LogSettings, now: Moment) -> bool | None:
    """Whether each own meter passed its last control test and none is due.

    None where the person has no control solution, or no meter of their own is on record.
    """
    meters = own_meters(kit.meters, now.day(settings.day_starts_at))
    if not settings.has_control_solution or not meters:
        return None
    return all(
        standing_of(meter.id, kit, settings).state is ControlState.PASSED
        and not due_reasons(meter.id, kit, settings, now)
        for meter in meters
    )


def to_ask_for(
    appointment: Appointment, kit: KitData, settings: LogSettings, now: Moment
) -> tuple[RefillLine, ...]:
    """The supplies to order before the next 4 weeks after the appointment are over."""
    until = appointment.day + timedelta(days=ASKED_AHEAD_DAYS)
    return tuple(
        line
        for line in refill_list(kit, settings, now)
        if line.needed_by is not None
        and line.needed_by <= until
        # Of strips nothing is known until the first pot is written down.
        and (line.kind is not SupplyKind.STRIPS or kit.vials)
    )


def profile_done(
    appointment: Appointment, facts: PlanFacts, series: Series, settings: LogSettings
) -> Share | None:
    """Of the seven checks on each day before the appointment, those made.

    None where none are asked; days in a pause ask for none.
    """
    period = profile_period(facts.plans, appointment)
    if period is None:
        return None
    starts = settings.day_starts_at
    checks = [
        DayCheck(
            day, slot, wall_on(day, own_clock(USUAL_CLOCK[slot], starts), starts), Reason.PROFILE
        )
        for day in period
        if not any(pause.covers(day) for pause in facts.pauses)
        for slot in PROFILE_SLOTS
    ]
    made = done_checks(checks, series, range(len(series)), starts)
    return Share(len(made), len(checks)) if checks else None


def _count_open(questions: Iterable[Question]) -> int:
    return sum(question.done_on is None for question in questions)
