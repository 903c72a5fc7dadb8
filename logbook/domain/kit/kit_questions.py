"""What the kit gives to ask the provider about: facts for a question, never a verdict."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from uuid import UUID

from logbook.domain.kit.comparison import compared
from logbook.domain.kit.control_due import is_not_for_decisions
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.low_supplies import lacks_glucagon
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import stock_outlooks
from logbook.domain.kit.strip_opening import last_vial, next_vial
from logbook.domain.kit.vial_life import out_of_date
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.ticks import TickBook


class KitAsk(StrEnum):
    """What there is to ask about."""

    METER_FAILED = "meter_failed"
    NO_CONTROL_SOLUTION = "no_control_solution"
    NO_GLUCAGON = "no_glucagon"
    COMPARISON_OUTSIDE = "comparison_outside"
    OUT_OF_DATE_STRIPS = "out_of_date_strips"
    TOO_FEW_STRIPS = "too_few_strips"


@dataclass(frozen=True, slots=True)
class KitQuestion:
    """One of them: the record it is about where there is one, and how often it came up."""

    ask: KitAsk
    about: UUID | None = None
    count: int = 1


def kit_questions(
    kit: KitData,
    settings: LogSettings,
    ticks: TickBook,
    now: Moment,
    period: Period,
    readings: Iterable[Reading] = (),
    plan_strips_a_day: Fraction | float | None = None,
) -> tuple[KitQuestion, ...]:
    """The questions that the kit raises now and from what happened in `period`."""
    today = now.day(settings.day_starts_at)
    found = [
        KitQuestion(KitAsk.METER_FAILED, meter.id)
        for meter in own_meters(kit.meters, today)
        if is_not_for_decisions(meter.id, kit, settings)
    ]
    if not settings.has_control_solution:
        found.append(KitQuestion(KitAsk.NO_CONTROL_SOLUTION))
    if lacks_glucagon(kit, ticks, today):
        found.append(KitQuestion(KitAsk.NO_GLUCAGON))
    outside = [
        pair.id
        for pair in kit.lab_comparisons
        if pair.counts
        and pair.at.day(settings.day_starts_at) in period
        and compared(pair).asks_to_repeat
    ]
    if outside:
        found.append(KitQuestion(KitAsk.COMPARISON_OUTSIDE, outside[-1], len(outside)))
    in_period = (one for one in readings if one.at.day(settings.day_starts_at) in period)
    late = out_of_date(in_period, kit, settings)
    if late:
        found.append(KitQuestion(KitAsk.OUT_OF_DATE_STRIPS, None, len(late)))
    found += _too_few(kit, settings, now, plan_strips_a_day)
    return tuple(found)


def _too_few(
    kit: KitData, settings: LogSettings, now: Moment, plan_strips_a_day: Fraction | float | None
) -> list[KitQuestion]:
    """Meters whose strips run out before the earliest refill can be there."""
    if settings.earliest_refill is None:
        return []
    return [
        KitQuestion(KitAsk.TOO_FEW_STRIPS, outlook.meter_id)
        for outlook in stock_outlooks(kit, settings, now, plan_strips_a_day)
        if last_vial(outlook.meter_id, kit) or next_vial(outlook.meter_id, kit)
        if outlook.run_out is not None and outlook.run_out <= settings.earliest_refill
    ]
